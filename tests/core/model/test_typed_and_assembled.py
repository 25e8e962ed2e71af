"""Plain values turned into what the model holds, and machine sides and pumps put together from them."""

from __future__ import annotations

from enum import StrEnum

import pytest

from xref_app.core.fields.fields import Kind, all_fields, field_for
from xref_app.core.model import words
from xref_app.core.model.assemble import MOST_COMBINATIONS, Versions, built, cases, paths
from xref_app.core.model.known import Dimension, Fact, Hole, How, Known, Pattern, Seats
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Bore, Has, Pump
from xref_app.core.model.shelf import Part
from xref_app.core.model.typed import is_group, typed, word_type
from xref_app.core.model.words import Axis, PartKind


@pytest.mark.parametrize(
    ("field", "plain", "known"),
    [
        ("bore_diameter_mm", 19, Dimension(19.0, 0.10)),
        ("shaft_axis", "vertical", Fact(Axis.VERTICAL)),
        ("face_bolt", "5/16-24 UNF", Fact("5/16-24 UNF")),
        ("has_unloader", True, Fact(value=True)),
        ("flange_holes_xy_mm", [[46, 0], [0, 46, 8, 90]], Pattern((Hole(46, 0), Hole(0, 46, 8, 90)), 0.10)),
        ("flange_seat_heights_mm", [0, -2.5], Seats((0.0, -2.5), 0.05)),
        ("room_outlet_free_deg", [[0, 90], [350, 10]], Fact(((0.0, 90.0), (350.0, 10.0)))),
    ],
)
def test_each_kind_of_field_is_held_in_its_own_way(field: str, plain: object, known: Known) -> None:
    assert typed(field_for(field), plain) == known  # type: ignore[arg-type]  # JSON values of every kind


def test_doubt_and_how_are_taken_over_and_a_doubt_of_nothing_is_no_default() -> None:
    assert typed(field_for("bore_diameter_mm"), 19.0, how=How.CLAIMED, doubt=0.0) == Dimension(19.0, 0.0, How.CLAIMED)
    pattern = typed(field_for("flange_holes_xy_mm"), [[1, 2]], how=How.SHEET, doubt=0.3)
    assert pattern == Pattern((Hole(1, 2),), 0.3, How.SHEET)


@pytest.mark.parametrize(
    ("field", "plain", "message"),
    [
        ("bore_diameter_mm", True, "a number was expected, not True"),
        ("bore_diameter_mm", "19", "a number was expected, not '19'"),
        ("flange_seat_heights_mm", 4.0, "a list of numbers was expected, not 4.0"),
        ("flange_seat_heights_mm", "0; 0", "a list of numbers was expected, not '0; 0'"),
        ("flange_holes_xy_mm", "46 0", "a list of rows was expected, not '46 0'"),
        ("room_outlet_free_deg", 90, "a list of rows was expected, not 90"),
    ],
)
def test_a_value_of_the_wrong_kind_is_refused(field: str, plain: object, message: str) -> None:
    with pytest.raises(TypeError) as caught:
        typed(field_for(field), plain)  # type: ignore[arg-type]  # the wrong kind on purpose
    assert str(caught.value) == message


def test_a_word_outside_its_closed_list_is_refused() -> None:
    with pytest.raises(ValueError, match="'slanted' is not a valid Axis"):
        typed(field_for("shaft_axis"), "slanted")


def test_every_word_field_has_the_list_of_its_schema() -> None:
    fields = [field for field in all_fields().values() if field.kind is Kind.WORD]
    assert fields
    for field in fields:
        kind = word_type(field.case_field)
        assert issubclass(kind, StrEnum)
        assert tuple(kind) == field.choices, field.field_id
        assert getattr(words, kind.__name__) is kind


def test_every_field_has_its_slot_in_the_model_and_every_slot_its_field() -> None:
    slots = {*paths(Machine, "machine"), *paths(Pump, "pump")}
    assert slots == {field.case_field for field in all_fields().values()}


def test_a_group_is_a_slot_that_holds_slots() -> None:
    assert is_group(Bore)
    assert not is_group(Dimension | None)
    assert not is_group(float)


def test_what_is_given_lands_in_its_slot_and_the_rest_stays_unknown() -> None:
    depth = Dimension(65, 0.1)
    pump = built(Pump, "pump", {"pump.bore.depth_mm": depth, "machine.shaft.axis": Fact(Axis.BOTH)})
    assert pump == Pump(bore=Bore(depth_mm=depth))
    assert built(Machine, "machine", {}) == Machine()


def test_one_case_is_made_per_combination_of_versions() -> None:
    depths, recesses = (
        (Dimension(65, 0.1), Dimension(66, 0.1)),
        (Dimension(0, 0.1), Dimension(1, 0.1), Dimension(2, 0.1)),
    )
    versions = Versions(
        {"pump.bore.depth_mm": depths, "pump.bore.recess_mm": recesses, "old_pump.has.unloader": (Fact(value=True),)}
    )
    assert versions.contradicted == ("pump.bore.depth_mm", "pump.bore.recess_mm")
    assert versions.combinations == 6
    spacer = Part(PartKind.SPACER)
    made = cases(versions, shelf=(spacer,), guessed_number=True)
    assert {(one.pump.bore.depth_mm, one.pump.bore.recess_mm) for one in made} == {
        (depth, recess) for depth in depths for recess in recesses
    }
    assert all(one.shelf == (spacer,) and one.guessed_number for one in made)
    assert {one.old_has for one in made} == {Has(unloader=Fact(value=True))}


def test_no_versions_make_one_case_that_knows_nothing() -> None:
    (case,) = cases(Versions({}))
    assert (case.machine, case.pump, case.guessed_number) == (Machine(), Pump(), False)


def test_no_more_cases_are_made_than_can_be_judged() -> None:
    twice = tuple(Dimension(value, 0.0) for value in (1, 2))
    names = [path for path in paths(Bore, "pump.bore") if path.endswith("_mm")]
    assert len(names) >= 7
    versions = Versions(dict.fromkeys(names, twice))
    assert versions.combinations > MOST_COMBINATIONS
    assert len(cases(versions)) == MOST_COMBINATIONS
    assert len(cases(versions, most=3)) == 3
