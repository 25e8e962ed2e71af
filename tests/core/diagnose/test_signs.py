"""Every cause can be spoken for and against; every sign can hold, is worded, and names where it comes from."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from tests.core.diagnose.seeded_faults import FAULTS, noted, sound_machine, with_fault
from xref_app.core.diagnose.arithmetic import worked_out
from xref_app.core.diagnose.diagnose import diagnose
from xref_app.core.diagnose.evidence import Evidence
from xref_app.core.diagnose.ranking import PUMP_CAUSES, SIGNS, ranked_causes
from xref_app.core.diagnose.signs import ARITHMETIC, PRACTICE, Facts, Sign
from xref_app.core.diagnose.words import Cause, Leak, Oil, Part, Screen, Symptom
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
