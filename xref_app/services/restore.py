"""A copy put back: what would vanish is told first, the present state is copied aside, and the restore can be undone.

Where the store can still be built upon, what differs is written as one act of its history. Only a store that cannot
(no file, no readable file, a broken history) is replaced as a file, after it was set aside byte by byte.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from xref_app.core.errors import XrefError
from xref_app.core.progress import NO_PROGRESS, Progress, stretches
from xref_app.services.daily_copies import copy_before
from xref_app.services.kept_copies import Kind, copies_folder, kept_copies
from xref_app.store.copy_glance import Glance, glance_at
from xref_app.store.engine import Store, open_engine
from xref_app.store.errors import DamagedStoreError, NewerStoreError, NotAStoreError, StoreError, StoreMissingError
from xref_app.store.health import can_be_built_upon
from xref_app.store.replacing import replace_store, set_aside
from xref_app.store.restore_plan import TablePlan, Way
from xref_app.store.restoring import look_at_copy, put_back
from xref_app.store.row_changes import RowChange
from xref_app.store.sqlite_file import discard

__all__ = [
    "CannotRestoreError",
    "CatalogGoneError",
    "Restored",
    "Way",
    "WouldChange",
    "is_beyond_opening",
    "refuse_gone",
    "restore",
    "restore_as_act",
    "what_would_change",
]

# A store with one of these cannot be built upon; everything else (busy, full, no right to write) goes away by itself.
_BEYOND_OPENING = (DamagedStoreError, NewerStoreError, NotAStoreError, StoreMissingError)
# Of these a copy is offered unasked; a store of a later version wants the later program, not an older state.
_LOST = (DamagedStoreError, NotAStoreError, StoreMissingError)


class CannotRestoreError(XrefError):
    """A copy that cannot be put back in this way; nothing was changed."""


class CatalogGoneError(XrefError):
    """There is no store where there was one; nothing was made in its place."""


@dataclass(frozen=True, slots=True)
class WouldChange:
    """What putting a copy back does to the rows that stand, by table; tables without any are left out.

    ``vanish`` are withdrawn, ``altered`` get former values, ``back`` come back or come anew, ``mended`` were damaged.
    ``left_damaged`` stay damaged: the copy has nothing sound for them.
    """

    vanish: Mapping[str, int]
    altered: Mapping[str, int]
    back: Mapping[str, int]
    mended: Mapping[str, int]
    left_damaged: int

    @property
    def is_nothing(self) -> bool:
        """Say whether the store would be as it is."""
        return not (self.vanish or self.altered or self.back or self.mended)


@dataclass(frozen=True, slots=True)
class Restored:
    """What was done and where the state of before lies; ``change`` is None where the file was replaced as a whole."""

    change: WouldChange | None
    before: Path | None
    of: Glance

    @property
    def as_file(self) -> bool:
        """Say whether the file was replaced: the history is that of the copy now, and undo does not reach back."""
        return self.change is None


def what_would_change(store: Store, copy: Path, way: Way, progress: Progress = NO_PROGRESS) -> WouldChange:
    """Return what putting ``copy`` back in this ``way`` would do; nothing is changed.

    Raises:
        StoreError: one of the two cannot be read.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    then = open_engine(copy, look_only=True)
    try:
        return _told(look_at_copy(store, then, way, progress))
    finally:
        then.dispose()


def restore(path: Path, copy: Path, way: Way, *, who: str, progress: Progress = NO_PROGRESS) -> Restored:
    """Put ``copy`` back into the store at ``path`` in this ``way``. No other window may have the store open.

    Raises:
        CannotRestoreError: the store is beyond this way.
        StoreError: the copy cannot be read, or no copy of the present state can be made; nothing was changed.
        WorkCancelledError: ``progress`` says nobody waits any more; nothing was changed.
    """
    glance = _glance(copy)
    aside = set_aside(path)
    store = _buildable(path)
    if store is None:
        if way is not Way.ALL:
            raise CannotRestoreError("The catalog is too badly damaged to bring back single rows – put all back.")
        replace_store(path, copy, name=_name(glance), who=who, why=_why(copy, glance))
        return Restored(None, aside, glance)
    if aside is not None:  # the copy that is made of it now is a better one
        discard(aside)
    try:
        return restore_as_act(store, copy, way, who=who, progress=progress)
    finally:
        store.dispose()


def restore_as_act(store: Store, copy: Path, way: Way, *, who: str, progress: Progress = NO_PROGRESS) -> Restored:
    """Put ``copy`` back into an open store that can be built upon, as one act that undo takes back.

    Raises:
        CannotRestoreError: the copy cannot be read.
        StoreError: no copy of the present state can be made, or the store cannot be written; nothing was changed.
        WorkCancelledError: ``progress`` says nobody waits any more; nothing was changed.
    """
    glance = _glance(copy)
    why = _why(copy, glance)
    copying, acting = stretches(progress, 1, 1)
    then = open_engine(copy, look_only=True)
    try:
        before = copy_before(store, Kind.RESTORE, keeping=copy, progress=copying)
        plans = put_back(store, then, way, name=_name(glance), who=who, why=why, progress=acting)
    finally:
        then.dispose()
    return Restored(_told(plans), before.path if before else None, glance)


def _glance(copy: Path) -> Glance:
    found = glance_at(copy)
    if found is None:
        raise CannotRestoreError(f"The copy “{copy.name}” cannot be read – take another one.")
    return found


def _name(glance: Glance) -> str:
    return f"Copy of {glance.at[:10]}, act {glance.serial}"


def _why(copy: Path, glance: Glance) -> str:
    return f"{copy.name}: act {glance.serial}, {glance.at[:10]}"


def is_beyond_opening(path: Path) -> bool:
    """Say whether only a copy in its place can bring the store at ``path`` back.

    Not where it is only busy or full, nor where a later version of the program can open it.
    """
    try:
        open_engine(path, create=False).dispose()
    except _LOST:
        return True
    except StoreError:
        return False
    return False


def refuse_gone(path: Path) -> None:
    """Let nobody begin an empty store where one lay: its history would begin anew, below that of its copies.

    Raises:
        CatalogGoneError: there is no file, but there are copies of it.
    """
    copies = () if path.exists() else kept_copies(path)
    if copies:
        raise CatalogGoneError(
            f"The catalog “{path}” is gone, but there are {len(copies)} copies of it – put one back, or move the "
            f"folder “{copies_folder(path).name}” away to begin anew."
        )


def _buildable(path: Path) -> Store | None:
    """Return the store if an act can be added to it; None where it cannot."""
    try:
        store = open_engine(path, create=False)
    except _BEYOND_OPENING:
        return None
    try:
        sound = can_be_built_upon(store)
    except StoreError:
        store.dispose()
        raise
    if sound:
        return store
    store.dispose()
    return None


def _told(plans: tuple[TablePlan, ...]) -> WouldChange:
    counted = [(one.table.name, sum(map(_comes_back, one.changed)), one) for one in plans]
    return WouldChange(
        vanish=_filled((name, len(one.withdrawn)) for name, _back, one in counted),
        altered=_filled((name, len(one.changed) - back) for name, back, one in counted),
        back=_filled((name, back + len(one.lost) - len(one.over_damaged)) for name, back, one in counted),
        mended=_filled((name, len(one.over_damaged)) for name, _back, one in counted),
        left_damaged=sum(one.left_damaged for one in plans),
    )


def _filled(counts: Iterable[tuple[str, int]]) -> Mapping[str, int]:
    return {name: count for name, count in counts if count}


def _comes_back(change: RowChange) -> bool:
    return change.before is not None and bool(change.before["withdrawn_on"]) and not change.after["withdrawn_on"]
