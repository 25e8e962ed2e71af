"""What a copy would put back: the rows of store and copy side by side, key by key."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from operator import itemgetter
from typing import Final, NamedTuple

from sqlalchemy import Connection, select

from xref_app.core.progress import NO_PROGRESS, Progress, stretches
from xref_app.store.history import Head
from xref_app.store.row_changes import RowChange, find_rows, plain, today, with_mark
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
from xref_app.store.tally import Tally
from xref_app.store.verified import Cells, DamagedRow, counted, read_through, values_of

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
class _Ours:
    """The rows of one table here, by key: hashes of the sound ones, which of these are withdrawn, the damaged ones.

    ``tally`` is that of all of them.
    """

    hashes: dict[Key, object]
    withdrawn: frozenset[Key]
    damaged: Mapping[Key, DamagedRow]
    tally: Tally | None

    @classmethod
    def of(cls, now: Connection, table: AnyTable, expected: int, progress: Progress) -> _Ours:
        key_of, mark_of = _getters(table)
        hashes: dict[Key, object] = {}
        withdrawn: set[Key] = set()
        damaged: dict[Key, DamagedRow] = {}
        tally: Tally | None = Tally()
        for piece in read_through(now, table, expected=expected, progress=progress):
            hashes.update((key_of(cells), cells[-1]) for cells in piece.sound)
            withdrawn.update(key_of(cells) for cells in piece.sound if mark_of(cells))
            damaged.update((tuple(one.found[name] for name in table.key), one) for one in piece.damaged)
            tally = counted(tally, piece)
        return cls(hashes, frozenset(withdrawn), damaged, tally)


@dataclass(frozen=True, slots=True)
class _Compared:
    """What a copy has otherwise: rows that are not sound here, rows with another hash, keys that it does not have."""

    lost: tuple[Values, ...]
    differing: tuple[Values, ...]
    gone: tuple[Key, ...]


def plan_restore(
    now: Connection, copy: Connection, head: Head, way: Way, progress: Progress = NO_PROGRESS
) -> tuple[TablePlan, ...]:
    """Return what to do to each table so that ``now`` gets of ``copy`` what ``way`` says; no damaged row is used.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    expected = [head.tallies.get(one.name, Tally()) for one in CATALOG_TABLES]
    told = stretches(progress, *(one.rows for one in expected))
    return tuple(
        _plan_table(now, copy, _Wanted(table, way, tally), one)
        for table, tally, one in zip(CATALOG_TABLES, expected, told, strict=True)
    )


class _Wanted(NamedTuple):
    """For which table something is planned, in which way, and what the history says the table should hold."""

    table: AnyTable
    way: Way
    tally: Tally


def _plan_table(now: Connection, copy: Connection, wanted: _Wanted, progress: Progress) -> TablePlan:
    table, way, tally = wanted
    reading, comparing = stretches(progress, 1, 1)
    ours = _Ours.of(now, table, tally.rows, reading)
    whole = ours.tally == tally
    compared = _compared(copy, ours, wanted, comparing)
    mended = frozenset(key for key in (_key(table, one) for one in compared.lost) if key in ours.damaged)
    takes_away = way is Way.ALL and table not in _WHAT_HAPPENED
    return TablePlan(
        table=table,
        changed=tuple(_without_wrong(now, way, _changed(now, table, compared.differing, way))),
        withdrawn=tuple(_withdrawn(now, table, compared.gone)) if takes_away else (),
        lost=tuple(_as_lost(table, one, ours.damaged.get(_key(table, one)), whole=whole) for one in compared.lost),
        over_damaged=mended,
        left_damaged=len(ours.damaged) - len(mended),
        whole=whole,
    )


def _compared(copy: Connection, ours: _Ours, wanted: _Wanted, progress: Progress) -> _Compared:
    """Compare the sound rows of a copy with ours by their hashes; those that are alike are not held."""
    table, way, tally = wanted
    key_of, mark_of = _getters(table)
    takes_all_lost = ours.tally != tally
    unseen = dict(ours.hashes)
    lost: list[Values] = []
    differing: list[Values] = []
    for piece in read_through(copy, table, expected=tally.rows, progress=progress):
        for cells in piece.sound:
            key = key_of(cells)
            own_hash = unseen.pop(key, None)
            if own_hash is None:
                if takes_all_lost or key in ours.damaged or _is_wanted(way, is_withdrawn=bool(mark_of(cells))):
                    lost.append(plain(values_of(table, cells)))
            elif own_hash != cells[-1] and _is_altered(
                wanted, was_withdrawn=key in ours.withdrawn, is_withdrawn=bool(mark_of(cells))
            ):
                differing.append(plain(values_of(table, cells)))
        for one in piece.damaged:  # the copy had this row: what stands here did not come since
            unseen.pop(tuple(one.found[name] for name in table.key), None)
    in_order = itemgetter(*table.key)
    gone = sorted(key for key in unseen if key not in ours.withdrawn)
    return _Compared(tuple(sorted(lost, key=in_order)), tuple(sorted(differing, key=in_order)), tuple(gone))


def _is_wanted(way: Way, *, is_withdrawn: bool) -> bool:
    """Say whether a row is to come that this store never had: the copy is of another, or of a later day."""
    return way is Way.ALL or (way is Way.MISSING and not is_withdrawn)


def _is_altered(wanted: _Wanted, *, was_withdrawn: bool, is_withdrawn: bool) -> bool:
    """Say whether a row that stands otherwise in the copy is to be changed."""
    if wanted.way is Way.MISSING:
        return wanted.table not in _DAY_TO_DAY and was_withdrawn and not is_withdrawn
    return wanted.way is Way.ALL


def _as_lost(table: AnyTable, values: Values, damaged: DamagedRow | None, *, whole: bool) -> RowChange:
    """Return how the history tells a row that is put where none stands, or a damaged one.

    Where the row was this one before it was lost, nothing was changed by putting it back: before and after are alike,
    an undo leaves it, and digests that were reckoned with it still hold.
    """
    is_the_one = not whole or (damaged is not None and damaged.found.get("row_hash") == values["row_hash"])
    return RowChange(table, values if is_the_one else None, values)


def _changed(now: Connection, table: AnyTable, differing: Sequence[Values], way: Way) -> Iterator[RowChange]:
    there = find_rows(now, [(table, one) for one in differing])
    for old, values in zip(there, differing, strict=True):
        if old is not None:
            yield RowChange(table, old, values if way is Way.ALL else with_mark(table, old, ""))


def _without_wrong(now: Connection, way: Way, changes: Iterable[RowChange]) -> Iterator[RowChange]:
    """Leave out readings that somebody withdrew by themselves, from entries that stand: as wrong.

    They may be of a higher rank than those that were put in their place, and would then decide again.
    """
    entry = ENTRIES.table.c
    standing: frozenset[object] = frozenset()
    if way is Way.MISSING:
        standing = frozenset(now.scalars(select(entry.entry_id).where(entry.withdrawn_on == "")))
    for one in changes:
        if one.table is not OBSERVATIONS or one.after["entry_id"] not in standing:
            yield one


def _withdrawn(now: Connection, table: AnyTable, gone: Sequence[Key]) -> Iterator[RowChange]:
    there = find_rows(now, [(table, dict(zip(table.key, key, strict=True))) for key in gone])
    for values in there:
        if values is not None:
            yield RowChange(table, values, with_mark(table, values, today()))


def _getters(table: AnyTable) -> tuple[Callable[[Cells], Key], Callable[[Cells], object]]:
    """Return what gives the key, and what gives the mark of withdrawal, of cells as they came from the database."""
    names = table.table.c.keys()
    places = [names.index(name) for name in table.key]
    return lambda cells: tuple([cells[place] for place in places]), itemgetter(names.index("withdrawn_on"))


def _key(table: AnyTable, values: Mapping[str, object]) -> Key:
    return tuple(values[name] for name in table.key)
