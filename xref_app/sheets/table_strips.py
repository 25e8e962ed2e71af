"""A table as strips: one for its headings, which stand again on the next page, and one for each row."""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.sheets.blocks import Row, Table
from xref_app.sheets.laid_out import Edge, LaidOut, Words
from xref_app.sheets.shapes import Line, Segment
from xref_app.sheets.sheet_page import Measure, PlacedMark, Strip
from xref_app.sheets.text_column import BODY_MM, LINE_SHARE, SMALL_MM, TextColumn, box_outline

# Room for a mark or a box before the cells, gap between columns, and above and below a row, mm (looks only).
_MARK_ROOM_MM, _GAP_MM, _PAD_MM, _MARK_MM = 7.0, 2.5, 0.9, 4.6


def table_strips(table: Table, width_mm: float, measure: Measure) -> Iterator[Strip]:
    """Yield the headings, then the rows with a thin rule below each."""
    head = _strip(Row(table.headings), table, width_mm, measure, is_head=True)
    yield head
    for row in table.rows:
        strip = _strip(row, table, width_mm, measure)
        yield Strip(strip.height_mm, strip.content, strip.marks, head=head)


def _strip(row: Row, table: Table, width_mm: float, measure: Measure, *, is_head: bool = False) -> Strip:
    has_room = any(one.outcome is not None or one.has_box for one in table.rows)
    left = _MARK_ROOM_MM if has_room else 0.0
    size = SMALL_MM if is_head else BODY_MM
    words: list[Words] = []
    bottom, x = 0.0, left
    for place, (cell, share) in enumerate(zip(row.cells, table.shares, strict=False), start=1):
        # The last cell of a row that has fewer than the table takes the room of those that are not there.
        room = width_mm - x if place == len(row.cells) else share * (width_mm - left) - _GAP_MM
        column = TextColumn(x, room, measure, -_PAD_MM)
        column.put(cell, size, is_bold=is_head)
        words.extend(column.words)
        bottom, x = min(bottom, column.y_mm), x + share * (width_mm - left)
    if row.note:
        note = TextColumn(left, width_mm - left, measure, bottom)
        note.put(row.note, SMALL_MM)
        words.extend(note.words)
        bottom = note.y_mm
    height = max(-bottom, 0.0 if is_head else _MARK_MM + _PAD_MM) + _PAD_MM
    edges: list[Edge] = [Segment(0.0, -height, width_mm, -height, Line.MACHINE if is_head else Line.HATCH)]
    middle = -_PAD_MM - LINE_SHARE * BODY_MM / 2
    if row.has_box:
        edges.append(box_outline(0.4, middle + BODY_MM / 2, BODY_MM, BODY_MM, Line.MACHINE))
    marks = () if row.outcome is None else (PlacedMark(row.outcome, _MARK_MM / 2, middle, _MARK_MM),)
    return Strip(height, LaidOut(tuple(edges), (), tuple(words)), marks, keeps_next=is_head)
