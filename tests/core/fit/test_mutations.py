"""The example case fits as is, and every single change of it gives what was derived by hand."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from tests.core.fit.mutations import MUTATIONS, Mutation
from xref_app.core.fit.finding import Judgement, Outcome
from xref_app.core.plan.judge import judge_each
from xref_app.exchange.case_file import read_case_file

EXAMPLE = Path(__file__).with_name("example_case.json")


def example() -> dict[str, Any]:  # JSON
    case: dict[str, Any] = json.loads(EXAMPLE.read_text(encoding="utf-8"))  # JSON
    return case


def changed(changes: dict[str, Any]) -> dict[str, Any]:  # JSON
    case = copy.deepcopy(example())
    for path, value in changes.items():
        *groups, name = path.split(".")
        here = case
        for group in groups:
            here = here[group]
        here[name] = value
    return case


def judged(case: dict[str, Any]) -> Judgement:  # JSON
    read = read_case_file(case)
    return judge_each(read.cases, read.contradicted)


def test_the_example_case_fits_as_is_with_every_check_passed() -> None:
    judgement = judged(example())
    assert judgement.verdict.value == "Fits as is"
    assert {finding.outcome for finding in judgement.findings} == {Outcome.PASS}
    assert judgement.needs == ()
    assert judgement.danger == ()


def test_there_are_at_least_forty_mutations() -> None:
    assert len(MUTATIONS) >= 40


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda mutation: f"{mutation.check}: {mutation.why}"[:90])
def test_each_single_change_gives_what_was_derived_by_hand(mutation: Mutation) -> None:
    judgement = judged(changed(mutation.changes))
    finding = next(one for one in judgement.findings if one.check == mutation.check)
    assert (finding.outcome.word, str(finding.reason)) == (mutation.finding, mutation.reason)
    assert judgement.verdict.value == mutation.verdict


def test_every_open_verdict_names_what_to_measure() -> None:
    for mutation in MUTATIONS:
        if mutation.verdict == "Not known yet":
            assert judged(changed(mutation.changes)).measure_next, mutation.why


def test_danger_is_said_for_pressure_speed_turn_and_a_gap_under_a_leg() -> None:
    for mutation in MUTATIONS:
        if mutation.finding == "fail" and mutation.check in {"speed", "pressure", "turn", "seat"}:
            assert judged(changed(mutation.changes)).danger, mutation.why
