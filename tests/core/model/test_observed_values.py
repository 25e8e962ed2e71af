"""Observations of one entry become what is known of it: the strongest rank, agreement kept, contradiction kept too."""

from __future__ import annotations

import pytest

from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.model.known import Dimension, Fact, Hole, How, Pattern, Seats
from xref_app.core.model.observed import values_by_field
from xref_app.core.model.words import Axis, Gender


def size(
    value: float | None, *, field: str = "bore_diameter_mm", how: str = "measured", doubt: float | None = None
) -> Observation:
    return Observation(1, "P-1", field, str(value), value, "", doubt, how)


def said(text: str, field: str, *, how: str = "measured") -> Observation:
    return Observation(1, "P-1", field, text, None, text, None, how)


def test_one_reading_is_held_as_typed() -> None:
    known = values_by_field(
        [
            size(19.05),
            said("vertical", "bore_axis"),
            said("yes", "has_unloader"),
            said("no", "has_inlet_screen"),
            said("46 0; 0 46 8 90", "flange_holes_xy_mm"),
            said("0; -2", "flange_seat_heights_mm"),
            said("0 90; 180 270", "room_outlet_free_deg"),
            said("M8", "face_bolt"),
        ]
    )
    assert known == {
        "bore_diameter_mm": (Dimension(19.05, 0.10),),
        "bore_axis": (Fact(Axis.VERTICAL),),
        "has_unloader": (Fact(value=True),),
        "has_inlet_screen": (Fact(value=False),),
        "flange_holes_xy_mm": (Pattern((Hole(46, 0), Hole(0, 46, 8, 90)), 0.10),),
        "flange_seat_heights_mm": (Seats((0.0, -2.0), 0.05),),
        "room_outlet_free_deg": (Fact(((0.0, 90.0), (180.0, 270.0))),),
        "face_bolt": (Fact("M8"),),
    }


def test_a_weaker_reading_never_argues_with_a_stronger() -> None:
    known = values_by_field([size(25.4, how="claimed"), size(19.05), size(22.2, how="sheet")])
    assert known["bore_diameter_mm"] == (Dimension(19.05, 0.10),)


def test_equal_readings_that_agree_keep_what_both_allow() -> None:
    (known,) = values_by_field([size(19.00, doubt=0.10), size(19.15, doubt=0.10)])["bore_diameter_mm"]
    assert isinstance(known, Dimension)
    assert [known.range.low, known.range.high] == pytest.approx([19.05, 19.10])
    assert known.how is How.MEASURED


def test_the_same_value_twice_keeps_the_smaller_doubt() -> None:
    known = values_by_field([size(19.05, doubt=0.10), size(19.05, doubt=0.02)])
    assert known["bore_diameter_mm"] == (Dimension(19.05, 0.02),)


def test_equal_readings_that_contradict_are_both_kept() -> None:
    known = values_by_field([size(19.05, how="sheet"), size(22.225, how="sheet")])
    assert [one.how for one in known["bore_diameter_mm"]] == [How.SHEET, How.SHEET]
    assert {one.value for one in known["bore_diameter_mm"] if isinstance(one, Dimension)} == {19.05, 22.225}


@pytest.mark.parametrize(
    ("field", "one", "other"),
    [
        ("bore_axis", "vertical", "horizontal"),
        ("has_unloader", "yes", "no"),
        ("flange_holes_xy_mm", "46 0; 0 46", "46 0; 0 47"),
        ("flange_seat_heights_mm", "0; 0", "0; -2"),
        ("face_bolt", "M8", "5/16-24 UNF"),
    ],
)
def test_what_is_no_size_agrees_only_where_it_is_the_same(field: str, one: str, other: str) -> None:
    assert len(values_by_field([said(one, field), said(one, field)])[field]) == 1
    assert len(values_by_field([said(one, field), said(other, field)])[field]) == 2
    assert len(values_by_field([said(one, field), said(other, field), said(one, field)])[field]) == 2


def test_a_field_nobody_describes_is_left_out() -> None:
    assert values_by_field([said("blue", "colour")]) == {}


def test_a_port_row_tells_thread_gender_seal_and_direction() -> None:
    port = PortRow("P-1", "outlet", "M22x1.5", "male", 14.0, None, 90.0, how="sheet")
    assert values_by_field([], [port]) == {
        "outlet_thread": (Fact("M22x1.5", How.SHEET),),
        "outlet_gender": (Fact(Gender.MALE, How.SHEET),),
        "outlet_seal_mm": (Dimension(14.0, 0.10, How.SHEET),),
        "outlet_direction_deg": (Dimension(90.0, 5.0, How.SHEET),),
    }


def test_a_port_row_with_blanks_tells_what_it_has_and_nothing_without_a_field() -> None:
    supply = PortRow("M-1", "supply", "3/4-11.5 NH", "", None, None, 90.0)
    assert set(values_by_field([], [supply])) == {"supply_thread"}


def test_a_port_row_and_an_observation_of_the_same_field_are_weighed_together() -> None:
    port = PortRow("P-1", "inlet", "3/4-11.5 NH", "female", how="claimed")
    known = values_by_field([said("G3/4", "inlet_thread")], [port])
    assert known["inlet_thread"] == (Fact("G3/4"),)
