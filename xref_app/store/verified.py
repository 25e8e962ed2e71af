"""Rows out of the database, each compared with its hash; a row that does not match is set aside, never used."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from sqlalchemy import ColumnElement, Connection, Row, Select, bindparam, select
from sqlalchemy.exc import OperationalError

from xref_app.store.row_hash import row_hash
from xref_app.store.tables import CATALOG_TABLES, TABLES_BY_NAME, AnyTable, CatalogTable, R

# Told every so many rows how many more were read; may raise to stop.
Heard = Callable[[int], None]
_HEARD_EVERY: Final = 1_000

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


def read_verified(
    connection: Connection,
    table: AnyTable,
    *where: ColumnElement[bool],
    lacking: Collection[str] = (),
    heard: Heard | None = None,
) -> Verified:
    """Return the rows of ``table`` that ``where`` selects, in the order of their keys, withdrawn ones too.

    ``lacking`` are the later columns that a store of an older format does not have; they count as empty.
    """
    # Sorted here and not by the database: it would walk the key's index, whose damage would hide rows in silence.
    there = [column for name, column in table.table.c.items() if name not in lacking]
    return _verify(table, read_leniently(connection, select(*there).where(*where)), lacking, heard)


def read_one(connection: Connection, table: AnyTable, key: Mapping[str, object]) -> Verified:
    """Return the row of ``table`` with this ``key`` (by column), if there is one."""
    return _verify(
        table, read_leniently(connection, _ONE[table.name], {f"key_{name}": key[name] for name in table.key})
    )


def read_beginning(connection: Connection, table: AnyTable, first: Sequence[object]) -> Verified:
    """Return the rows of ``table`` whose key, or its first column where there are several, is one of ``first``."""
    return _verify(table, read_leniently(connection, _WITH_FIRST_KEY[table.name], {"first": list(first)}))


def read_leniently(
    connection: Connection, query: Select[tuple[object, ...]], values: Mapping[str, object] | None = None
) -> Sequence[Row[tuple[object, ...]]]:
    """Return what ``query`` finds, also where a damaged text is no UTF-8: its row must not hide the sound ones."""
    try:
        return connection.execute(query, values).all()
    except OperationalError as error:
        if "decode" not in str(error.orig):
            raise
    driver = connection.connection.driver_connection
    if driver is None:
        raise RuntimeError("a connection in use has a driver")
    usual, driver.text_factory = driver.text_factory, _lenient
    try:
        return connection.execute(query, values).all()
    finally:
        driver.text_factory = usual


def _verify(
    table: AnyTable,
    found: Sequence[Row[tuple[object, ...]]],
    lacking: Collection[str] = (),
    heard: Heard | None = None,
) -> Verified:
    names = tuple(name for name in table.table.c.keys() if name not in lacking)  # noqa: SIM118 - columns, not names
    empty = dict.fromkeys(lacking)
    optional = tuple(table.optional)
    sound: list[Mapping[str, object]] = []
    damaged: list[DamagedRow] = []
    for place, row in enumerate(found, 1):
        if heard is not None and place % _HEARD_EVERY == 0:
            heard(_HEARD_EVERY)
        values: dict[str, object] = {**empty, **dict(zip(names, row, strict=True))}
        for name in optional:
            if values[name] is None:
                values[name] = ""
        if _matches(table, values):
            sound.append(values)
        else:
            key = tuple(str(values[name]) for name in table.key)
            damaged.append(DamagedRow(table.name, key, {name: str(value) for name, value in values.items()}, values))
    sound.sort(key=lambda values: [values[name] for name in table.key])
    return Verified(tuple(sound), tuple(damaged))


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
