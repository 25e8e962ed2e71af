"""A drawing at 1:1 on as many pages as it takes: they overlap, crosses join them, a map tells where each goes."""

from __future__ import annotations

import math
import string
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.laid_out import Box, Edge, LaidOut, Lettering, Words
from xref_app.sheets.layout import laid_out
from xref_app.sheets.moved import moved
from xref_app.sheets.page import BARS_MM, CHECK, check_bars
from xref_app.sheets.page_frame import PageFrame
from xref_app.sheets.shapes import Drawing, Line, Point, Segment
from xref_app.sheets.sheet_page import Measure, SheetPage, Window, joined
from xref_app.sheets.text_column import BODY_MM, SMALL_MM, TextColumn, box_outline

PART_OF = marked("sheet", "Part {part} of {parts}")
JOIN = marked(
    "sheet",
    "Check the bars of every part. Cut off one of the two edges where parts meet, lay each cross on the cross of the "
    "same letter, and tape them.",
)
# How far two parts lie over each other, half a cross that brings them together, the map's width (house rule).
OVERLAP_MM, CROSS_MM, _MAP_MM, _GAP_MM = 14.0, 4.0, 30.0, 3.0
# Where on a seam its two crosses stand, in shares of the window.
_CROSSES_AT = ((0.2, 0.27, 0.13, 0.34), (0.8, 0.73, 0.87, 0.66))
# How far a cross keeps from any circle of the drawing where it can, mm.
_CLEAR_MM = 8.0
_TITLE_MM, _CHECK_MM = 5.0, 3.6
# Of words in the drawing, mm: as on every other drawing on paper.
_ROW_SHARE, _HEAD_MM, _WORD_GAP_MM = 1.5, 2.2, 1.2


@dataclass(frozen=True, slots=True)
class Tiles:
    """How a drawing is cut up: the windows' size, how many, and where the lower left one begins, all mm."""

    width_mm: float
    height_mm: float
    columns: int
    rows: int
    left_mm: float
    bottom_mm: float

    @property
    def places(self) -> tuple[tuple[int, int], ...]:
        """Return column and row of every part, in the order they are printed; rows are counted from the top."""
        return tuple((column, row) for row in range(self.rows) for column in range(self.columns))

    def box(self, place: tuple[int, int]) -> Box:
        """Return what a part shows of the drawing: left, bottom, right, top."""
        left = self.left_mm + place[0] * (self.width_mm - OVERLAP_MM)
        bottom = self.bottom_mm + (self.rows - 1 - place[1]) * (self.height_mm - OVERLAP_MM)
        return left, bottom, left + self.width_mm, bottom + self.height_mm


@dataclass(frozen=True, slots=True)
class _Gauge:
    drawing: Drawing
    frame: PageFrame
    measure: Measure
    say: Callable[[Sentence], str]

    @property
    def body(self) -> LaidOut:
        lettering = Lettering(
            height_mm=SMALL_MM,
            row_mm=_ROW_SHARE * SMALL_MM,
            head_mm=_HEAD_MM,
            gap_mm=_WORD_GAP_MM,
            hatch_mm=_HEAD_MM,
            width_of=lambda text: self.measure(text, SMALL_MM),
            say=self.say,
        )
        return laid_out(self.drawing, lettering)

    def heading(self, *more: str) -> TextColumn:
        """Return the words above the bars: what it is, then ``more``, then what to do with the bars."""
        column = TextColumn(0.0, self.frame.width_mm, self.measure)
        column.put(self.say(self.drawing.title), _TITLE_MM, is_bold=True)
        if self.drawing.about.template:
            column.put(self.say(self.drawing.about), BODY_MM, is_bold=True)
        for one in more:
            column.put(one, BODY_MM)
        column.put(self.say(Sentence(CHECK)), _CHECK_MM, is_bold=True)
        column.y_mm -= 1.0
        return column


def gauge_pages(
    drawing: Drawing, frame: PageFrame, measure: Measure, say: Callable[[Sentence], str]
) -> tuple[SheetPage, ...]:
    """Return the drawing at 1:1 on n ≥ 1 pages, each with both bars."""
    gauge = _Gauge(drawing, frame, measure, say)
    notes = [say(one) for one in (*drawing.notes, *drawing.lacks())]
    if drawing.is_empty:
        words = gauge.heading(*notes).content
        return (frame.page.with_content(moved(words, frame.left_mm, frame.bottom_mm + frame.room_mm)),)
    body, told = gauge.body, gauge.heading(*notes)
    tiles = tiles_for(body.box, frame, head_mm=_head_mm(told))
    if len(tiles.places) == 1:
        return (_page(gauge, body, tiles, (0, 0), told),)
    # The first part alone tells how to hold it; all have room for as much, so that all windows are alike.
    part = Sentence(PART_OF, {"part": len(tiles.places), "parts": len(tiles.places)})
    longest = gauge.heading(say(part), *notes, say(Sentence(JOIN)))
    tiles = tiles_for(body.box, frame, head_mm=_head_mm(longest))
    return tuple(_part(gauge, body, tiles, number, notes) for number in range(len(tiles.places)))


def _part(gauge: _Gauge, body: LaidOut, tiles: Tiles, number: int, notes: list[str]) -> SheetPage:
    part = gauge.say(Sentence(PART_OF, {"part": number + 1, "parts": len(tiles.places)}))
    told = gauge.heading(part, *(notes if number == 0 else ()), gauge.say(Sentence(JOIN)))
    return _page(gauge, body, tiles, tiles.places[number], told)


def _head_mm(told: TextColumn) -> float:
    return -told.y_mm + BARS_MM + _GAP_MM


def tiles_for(box: Box, frame: PageFrame, *, head_mm: float) -> Tiles:
    """Return how a drawing that covers ``box`` is cut up where ``head_mm`` of each page is taken."""
    width, height = frame.width_mm, frame.room_mm - head_mm
    left, bottom, right, top = box
    columns = max(math.ceil((right - left - OVERLAP_MM) / (width - OVERLAP_MM)), 1)
    rows = max(math.ceil((top - bottom - OVERLAP_MM) / (height - OVERLAP_MM)), 1)
    across = columns * (width - OVERLAP_MM) + OVERLAP_MM
    up = rows * (height - OVERLAP_MM) + OVERLAP_MM
    # One part alone has the drawing in its middle; of several the first holds as much as it can, the bore whole.
    aside = (across - right + left) / 2 if columns == 1 else _GAP_MM
    above = (up - top + bottom) / 2 if rows == 1 else _GAP_MM
    return Tiles(
        width, height, columns, rows, left - min(aside, across - right + left), top + min(above, up - top + bottom) - up
    )


def _page(gauge: _Gauge, body: LaidOut, tiles: Tiles, place: tuple[int, int], told: TextColumn) -> SheetPage:
    frame = gauge.frame
    shown = tiles.box(place)
    top = frame.bottom_mm + frame.room_mm
    head = joined((told.content, moved(check_bars(gauge.measure, gauge.say), 0.0, told.y_mm)))
    if len(tiles.places) > 1:
        head = joined((head, moved(_map(tiles, place, gauge.measure), frame.width_mm - _MAP_MM, told.y_mm)))
    page = frame.page.with_content(moved(head, frame.left_mm, top))
    aside, up = frame.left_mm - shown[0], frame.bottom_mm - shown[1]
    box = (frame.left_mm, frame.bottom_mm, frame.left_mm + tiles.width_mm, frame.bottom_mm + tiles.height_mm)
    crosses = LaidOut((), (), ())
    if len(tiles.places) > 1:
        edge = box_outline(box[0], box[3], tiles.width_mm, tiles.height_mm, Line.SIZE)
        page = page.with_content(LaidOut((edge,), (), ()))
        crosses = joined(_crosses(tiles, gauge))
    seen = joined((moved(body, aside, up), moved(crosses, aside, up)))
    return SheetPage(page.width_mm, page.height_mm, page.content, page.marks, (Window(box, seen),))


def seam_crosses(tiles: Tiles, drawing: Drawing) -> tuple[Point, ...]:
    """Return where the crosses stand that bring the parts together, mm in the drawing, clear of its circles."""
    found: list[Point] = []
    for column, row in tiles.places:
        left, bottom, right, top = tiles.box((column, row))
        x, y = right - OVERLAP_MM / 2, bottom + OVERLAP_MM / 2
        for shares in _CROSSES_AT:
            if column + 1 < tiles.columns:
                found.append(_clear_of([(x, bottom + share * (top - bottom)) for share in shares], drawing))
            if row + 1 < tiles.rows:
                found.append(_clear_of([(left + share * (right - left), y) for share in shares], drawing))
    return tuple(found)


def _clear_of(places: list[Point], drawing: Drawing) -> Point:
    """Return the first place that no circle comes near; the first of all where there is none."""

    def is_clear(place: Point) -> bool:
        return all(
            math.hypot(place[0] - one.x_mm, place[1] - one.y_mm) > one.diameter_mm / 2 + _CLEAR_MM
            for one in drawing.circles
        )

    return next(filter(is_clear, places), places[0])


def _crosses(tiles: Tiles, gauge: _Gauge) -> Iterator[LaidOut]:
    measure = gauge.measure
    for number, (x, y) in enumerate(seam_crosses(tiles, gauge.drawing)):
        letter = string.ascii_uppercase[number % 26] * (number // 26 + 1)
        width = measure(letter, SMALL_MM, is_bold=True)
        words = Words(x + 2.6, y + 2.6, width, SMALL_MM, letter, Line.SIZE, is_bold=True)
        yield LaidOut(
            (
                Segment(x - CROSS_MM, y, x + CROSS_MM, y, Line.CHECK),
                Segment(x, y - CROSS_MM, x, y + CROSS_MM, Line.CHECK),
            ),
            (),
            (words,),
        )


def _map(tiles: Tiles, here: tuple[int, int], measure: Measure) -> LaidOut:
    """Return where this part belongs among all, hanging down from an origin at 0, 0, mm."""
    height = min(BARS_MM / tiles.rows, 9.0)
    width = min(_MAP_MM / tiles.columns, height * 1.6)
    edges: list[Edge] = []
    words: list[Words] = []
    left = _MAP_MM - width * tiles.columns - 1.0
    for number, place in enumerate(tiles.places, start=1):
        x, y, is_here = left + place[0] * width, -place[1] * height, place == here
        inset = 0.7 if is_here else 0.0
        line = Line.MISS if is_here else Line.SIZE
        edges.append(box_outline(x + inset, y - inset, width - 2 * inset, height - 2 * inset, line))
        said = str(number)
        across = measure(said, SMALL_MM, is_bold=is_here)
        words.append(Words(x + width / 2, y - height / 2, across, SMALL_MM, said, Line.SIZE, is_bold=is_here))
    return LaidOut(tuple(edges), (), tuple(words))
