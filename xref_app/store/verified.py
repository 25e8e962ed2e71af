"""Rows out of the database, each compared with its hash; a row that does not match is set aside, never used."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import islice
from operator import itemgetter
from typing import Final

from sqlalchemy import ColumnElement, Connection, Row, Select, bindparam, select
from sqlalchemy.exc import OperationalError

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.store.row_hash import hash_of_stored, row_hash
from xref_app.store.tables import CATALOG_TABLES, TABLES_BY_NAME, AnyTable, CatalogTable, R
from xref_app.store.tally import Tally

# A row as it comes from the database, its hash last.
Cells = Sequence[object]

# House rule: of a table that is read through so many rows are held at once.
_ROWS_AT_ONCE: Final = 10_000

# One row by its key, written down once: building a statement takes longer than running it.
_ONE: Final = {
    one.name: select(one.table).where(*(one.table.c[name] == bindparam(f"key_{name}") for name in one.key))
    for one in CATALOG_TABLES
}

_WITH_FIRST_KEY: Final = {
    one.name: select(one.table).where(one.table.c[one.key[0]].in_(bindparam("first", expanding=True)))
    for one in CATALOG_TABLES
}


@dataclass(frozen=True, slots=True)
class DamagedRow:
    """A row set aside because its values and its hash disagree; ``values`` is what stood there, not to be trusted.

    ``found`` holds the same as it came from the database.
    """

    table: str
    key: tuple[str, ...]
    values: Mapping[str, str]
    found: Mapping[str, object] = field(default_factory=dict, repr=False, compare=False)


@dataclass(frozen=True, slots=True)
class Verified:
    """The rows of one query whose hashes agree, in the form of the database row, and those set aside."""

    sound: tuple[Mapping[str, object], ...]
    damaged: tuple[DamagedRow, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """Some rows of a table: the cells of those that are sound as they came from the database, and those set aside."""

    sound: tuple[Cells, ...]
    damaged: tuple[DamagedRow, ...]


@dataclass(frozen=True, slots=True)
class CheckedRows:
    """All rows of a table: how many are sound, which are not, and the tally of all (None: a hash of one is none)."""

    sound: int
    damaged: tuple[DamagedRow, ...]
    tally: Tally | None


def read_verified(
    connection: Connection, table: AnyTable, *where: ColumnElement[bool], lacking: Collection[str] = ()
) -> Verified:
    """Return the rows of ``table`` that ``where`` selects, in the order of their keys, withdrawn ones too.

    ``lacking`` are the later columns that a store of an older format does not have; they count as empty.
    """
    # Sorted here and not by the database: it would walk the key's index, whose damage would hide rows in silence.
    return _verify(table, read_leniently(connection, _select(table, lacking).where(*where)), lacking)


def read_one(connection: Connection, table: AnyTable, key: Mapping[str, object]) -> Verified:
    """Return the row of ``table`` with this ``key`` (by column), if there is one."""
    return _verify(
        table, read_leniently(connection, _ONE[table.name], {f"key_{name}": key[name] for name in table.key})
    )


def read_beginning(connection: Connection, table: AnyTable, first: Sequence[object]) -> Verified:
    """Return the rows of ``table`` whose key, or its first column where there are several, is one of ``first``."""
    return _verify(table, read_leniently(connection, _WITH_FIRST_KEY[table.name], {"first": list(first)}))


def check_rows(
    connection: Connection,
    table: AnyTable,
    *,
    lacking: Collection[str] = (),
    expected: int = 0,
    progress: Progress = NO_PROGRESS,
) -> CheckedRows:
    """Read every row of ``table``, some at a time, and return what is wrong with them and what they count up to.

    Args:
        connection: inside one transaction.
        table: the table.
        lacking: the later columns that a store of an older format does not have.
        expected: about how many rows there are, for the progress only.
        progress: hears how far it is.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    checked = CheckedRows(0, (), Tally())
    for piece in read_through(connection, table, lacking=lacking, expected=expected, progress=progress):
        checked = CheckedRows(
            checked.sound + len(piece.sound), (*checked.damaged, *piece.damaged), counted(checked.tally, piece)
        )
    return checked


def read_through(
    connection: Connection,
    table: AnyTable,
    *,
    lacking: Collection[str] = (),
    expected: int = 0,
    progress: Progress = NO_PROGRESS,
) -> Iterator[Piece]:
    """Yield every row of ``table``, some at a time and in no order; the arguments are those of ``check_rows``.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    through = 0
    for rows in _some_at_a_time(connection, _select(table, lacking)):
        progress.step(min(through, expected), expected)
        sound: list[Cells] = []
        damaged: list[DamagedRow] = []
        for cells in _completed(table, rows, lacking):
            if _is_sound(table, cells):
                sound.append(cells)
            else:
                damaged.append(_damaged(table, cells))
        through += len(rows)
        yield Piece(tuple(sound), tuple(damaged))


def counted(tally: Tally | None, piece: Piece) -> Tally | None:
    """Return ``tally`` after the rows of ``piece``, None once a hash is none."""
    hashes = (*(cells[-1] for cells in piece.sound), *(one.found["row_hash"] for one in piece.damaged))
    try:
        return None if tally is None else tally.plus(map(str, hashes))
    except ValueError:
        return None


def _select(table: AnyTable, lacking: Collection[str]) -> Select[tuple[object, ...]]:
    return select(*(column for name, column in table.table.c.items() if name not in lacking))


def _some_at_a_time(connection: Connection, query: Select[tuple[object, ...]]) -> Iterator[Sequence[Cells]]:
    """Yield what ``query`` finds in pieces, also where a damaged text is no UTF-8."""
    in_pieces = {"yield_per": _ROWS_AT_ONCE}
    through = 0
    try:
        for rows in connection.execute(query, execution_options=in_pieces).partitions():
            yield rows
            through += len(rows)
    except OperationalError as error:
        if not _is_no_text(error):
            raise
    else:
        return
    # The same question in the same transaction gives the same rows in the same order.
    with _lenient_texts(connection):
        found = connection.execute(query, execution_options=in_pieces)
        left = islice(found, through, None)
        while some := list(islice(left, _ROWS_AT_ONCE)):
            yield some


def read_leniently(
    connection: Connection, query: Select[tuple[object, ...]], values: Mapping[str, object] | None = None
) -> Sequence[Row[tuple[object, ...]]]:
    """Return what ``query`` finds, also where a damaged text is no UTF-8: its row must not hide the sound ones."""
    try:
        return connection.execute(query, values).all()
    except OperationalError as error:
        if not _is_no_text(error):
            raise
    with _lenient_texts(connection):
        return connection.execute(query, values).all()


def _is_no_text(error: OperationalError) -> bool:
    return "decode" in str(error.orig)


@contextmanager
def _lenient_texts(connection: Connection) -> Iterator[None]:
    driver = connection.connection.driver_connection
    if driver is None:
        raise RuntimeError("a connection in use has a driver")
    usual, driver.text_factory = driver.text_factory, _lenient
    try:
        yield
    finally:
        driver.text_factory = usual


def _verify(table: AnyTable, found: Sequence[Cells], lacking: Collection[str] = ()) -> Verified:
    sound: list[Mapping[str, object]] = []
    damaged: list[DamagedRow] = []
    for cells in _completed(table, found, lacking):
        if _is_sound(table, cells):
            sound.append(values_of(table, cells))
        else:
            damaged.append(_damaged(table, cells))
    sound.sort(key=itemgetter(*table.key))
    return Verified(tuple(sound), tuple(damaged))


def _completed(table: AnyTable, rows: Sequence[Cells], lacking: Collection[str]) -> Iterable[Cells]:
    """Return the rows with the columns that are lacking, which are empty."""
    if not lacking:
        return rows
    places = sorted(table.table.c.keys().index(name) for name in lacking)
    return (_with_empty(row, places) for row in rows)


def _with_empty(row: Cells, places: Iterable[int]) -> Cells:
    cells = list(row)
    for place in places:
        cells.insert(place, None)
    return cells


def _is_sound(table: AnyTable, cells: Cells) -> bool:
    try:
        return hash_of_stored(table, cells[:-1]) == cells[-1]
    except (TypeError, ValueError):
        return False


def values_of(table: AnyTable, cells: Cells) -> dict[str, object]:
    """Return the cells of a row by column."""
    values: dict[str, object] = dict(zip(table.table.c.keys(), cells, strict=True))
    for name in table.optional:
        if values[name] is None:
            values[name] = ""
    return values


def _damaged(table: AnyTable, cells: Cells) -> DamagedRow:
    values = values_of(table, cells)
    key = tuple(str(values[name]) for name in table.key)
    return DamagedRow(table.name, key, {name: str(value) for name, value in values.items()}, values)


def as_row(table: CatalogTable[R], values: Mapping[str, object]) -> R:
    """Return verified ``values`` as the plain value that leaves the store."""
    make: Callable[..., R] = table.row_type
    return make(*map(values.__getitem__, table.columns))


def _matches(table: AnyTable, values: Mapping[str, object]) -> bool:
    try:
        return row_hash(table, values) == values["row_hash"]
    except (TypeError, ValueError):
        return False


def true_owners(row: DamagedRow, entry_ids: Iterable[str]) -> Iterator[str]:
    """Yield those of ``entry_ids`` to which a damaged row's hash says it belongs: its owner is what was altered.

    Nothing is yielded where another column was hit, or several: the owner it names is then the right one, or none.
    """
    table = TABLES_BY_NAME[row.table]
    for entry_id in entry_ids:
        if _matches(table, {**row.found, "entry_id": entry_id}):
            yield entry_id


def _lenient(raw: bytes) -> str:
    return raw.decode("utf-8", "replace")
