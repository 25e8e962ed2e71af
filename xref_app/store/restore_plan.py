"""What a copy would put back: the rows of store and copy side by side, key by key."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from sqlalchemy import Connection, select

from xref_app.store.history import Head
from xref_app.store.row_changes import RowChange, plain, today, with_mark
from xref_app.store.row_hash import Values
from xref_app.store.tables import (
    BLAMED_SIZES,
    CATALOG_TABLES,
    ENTRIES,
    OBSERVATIONS,
    OUTCOMES,
    RESERVATIONS,
    SALVAGED_UNITS,
    SHELF,
    UNIT_RESERVATIONS,
    AnyTable,
)
from xref_app.store.tally import Tally, count_table
from xref_app.store.verified import DamagedRow, Verified, read_verified

Key = tuple[object, ...]

# What is put by changes every hour: a reservation that was taken back must not come again behind somebody's back.
_DAY_TO_DAY: Final = (SHELF, RESERVATIONS, SALVAGED_UNITS, UNIT_RESERVATIONS)

# What happened on the bench happened: no copy takes away that a pump did not go on, nor the doubt it raised.
_WHAT_HAPPENED: Final = (OUTCOMES, BLAMED_SIZES)


class Way(StrEnum):
    """How much of a copy is put back."""

    ALL = "all"  # the catalog is as in the copy; what came since is withdrawn
    MISSING = "missing"  # only what was withdrawn or lost since; nothing is taken away or altered, no reading revived
    DAMAGED = "damaged"  # only rows that are damaged or lost


@dataclass(frozen=True, slots=True)
class TablePlan:
    """What is done to one table.

    ``lost`` rows are written where none stands, or a damaged one (``over_damaged``); ``whole`` says that before this
    the hashes of the table's rows were those that the history says there should be.
    """

    table: AnyTable
    changed: tuple[RowChange, ...]
    withdrawn: tuple[RowChange, ...]
    lost: tuple[RowChange, ...]
    over_damaged: frozenset[Key]
    left_damaged: int
    whole: bool

    @property
    def changes(self) -> tuple[RowChange, ...]:
        """Return all of them as the history tells them."""
        return (*self.changed, *self.withdrawn, *self.lost)


@dataclass(frozen=True, slots=True)
class _Side:
    """The rows of one table on one side."""

    sound: Mapping[Key, Values]
    damaged: Mapping[Key, DamagedRow]

    @classmethod
    def of(cls, table: AnyTable, found: Verified) -> _Side:
        sound = {_key(table, values): plain(values) for values in found.sound}
        return cls(sound, {_key(table, one.found): one for one in found.damaged})


def plan_restore(now: Connection, copy: Connection, head: Head, way: Way) -> tuple[TablePlan, ...]:
    """Return what to do to each table so that ``now`` gets of ``copy`` what ``way`` says; no damaged row is used."""
    return tuple(_plan_table(now, copy, head, way, table) for table in CATALOG_TABLES)


def _plan_table(now: Connection, copy: Connection, head: Head, way: Way, table: AnyTable) -> TablePlan:
    ours, theirs = (_Side.of(table, read_verified(one, table)) for one in (now, copy))
    whole = _is_whole(now, head, table)
    lost = [
        key
        for key, values in theirs.sound.items()
        if key not in ours.sound and (key in ours.damaged or not whole or _is_wanted(way, values))
    ]
    takes_away = way is Way.ALL and table not in _WHAT_HAPPENED
    mended = frozenset(key for key in lost if key in ours.damaged)
    return TablePlan(
        table=table,
        changed=tuple(one for one in _changed(table, ours.sound, theirs.sound, way) if not _was_wrong(now, way, one)),
        withdrawn=tuple(_withdrawn(table, ours.sound, theirs.sound)) if takes_away else (),
        lost=tuple(_as_lost(table, theirs.sound[key], ours.damaged.get(key), whole=whole) for key in lost),
        over_damaged=mended,
        left_damaged=len(ours.damaged) - len(mended),
        whole=whole,
    )


def _is_wanted(way: Way, values: Values) -> bool:
    """Say whether a row is to come that this store never had: the copy is of another, or of a later day."""
    return way is Way.ALL or (way is Way.MISSING and not values["withdrawn_on"])


def _as_lost(table: AnyTable, values: Values, damaged: DamagedRow | None, *, whole: bool) -> RowChange:
    """Return how the history tells a row that is put where none stands, or a damaged one.

    Where the row was this one before it was lost, nothing was changed by putting it back: before and after are alike,
    an undo leaves it, and digests that were reckoned with it still hold.
    """
    is_the_one = not whole or (damaged is not None and damaged.found.get("row_hash") == values["row_hash"])
    return RowChange(table, values if is_the_one else None, values)


def _changed(
    table: AnyTable, ours: Mapping[Key, Values], theirs: Mapping[Key, Values], way: Way
) -> Iterator[RowChange]:
    if way is Way.DAMAGED or (way is Way.MISSING and table in _DAY_TO_DAY):
        return
    for key, values in theirs.items():
        old = ours.get(key)
        if old is None or old["row_hash"] == values["row_hash"]:
            continue
        if way is Way.ALL:
            yield RowChange(table, old, values)
        elif old["withdrawn_on"] and not values["withdrawn_on"]:
            yield RowChange(table, old, with_mark(table, old, ""))


def _was_wrong(now: Connection, way: Way, change: RowChange) -> bool:
    """Say whether a reading would come back that somebody withdrew by itself, from an entry that stands: as wrong.

    It may be of a higher rank than the one that was put in its place, and would then decide again.
    """
    if way is not Way.MISSING or change.table is not OBSERVATIONS:
        return False
    entry = ENTRIES.table.c
    asked = select(entry.withdrawn_on).where(entry.entry_id == change.after["entry_id"])
    return now.scalar(asked) == ""


def _withdrawn(table: AnyTable, ours: Mapping[Key, Values], theirs: Mapping[Key, Values]) -> Iterator[RowChange]:
    for key, values in ours.items():
        if key not in theirs and not values["withdrawn_on"]:
            yield RowChange(table, values, with_mark(table, values, today()))


def _is_whole(now: Connection, head: Head, table: AnyTable) -> bool:
    try:
        return count_table(now, table) == head.tallies.get(table.name, Tally())
    except ValueError:
        return False


def _key(table: AnyTable, values: Mapping[str, object]) -> Key:
    return tuple(values[name] for name in table.key)
