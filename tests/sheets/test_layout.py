"""Words and lengths of a drawing lie clear of one another, whatever their size; hatching stays inside its face."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from tests.sheets.test_side_drawing import case
from xref_app.core.sentence import Sentence
from xref_app.sheets.hatching import hatch_lines
from xref_app.sheets.laid_out import Anchor, Box, Lettering
from xref_app.sheets.layout import laid_out
from xref_app.sheets.shapes import (
    Arc,
    Circle,
    Drawing,
    Hatching,
    Label,
    Line,
    Outline,
    Segment,
    SizeLine,
)
from xref_app.sheets.side_drawing import side_drawing
from xref_app.sheets.side_lengths import Between


def lettering(height_mm: float = 2.5) -> Lettering:
    return Lettering(
        height_mm, 1.2 * height_mm, height_mm, height_mm / 2, 2.0, lambda text: 0.6 * height_mm * len(text)
    )


def overlap(first: Box, second: Box) -> bool:
    return first[0] < second[2] and second[0] < first[2] and first[1] < second[3] and second[1] < first[3]


@pytest.mark.parametrize("height_mm", [0.5, 2.5, 5.0, 12.0])
def test_no_words_lie_on_others_however_large(height_mm: float) -> None:
    drawing = side_drawing(case().machine, case().pump, Between(spacers_mm=(3.2,)))
    plain = laid_out(drawing, lettering(height_mm))
    assert len(plain.words) == len(drawing.sizes)
    assert not [pair for pair in combinations([one.box for one in plain.words], 2) if overlap(*pair)]


@pytest.mark.parametrize("height_mm", [2.5, 5.0, 12.0])
def test_no_line_of_a_length_runs_through_words(height_mm: float) -> None:
    drawing = side_drawing(case().machine, case().pump)
    plain = laid_out(drawing, lettering(height_mm))
    lines = [one for one in plain.edges if isinstance(one, Segment) and one.line is Line.SIZE]
    assert len(lines) > 10
    for line in lines:
        ends = sorted((line.x1_mm, line.x2_mm)), sorted((line.y1_mm, line.y2_mm))
        box = (ends[0][0], ends[1][0], ends[0][1], ends[1][1])
        for one in plain.words:
            left, bottom, right, top = one.box
            assert not overlap(box, (left + 0.01, bottom + 0.01, right - 0.01, top - 0.01)), one.text


def test_rows_lie_outside_the_drawing_and_heads_touch_what_is_measured() -> None:
    body = Outline(((0, 0), (30, 0), (30, 20), (0, 20)), Line.PART)
    text = Sentence("{size} mm", {"size": "30.0"})
    below, above = SizeLine((0, 0), (30, 0), text), SizeLine((5, 20), (7, 20), text, is_above=True)
    plain = laid_out(Drawing((body, below, above)), lettering())
    tips = sorted(head.corners[0] for head in plain.heads)
    assert [x for x, _ in tips] == [0, 5, 7, 30]
    assert [words.y_mm > 20 or words.y_mm < 0 for words in plain.words] == [True, True]
    # 2 mm is too short for two heads of 3 mm: they point at it from outside.
    outside = [head for head in plain.heads if head.corners[0][0] == 5]
    assert all(x < 5 for x, _ in outside[0].corners[1:])


def test_a_length_keeps_its_words_between_its_ends_where_they_fit() -> None:
    body = Outline(((0, 0), (60, 0), (60, 20), (0, 20)), Line.PART)
    long, short = (SizeLine((0, 0), (x, 0), Sentence("{size} mm", {"size": "1"})) for x in (60, 8))
    middle = laid_out(Drawing((body, long)), lettering()).words[0]
    assert (middle.x_mm, middle.anchor) == (30, Anchor.MIDDLE)
    aside = laid_out(Drawing((body, short)), lettering()).words[0]
    assert aside.box[0] > 8
    assert (aside.anchor, aside.anchor_x_mm) == (Anchor.START, aside.box[0])


def test_an_arrows_head_has_its_tip_at_the_end_and_its_line_stops_short() -> None:
    plain = laid_out(Drawing((Segment(0, 0, 0, 10, Line.PUMP, arrow=True),)), lettering())
    assert plain.heads[0].corners[0] == (0, 10)
    line = plain.edges[0]
    assert isinstance(line, Segment)
    assert 7 < line.y2_mm < 10


def test_a_label_stands_clear_of_its_point_on_the_side_it_was_told() -> None:
    label = Label(10, 0, Sentence("words"), Line.MACHINE, towards_deg=180, clear_mm=4)
    words = laid_out(Drawing((Circle(10, 0, 8, Line.MACHINE), label)), lettering()).words[0]
    assert words.box[2] == pytest.approx(10 - 4 - 1.25)
    assert words.anchor is Anchor.END


def test_hatching_fills_a_face_and_nothing_else() -> None:
    # An L: its notch from (4, 4) to (10, 10) is no material.
    corners = ((0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (4.0, 4.0), (4.0, 10.0), (0.0, 10.0))
    lines = list(hatch_lines(Hatching(corners, Line.PUMP, 45.0), apart_mm=0.5))
    for line in lines:
        x, y = (line.x1_mm + line.x2_mm) / 2, (line.y1_mm + line.y2_mm) / 2
        assert 0 <= x <= 10
        assert 0 <= y <= 10
        assert not (x > 4 and y > 4)
        assert math.degrees(math.atan2(line.y2_mm - line.y1_mm, line.x2_mm - line.x1_mm)) == pytest.approx(45)
    # Lines half a mm apart: their length times that is the area, 10 x 4 + 4 x 6, but for the corners.
    long = sum(math.hypot(line.x2_mm - line.x1_mm, line.y2_mm - line.y1_mm) for line in lines)
    assert long * 0.5 == pytest.approx(64, rel=0.03)


def test_a_drawing_reaches_as_far_as_its_farthest_piece() -> None:
    assert Drawing((Arc(10, 0, 6, Line.PART, 0, 90),)).reach_mm == 13
    assert Drawing((Outline(((3, 4), (0, 0), (1, 0)), Line.PART),)).reach_mm == 5
    assert Drawing(()).is_empty
    assert not Drawing((Arc(10, 0, 6, Line.PART, 0, 90),)).is_empty


def test_brief_lengths_are_bare_numbers_and_bare_drawings_have_none() -> None:
    drawing = side_drawing(case().machine, case().pump)
    assert [str(one.text) for one in drawing.with_brief_sizes().sizes][:2] == ["61.7 to 62.1", "2.9 to 3.3"]
    assert not drawing.without_sizes().sizes
    assert len(drawing.without_sizes().shapes) == len(drawing.shapes) - len(drawing.sizes)
