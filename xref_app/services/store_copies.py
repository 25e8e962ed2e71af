"""What a person does with copies of the catalog: see them, make one, put one back, mend rows from one, ask for help."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.services.copies_told import CopyLine, copy_lines, line_of_file
from xref_app.services.daily_copies import CopyTold, copy_before, daily_copy
from xref_app.services.help_bundle import BundlePart, BundlePlaces, bundle_parts, write_bundle
from xref_app.services.kept_copies import KeptCopy, Kind, copies_folder
from xref_app.services.mending import Mending, mend, offered_mending
from xref_app.services.restore import (
    CannotRestoreError,
    Restored,
    Way,
    WouldChange,
    is_beyond_opening,
    restore_as_act,
    what_would_change,
)
from xref_app.store.connect import file_of
from xref_app.store.copies import CopyReport, make_copy
from xref_app.store.engine import Store
from xref_app.store.health import can_be_built_upon
from xref_app.store.history import last_serial, read_history
from xref_app.store.last_restore import LastRestore, last_restore

__all__ = ["CopiesTold", "CopyReport", "LastRestore", "StoreCopies", "offered_at_start"]

# A clock that is so far behind the last act was set wrong; less is two machines that differ. House rule.
_CLOCK_DIFFERS: Final = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class CopiesTold:
    """The copies there are, and what matters when one is to be put back.

    ``are_kept`` is False where the program keeps none: the sample can be made anew, a server has a keeper.
    ``free_bytes`` is what the disk of the copies has left, None where that cannot be told. ``only_as_file`` says that
    no act can be added to the catalog any more: only a whole copy can take its place. ``clock_is_behind`` says that
    the last act lies ahead of the clock.
    """

    are_kept: bool
    lines: tuple[CopyLine, ...] = ()
    free_bytes: int | None = None
    only_as_file: bool = False
    clock_is_behind: bool = False

    @property
    def newest_good(self) -> CopyLine | None:
        """Return the newest copy that is whole."""
        return next((one for one in self.lines if one.good), None)


class StoreCopies:
    """The copies of one store; every method may be called in any thread.

    Args:
        store: The store.
        is_sample: Whether it holds made-up data, of which no copies are kept.
        changed: Called after rows were put back; the catalog of the moment has them afterwards.
    """

    def __init__(self, store: Store, *, is_sample: bool, changed: Callable[[], object]) -> None:
        self._store, self._changed = store, changed
        self._path = None if is_sample else file_of(store)

    def told(self, progress: Progress) -> CopiesTold:
        """Return the copies, the newest by the history first; each is checked, by its sum or row by row.

        Raises:
            StoreError: the store cannot be read.
            WorkCancelledError: nobody waits any more.
        """
        if self._path is None:
            return CopiesTold(are_kept=False)
        only_as_file = not can_be_built_upon(self._store)
        progress.step(0, 1)
        last = [] if only_as_file else list(read_history(self._store, limit=1))
        return CopiesTold(
            are_kept=True,
            lines=copy_lines(self._path, serial=last[0].serial if last else None, progress=progress),
            free_bytes=_free_bytes(self._path),
            only_as_file=only_as_file,
            clock_is_behind=bool(last) and datetime.now(UTC) + _CLOCK_DIFFERS < datetime.fromisoformat(last[0].at),
        )

    def line_of(self, copy: Path, progress: Progress) -> CopyLine:
        """Return what a copy that lies elsewhere holds; every row of it is read.

        Raises:
            StoreError: the store cannot be read.
            WorkCancelledError: nobody waits any more.
        """
        return line_of_file(copy, serial=last_serial(self._store), progress=progress)

    def daily(self, progress: Progress) -> CopyTold:
        """Make today's copy if there is none yet.

        Raises:
            WorkCancelledError: nobody waits any more.
        """
        return CopyTold() if self._path is None else daily_copy(self._store, progress)

    def copy_now(self, progress: Progress) -> KeptCopy | None:
        """Make a copy beside the others; None where none are kept, or there is nothing to copy.

        Raises:
            StoreError: it could not be made; the store and all other copies are as they were.
            WorkCancelledError: nobody waits any more.
        """
        return None if self._path is None else copy_before(self._store, Kind.ASKED, progress=progress)

    def copy_to(self, file: Path, progress: Progress) -> CopyReport:
        """Make a copy under a name of the person's own, reopened and checked.

        Raises:
            CopyFailedError: the name is taken, or the copy cannot be made.
            WorkCancelledError: nobody waits any more.
        """
        return make_copy(self._store, file, progress)

    def would_change(self, copy: Path, way: Way, progress: Progress) -> WouldChange:
        """Return what putting a copy back in this way would do; nothing is changed.

        Raises:
            StoreError: store or copy cannot be read.
            WorkCancelledError: nobody waits any more.
        """
        return what_would_change(self._store, copy, way, progress)

    def put_back(self, copy: Path, way: Way, who: str, progress: Progress) -> Restored:
        """Put a copy back as one act, after a copy of the present state.

        Raises:
            CannotRestoreError: the store is beyond that, or the copy cannot be read.
            StoreError: nothing was changed.
            WorkCancelledError: nobody waits any more; nothing was changed.
        """
        if not can_be_built_upon(self._store):
            raise CannotRestoreError(
                "The catalog is too badly damaged to add anything – put a whole copy in its place."
            )
        done = restore_as_act(self._store, copy, way, who=who, progress=progress)
        self._changed()
        return done

    def working_from(self) -> LastRestore | None:
        """Return the whole copy that was put back lately; None where the state is the shop's own.

        Raises:
            StoreError: the history cannot be read.
        """
        return None if self._path is None else last_restore(self._store)

    def offered_mending(self) -> Mending | None:
        """Return what the newest good copy has for damaged and lost rows; None where nothing of it is needed.

        Raises:
            StoreError: store or copy cannot be read.
        """
        return None if self._path is None else offered_mending(self._store)

    def mend(self, mending: Mending, who: str) -> Mending:
        """Put those rows back as one act, after a copy of the store as it is; return what was done.

        Raises:
            StoreError: nothing was changed.
        """
        done = mend(self._store, mending, who=who)
        self._changed()
        return done

    def bundle(self, *, with_names: bool) -> tuple[BundlePart, ...]:
        """Return what a help bundle would hold; nothing is written."""
        return bundle_parts(lambda: self._store, BundlePlaces.usual(), with_names=with_names)

    def write_bundle(self, file: Path, parts: tuple[BundlePart, ...]) -> Path:
        """Write a help bundle, whole or not at all.

        Raises:
            NotWrittenError: in one sentence.
        """
        write_bundle(file, parts)
        return file


def offered_at_start(store: Path, progress: Progress = NO_PROGRESS) -> CopyLine | None:
    """Return the newest good copy of a store that is beyond opening; None where it is not, or there is none.

    Raises:
        WorkCancelledError: nobody waits any more.
    """
    if not is_beyond_opening(store):
        return None
    lines = copy_lines(store, serial=None, progress=progress)
    return next((one for one in lines if one.good and one.holds is not None), None)


def _free_bytes(store: Path) -> int | None:
    folder = copies_folder(store)
    with suppress(OSError):
        return shutil.disk_usage(folder if folder.is_dir() else store.parent).free
    return None
