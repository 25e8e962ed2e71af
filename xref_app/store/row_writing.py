"""Rows into the tables: some thousand at a time, in words that are put together once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache
from itertools import islice
from operator import itemgetter
from typing import Any, Final

from sqlalchemy import Connection, bindparam, insert, update
from sqlalchemy.dialects import sqlite

from xref_app.store.row_hash import Values, for_database
from xref_app.store.tables import CATALOG_TABLES, TABLES_BY_NAME, AnyTable

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
    for rows in _some_at_a_time(added):
        _insert(connection, table, rows)
    for rows in _some_at_a_time(changed):
        keyed = [{**for_database(table, one), **{f"key_{name}": one[name] for name in table.key}} for one in rows]
        connection.execute(_UPDATES[table.name], keyed)


def _insert(connection: Connection, table: AnyTable, rows: list[Values]) -> None:
    if connection.dialect.name != "sqlite":
        connection.execute(_INSERTS[table.name], [dict(for_database(table, one)) for one in rows])
        return
    # SQLAlchemy takes longer over the names of a row's values than SQLite over writing the row.
    words, in_order = _insert_words(table.name)
    connection.exec_driver_sql(words, [in_order(for_database(table, one)) for one in rows])


@cache
def _insert_words(table: str) -> tuple[str, Callable[[Any], tuple[Any, ...]]]:  # Any: cells of many types
    """Return SQLite's words that insert a row, and what puts the row's values into the order of these words."""
    names = TABLES_BY_NAME[table].table.c.keys()
    return str(_INSERTS[table].compile(dialect=sqlite.dialect())), itemgetter(*names)


def _some_at_a_time(rows: Iterable[Values]) -> Iterator[list[Values]]:
    left = iter(rows)
    while some := list(islice(left, _AT_ONCE)):
        yield some
