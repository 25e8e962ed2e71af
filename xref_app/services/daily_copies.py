"""When a copy is made and which are kept: one a day, one before every act of many rows, and those asked for.

House rules: 14 daily and 8 weekly copies, and the last 14 of each other kind. A copy is dropped only for good ones: a
damaged copy counts for nothing, so it never pushes a good one out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final

from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.services.kept_copies import KeptCopy, Kind, drop, is_good, kept_copies, make_kept_copy
from xref_app.services.weekly_trial import is_trial_due, tried_copy
from xref_app.store.connect import file_of
from xref_app.store.engine import Store
from xref_app.store.errors import StoreError
from xref_app.store.history import last_serial
from xref_app.store.row_changes import today

# House rules.
DAILY_COPIES: Final = 14
WEEKLY_COPIES: Final = 8
OTHER_COPIES: Final = 14
# A clock that stands still never makes it tomorrow: so many acts are a day as well (house rule).
ACTS_OF_A_DAY: Final = 500


@dataclass(frozen=True, slots=True)
class CopyTold:
    """A copy that was made, or in one sentence why none was or what is wrong with another; neither where none was due.

    ``newest_day`` is the day of the newest daily copy there is, empty where there is none.
    """

    copy: KeptCopy | None = None
    warning: str = ""
    newest_day: str = ""


def daily_copy(store: Store, progress: Progress = NO_PROGRESS) -> CopyTold:
    """Make today's copy if there is none yet, and drop what need not be kept. Nothing is ever lost by a failure.

    The first of a week also tries one of those there were before; what is wrong with it is the warning.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more; today's copy is still due.
    """
    path = file_of(store)
    if path is None:
        return CopyTold()
    try:
        serial = last_serial(store)
        kept = kept_copies(path)
        if not _is_due(kept, serial):
            return CopyTold(newest_day=_newest_day(kept))
        # Tried first: where that is stopped, today's copy, and with it the trial, is still due.
        warning = tried_copy(kept, progress) if is_trial_due(kept, today()) else ""
        copy, _report = make_kept_copy(store, path, Kind.DAILY, serial=serial, day=today(), progress=progress)
    except StoreError as error:
        return CopyTold(warning=str(error), newest_day=_newest_day(kept_copies(path)))
    _rotate(kept_copies(path))
    return CopyTold(copy, warning, copy.day)


def copy_before(
    store: Store, kind: Kind, *, keeping: Path | None = None, progress: Progress = NO_PROGRESS
) -> KeptCopy | None:
    """Make a copy before an act of this kind, or one that somebody asks for, and drop what need not be kept.

    None where a server's keeper does that, or there is nothing to copy.

    ``keeping`` is a copy that is about to be read: however old it is, it is not dropped for the new one.

    Raises:
        CopyFailedError: none could be made; the act must not be done then.
        StoreError: the store cannot be read.
        WorkCancelledError: ``progress`` says nobody waits any more; there is no copy then.
    """
    path = file_of(store)
    if path is None:
        return None
    serial = last_serial(store)
    if serial == 0:
        return None
    copy, _report = make_kept_copy(store, path, kind, serial=serial, day=today(), progress=progress)
    _rotate([one for one in kept_copies(path) if one.path != keeping])
    return copy


def to_drop(copies: Sequence[KeptCopy], good: Callable[[KeptCopy], bool]) -> tuple[KeptCopy, ...]:
    """Return which of ``copies`` (newest first) need not be kept; ``good`` is asked only where it matters."""
    dropped: list[KeptCopy] = []
    for kind in Kind:
        of_kind = [one for one in copies if one.kind is kind]
        most = DAILY_COPIES if kind is Kind.DAILY else OTHER_COPIES
        if len(of_kind) <= most:
            continue
        sound = [one for one in of_kind if good(one)]
        kept = sound[:most]
        if len(kept) < most:
            continue
        weekly = _newest_of_each_week(sound[most:])[:WEEKLY_COPIES] if kind is Kind.DAILY else []
        oldest = kept[-1].order
        dropped += [one for one in of_kind if one.order < oldest and one not in weekly]
    return tuple(dropped)


def _newest_of_each_week(copies: Iterable[KeptCopy]) -> list[KeptCopy]:
    weeks: dict[tuple[int, int], KeptCopy] = {}
    for one in copies:
        weeks.setdefault(date.fromisoformat(one.day).isocalendar()[:2], one)
    return list(weeks.values())


def _rotate(copies: Sequence[KeptCopy]) -> None:
    for one in to_drop(copies, is_good):
        drop(one)


def _newest_day(copies: Sequence[KeptCopy]) -> str:
    return next((one.day for one in copies if one.kind is Kind.DAILY), "")


def _is_due(copies: Sequence[KeptCopy], serial: int) -> bool:
    """Say whether a copy is due: none was made this day, or so much was done since that a day must have gone by."""
    if serial == 0:
        return False
    daily = [one for one in copies if one.kind is Kind.DAILY]
    of_today = any(one.day == today() for one in daily)
    return not of_today or serial - daily[0].serial >= ACTS_OF_A_DAY
