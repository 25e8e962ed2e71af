"""Transactions: how each begins, and the database's own complaints turned into our sentences.

An Engine may be shared by threads; a Connection may not. Every function of the store opens its own short
transaction from the Engine it is given, so calling them from several threads at once is safe.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine, event
from sqlalchemy.exc import DBAPIError, IntegrityError

from xref_app.store.errors import (
    ChangeRefusedError,
    DamagedStoreError,
    ReadOnlyStoreError,
    StoreBusyError,
    StoreError,
    StoreFullError,
    StoreUnreachableError,
)

_BEGIN: Final = "xref_begin"
# Any number of our own: PostgreSQL's writers queue on it, as SQLite's do on BEGIN IMMEDIATE.
_WRITERS_LOCK: Final = 58_524_546

_PLAIN_FAULTS: Final[Mapping[str, Callable[[str], StoreError]]] = {
    "SQLITE_BUSY": StoreBusyError,
    "SQLITE_LOCKED": StoreBusyError,
    "SQLITE_READONLY": ReadOnlyStoreError,
    "SQLITE_FULL": StoreFullError,
}


def begin_explicitly(engine: Engine) -> None:
    """Make every transaction of ``engine`` begin with our own BEGIN: the driver never opens one by itself.

    With the driver's own transactions, a failed step of a migration leaves half of it behind.
    """
    if engine.dialect.name == "sqlite":
        event.listen(engine, "begin", _begin_sqlite)
    else:
        event.listen(engine, "begin", _begin_server)


def _begin_sqlite(connection: Connection) -> None:
    words = connection.get_execution_options().get(_BEGIN, "BEGIN")
    if words:
        connection.exec_driver_sql(words)


def _begin_server(connection: Connection) -> None:
    if connection.get_execution_options().get(_BEGIN):
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_WRITERS_LOCK})")


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """Yield a connection inside one transaction: everything read through it is of one moment."""
    with _our_words(engine), engine.connect() as connection, connection.begin():
        yield connection


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """Yield a connection inside a transaction that no other writer shares; it is kept on leaving, undone on errors."""
    options = {_BEGIN: "BEGIN IMMEDIATE"}
    with _our_words(engine), engine.connect().execution_options(**options) as connection, connection.begin():
        yield connection


@contextmanager
def outside_transactions(engine: Engine) -> Iterator[Connection]:
    """Yield a connection on which no BEGIN was sent (SQLite: PRAGMA and VACUUM want that)."""
    with _our_words(engine), engine.connect().execution_options(**{_BEGIN: ""}) as connection:
        yield connection


def place_of(engine: Engine) -> str:
    """Return where the store of ``engine`` is, for a sentence; a password is never in it."""
    return str(engine.get_execution_options().get("xref_place", engine.url.render_as_string(hide_password=True)))


def file_of(engine: Engine) -> Path | None:
    """Return the file of a store that may be written beside; None on a server, or where it is only looked at."""
    if engine.dialect.name != "sqlite" or engine.get_execution_options().get("xref_look_only"):
        return None
    return Path(place_of(engine))


@contextmanager
def _our_words(engine: Engine) -> Iterator[None]:
    try:
        yield
    except DBAPIError as error:
        raise worded(place_of(engine), error) from error
    except UnicodeDecodeError as error:  # the driver cannot even read SQLite's own words about the damage
        raise DamagedStoreError(place_of(engine), "its texts are not readable") from error


def worded(where: str, error: DBAPIError) -> StoreError:
    """Return the fault that ``error`` of the database means for a person."""
    code = str(getattr(error.orig, "sqlite_errorname", None) or "")
    text = str(error.orig).strip().partition("\n")[0] or type(error.orig).__name__
    for start, fault in _PLAIN_FAULTS.items():
        if code.startswith(start):
            return fault(where)
    if isinstance(error, IntegrityError) or "only ever added to" in text:  # writers queue, so this is never a race
        return ChangeRefusedError(where, text)
    # SQLITE_ERROR: a column or table that should be there is not, so the schema itself was hit.
    if code.startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB", "SQLITE_FORMAT")) or code == "SQLITE_ERROR":
        return DamagedStoreError(where, text)
    return DamagedStoreError(where, text) if "decode" in text.lower() else StoreUnreachableError(where, text)
