"""The rows of a package in canonical form, by table and key: as light as a million rows of them must be."""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Iterator, Mapping, Sequence
from typing import Final, NamedTuple

from xref_app.core.model.catalog_rows import CatalogCells, CatalogRows
from xref_app.core.progress import NO_PROGRESS, Progress, stretches, told_through
from xref_app.store.errors import DoubledKeyError, LostReferenceError
from xref_app.store.row_hash import Cells, Value, Values, as_values, canonical_cells, cells_of
from xref_app.store.tables import CATALOG_TABLES, AnyTable

Key = tuple[object, ...]


class Brought(NamedTuple):
    """One row of a package: its table, its canonical cells, its hash."""

    table: AnyTable
    cells: Cells
    row_hash: str

    @property
    def values(self) -> Values:
        """Return the row as column values with its hash, ready to be stored."""
        return as_values(self.table, self.cells, self.row_hash)

    @property
    def stored(self) -> Cells:
        """Return the row as the table holds it: its cells, and its hash last."""
        return (*self.cells, self.row_hash)


Rows = Mapping[Key, Brought]
Package = Mapping[str, Rows]

_KEY_PLACES: Final = {one.name: tuple(map(one.columns.index, one.key)) for one in CATALOG_TABLES}


def canonical_rows(rows: CatalogRows) -> Package:
    """Return the rows of a package by table and key, in canonical form; raise DoubledKeyError for a key twice."""
    return {one.name: _by_key(one, (cells_of(one, row) for row in getattr(rows, one.name))) for one in CATALOG_TABLES}


def canonical_package(cells: CatalogCells, progress: Progress = NO_PROGRESS) -> Package:
    """Return the rows with these cells by table and key, in canonical form.

    Raises:
        DoubledKeyError: two rows of a table have one key.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    told = stretches(progress, *(len(cells[one.name]) for one in CATALOG_TABLES))
    return {
        table.name: _by_key(table, told_through(cells[table.name], one, len(cells[table.name])))
        for table, one in zip(CATALOG_TABLES, told, strict=True)
    }


def _by_key(table: AnyTable, rows: Iterable[Sequence[Value]]) -> Rows:
    places = _KEY_PLACES[table.name]
    known: dict[Key, Brought] = {}
    for found in rows:
        brought = Brought(table, *canonical_cells(table, found))
        key = tuple([brought.cells[place] for place in places])
        if known.setdefault(key, brought) is not brought:
            raise DoubledKeyError(table=table.name, key=spelled(key), why="two rows of the package have this key")
    return known


def column_of(table: AnyTable, rows: Iterable[Brought], column: str) -> Iterator[Value]:
    """Yield the cells of one column of rows that are all of ``table``."""
    place = table.columns.index(column)
    return (one.cells[place] for one in rows)


def spelled(key: tuple[object, ...]) -> str:
    """Return a key for a sentence."""
    return " ".join(str(one) for one in key)


def refuse_lost_in_package(package: Package, present: Mapping[str, Container[Key]]) -> None:
    """Raise LostReferenceError where a row of ``package`` names one that neither it nor the store has."""
    for table in CATALOG_TABLES:
        for column, target in table.references.items():
            other = target.partition(".")[0]
            named = set(column_of(table, package[table.name].values(), column))
            lost = {one for one in named if (one,) not in package[other] and (one,) not in present[other]}
            _refuse_lost(table, package[table.name], column, lost - {""} if column in table.optional else lost)


def _refuse_lost(table: AnyTable, rows: Rows, column: str, lost: Collection[Value]) -> None:
    if not lost:
        return
    named = zip(rows, column_of(table, rows.values(), column), strict=True)
    key, first = next((key, one) for key, one in named if one in lost)
    raise LostReferenceError(table=table.name, key=spelled(key), column=column, value=str(first))
