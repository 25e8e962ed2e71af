"""Every cause can be spoken for and against; every sign can hold, is worded, and names where it comes from."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

import pytest

from tests.core.diagnose.seeded_faults import FAULTS, sound_machine, with_fault
from tests.core.diagnose.shop_notes import noted
from xref_app.core.diagnose.arithmetic import worked_out
from xref_app.core.diagnose.diagnose import diagnose
from xref_app.core.diagnose.evidence import Bucket, Evidence
from xref_app.core.diagnose.ranking import PUMP_CAUSES, SIGNS, ranked_causes
from xref_app.core.diagnose.signs import ARITHMETIC, PRACTICE, Facts, Sign
from xref_app.core.diagnose.words import Cause, FlowBack, GaugePlace, Leak, Noise, Nozzle, Oil, Part, Screen, Symptom
from xref_app.core.quantity.range import Range


@pytest.mark.parametrize("cause", Cause)
def test_every_cause_can_be_spoken_for_and_against(cause: Cause) -> None:
    weights = [sign.weights.get(cause, 0.0) for sign in SIGNS]
    assert max(weights) > 0 > min(weights)


def _all_facts() -> list[Facts]:
    found = []
    for cause in FAULTS:
        for seed in range(12):
            random = Random(f"signs {cause} {seed}")
            evidence = noted(with_fault(sound_machine(random), cause, random), random, missing=0.1)
            found.append(Facts(evidence, worked_out(evidence)))
    rare = [
        Evidence(supply_c=Range(70, 75), leak=Leak.INLET_JOINT, screen=Screen.CLOGGED, oil=Oil.MILKY_AGAIN),
        *(Evidence(cured_by=frozenset({part})) for part in Part),
        Evidence(symptoms=frozenset(Symptom), no_change_by=frozenset(Part)),
        Evidence(nozzle_number=Range(2, 2), rated_lpm=Range(20, 20), rated_bar=Range(150, 150)),
    ]
    return found + [Facts(evidence, worked_out(evidence)) for evidence in rare]


ALL_FACTS = _all_facts()


@pytest.mark.parametrize("sign", SIGNS, ids=lambda sign: sign.words)
def test_every_sign_comes_up_and_reads_as_a_sentence(sign: Sign) -> None:
    said = [str(sign.said(facts)) for facts in ALL_FACTS if sign.holds(facts)]
    assert said
    assert all(one.endswith(".") and "{" not in one for one in said)
    assert sign.source in {PRACTICE, ARITHMETIC}


def test_no_sign_holds_where_nothing_is_known() -> None:
    nothing = Facts(Evidence(), worked_out(Evidence()))
    assert not [sign.words for sign in SIGNS if sign.holds(nothing)]


def test_all_causes_are_ranked_once_with_what_speaks_for_and_against() -> None:
    for facts in ALL_FACTS[::20]:
        ranked = ranked_causes(facts)
        assert sorted(one.cause for one in ranked) == sorted(Cause)
        assert [one.score for one in ranked] == sorted((one.score for one in ranked), reverse=True)
        for one in ranked:
            assert all(clue.weight > 0 for clue in one.evidence_for)
            assert all(clue.weight < 0 for clue in one.evidence_against)
            assert one.in_the_pump is (one.cause in PUMP_CAUSES)


def test_ranking_names_nothing_by_itself() -> None:
    clogged = diagnose(replace(Evidence(), screen=Screen.CLOGGED))
    assert clogged.causes[0].cause is Cause.SCREEN_CLOGGED
    assert clogged.answer == "cannot tell yet"


def poured(lpm: float) -> Bucket:
    return Bucket(Range.around(lpm, lpm / 100), Range.exactly(60))


# What a pump of 15 L/min at 200 bar and 3400 rpm with nozzle 4.5 does when nobody has looked at anything.
PLATE: dict[str, Any] = {
    "rated_lpm": Range.exactly(15),
    "rated_bar": Range.exactly(200),
    "rated_rpm": Range.exactly(3400),
    "nozzle_number": Range.exactly(4.5),
    "gauge_place": GaugePlace.GUN,
}
FULL_SPEED: dict[str, Any] = {**PLATE, "shaft_rpm": Range.around(3400, 20)}


@pytest.mark.parametrize(
    ("evidence", "first"),
    [
        # Right flow with low pressure: the nozzle (common practice, no published source; square-root law).
        (Evidence(**FULL_SPEED, bucket=poured(14.6), gauge_bar=Range.around(115, 3)), {Cause.NOZZLE_WORN}),
        # Flow, pressure and number alone do not tell a worn nozzle from another one.
        (
            Evidence(nozzle_number=Range.exactly(4.5), bucket=poured(14.6), gauge_bar=Range.around(115, 3)),
            {Cause.NOZZLE_WORN, Cause.NOZZLE_WRONG},
        ),
        (Evidence(**FULL_SPEED, bucket=poured(14.6), gauge_bar=Range.around(8, 1)), {Cause.INJECTOR}),
        (
            Evidence(**(FULL_SPEED | {"nozzle_number": Range.exactly(7)}), bucket=poured(14.6)),
            {Cause.NOZZLE_WRONG},
        ),
        # Low flow with high pressure: something narrow in front of the gauge.
        (
            Evidence(**FULL_SPEED, bucket=poured(10), gauge_bar=Range.around(210, 4)),
            {Cause.NOZZLE_WRONG, Cause.WAND_OR_HOSE},
        ),
        (Evidence(**PLATE, bucket=poured(10), shaft_rpm=Range.around(2300, 20)), {Cause.ENGINE_SLOW}),
        (Evidence(**FULL_SPEED, bucket=poured(10), supply_bucket=poured(11)), {Cause.SUPPLY_STARVED}),
        (Evidence(**FULL_SPEED, shut_bar=Range.around(340, 5)), {Cause.UNLOADER}),
        (Evidence(**PLATE, shut_bar=Range.around(90, 5)), {Cause.UNLOADER}),
        (Evidence(frozenset({Symptom.PULSES}), noise=Noise.TICK), {Cause.VALVES}),
        (Evidence(frozenset({Symptom.PULSES}), noise=Noise.GRAVEL), {Cause.AIR_LEAK}),
        (Evidence(frozenset({Symptom.DROPS_LATER}), bypass_minutes=Range(5, 10)), {Cause.RELIEF_OPEN}),
        (Evidence(frozenset({Symptom.LEAKS}), stood_in_frost=True), {Cause.FROZEN_HEAD}),
        (Evidence(frozenset({Symptom.STARTS_HARD})), {Cause.UNLOADER}),
        (Evidence(frozenset({Symptom.MILKY_OIL})), {Cause.OIL_SEALS}),
        (Evidence(leak=Leak.WEEP_HOLES), {Cause.SEALS}),
        (Evidence(leak=Leak.HOSE_OR_GUN), {Cause.WAND_OR_HOSE}),
        (Evidence(flow_back=FlowBack.FLOWS), {Cause.UNLOADER}),
        (Evidence(nozzle=Nozzle.WIDE), {Cause.NOZZLE_WORN}),
        (Evidence(nozzle=Nozzle.BLOCKED), {Cause.NOZZLE_WRONG}),
        (
            Evidence(**FULL_SPEED, bucket=poured(14.6), gauge_bar=Range.around(202, 4), supply_bucket=poured(25)),
            {Cause.HEALTHY},
        ),
    ],
)
def test_the_plain_cases_put_the_plain_cause_first(evidence: Evidence, first: set[Cause]) -> None:
    ranked = ranked_causes(Facts(evidence, worked_out(evidence)))
    assert {one.cause for one in ranked[: len(first)]} == first


@pytest.mark.parametrize("falls", [True, False])
def test_a_flow_that_falls_with_pressure_tells_worn_seals_from_stuck_valves(falls: bool) -> None:
    evidence = Evidence(**FULL_SPEED, bucket=poured(10), open_bucket=poured(14 if falls else 10.2))
    order = [one.cause for one in ranked_causes(Facts(evidence, worked_out(evidence)))]
    assert (order.index(Cause.SEALS) < order.index(Cause.VALVES)) is falls
