"""A store that cannot be opened or built upon any more: set aside byte by byte, and a copy put in its place.

Nothing of what lay there is lost, also what no program can read today: the file and what SQLite kept beside it are
copied and compared before anything is replaced.
"""

from __future__ import annotations

import shutil
from contextlib import suppress
from hashlib import file_digest
from pathlib import Path
from typing import Final
from uuid import uuid4

from xref_app.files.syncing import sync_file, sync_folder
from xref_app.store.connect import writing
from xref_app.store.copies import check_copy, unfinished_name, vacuum_into
from xref_app.store.engine import open_engine
from xref_app.store.errors import CopyFailedError
from xref_app.store.health import HealthReport
from xref_app.store.history import Change, append, read_head_or_refuse
from xref_app.store.sqlite_file import discard, make_private, pragma, writable_engine

# What SQLite keeps beside a file: changes that are not in it yet, and the index of those.
_BESIDE: Final = ("-wal", "-shm")


def set_aside(store: Path) -> Path | None:
    """Copy the store and what lies beside it, as they are, into the folder ``copies``; return the file's new place.

    None where nothing lies there. To be done before anybody opens the store: SQLite would bring its WAL into the file.

    Raises:
        CopyFailedError: it could not be done; everything is as it was.
    """
    if not any(store.with_name(store.name + ending).exists() for ending in ("", *_BESIDE)):
        return None
    folder = store.parent / "copies"
    number = 1
    while any(folder.glob(f"{store.stem}.aside.{number}{store.suffix}*")):
        number += 1
    target = folder / f"{store.stem}.aside.{number}{store.suffix}"
    written: list[Path] = []
    try:
        # The file itself last: while it has no name, nothing was set aside.
        for ending in (*_BESIDE, ""):
            source = store.with_name(store.name + ending)
            if source.exists():
                _copy_bytes(source, target.with_name(target.name + ending), written)
    except (OSError, CopyFailedError) as error:
        for one in written:  # and nothing that somebody else wrote under such a name
            one.unlink(missing_ok=True)
        if isinstance(error, CopyFailedError):
            raise
        raise CopyFailedError(target, f"the system refused ({error.strerror})") from error
    return target


def _copy_bytes(source: Path, target: Path, written: list[Path]) -> None:
    make_private(target)
    written.append(target)
    shutil.copyfile(source, target)
    sync_file(target)
    if _digest(source) != _digest(target):
        raise CopyFailedError(target, "what was written does not equal the catalog")


def replace_store(store: Path, copy: Path, *, name: str, who: str, why: str) -> HealthReport:
    """Put the store in ``copy`` in the place of ``store``, which was ``set_aside`` before; return the new one's health.

    The copy itself stays as it is; one of an older format is upgraded in a copy of its own. Nobody may have ``store``
    open. ``name`` is what the act is called.

    Raises:
        StoreError: one of its kinds; the store is as it was.
    """
    part = unfinished_name(store)
    try:
        _write_new(copy, part, Change(who=who, action="restore", why=why, key=(f"restore-file:{uuid4().hex}", name)))
        health = check_copy(part)
        # A WAL of the old file would be read into the new one.
        for ending in _BESIDE:
            store.with_name(store.name + ending).unlink(missing_ok=True)
        part.replace(store)
        sync_folder(store.parent)
    except OSError as error:
        raise CopyFailedError(store, f"the system refused ({error.strerror})") from error
    finally:
        with suppress(OSError):
            discard(part)
    return health


def _write_new(copy: Path, part: Path, act: Change) -> None:
    looker = open_engine(copy, look_only=True)
    try:
        vacuum_into(looker, part)
    finally:
        looker.dispose()
    engine = writable_engine(part)
    try:
        with writing(engine) as connection:
            head = read_head_or_refuse(connection)
            append(connection, head, act, head.tallies)
        pragma(engine, "journal_mode=DELETE")
    finally:
        engine.dispose()
    sync_file(part)


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()
