"""A plate in a bin decides nothing, for the list does not say where its holes are; the finding says so."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.core.fit.cases import case_with, finding_of
from tests.soundness.bases import on_circle
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind
from xref_app.core.plan.judge import judge

PLATE = Part(PartKind.PLATE, count=1, name="plate", thickness_mm=12.7, inside_mm=40.0, outside_mm=150.0)
ONE = "The list has an adapter plate; it does not say where its holes are, so it was not looked at."
TWO = "The list has 2 kinds of adapter plate; it does not say where their holes are, so none was looked at."


@pytest.mark.parametrize("circle_mm", [50.0, 70.0])
@pytest.mark.parametrize("recess_mm", [8.0, 41.0])
def test_a_listed_plate_changes_no_verdict_and_is_told_of(circle_mm: float, recess_mm: float) -> None:
    holes = on_circle(circle_mm, 0, 90, 180, 270)
    bare = case_with({"pump.flange.holes_xy_mm": holes, "pump.bore.recess_mm": recess_mm})
    before, found = judge(bare), finding_of("pattern", bare)
    for plates, words in (((PLATE,), ONE), ((PLATE, replace(PLATE, thickness_mm=10.0)), TWO)):
        listed = replace(bare, shelf=(*bare.shelf, *plates))
        after = judge(listed)
        assert (after.verdict, after.needs) == (before.verdict, before.needs)
        told = finding_of("pattern", listed)
        assert (told.outcome, told.reason) == (found.outcome, found.reason)
        assert [str(note) for note in told.notes if note not in found.notes] == [words]


def test_where_no_plate_is_wanted_or_none_is_left_nothing_is_said() -> None:
    holes = on_circle(70.0, 0, 90, 180, 270)
    none_left = replace(case_with({"pump.flange.holes_xy_mm": holes}), shelf=(replace(PLATE, count=0),))
    fits = replace(case_with({}), shelf=(PLATE,))
    for case in (none_left, fits):
        assert ONE not in [str(note) for note in finding_of("pattern", case).notes]
