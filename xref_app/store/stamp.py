"""Which format a store has, read with one raw query; Alembic (a tenth of a second to import) is not needed for it."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from sqlalchemy import Engine, inspect
from sqlalchemy.exc import DBAPIError

from xref_app.store.connect import outside_transactions, place_of, reading
from xref_app.store.errors import DamagedStoreError, NewerStoreError, NotAStoreError
from xref_app.store.sqlite_file import APPLICATION_ID, pragma

# The last step in migrations/versions. A test compares it with the folder and with the tables.
HEAD: Final = "0005"

_STAMP_TABLE: Final = "alembic_version"


def check_is_ours(path: Path, engine: Engine) -> None:
    """Do nothing if the file of ``engine`` is a store of this program.

    Raises:
        NotAStoreError: it is empty, of another kind, or another program's database.
        DamagedStoreError: it is SQLite's, but its header or schema cannot be read.
    """
    if path.is_dir():
        raise NotAStoreError(path, "a folder")
    if path.stat().st_size == 0:
        raise NotAStoreError(path, "an empty file")
    try:
        with outside_transactions(engine) as connection:
            connection.exec_driver_sql("SELECT count(*) FROM sqlite_schema").scalar()
    except DamagedStoreError as error:
        if _is_no_database(error.__cause__):
            raise NotAStoreError(path, "no SQLite file (or its first bytes are damaged)") from error
        raise
    if pragma(engine, "application_id") != APPLICATION_ID:
        raise NotAStoreError(path, "another program's database")


def read_stamp(engine: Engine) -> str:
    """Return the format of the store, a four-digit text such as ``0001``; empty for a new database on a server.

    Raises:
        DamagedStoreError: there is no stamp where one must be, or several.
    """
    if engine.dialect.name != "sqlite":
        with reading(engine) as connection:
            if not inspect(connection).has_table(_STAMP_TABLE):
                return ""
    with outside_transactions(engine) as connection:
        stamps = list(connection.exec_driver_sql(f"SELECT version_num FROM {_STAMP_TABLE}").scalars())  # noqa: S608 - a constant
    if len(stamps) != 1 or not str(stamps[0]).isdecimal():
        raise DamagedStoreError(place_of(engine), "its format stamp cannot be read")
    return str(stamps[0])


def refuse_newer(engine: Engine, found: str, *, known: str = HEAD) -> None:
    """Raise NewerStoreError if format ``found`` came after ``known``."""
    if found and int(found) > int(known):
        raise NewerStoreError(place_of(engine), found=found, known=known)


def _is_no_database(cause: BaseException | None) -> bool:
    return isinstance(cause, DBAPIError) and getattr(cause.orig, "sqlite_errorname", "") == "SQLITE_NOTADB"
