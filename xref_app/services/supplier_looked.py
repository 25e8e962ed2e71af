"""A supplier's list as a person looks at it: rows with the open ones first, columns with samples, questions alike."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from xref_app.core.sentence import Sentence
from xref_app.search.filed import collector_at_rest
from xref_app.services.supplier_cells import CellReading, CellState
from xref_app.services.supplier_columns import Column, units_of
from xref_app.services.supplier_decimals import Decimals
from xref_app.services.supplier_preview import Preview
from xref_app.services.supplier_rows import RowReading, RowState

# House rule: so many different cells show what a column holds.
_MOST_SAMPLES: Final = 5
_OPEN: Final = frozenset({CellState.LOOK, CellState.REFUSED})


class Standing(StrEnum):
    """How a row stands for somebody who works through the list, what is open first."""

    LOOK = "needs a look"
    REFUSED = "refused"
    ACCEPTED = "accepted"
    GOOD = "good"
    KNOWN = "entered already"


_PLACES: Final = {standing: place for place, standing in enumerate(Standing)}


@dataclass(frozen=True, slots=True)
class ListedRow:
    """One row and how it stands; ``was_answered``: something was typed or chosen instead of a cell of it."""

    row: RowReading
    standing: Standing
    was_answered: bool = False


@dataclass(frozen=True, slots=True)
class ListedColumn:
    """One column, its first different cells by row (from 0), its decimals, and how many of its cells are open."""

    column: Column
    samples: tuple[tuple[int, str], ...]
    decimals: Decimals
    open_cells: int

    @property
    def has_no_unit(self) -> bool:
        """Say whether bare numbers in it have no unit although there is more than one."""
        return not self.column.unit and len(units_of(self.column.target)) > 1


@dataclass(frozen=True)
class Looked:
    """A preview sorted out: ``cells_alike`` and ``rows_alike`` hold what is asked in one way, by what is asked."""

    preview: Preview
    rows: tuple[ListedRow, ...]
    columns: tuple[ListedColumn, ...]
    counts: Mapping[Standing, int]
    cells_alike: Mapping[object, tuple[tuple[int, CellReading], ...]]
    rows_alike: Mapping[object, tuple[int, ...]]

    def alike(self, cell: CellReading) -> tuple[tuple[int, CellReading], ...]:
        """Return the open cells asked about in the same way in the same column, by row; ``cell`` is one of them."""
        return self.cells_alike.get(_asked_of_cell(cell), ())

    def alike_rows(self, row: RowReading) -> tuple[int, ...]:
        """Return the rows, from 0, that can be accepted and are asked about in the same way, ``row`` among them."""
        return self.rows_alike.get(_asked_of_row(row), ()) if row.is_only_questioned else ()


def looked(preview: Preview) -> Looked:
    """Return a preview sorted out."""
    with collector_at_rest():
        return _sorted_out(preview)


def _sorted_out(preview: Preview) -> Looked:
    answered = frozenset(row for row, _column in preview.said.answers)
    listed = sorted((_listed(preview, one, answered) for one in preview.rows), key=lambda one: _PLACES[one.standing])
    cells: dict[object, list[tuple[int, CellReading]]] = defaultdict(list)
    rows: dict[object, list[int]] = defaultdict(list)
    open_cells: dict[int, int] = defaultdict(int)
    for one in listed:
        for cell in one.row.cells:
            if cell.state in _OPEN:
                cells[_asked_of_cell(cell)].append((one.row.place, cell))
                open_cells[cell.place] += 1
        if one.standing is Standing.LOOK and one.row.is_only_questioned:
            rows[_asked_of_row(one.row)].append(one.row.place)
    counts = dict.fromkeys(Standing, 0)
    for one in listed:
        counts[one.standing] += 1
    return Looked(
        preview,
        tuple(listed),
        tuple(_columns(preview, open_cells)),
        counts,
        {asked: tuple(found) for asked, found in cells.items()},
        {asked: tuple(found) for asked, found in rows.items()},
    )


def choices_for_all(alike: Sequence[tuple[int, CellReading]], choice: int) -> dict[tuple[int, int], str]:
    """Return the answers that choose number ``choice`` in every cell of ``alike``, by row and column."""
    return {(row, cell.place): cell.choices[choice] for row, cell in alike}


def _listed(preview: Preview, row: RowReading, answered: frozenset[int]) -> ListedRow:
    was_answered = row.place in answered
    if row.state is RowState.LOOK:
        is_accepted = row.place in preview.said.accepted and row.is_only_questioned
        return ListedRow(row, Standing.ACCEPTED if is_accepted else Standing.LOOK, was_answered)
    return ListedRow(row, Standing(row.state.value), was_answered)


def _asked_of_cell(cell: CellReading) -> object:
    return cell.place, cell.state, _asked(cell.reason), len(cell.choices)


def _asked_of_row(row: RowReading) -> object:
    return tuple(map(_asked, row.reasons))


def _asked(reason: Sentence | str) -> str:
    """Return what is asked, whatever the values: of two texts that are no sentence of ours nobody can tell."""
    return reason.template if isinstance(reason, Sentence) else ""


def _columns(preview: Preview, open_cells: Mapping[int, int]) -> Iterator[ListedColumn]:
    columns = preview.said.columns
    rows = preview.sheet.rows
    for column in columns.columns:
        found: dict[str, int] = {}
        for place in range(columns.rows_from, len(rows)):
            text = rows[place][column.place] if column.place < len(rows[place]) else ""
            if text:
                found.setdefault(text, place)
                if len(found) == _MOST_SAMPLES:
                    break
        decimals = preview.decimals.get(column.place, Decimals.UNTOLD)
        samples = tuple((place, text) for text, place in found.items())
        yield ListedColumn(column, samples, decimals, open_cells.get(column.place, 0))
