"""Rows that were set aside because they are damaged, or that are lost: offered from the newest good copy."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from xref_app.services.copies_told import newest_good_copy
from xref_app.services.daily_copies import copy_before
from xref_app.services.kept_copies import Kind
from xref_app.store.connect import file_of
from xref_app.store.copy_glance import glance_at
from xref_app.store.engine import Store, open_engine
from xref_app.store.health import can_be_built_upon
from xref_app.store.restore_plan import TablePlan, Way
from xref_app.store.restoring import look_at_copy, put_back


@dataclass(frozen=True, slots=True)
class Mending:
    """What ``copy``, whose last act was ``at``, has for rows that are damaged or lost, as ``table key`` each.

    ``same`` come back as they were. ``older`` may have been changed since the copy was made: the copy has what stood
    there before, and somebody should look at them. ``left`` damaged rows the copy has nothing for.
    """

    copy: Path
    at: str
    same: tuple[str, ...]
    older: tuple[str, ...]
    left: int


def offered_mending(store: Store) -> Mending | None:
    """Return what the newest good copy has; None where there is no good copy, or nothing of it is needed.

    None also where the file itself is damaged: then only a whole copy can be put in its place.

    Raises:
        StoreError: store or copy cannot be read.
    """
    path = file_of(store)
    copy = newest_good_copy(path) if path else None
    if copy is None or not can_be_built_upon(store):
        return None
    then = open_engine(copy, look_only=True)
    try:
        plans = look_at_copy(store, then, Way.DAMAGED)
    finally:
        then.dispose()
    mending = _told(copy, plans)
    return mending if mending.same or mending.older else None


def mend(store: Store, mending: Mending, *, who: str) -> Mending:
    """Put the rows back as one act, after a copy of the store as it is; return what was done.

    Raises:
        StoreError: one of its kinds; nothing was changed.
    """
    then = open_engine(mending.copy, look_only=True)
    try:
        copy_before(store, Kind.RESTORE)
        why = f"from {mending.copy.name}"
        plans = put_back(store, then, Way.DAMAGED, name="Damaged rows put right", who=who, why=why)
    finally:
        then.dispose()
    return _told(mending.copy, plans)


def _told(copy: Path, plans: tuple[TablePlan, ...]) -> Mending:
    rows = [one for plan in plans for one in plan.lost]
    return Mending(
        copy,
        at=glance.at if (glance := glance_at(copy)) else "",
        same=tuple(one.spelled for one in rows if not one.alters),
        older=tuple(one.spelled for one in rows if one.alters),
        left=sum(plan.left_damaged for plan in plans),
    )
