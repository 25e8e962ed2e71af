"""The side view shows the lengths that decide, as the judge has them, and says what it cannot draw."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from xref_app.core.fit.finding import Quantity
from xref_app.core.model.case import Case
from xref_app.core.model.known import Dimension, Fact, Hole, How, Pattern, Seats
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import BoreForm, HoleKind, Material, PilotKind
from xref_app.core.plan.judge import judge
from xref_app.exchange.case_file import load_case
from xref_app.services.side_view import between_of
from xref_app.sheets.section import in_one_only, without
from xref_app.sheets.shapes import Circle, Drawing, Hatching, Line, Outline, Segment, SizeLine
from xref_app.sheets.side_drawing import side_drawing
from xref_app.sheets.side_lengths import Between

EXAMPLE = Path(__file__).parents[1] / "core" / "fit" / "example_case.json"


def case() -> Case:
    return load_case(EXAMPLE).cases[0]


def drawn(machine: Machine | None = None, pump: Pump | None = None, between: Between | None = None) -> Drawing:
    return side_drawing(machine or case().machine, pump or case().pump, between or Between())


def shaft(**sizes: object) -> Machine:
    return replace(case().machine, shaft=replace(case().machine.shaft, **sizes))  # type: ignore[arg-type]  # by name


def face(**sizes: object) -> Machine:
    return replace(case().machine, face=replace(case().machine.face, **sizes))  # type: ignore[arg-type]  # by name


def bore(**sizes: object) -> Pump:
    return replace(case().pump, bore=replace(case().pump.bore, **sizes))  # type: ignore[arg-type]  # by name


def flange(**sizes: object) -> Pump:
    return replace(case().pump, flange=replace(case().pump.flange, **sizes))  # type: ignore[arg-type]  # by name


def size(drawing: Drawing, begins: str) -> SizeLine:
    return next(one for one in drawing.sizes if str(one.text).startswith(begins))


def words(drawing: Drawing) -> list[str]:
    return [str(one.text) for one in drawing.sizes]


def test_every_length_that_decides_is_written_as_worked_by_hand() -> None:
    # Doubts of the example (data_schema): 0.1 on every length along the shaft, 0.05 on flange and bolt; washer 1.3-2.1.
    # engagement 61.9 - 0 +- 0.2; clearance 65 - 61.9 +- 0.2; the key begins at 61.9 - 0 - 38.1 = 23.8 +- 0.3 and the
    # keyway ends at 60 +- 0.1: 36.2 +- 0.4; in thread 31.75 - 12 - 1.3..2.1 +- 0.1; left 19 +- 0.1 less that.
    assert words(drawn()) == [
        "engagement 61.7 to 62.1 mm",
        "bottom clearance 2.9 to 3.3 mm",
        "key overlap 35.8 to 36.6 mm",
        "bolt in thread 17.5 to 18.6 mm",
        "thread left 0.3 to 1.6 mm",
    ]


def test_the_lengths_are_those_of_the_judge() -> None:
    findings = {one.check: one for one in judge(case()).findings}
    reach, bolts = findings["reach"], findings["bolts"]
    assert isinstance(reach.offered, Quantity)
    assert isinstance(bolts.offered, Quantity)
    told = str(reach.reason)
    # The seats of both sides were read to 0.05 mm each: the faces may come 0.1 mm closer.
    assert told == "61.70 to 62.20 mm of shaft are inside, 2.80 to 3.30 mm are left at the bottom."
    shown = words(drawn(between=between_of(case())))
    assert "engagement 61.7 to 62.2 mm" in shown
    clearance = [float(one) for one in re.findall(r"\d+\.\d", shown[1])]
    assert clearance == [pytest.approx(reach.offered.range.low), pytest.approx(reach.offered.range.high)]
    # The judge rounds the key's overlap to the nearest tenth, the drawing away from its middle.
    assert str(findings["key load"].reason).startswith("35.7 to 36.6 mm of key carry")
    inside = [float(one) for one in re.findall(r"\d+\.\d", words(drawn())[3])]
    assert inside[0] <= bolts.offered.range.low < inside[0] + 0.1
    assert inside[1] - 0.1 < bolts.offered.range.high <= inside[1]


def test_shaft_and_bottom_stand_where_they_were_measured() -> None:
    drawing = drawn()
    # The shaft's end, radius 19.03 / 2, and the bottom of the bore, radius 19.05 / 2.
    assert Segment(61.9, -9.515, 61.9, 9.515, Line.MACHINE) in drawing.segments
    bottoms = [one for one in drawing.segments if one.line is Line.PUMP and one.x1_mm == one.x2_mm == 65]
    assert {round(abs(y), 6) for one in bottoms for y in (one.y1_mm, one.y2_mm)} == {0, 9.525}
    key = next(one for one in drawing.shapes if isinstance(one, Outline) and one.line is Line.MACHINE)
    assert {round(x, 6) for x, _ in key.corners} == {23.8, 61.9}
    assert max(y for _, y in key.corners) == pytest.approx(21.12 - 9.515)


def test_a_spacer_moves_the_pump_and_every_length_by_its_thickness() -> None:
    drawing = drawn(between=Between(spacers_mm=(3.2,)))
    # Doubt of a spacer 0.05: engagement 61.9 - 3.2 +- 0.25, clearance 3.1 + 3.2 +- 0.25, bolt 3.2 +- 0.05 less inside.
    assert words(drawing) == [
        "spacer 3.20 mm",
        "engagement 58.4 to 59.0 mm",
        "bottom clearance 6.0 to 6.6 mm",
        "key overlap 37.6 to 38.6 mm",
        "bolt in thread 14.3 to 15.4 mm",
        "thread left 3.5 to 4.8 mm",
    ]
    assert [one.x1_mm for one in drawing.segments if one.line is Line.PUMP].count(3.2) >= 2


def test_two_spacers_lie_one_on_the_other() -> None:
    drawing = drawn(between=Between(spacers_mm=(3.2, 1.6)))
    assert "spacers 3.20 + 1.60 mm" in words(drawing)
    begins = [min(x for x, _ in one.corners) for one in drawing.shapes if isinstance(one, Hatching)]
    assert {3.2, 0.0} <= set(begins)


def test_too_little_room_at_the_bottom_is_a_miss_with_what_is_needed() -> None:
    drawing = drawn(pump=bore(depth_mm=Dimension(62.6, 0.1)))
    found = size(drawing, "bottom")
    # 62.6 - 61.9 +- 0.2; 1.6 mm by common practice.
    assert (str(found.text), found.line) == ("bottom clearance 0.5 to 0.9 mm, 1.6 needed", Line.MISS)
    assert size(drawing, "engagement").line is Line.SIZE


def test_a_shaft_longer_than_the_bore_is_drawn_through_its_bottom_and_crossed() -> None:
    drawing = drawn(pump=bore(depth_mm=Dimension(60.0, 0.1)))
    found = size(drawing, "bottom")
    assert str(found.text) == "bottom clearance -2.1 to -1.7 mm, 1.6 needed"
    assert (found.first[0], found.second[0]) == (61.9, 60.0)
    crossed = [one for one in drawing.segments if one.line is Line.MISS]
    assert len(crossed) == 2
    assert [(one.x1_mm + one.x2_mm) / 2 for one in crossed] == pytest.approx([61.9, 61.9])


def test_room_that_may_be_enough_is_marked_until_it_surely_is() -> None:
    # 63.5 - 61.9 = 1.6 +- 0.2: enough in the middle, and not for every value.
    assert size(drawn(pump=bore(depth_mm=Dimension(63.5, 0.1))), "bottom").line is Line.MISS
    assert size(drawn(pump=bore(depth_mm=Dimension(63.7, 0.1))), "bottom").line is Line.SIZE


def test_too_little_shaft_inside_is_a_miss() -> None:
    drawing = drawn(machine=shaft(projection_mm=Dimension(18.0, 0.1)))
    # One diameter must be inside: 19.03 + 0.02.
    assert str(size(drawing, "engagement").text) == "engagement 17.8 to 18.2 mm, 19.1 needed"
    assert size(drawing, "engagement").line is Line.MISS


def test_a_key_that_misses_the_keyway_is_a_miss() -> None:
    machine = shaft(keyseat_length_mm=Dimension(10.0, 0.1), keyseat_from_end_mm=Dimension(0.0, 0.1))
    drawing = drawn(machine=machine, pump=bore(keyway_to_mm=Dimension(40.0, 0.1)))
    # The key begins at 51.9 +- 0.3, the keyway ends at 40 +- 0.1.
    assert str(size(drawing, "key").text) == "key overlap -12.3 to -11.5 mm"
    assert size(drawing, "key").line is Line.MISS


def test_a_bolt_that_bottoms_is_a_miss_with_a_cross_on_its_tip() -> None:
    drawing = drawn(between=Between(bolt_length_mm=38.1))
    left = size(drawing, "thread left")
    # 37.08 to 38.1, less 12 and 1.3 to 2.1: 22.9 to 24.9 in 18.9 to 19.1 mm of thread.
    assert left.line is Line.MISS
    assert str(left.text) == "thread left -6.0 to -3.8 mm"
    crossed = [one for one in drawing.segments if one.line is Line.MISS]
    assert {round((one.y1_mm + one.y2_mm) / 2, 6) for one in crossed} == {46}


@pytest.mark.parametrize(("material", "line"), [(Material.ALUMINIUM, Line.MISS), (Material.STEEL, Line.SIZE)])
def test_the_thread_needed_depends_on_what_it_is_cut_in(material: Material, line: Line) -> None:
    # A 23.8 mm bolt goes 8.6 to 10.6 in: enough at 1.0 diameters of 7.94, not at 1.5.
    drawing = drawn(machine=face(material=Fact(material)), between=Between(bolt_length_mm=23.813))
    assert size(drawing, "bolt in thread").line is line


def test_a_through_hole_shows_the_nut_and_what_stands_out() -> None:
    through = face(
        hole_kind=Fact(HoleKind.THROUGH),
        hole_mm=Dimension(8.7, 0.1),
        thickness_mm=Dimension(8.0, 0.05),
        tapped_depth_mm=None,
    )
    drawing = drawn(machine=through)
    # 31.75 - 12 - 8 - two washers of 1.3 to 2.1, +- 0.15; nut 7.94 and two pitches of 1.058 (25.4 / 24).
    assert str(size(drawing, "bolt past").text) == "bolt past the washer 7.4 to 9.3 mm, 10.1 needed"
    nuts = [one for one in drawing.shapes if isinstance(one, Outline) and max(x for x, _ in one.corners) < -8]
    assert len(nuts) == 1
    assert not drawing.not_known


def test_with_a_plate_the_pumps_bolt_ends_in_the_plate() -> None:
    drawing = drawn(between=Between(plate_mm=12.7, bolt_length_mm=25.4))
    # 24.64 to 25.4, less 12 +- 0.05 and 1.3 to 2.1; left of 12.7 +- 0.05.
    assert words(drawing)[0] == "plate 12.70 mm"
    assert str(size(drawing, "bolt in thread").text) == "bolt in thread 10.4 to 12.2 mm"
    assert str(size(drawing, "thread left").text) == "thread left 0.5 to 2.3 mm"
    assert "The bolts that hold the plate to the engine are not shown" in [str(one) for one in drawing.notes]


def test_a_boss_too_high_for_its_recess_is_a_miss() -> None:
    boss = face(pilot_kind=Fact(PilotKind.BOSS), pilot_mm=Dimension(60, 0.05), pilot_depth_mm=Dimension(4.0, 0.1))
    recess = flange(
        pilot_kind=Fact(PilotKind.RECESS), pilot_mm=Dimension(60.1, 0.05), pilot_depth_mm=Dimension(3.0, 0.1)
    )
    missed = size(drawn(boss, recess), "room at the boss")
    assert (str(missed.text), missed.line) == ("room at the boss -1.2 to -0.8 mm", Line.MISS)
    cleared = drawn(boss, recess, Between(spacers_mm=(3.2,)))
    assert not [one for one in cleared.sizes if "boss" in str(one.text)]


def test_a_boss_too_wide_for_its_recess_is_a_miss_until_a_spacer_lifts_it_out() -> None:
    boss = face(pilot_kind=Fact(PilotKind.BOSS), pilot_mm=Dimension(60, 0.05), pilot_depth_mm=Dimension(2.0, 0.1))
    recess = flange(
        pilot_kind=Fact(PilotKind.RECESS), pilot_mm=Dimension(59.5, 0.05), pilot_depth_mm=Dimension(3.0, 0.1)
    )
    assert [str(one.text) for one in drawn(boss, recess).labels] == ["boss 0.40 to 0.60 mm too wide"]
    assert not drawn(boss, recess, Between(spacers_mm=(3.2,))).labels


def test_what_is_not_known_is_not_drawn_and_is_named() -> None:
    drawing = drawn(machine=shaft(projection_mm=None), pump=flange(thickness_mm=None))
    assert [str(one) for one in drawing.not_known] == ["Shaft projection: not known", "Flange thickness: not known"]
    assert not drawing.sizes
    assert not [one for one in drawing.shapes if isinstance(one, Outline)]


def test_nothing_known_gives_no_drawing_and_names_everything() -> None:
    drawing = side_drawing(Machine(), Pump())
    assert drawing.is_empty
    assert len(drawing.not_known) == 20
    assert len(set(map(str, drawing.not_known))) == 20
    # On screen and paper they are one sentence.
    assert [str(one)[:35] for one in drawing.lacks()] == ["Shaft diameter, Shaft projection, K"]
    assert str(drawing.lacks()[0]).endswith("Tapped depth: not known")
    assert str(drawing.lacks(2)[0]) == "Shaft diameter, Shaft projection and 18 more: not known"


def test_a_hint_is_not_drawn() -> None:
    guessed = bore(depth_mm=Dimension(65.0, 0.1, How.TYPICAL))
    drawing = drawn(pump=guessed)
    assert "Bore depth: not known" in [str(one) for one in drawing.not_known]
    assert not [one for one in drawing.sizes if "clearance" in str(one.text)]


def test_a_pump_with_a_shaft_of_its_own_is_not_drawn_as_if_it_were_hollow() -> None:
    drawing = drawn(pump=bore(form=Fact(BoreForm.SOLID_KEYED)))
    assert drawing.is_empty
    assert "coupling" in str(drawing.not_known[0])


def test_bolts_at_different_distances_say_which_one_is_shown() -> None:
    uneven = Pattern((Hole(46, 0), Hole(0, 60), Hole(-46, 0)), 0.1)
    drawing = drawn(machine=face(holes_xy_mm=uneven))
    assert "The bolts are not equally far from the shaft: the first is shown" in [str(one) for one in drawing.notes]
    assert not drawn().notes[1:]


def test_uneven_seats_are_said_not_to_be_drawn() -> None:
    uneven = flange(seat_heights_mm=Seats((0.0, 0.0, -2.0, 0.0), 0.05))
    words_of = [str(one) for one in drawn(pump=uneven).notes]
    assert "The seats are not equally high; they are drawn as if they were" in words_of


def test_no_material_lies_in_the_tapped_hole_or_in_the_bore() -> None:
    for one in drawn().shapes:
        if not isinstance(one, Hatching):
            continue
        xs, ys = [x for x, _ in one.corners], [y for _, y in one.corners]
        for x, y in ((-10.0, 46.0), (6.0, 46.0), (30.0, 0.0), (30.0, 10.0), (64.0, 0.0)):
            assert not (min(xs) < x < max(xs) and min(ys) < y < max(ys)), (x, y)


def test_a_section_has_edges_only_where_material_ends() -> None:
    assert list(in_one_only(((0, 5), (7, 9)), ((0, 5),))) == [(7, 9)]
    assert list(in_one_only(((0, 4), (4, 8)), ())) == [(0, 8)]
    assert list(in_one_only(((0, 4),), ((0, 4),))) == []
    assert without((0, 10), (4, 12)) == ((0, 4),)
    assert without((0, 10), (12, 14)) == ((0, 10),)


def test_the_side_view_has_no_circles() -> None:
    assert not [one for one in drawn().shapes if isinstance(one, Circle)]
