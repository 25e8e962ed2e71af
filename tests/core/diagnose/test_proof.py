"""Each thing that a conclusion rests on is needed: without it nothing is concluded."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from tests.core.diagnose.told import told
from xref_app.core.diagnose.diagnose import diagnose
from xref_app.core.diagnose.evidence import Bucket, Evidence
from xref_app.core.diagnose.words import (
    FlowBack,
    GaugePlace,
    Leak,
    Noise,
    Nozzle,
    Oil,
    Part,
    Relief,
    Screen,
    SuctionAir,
    Symptom,
    Verdict,
)
from xref_app.core.quantity.range import Range


def poured(low_lpm: float, high_lpm: float) -> Bucket:
    return Bucket(Range(low_lpm, high_lpm), Range.exactly(60))


# A pump of 15 L/min that delivers 10 with all else looked at.
WEAK = Evidence(
    symptoms=frozenset({Symptom.LOW_PRESSURE}),
    bucket=poured(9.8, 10.2),
    open_bucket=poured(10.2, 10.6),
    shut_bar=Range(205, 215),
    supply_bucket=poured(24, 26),
    supply_c=Range(10, 15),
    rated_lpm=Range.exactly(15),
    rated_bar=Range.exactly(200),
    rated_rpm=Range.exactly(3400),
    shaft_rpm=Range(3380, 3420),
    screen=Screen.CLEAN,
    suction_air=SuctionAir.NONE,
    nozzle=Nozzle.GOOD,
    flow_back=FlowBack.NONE,
    relief=Relief.SHUT,
    leak=Leak.NONE,
    noise=Noise.TICK,
    no_change_by=frozenset({Part.WAND_AND_HOSE}),
)
# A pump of 15 L/min that delivers 14.5 at its pressure.
SOUND = Evidence(
    symptoms=frozenset({Symptom.LOW_PRESSURE}),
    bucket=poured(14.3, 14.7),
    gauge_bar=Range(180, 190),
    gauge_place=GaugePlace.PUMP,
    rated_lpm=Range.exactly(15),
    rated_bar=Range.exactly(200),
    rated_rpm=Range.exactly(3400),
    shaft_rpm=Range(3380, 3420),
)


def changed(evidence: Evidence, **changes: Any) -> Verdict:
    return diagnose(replace(evidence, **changes)).answer


def test_a_weak_pump_and_a_sound_one_are_told() -> None:
    assert diagnose(WEAK).answer is Verdict.PUMP
    assert diagnose(SOUND).answer is Verdict.NOT_PUMP


def test_the_answers_are_worded_exactly_so() -> None:
    assert [str(answer) for answer in Verdict] == ["it is the pump", "not the pump", "cannot tell yet"]


@pytest.mark.parametrize(
    "changes",
    [
        *({name: None} for name in ("bucket", "supply_bucket", "supply_c", "rated_lpm", "rated_rpm", "shaft_rpm")),
        *({name: None} for name in ("open_bucket", "shut_bar", "rated_bar")),
        *({name: None} for name in ("screen", "suction_air", "nozzle", "flow_back", "relief", "leak", "noise")),
        {"no_change_by": frozenset()},
        {"screen": Screen.CLOGGED},
        {"suction_air": SuctionAir.BUBBLES},
        {"nozzle": Nozzle.BLOCKED},
        {"flow_back": FlowBack.FLOWS},
        {"relief": Relief.OPEN},
        {"leak": Leak.HOSE_OR_GUN},
        {"leak": Leak.INLET_JOINT},
        {"noise": Noise.GRAVEL},
        {"supply_c": Range(45, 55)},
        {"supply_bucket": poured(17, 26)},
        {"shaft_rpm": Range(2700, 3420)},
        {"bucket": poured(9.8, 12.2)},
        {"open_bucket": poured(10.2, 12.2)},
        {"shut_bar": Range(150, 215)},
        {"open_bucket": None, "no_change_by": frozenset({Part.WAND_AND_HOSE, Part.UNLOADER})},
        {"open_bucket": None, "no_change_by": frozenset({Part.WAND_AND_HOSE, Part.RELIEF})},
        {"rated_lpm": Range(12, 15)},
    ],
    ids=told,
)
def test_a_weak_pump_is_not_named_without_it(changes: dict[str, object]) -> None:
    assert changed(WEAK, **changes) is Verdict.CANNOT_TELL


@pytest.mark.parametrize(
    "changes",
    [
        *({name: None} for name in ("bucket", "gauge_bar", "rated_lpm", "rated_bar", "rated_rpm", "shaft_rpm")),
        {"bucket": poured(13.2, 14.7)},
        {"shaft_rpm": Range(3380, 3700)},
        {"gauge_bar": Range(20, 25), "bucket": poured(13.7, 14.0)},
        {"gauge_bar": Range(20, 25), "bucket": poured(15.3, 15.6)},
        {"gauge_bar": Range(95, 190)},
        {"oil": Oil.MILKY},
        {"noise": Noise.TICK},
        {"noise": Noise.GRAVEL},
        *(
            {"symptoms": frozenset({symptom})}
            for symptom in (Symptom.PULSES, Symptom.STARTS_HARD, Symptom.NOISY, Symptom.LEAKS, Symptom.MILKY_OIL)
        ),
        {"symptoms": frozenset({Symptom.DROPS_LATER})},
        {"symptoms": frozenset({Symptom.DROPS_LATER}), "taken_while_bad": False},
        {"symptoms": frozenset({Symptom.LEAKS}), "leak": Leak.NONE},
    ],
    ids=told,
)
def test_a_pump_is_not_cleared_without_it(changes: dict[str, object]) -> None:
    assert changed(SOUND, **changes) is Verdict.CANNOT_TELL


@pytest.mark.parametrize(
    "changes",
    [
        {"symptoms": frozenset({Symptom.DROPS_LATER}), "taken_while_bad": True},
        {"symptoms": frozenset({Symptom.LEAKS}), "leak": Leak.HOSE_OR_GUN},
        {"symptoms": frozenset({Symptom.MILKY_OIL}), "oil": Oil.CLEAR},
        {"gauge_bar": Range(120, 130)},
    ],
    ids=told,
)
def test_a_pump_that_delivers_is_cleared_of_what_flow_explains(changes: dict[str, object]) -> None:
    assert changed(SOUND, **changes) is Verdict.NOT_PUMP


@pytest.mark.parametrize("seen", [{"leak": Leak.CRACK}, {"leak": Leak.WEEP_HOLES}, {"oil": Oil.MILKY_AGAIN}], ids=told)
def test_what_only_the_pump_can_do_names_it_whatever_was_measured(seen: dict[str, object]) -> None:
    assert changed(Evidence(), **seen) is Verdict.PUMP
    assert changed(SOUND, **seen, cured_by=frozenset({Part.NOZZLE})) is Verdict.PUMP


@pytest.mark.parametrize("part", Part)
def test_a_cure_elsewhere_clears_the_pump(part: Part) -> None:
    assert diagnose(Evidence(frozenset({Symptom.LOW_PRESSURE}), cured_by=frozenset({part}))).answer is Verdict.NOT_PUMP


@pytest.mark.parametrize("symptom", [Symptom.LEAKS, Symptom.MILKY_OIL])
def test_a_cure_does_not_clear_a_pump_whose_leak_or_oil_nobody_looked_at(symptom: Symptom) -> None:
    evidence = Evidence(frozenset({symptom}), cured_by=frozenset({Part.NOZZLE}))
    assert diagnose(evidence).answer is Verdict.CANNOT_TELL


def test_a_new_nozzle_that_changed_nothing_stands_for_a_nozzle_that_looks_good() -> None:
    tried = WEAK.no_change_by | {Part.NOZZLE}
    assert changed(WEAK, nozzle=None, no_change_by=tried) is Verdict.PUMP


def test_another_unloader_and_relief_valve_stand_for_the_flow_with_the_nozzle_off() -> None:
    tried = WEAK.no_change_by | {Part.UNLOADER, Part.RELIEF}
    assert changed(WEAK, open_bucket=None, shut_bar=None, no_change_by=tried) is Verdict.PUMP


def why(evidence: Evidence) -> list[str]:
    return [str(said) for said in diagnose(evidence).because]


def test_the_answer_says_what_it_rests_on() -> None:
    assert why(WEAK) == [
        (
            "Delivered over due: 9.8 to 10.2 lpm (2.59 to 2.69 gpm) over 14.91 to 15.09 lpm (3.94 to 3.99 gpm) is 65.0"
            " to 68.4 %."
        ),
        (
            "Delivered with the nozzle off over due: 10.2 to 10.6 lpm (2.69 to 2.8 gpm) over 14.91 to 15.09 lpm (3.94"
            " to 3.99 gpm) is 67.6 to 71.1 %."
        ),
        (
            "The water is there, nothing keeps it from the pump and none of it leaves on the way: it is lost inside the"
            " pump."
        ),
    ]
    assert why(SOUND)[1:] == [
        (
            "Slip at the rated pressure, at most: 1.4 to 5.2 % times 200 bar (2901 psi) over 180 to 190 bar (2611 to"
            " 2756 psi) is 1.5 to 5.8 %."
        ),
        "The pump delivers what it should, and would at its rated pressure too.",
    ]
    assert why(replace(SOUND, cured_by=frozenset({Part.NOZZLE}))) == ["A new nozzle of the right number cured it."]
    assert why(Evidence(leak=Leak.CRACK, oil=Oil.MILKY_AGAIN)) == [
        "Water comes through a crack in the pump's head.",
        "The pump's oil is milky again after a change.",
    ]
    assert why(Evidence(leak=Leak.WEEP_HOLES)) == ["Water runs from the weep holes between head and crankcase."]
    assert why(Evidence()) == [
        "Nothing shows the pump bad over the whole range of the readings, and nothing clears it."
    ]


def test_a_pump_that_runs_far_too_fast_is_not_cleared_by_the_share_it_loses_of_that() -> None:
    """Leakage is litres a minute at a pressure, whatever the speed: 3 of the 10 on its plate, here."""
    fast = Evidence(
        symptoms=frozenset({Symptom.LOW_PRESSURE}),
        rated_lpm=Range.exactly(10),
        rated_rpm=Range.exactly(3400),
        rated_bar=Range.exactly(200),
        shaft_rpm=Range.exactly(6000),
        gauge_bar=Range.exactly(110),
        bucket=Bucket(Range.exactly(16), Range.exactly(60)),
    )
    found = diagnose(fast)
    assert found.answer is not Verdict.NOT_PUMP
    share = found.workings.slip_at_rated_share
    assert share is not None
    assert share.value.low > 0.29
    assert "176.5 % of its rated speed" in str(share.said)


def test_a_pump_is_not_named_where_something_else_cured_it() -> None:
    cured = replace(WEAK, symptoms=WEAK.symptoms | {Symptom.MILKY_OIL}, cured_by=frozenset({Part.SUPPLY_HOSE}))
    assert diagnose(cured).answer is Verdict.CANNOT_TELL
