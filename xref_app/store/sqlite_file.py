"""One SQLite file as an Engine: the one binding that opens it, and the switches that make 'saved' mean saved."""

from __future__ import annotations

import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final, Protocol

import pysqlite3.dbapi2 as binding
from sqlalchemy import Engine, create_engine, event
from sqlalchemy.pool import QueuePool

from xref_app.store.connect import begin_explicitly, outside_transactions

# “XREF” in the file's header: tells our files from any other program's databases.
APPLICATION_ID: Final = 0x58524546

SQLITE_VERSION: Final = str(binding.sqlite_version)

# Releases up to 3.51.2 can corrupt a WAL file when two connections reset it at once (sqlite.org, release 3.51.3).
SAFE_WAL_SINCE: Final = (3, 51, 3)

# House rule: how long a save waits for another counter's save.
BUSY_SECONDS: Final = 5.0


class _Cursor(Protocol):
    def fetchone(self) -> tuple[object, ...] | None: ...


class _Driver(Protocol):
    """What we use of the driver's own connection."""

    def execute(self, words: str, /) -> _Cursor: ...


def journal_switches(version: tuple[int, ...]) -> tuple[str, ...]:
    """Return the PRAGMAs under which a commit survives a power cut on SQLite ``version``."""
    if version >= SAFE_WAL_SINCE:
        return ("PRAGMA journal_mode=WAL", "PRAGMA synchronous=FULL")
    return ("PRAGMA journal_mode=DELETE", "PRAGMA synchronous=EXTRA")


def writable_engine(path: Path, *, foreign_keys: bool = True) -> Engine:
    """Return an Engine for the existing file ``path``; ``foreign_keys`` off is for migrations only."""
    switches = (
        *journal_switches(binding.sqlite_version_info),
        f"PRAGMA foreign_keys={'ON' if foreign_keys else 'OFF'}",
        "PRAGMA cache_spill=OFF",  # nothing of an unfinished change reaches the disk
        "PRAGMA trusted_schema=OFF",
    )
    return _engine(path, "mode=rw", switches)


def checking_engine(path: Path) -> Engine:
    """Return an Engine that changes none of the file's switches; it may write, so that it can clear its WAL away."""
    return _engine(path, "mode=rw", ("PRAGMA trusted_schema=OFF",))


def immutable_engine(path: Path) -> Engine:
    """Return an Engine that only reads ``path`` and creates nothing beside it; nobody else may be writing it."""
    return _engine(path, "mode=ro&immutable=1", ("PRAGMA trusted_schema=OFF",))


def reading_engine(path: Path) -> Engine:
    """Return an Engine that only reads ``path`` and sees what others write meanwhile."""
    return _engine(path, "mode=ro", ("PRAGMA trusted_schema=OFF",))


def _engine(path: Path, query: str, switches: tuple[str, ...]) -> Engine:
    uri = f"{path.absolute().as_uri()}?{query}"

    def connect() -> _Driver:
        driver: _Driver = binding.connect(
            uri, uri=True, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False
        )
        return driver

    engine = create_engine(
        "sqlite://",
        module=binding,
        creator=connect,
        poolclass=QueuePool,
        execution_options={"xref_place": str(path)},
    )
    event.listen(engine, "connect", _switcher(switches))
    begin_explicitly(engine)
    return engine


def _switcher(switches: tuple[str, ...]) -> Callable[[_Driver, object], None]:
    def switch(driver: _Driver, _record: object) -> None:
        for words in switches:
            driver.execute(words).fetchone()

    return switch


def pragma(engine: Engine, name: str) -> object:
    """Return what SQLite answers to ``PRAGMA name``."""
    with outside_transactions(engine) as connection:
        return connection.exec_driver_sql(f"PRAGMA {name}").scalar()


def make_private(path: Path) -> None:
    """Create the empty file ``path`` that only its owner may read (0600), in a folder of the same kind (0700).

    Raises:
        FileExistsError: it is there already.
        OSError: the system refuses.
    """
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))


def discard(path: Path) -> None:
    """Remove a store nobody needs, with what SQLite keeps beside it; what cannot be removed now stays."""
    for name in (path, path.with_name(path.name + "-wal"), path.with_name(path.name + "-shm")):
        with suppress(OSError):
            name.unlink(missing_ok=True)
