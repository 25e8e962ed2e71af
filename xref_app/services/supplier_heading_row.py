"""Where the headings of a supplier's list stand: below its titles, in one row or in several."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from xref_app.services.supplier_columns import ColumnMap, SheetKind
from xref_app.services.supplier_headings import guess_columns

# House rules: headings stand among the first rows, in no more rows than this, and two of them at least are understood.
_ROWS_LOOKED_AT: Final = 60
_MOST_HEADING_ROWS: Final = 3
_FEWEST_UNDERSTOOD: Final = 2
_BEGINS_WITH_FIGURE: Final = re.compile(r"\s*[-+~<>≤≥]?\s*[.,]?\d")

Rows = Sequence[Sequence[str]]


def guess_map(rows: Rows, kind: SheetKind) -> ColumnMap:
    """Return what the columns of a sheet seem to be; with no heading understood, columns that are left out."""
    places = [(start, stop) for start, stop in _places(rows)]
    best = max(places, key=lambda place: _understood(rows, place, kind), default=(0, 0))
    if _understood(rows, best, kind) < _FEWEST_UNDERSTOOD:
        best = _of_texts(rows)
    return map_at(rows, kind, headings_from=best[0], rows_from=best[1])


def map_at(rows: Rows, kind: SheetKind, *, headings_from: int, rows_from: int) -> ColumnMap:
    """Return what the columns seem to be where somebody says in which rows the headings stand."""
    headings = headings_of(rows, headings_from, rows_from)
    return ColumnMap(kind, headings_from, rows_from, guess_columns(headings, kind))


def headings_of(rows: Rows, headings_from: int, rows_from: int) -> tuple[str, ...]:
    """Return what stands above each column, from top to bottom; as many as the sheet has columns."""
    width = max(map(len, rows), default=0)
    lines = rows[headings_from:rows_from]
    return tuple(
        " ".join(dict.fromkeys(" ".join(line[place].split()) for line in lines if place < len(line) and line[place]))
        for place in range(width)
    )


def _places(rows: Rows) -> Iterator[tuple[int, int]]:
    for start in range(min(len(rows), _ROWS_LOOKED_AT)):
        for stop in range(start + 1, min(start + _MOST_HEADING_ROWS, len(rows)) + 1):
            if any(_is_of_list(row) for row in rows[start:stop]) or not any(rows[stop - 1]):
                break
            if any(rows[start]):
                yield start, stop


def _is_of_list(row: Sequence[str]) -> bool:
    """Say whether a row looks like one of the list: a third of its cells begin with a figure."""
    cells = [one for one in row if one]
    return bool(cells) and 3 * sum(bool(_BEGINS_WITH_FIGURE.match(one)) for one in cells) >= len(cells)


def _understood(rows: Rows, place: tuple[int, int], kind: SheetKind) -> float:
    columns = guess_columns(headings_of(rows, *place), kind)
    # Every further row must explain more than it costs, or a title would be taken for a heading.
    cost = 0.3 * (place[1] - place[0] - 1)
    return sum(1.0 for one in columns if one.target) + 0.4 * sum(bool(one.unit) for one in columns) - cost


def _of_texts(rows: Rows) -> tuple[int, int]:
    """Return the first row that has as many cells as most rows, if it holds texts only; else no headings."""
    looked_at = [row for row in rows[:_ROWS_LOOKED_AT] if row]
    widths = [len(row) for row in looked_at]
    if not widths:
        return 0, 0
    usual = max(set(widths), key=widths.count)
    for place, row in enumerate(rows[:_ROWS_LOOKED_AT]):
        if len(row) >= usual:
            return (place, place) if _is_of_list(row) else (place, place + 1)
    return 0, 0
