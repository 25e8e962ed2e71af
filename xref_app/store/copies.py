"""A copy that is known to be good: written under another name, forced to disk, reopened, checked, then named."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final
from uuid import uuid4

from sqlalchemy import Engine

from xref_app.core.progress import NO_PROGRESS, Progress, stretches
from xref_app.files.syncing import sync_file, sync_folder
from xref_app.store.connect import outside_transactions
from xref_app.store.errors import CopyFailedError
from xref_app.store.health import HealthReport, check_store, last_act_of
from xref_app.store.sqlite_file import discard, immutable_engine, make_private
from xref_app.store.stopping import stoppable

# How long writing a copy, checking it and, where it is not whole, checking its source take; for the progress only.
_SHARES: Final = (1, 4, 1)


@dataclass(frozen=True, slots=True)
class CopyReport:
    """A finished copy; ``health`` is that of the copy, ``serial`` the last act it holds."""

    path: Path
    rows: int
    serial: int
    health: HealthReport


def make_copy(source: Engine, target: Path, progress: Progress = NO_PROGRESS) -> CopyReport:
    """Copy the SQLite store of ``source`` to the new file ``target``, while others may be writing it.

    The copy has no WAL and can be opened from a read-only stick. Every row of it is read and checked. It must be whole
    and hold all that was done to the source; where it is not whole, the source is read as well: rows that are damaged
    there may be damaged here, but no others.

    Raises:
        CopyFailedError: ``target`` exists, cannot be written, or did not come out equal.
        WorkCancelledError: ``progress`` says nobody waits any more; there is no copy.
    """
    if source.dialect.name != "sqlite":
        raise CopyFailedError(target, "the catalog lies on a database server, whose keeper copies it")
    if target.exists():
        raise CopyFailedError(target, "a file of that name is there already")
    writing, checking, comparing = stretches(progress, *_SHARES)
    last_act = last_act_of(source)
    with _unfinished(target) as part:
        vacuum_into(source, part, writing)
        after = check_copy(part, checking)
        holds_all = after.last_serial >= last_act
        if not (holds_all if after.is_whole else _as_sound(check_store(source, comparing), after)):
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


def vacuum_into(source: Engine, part: Path, progress: Progress = NO_PROGRESS) -> None:
    """Write a compact copy of ``source`` into the new file ``part`` and force it onto the disk.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    make_private(part)
    with outside_transactions(source) as connection, stoppable(connection, progress):
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


def _as_sound(source: HealthReport, copy: HealthReport) -> bool:
    """Say whether all that is damaged in the copy is damaged in its source."""
    same_rows = {(row.table, row.key) for row in copy.damaged} <= {(row.table, row.key) for row in source.damaged}
    same_tables = {one.table for one in copy.tally_breaks} <= {one.table for one in source.tally_breaks}
    return same_rows and same_tables and copy.chain_break == source.chain_break and not copy.complaints
