"""A copy that is known to be good: written under another name, forced to disk, reopened, checked, then named."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from uuid import uuid4

from sqlalchemy import Engine

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.files.syncing import sync_file, sync_folder
from xref_app.store.connect import outside_transactions
from xref_app.store.errors import CopyFailedError
from xref_app.store.health import HealthReport, check_store
from xref_app.store.sqlite_file import discard, immutable_engine, make_private


@dataclass(frozen=True, slots=True)
class CopyReport:
    """A finished copy; ``health`` is that of the copy, ``serial`` the last act it holds."""

    path: Path
    rows: int
    serial: int
    health: HealthReport


def make_copy(source: Engine, target: Path, progress: Progress = NO_PROGRESS) -> CopyReport:
    """Copy the SQLite store of ``source`` to the new file ``target``, while others may be writing it.

    The copy has no WAL and can be opened from a read-only stick. It must be as sound as the source: rows that are
    damaged there may be damaged here, but no others.

    Raises:
        CopyFailedError: ``target`` exists, cannot be written, or did not come out equal.
        WorkCancelledError: ``progress`` says nobody waits any more; there is no copy then.
    """
    if source.dialect.name != "sqlite":
        raise CopyFailedError(target, "the catalog lies on a database server, whose keeper copies it")
    if target.exists():
        raise CopyFailedError(target, "a file of that name is there already")
    before = check_store(source, progress)
    with _unfinished(target) as part:
        vacuum_into(source, part)
        after = check_copy(part, progress)
        if not _as_sound(before, after):
            raise CopyFailedError(target, "what was written does not equal the catalog")
        name_finished(part, target)
    return CopyReport(target, sum(after.rows.values()), after.last_serial, after)


@contextmanager
def _unfinished(target: Path) -> Iterator[Path]:
    part = unfinished_name(target)
    try:
        yield part
    except OSError as error:
        raise CopyFailedError(target, f"the system refused ({error.strerror})") from error
    finally:
        discard(part)


def unfinished_name(target: Path) -> Path:
    """Return a name beside ``target`` that nobody else uses."""
    return target.with_name(f"{target.name}.{uuid4().hex[:12]}.part")


def vacuum_into(source: Engine, part: Path) -> None:
    """Write a compact copy of ``source`` into the new file ``part`` and force it onto the disk."""
    make_private(part)
    with outside_transactions(source) as connection:
        connection.exec_driver_sql("VACUUM INTO ?", (str(part),))
    sync_file(part)


def name_finished(part: Path, target: Path) -> None:
    """Give the finished file its name, without ever replacing a file that has it.

    Raises:
        CopyFailedError: somebody else took the name meanwhile.
    """
    try:
        os.link(part, target)
    except FileExistsError:
        raise CopyFailedError(target, "a file of that name is there already") from None
    except OSError:  # a file system without links (FAT on a stick)
        if target.exists():
            raise CopyFailedError(target, "a file of that name is there already") from None
        part.rename(target)
    sync_folder(target.parent)


def check_copy(part: Path, progress: Progress = NO_PROGRESS) -> HealthReport:
    """Read every row of a copy that nobody writes and report what is wrong; nothing is made beside it.

    Raises:
        StoreError: it cannot be read at all.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    engine = immutable_engine(part)
    try:
        return check_store(engine, progress)
    finally:
        engine.dispose()


def _as_sound(before: HealthReport, after: HealthReport) -> bool:
    """Say whether the copy is as good as its source, or better where somebody wrote meanwhile."""
    if after.is_whole:
        return after.last_serial >= before.last_serial
    same_rows = {(row.table, row.key) for row in after.damaged} <= {(row.table, row.key) for row in before.damaged}
    same_tables = {one.table for one in after.tally_breaks} <= {one.table for one in before.tally_breaks}
    return same_rows and same_tables and after.chain_break == before.chain_break and not after.complaints
