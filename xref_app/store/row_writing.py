"""Rows into the tables: some thousand at a time, in words that are put together once."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from functools import cache
from itertools import islice
from operator import itemgetter
from typing import Final, TypeVar

from sqlalchemy import Connection, bindparam, insert, update
from sqlalchemy.dialects import sqlite

from xref_app.store.row_hash import Cells, Values, for_database
from xref_app.store.tables import CATALOG_TABLES, AnyTable

Row = TypeVar("Row")

# House rule: so many rows are handed to the database at once.
_AT_ONCE: Final = 10_000

# Written down once: building a statement takes longer than running it.
_INSERTS: Final = {one.name: insert(one.table) for one in CATALOG_TABLES}
_UPDATES: Final = {
    one.name: update(one.table).where(*(one.table.c[name] == bindparam(f"key_{name}") for name in one.key))
    for one in CATALOG_TABLES
}


def write_rows(
    connection: Connection, table: AnyTable, *, added: Iterable[Values] = (), changed: Iterable[Values] = ()
) -> None:
    """Insert the canonical rows ``added`` and overwrite those with the keys of ``changed``."""
    in_order = itemgetter(*table.table.c.keys())
    insert_rows(connection, table, map(in_order, added))
    for rows in _some_at_a_time(changed):
        keyed = [{**for_database(table, one), **{f"key_{name}": one[name] for name in table.key}} for one in rows]
        connection.execute(_UPDATES[table.name], keyed)


def insert_rows(connection: Connection, table: AnyTable, rows: Iterable[Cells]) -> None:
    """Insert rows of canonical cells, each with its hash as the last one."""
    optional = [place for place, name in enumerate(table.table.c.keys()) if name in table.optional]
    for some in _some_at_a_time(rows if not optional else (_with_nulls(one, optional) for one in rows)):
        if connection.dialect.name == "sqlite":
            # SQLAlchemy takes longer over the names of a row's values than SQLite over writing the row.
            connection.exec_driver_sql(_insert_words(table.name), some)
        else:
            names = table.table.c.keys()
            connection.execute(_INSERTS[table.name], [dict(zip(names, one, strict=True)) for one in some])


def _with_nulls(cells: Cells, optional: Collection[int]) -> Cells:
    """Return the cells as the database holds them: an empty optional reference is NULL."""
    return tuple(None if place in optional and one == "" else one for place, one in enumerate(cells))


@cache
def _insert_words(table: str) -> str:
    """Return SQLite's words that insert a row of values in the order of the columns."""
    return str(_INSERTS[table].compile(dialect=sqlite.dialect()))


def _some_at_a_time(rows: Iterable[Row]) -> Iterator[list[Row]]:
    left = iter(rows)
    while some := list(islice(left, _AT_ONCE)):
        yield some
