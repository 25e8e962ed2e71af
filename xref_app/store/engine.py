"""Opening a store: a file of this machine, a file on a stick that is only looked at, or a database server by URL."""

from __future__ import annotations

import os
import shutil
import tempfile
import weakref
from contextlib import suppress
from pathlib import Path
from typing import Final

from sqlalchemy import Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError

from xref_app.files.syncing import sync_file
from xref_app.store.connect import begin_explicitly, writing
from xref_app.store.copies import name_finished, unfinished_name, vacuum_into
from xref_app.store.errors import (
    CopyFailedError,
    DriverMissingError,
    ReadOnlyStoreError,
    StoreMissingError,
    StoreUnreachableError,
)
from xref_app.store.migrate import run_steps, upgrade_file
from xref_app.store.sqlite_file import (
    APPLICATION_ID,
    checking_engine,
    discard,
    immutable_engine,
    make_private,
    pragma,
    reading_engine,
    writable_engine,
)
from xref_app.store.stamp import HEAD, check_is_ours, read_stamp, refuse_newer

# What the services call an open store: they hold it and pass it on, and know nothing of SQLAlchemy.
Store = Engine

_SERVER_DRIVER: Final = "postgresql+psycopg"


def open_engine(where: Path | str, *, look_only: bool = False, create: bool = True) -> Engine:
    """Open the store at ``where`` (a path, or a URL of a PostgreSQL database) and bring it to this format.

    One Engine serves all threads. Call ``dispose()`` on it when done.

    Args:
        where: the file; or ``postgresql://user@host/database``.
        look_only: read a private copy of the file and write nothing near it (read-only sticks).
        create: make a new, empty store where there is no file yet.

    Raises:
        StoreError: one of its kinds; nothing was changed.
    """
    if isinstance(where, str) and "://" in where:
        return _open_server(where)
    path = Path(where).absolute()
    if look_only:
        return _open_copy(path)
    if not path.exists():
        if not create:
            raise StoreMissingError(path)
        create_store(path)
    return _open_file(path)


def create_store(path: Path) -> None:
    """Make a new, empty store at ``path``: whole under its name, or not there at all.

    Raises:
        ReadOnlyStoreError: the folder cannot be written.
        StoreUnreachableError: the system refuses for another reason.
    """
    part = unfinished_name(path)
    try:
        make_private(part)
        engine = writable_engine(part)
        try:
            with writing(engine) as connection:
                connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
            run_steps(engine)
        finally:
            engine.dispose()
        sync_file(part)
        with suppress(CopyFailedError):  # somebody else made it meanwhile: theirs is as good
            name_finished(part, path)
    except PermissionError as error:
        raise ReadOnlyStoreError(str(path)) from error
    except OSError as error:
        raise StoreUnreachableError(str(path), error.strerror or "no reason given") from error
    finally:
        discard(part)


def _open_file(path: Path) -> Engine:
    _refuse_unwritable(path)
    looker = checking_engine(path)
    try:
        check_is_ours(path, looker)
        found = read_stamp(looker)
        refuse_newer(looker, found)
    finally:
        looker.dispose()
    if found != HEAD:
        upgrade_file(path)
    with suppress(OSError):  # a file system without modes, or a file that somebody shares with us
        path.chmod(0o600)
    return writable_engine(path)


def _refuse_unwritable(path: Path) -> None:
    if path.is_file() and not (os.access(path, os.W_OK) and os.access(path.parent, os.W_OK)):
        raise ReadOnlyStoreError(str(path))


def _open_copy(path: Path) -> Engine:
    """Open a private copy, upgraded if it is old; it vanishes when the Engine is disposed of or forgotten."""
    if not path.exists():
        raise StoreMissingError(path)
    folder = Path(tempfile.mkdtemp(prefix="xref-look-"))
    try:
        copy = folder / "look.sqlite"
        _copy_untouched(path, copy)
        upgrade_file(copy)
        engine = immutable_engine(_without_wal(copy)).execution_options(xref_place=str(path), xref_look_only=True)
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    forget = weakref.finalize(engine, shutil.rmtree, folder, ignore_errors=True)
    event.listen(engine, "engine_disposed", lambda _engine: forget())
    return engine


def _copy_untouched(path: Path, copy: Path) -> None:
    """Copy through SQLite, which knows its locks; a WAL beside the file is read where the system allows it."""
    wal = path.with_name(path.name + "-wal")
    left_over = wal.exists() and wal.stat().st_size > 0
    looker = reading_engine(path) if left_over else immutable_engine(path)
    try:
        check_is_ours(path, looker)
        refuse_newer(looker, read_stamp(looker))
        vacuum_into(looker, copy)
    finally:
        looker.dispose()


def _without_wal(copy: Path) -> Path:
    engine = writable_engine(copy)
    try:
        pragma(engine, "journal_mode=DELETE")
    finally:
        engine.dispose()
    return copy


def _open_server(url: str) -> Engine:
    try:
        address = make_url(url)
    except ArgumentError as error:
        raise StoreUnreachableError("the address in the settings", "it is no address of a database") from error
    place = address.render_as_string(hide_password=True)
    if address.get_backend_name() != "postgresql":
        raise StoreUnreachableError(place, "only postgresql:// addresses are known")
    try:
        engine = create_engine(address.set(drivername=_SERVER_DRIVER), execution_options={"xref_place": place})
    except ModuleNotFoundError as error:
        raise DriverMissingError(place, "psycopg") from error
    begin_explicitly(engine)
    found = read_stamp(engine)
    refuse_newer(engine, found)
    if found != HEAD:
        run_steps(engine)
    return engine
