"""The face drawing holds the true geometry, and says what it cannot draw."""

from __future__ import annotations

import math

import pytest

from xref_app.core.model.known import Dimension, Fact, Hole, Pattern, Seats
from xref_app.core.model.machine import Face, Machine, Shaft
from xref_app.core.model.pump import Bore, Flange, Outlet, Ports, Pump
from xref_app.core.model.words import PilotKind
from xref_app.sheets.face_drawing import face_drawing
from xref_app.sheets.shapes import Circle, Drawing, Line


def circle_of(radius_mm: float, *angles_deg: float) -> Pattern:
    turns = [math.radians(angle) for angle in angles_deg]
    return Pattern(tuple(Hole(radius_mm * math.cos(turn), radius_mm * math.sin(turn)) for turn in turns), 0.1)


def machine(pattern: Pattern | None = None, *, bolt: str = "5/16-24 UNF") -> Machine:
    shaft = Shaft(diameter_mm=Dimension(19.05, 0), key_width_mm=Dimension(4.76, 0), key_top_mm=Dimension(21.1, 0))
    return Machine(shaft=shaft, face=Face(holes_xy_mm=pattern, bolt=Fact(bolt)))


def pump(pattern: Pattern | None = None, *, outlet_deg: float | None = 90.0) -> Pump:
    direction = None if outlet_deg is None else Dimension(outlet_deg, 5)
    return Pump(
        bore=Bore(diameter_mm=Dimension(19.08, 0)),
        flange=Flange(holes_xy_mm=pattern, hole_mm=Dimension(8.7, 0.1)),
        ports=Ports(outlet=Outlet(direction_deg=direction)),
    )


def holes(drawing: Drawing, line: Line) -> list[Circle]:
    return [one for one in drawing.circles if one.line is line and math.hypot(one.x_mm, one.y_mm) > 1]


FOUR = circle_of(46, 0, 90, 180, 270)


def test_holes_stand_where_they_were_measured_in_their_true_size() -> None:
    drawing = face_drawing(machine(FOUR), pump(FOUR), 0.0)
    # 5/16 in = 7.9375 mm exactly (25.4 mm to the inch).
    assert [one.diameter_mm for one in holes(drawing, Line.MACHINE)] == pytest.approx([7.9375] * 4)
    assert [one.diameter_mm for one in holes(drawing, Line.PUMP)] == [8.7] * 4
    places = [(one.x_mm, one.y_mm) for one in holes(drawing, Line.MACHINE)]
    assert places == [pytest.approx(place, abs=1e-9) for place in [(46, 0), (0, 46), (-46, 0), (0, -46)]]


def test_the_pump_is_turned_counter_clockwise_and_its_outlet_with_it() -> None:
    drawing = face_drawing(machine(FOUR), pump(circle_of(46, 10, 100, 190, 280), outlet_deg=80), 350.0)
    first = holes(drawing, Line.PUMP)[0]
    assert (first.x_mm, first.y_mm) == pytest.approx((46.0, 0.0), abs=1e-9)
    arrow = next(one for one in drawing.segments if one.arrow)
    assert math.degrees(math.atan2(arrow.y2_mm, arrow.x2_mm)) == pytest.approx(70.0)
    assert str(drawing.notes[0]) == "Pump turned 350° counter-clockwise"


def test_a_turn_of_nothing_is_no_turn() -> None:
    assert str(face_drawing(machine(FOUR), pump(FOUR), 1.3e-14).notes[0]) == "Pump not turned"
    assert str(face_drawing(machine(FOUR), pump(FOUR), 359.9999).notes[0]) == "Pump not turned"


def test_bolts_that_miss_are_marked_with_how_far_they_are_off() -> None:
    drawing = face_drawing(machine(FOUR), pump(circle_of(50, 45, 135, 225, 315)), None)
    labels = [str(label.text) for label in drawing.labels if label.line is Line.MISS]
    # Both patterns are squares: turned into line, each hole is 50 - 46 = 4 mm farther out.
    assert labels == ["4.0 mm off"] * 4
    assert str(drawing.notes[0]).startswith("No turn is known to work; shown turned 45°")


def test_only_the_bolts_that_miss_are_marked() -> None:
    moved = Pattern((Hole(46, 0), Hole(0, 46), Hole(-46, 0), Hole(3, -46)), 0.1)
    drawing = face_drawing(machine(FOUR), pump(moved), None)
    marked = [label for label in drawing.labels if label.line is Line.MISS]
    assert 1 <= len(marked) < 4


def test_no_bolt_is_marked_where_its_hole_reaches_it() -> None:
    # Play of 8.7 in 7.9375: 0.38 mm to each side; 0.3 mm off is inside it.
    drawing = face_drawing(machine(FOUR), pump(circle_of(46.3, 0, 90, 180, 270)), None)
    assert not [label for label in drawing.labels if label.line is Line.MISS]


def test_a_slot_reaches_along_its_length_only() -> None:
    along = Pattern((Hole(50, 0, slot_mm=10, slot_deg=0), Hole(0, 46), Hole(-46, 0), Hole(0, -46)), 0.1)
    across = Pattern((Hole(50, 0, slot_mm=10, slot_deg=90), Hole(0, 46), Hole(-46, 0), Hole(0, -46)), 0.1)
    missed = [
        [label for label in face_drawing(machine(FOUR), pump(one), None).labels if label.line is Line.MISS]
        for one in (along, across)
    ]
    assert not missed[0]
    assert missed[1]


def test_a_slot_reaches_no_farther_than_its_end() -> None:
    short = Pattern((Hole(50, 0, slot_mm=4, slot_deg=0), Hole(0, 46), Hole(-46, 0), Hole(0, -46)), 0.1)
    drawing = face_drawing(machine(FOUR), pump(short), None)
    # The slot's centre line ends 2 mm from its middle at 50: 2 mm short of the bolt at 46.
    assert [str(label.text) for label in drawing.labels if label.line is Line.MISS] == ["2.0 mm off"]


def test_the_outline_of_a_slot_keeps_its_width_all_round() -> None:
    slotted = Pattern((Hole(40, 10, slot_mm=12, slot_deg=30),), 0.1)
    drawing = face_drawing(Machine(), pump(slotted, outlet_deg=None), 0.0)
    outline = [one for one in drawing.segments if one.line is Line.PUMP]
    along = math.radians(30)
    for one in outline:
        x, y = one.x1_mm - 40, one.y1_mm - 10
        beyond = max(abs(x * math.cos(along) + y * math.sin(along)) - 6, 0)
        aside = -x * math.sin(along) + y * math.cos(along)
        assert math.hypot(beyond, aside) == pytest.approx(8.7 / 2)
    ends = {(round(one.x1_mm, 6), round(one.y1_mm, 6)) for one in outline}
    assert ends == {(round(one.x2_mm, 6), round(one.y2_mm, 6)) for one in outline}


def test_a_low_seat_is_labelled_and_flush_ones_are_not() -> None:
    flange = Flange(holes_xy_mm=FOUR, hole_mm=Dimension(8.7, 0.1), seat_heights_mm=Seats((0, 0, -2.0, 0), 0.05))
    drawing = face_drawing(machine(FOUR), Pump(flange=flange), 0.0)
    assert [str(label.text) for label in drawing.labels] == ["seat 2.0 mm low"]


def test_pilots_are_drawn_where_there_are_any() -> None:
    face = Face(pilot_kind=Fact(PilotKind.BOSS), pilot_mm=Dimension(114.3, 0.05))
    none = Face(pilot_kind=Fact(PilotKind.NONE), pilot_mm=Dimension(114.3, 0.05))
    drawn = [face_drawing(Machine(face=one), Pump(), None).circles for one in (face, none)]
    assert [circle.diameter_mm for circle in drawn[0]] == [114.3]
    assert not drawn[1]


def test_nothing_known_says_so_instead_of_an_empty_picture() -> None:
    drawing = face_drawing(Machine(), Pump(), None)
    assert drawing.is_empty
    assert drawing.reach_mm == 0
    assert [str(one) for one in drawing.not_known] == [
        "Bolt holes of the engine's face: not known",
        "Shaft diameter: not known",
        "Bolt holes of the pump's flange: not known",
        "Bore diameter: not known",
        "Outlet direction: not known",
    ]


def test_holes_of_unknown_size_show_their_centres_and_say_so() -> None:
    bare = Machine(face=Face(holes_xy_mm=FOUR))
    drawing = face_drawing(bare, Pump(), None)
    assert not holes(drawing, Line.MACHINE)
    assert len([one for one in drawing.segments if one.line is Line.MACHINE]) == 8
    assert "Hole size: not known, centres only" in [str(one) for one in drawing.not_known]


def test_reach_covers_holes_and_arrow() -> None:
    drawing = face_drawing(machine(FOUR), pump(FOUR), 0.0)
    assert drawing.reach_mm == pytest.approx(46 + 7 + 12)


def test_a_turn_that_no_bolt_speaks_against_is_called_open_not_impossible() -> None:
    # The bolt is not known, so nobody can say that one misses.
    bare = Machine(face=Face(holes_xy_mm=FOUR))
    drawing = face_drawing(bare, pump(FOUR), None)
    assert [str(one) for one in drawing.notes] == ["Turn not known yet; shown turned 0°"]


def test_centres_of_a_wide_pattern_are_marked_large_enough_and_the_pumps_stand_out() -> None:
    wide = circle_of(101, 90, 210, 330)
    drawing = face_drawing(Machine(face=Face(holes_xy_mm=wide)), Pump(flange=Flange(holes_xy_mm=wide)), None)
    lengths = {
        line: [math.hypot(one.x2_mm - one.x1_mm, one.y2_mm - one.y1_mm) for one in drawing.segments if one.line is line]
        for line in (Line.MACHINE, Line.PUMP)
    }
    assert min(lengths[Line.MACHINE]) > 0.1 * 101
    assert min(lengths[Line.PUMP]) > 1.5 * max(lengths[Line.MACHINE])


def test_the_outlets_arrow_starts_outside_the_cross_of_a_hole() -> None:
    wide = circle_of(101, 90, 210, 330)
    outlet = Ports(outlet=Outlet(direction_deg=Dimension(90, 5)))
    drawing = face_drawing(Machine(), Pump(flange=Flange(holes_xy_mm=wide), ports=outlet), None)
    highest = max(max(one.y1_mm, one.y2_mm) for one in drawing.segments if not one.arrow)
    arrow = next(one for one in drawing.segments if one.arrow)
    assert arrow.y1_mm > highest > 101
