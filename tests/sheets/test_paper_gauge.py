"""The paper gauge without Qt: what is drawn, how it is cut up, and that every part joins its neighbours."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sheets.paper_for_tests import OWN, PLAIN, reckoned
from tests.sheets.test_side_drawing import case
from xref_app.core.model.known import Fact, Hole, How, Pattern
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import Axis
from xref_app.sheets.blocks import Sheet
from xref_app.sheets.gauge_drawing import CLAIMED, HOLD, HOLD_UNKNOWN, HOLD_VERTICAL, gauge_drawing
from xref_app.sheets.gauge_pages import OVERLAP_MM, Tiles, seam_crosses, tiles_for
from xref_app.sheets.page import Paper
from xref_app.sheets.page_frame import frame_of
from xref_app.sheets.shapes import Circle, Drawing, Line
from xref_app.sheets.sheet_pages import sheet_pages

PAPERS = (Paper.A4, Paper.LETTER)


def pump_with(pattern: Pattern | None, axis: Axis | None = Axis.HORIZONTAL) -> Pump:
    pump = case().pump
    bore = replace(pump.bore, axis=None if axis is None else Fact(axis))
    return replace(pump, bore=bore, flange=replace(pump.flange, holes_xy_mm=pattern))


def on_circle(radius_mm: float, how: How = How.MEASURED) -> Pattern:
    angles = [math.radians(one) for one in (10, 130, 250)]
    return Pattern(tuple(Hole(radius_mm * math.cos(one), radius_mm * math.sin(one)) for one in angles), 0.1, how)


def pages_of(drawing: Drawing, paper: Paper) -> int:
    return len(sheet_pages(Sheet(OWN, gauge=drawing), paper, reckoned, PLAIN))


def test_the_holes_stand_in_the_view_of_the_holes_turned_as_the_pump_goes_on() -> None:
    drawing = gauge_drawing(pump_with(on_circle(60.0)), 20.0)
    holes = [one for one in drawing.circles if math.hypot(one.x_mm, one.y_mm) > 1]
    angles = [math.degrees(math.atan2(one.y_mm, one.x_mm)) % 360 for one in holes]
    assert angles == pytest.approx([30.0, 150.0, 270.0])
    assert {one.line for one in holes} == {Line.PART}
    assert "Drawn turned 20° counter-clockwise, as the pump goes on." in map(str, drawing.notes)


@pytest.mark.parametrize(
    ("axis", "told"),
    [(Axis.HORIZONTAL, HOLD), (Axis.VERTICAL, HOLD_VERTICAL), (Axis.BOTH, HOLD_UNKNOWN), (None, HOLD_UNKNOWN)],
)
def test_it_says_which_side_is_up(axis: Axis | None, told: str) -> None:
    drawing = gauge_drawing(pump_with(on_circle(60.0), axis), None)
    assert told in {one.template for one in drawing.notes}
    assert [str(one.text) for one in drawing.labels][-1] == "UP"


def test_holes_that_are_only_claimed_are_called_so() -> None:
    for how in (How.MEASURED, How.CLAIMED):
        notes = {one.template for one in gauge_drawing(pump_with(on_circle(60.0, how)), None).notes}
        assert (CLAIMED in notes) is (how is How.CLAIMED)


def test_what_is_not_known_of_the_pump_is_said_and_nothing_of_the_engine() -> None:
    drawing = gauge_drawing(pump_with(None), None)
    assert list(map(str, drawing.lacks())) == ["Bolt holes of the pump's flange: not known"]
    empty = gauge_drawing(Pump(), None)
    assert empty.is_empty
    assert pages_of(empty, Paper.A4) == 1


@pytest.mark.parametrize("paper", PAPERS)
def test_a_face_goes_on_one_page_while_it_fits_and_on_several_from_there(paper: Paper) -> None:
    counts = [pages_of(gauge_drawing(pump_with(on_circle(radius)), 0.0), paper) for radius in range(30, 171, 20)]
    assert counts[0] == 1
    assert counts[-1] >= 4
    assert all(one <= other for one, other in pairwise(counts))


@given(st.floats(50, 700), st.floats(50, 700), st.sampled_from(PAPERS))
def test_the_parts_cover_the_whole_drawing_and_overlap_as_said(wide: float, high: float, paper: Paper) -> None:
    box = (-wide / 3, -high / 2, wide * 2 / 3, high / 2)
    tiles = tiles_for(box, frame_of(paper), head_mm=70.0)
    boxes = [tiles.box(place) for place in tiles.places]
    assert min(one[0] for one in boxes) <= box[0] + 1e-9
    assert min(one[1] for one in boxes) <= box[1] + 1e-9
    assert max(one[2] for one in boxes) >= box[2] - 1e-9
    assert max(one[3] for one in boxes) >= box[3] - 1e-9
    for column, row in tiles.places:
        here = tiles.box((column, row))
        if column + 1 < tiles.columns:
            assert here[2] - tiles.box((column + 1, row))[0] == pytest.approx(OVERLAP_MM)
        if row + 1 < tiles.rows:
            assert tiles.box((column, row + 1))[3] - here[1] == pytest.approx(OVERLAP_MM)


@given(st.integers(1, 3), st.integers(1, 3))
def test_every_seam_has_two_crosses_that_both_parts_show(columns: int, rows: int) -> None:
    tiles = Tiles(180.0, 190.0, columns, rows, 0.0, 0.0)
    crosses = seam_crosses(tiles, Drawing((Circle(20.0, 20.0, 9.0, Line.PART),)))
    seams = (columns - 1) * rows + columns * (rows - 1)
    assert len(crosses) == 2 * seams
    for x, y in crosses:
        showing = [one for place in tiles.places if (one := tiles.box(place))[0] < x < one[2] and one[1] < y < one[3]]
        assert len(showing) >= 2


@pytest.mark.parametrize("paper", PAPERS)
def test_every_part_has_the_bars_its_number_and_a_map(paper: Paper) -> None:
    pages = sheet_pages(Sheet(OWN, gauge=gauge_drawing(pump_with(on_circle(101.0)), 0.0)), paper, reckoned, PLAIN)
    for number, page in enumerate(pages, start=1):
        assert f"Part {number} of {len(pages)}" in page.text
        assert "Measure this bar: if it is not 100 mm, do not trace." in page.text
        assert {"100 mm", "4 in"} <= {one.text for one in page.content.words}
        assert {str(one) for one in range(1, len(pages) + 1)} <= {one.text for one in page.content.words}
    assert "print towards you" in pages[0].text
