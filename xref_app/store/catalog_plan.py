"""What a supplier's catalog would do to the rows of the store: reckoned from hashes, row by row only where they differ.

The rows that stand are streamed, never held: of a large catalog nothing is in memory twice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Final, NamedTuple

from sqlalchemy import Connection, select

from xref_app.core.progress import NO_PROGRESS, Progress, stretches, told_through
from xref_app.store.history import read_head_or_refuse
from xref_app.store.importing import keep_withdrawal, refuse_other_thing
from xref_app.store.numbers import OWN_OBSERVATIONS_FROM, is_own_entry
from xref_app.store.package import Brought, Key, Package, Rows, column_of, refuse_lost_in_package
from xref_app.store.row_changes import RowChange, find_rows, today, with_mark
from xref_app.store.row_hash import Value, Values
from xref_app.store.tables import (
    CATALOG_TABLES,
    ENTRIES,
    PHOTOS,
    RESERVATIONS,
    SALVAGED_UNITS,
    SHELF,
    TABLES_BY_NAME,
    UNIT_RESERVATIONS,
    AnyTable,
)

# What lies in this shop is this shop's to say; of pictures a file brings no bytes.
_NOT_TAKEN: Final = (SHELF, RESERVATIONS, SALVAGED_UNITS, UNIT_RESERVATIONS, PHOTOS)
_NAMED_BY_OTHERS: Final = frozenset(
    target.partition(".")[0] for table in CATALOG_TABLES for target in table.references.values()
)
# House rules. The history keeps every row of an act that can be undone; of a whole catalog that would double the store.
MOST_UNDONE_ROWS: Final = 100_000
_ROWS_AT_ONCE: Final = 5_000


class Moment(NamedTuple):
    """When a plan was reckoned: the hash of the last act of the history, which no other state has, and the day."""

    last_act: str
    day: str


@dataclass(frozen=True, slots=True)
class CatalogPlan:
    """What a file would do to rows; ``same`` stand there already, ``left_out`` are not the supplier's to say."""

    added: tuple[Brought, ...]
    changed: tuple[RowChange, ...]
    withdrawn: tuple[RowChange, ...]
    same: int
    left_out: int
    moment: Moment

    @property
    def rows(self) -> int:
        """Return how many rows would be other afterwards."""
        return len(self.added) + len(self.changed) + len(self.withdrawn)

    @property
    def changes(self) -> tuple[RowChange, ...]:
        """Return all of them, made anew each time; of a whole catalog that takes memory."""
        added = (RowChange(one.table, None, one.values) for one in self.added)
        return (*added, *self.changed, *self.withdrawn)

    @property
    def can_be_undone(self) -> bool:
        """Say whether the act can be undone by name; a larger one is undone by the copy that was made before it."""
        return self.rows <= MOST_UNDONE_ROWS

    @property
    def new_entries(self) -> tuple[str, ...]:
        """Return the entries that are not there yet."""
        new = (one for one in self.added if one.table is ENTRIES)
        return tuple(str(one) for one in column_of(ENTRIES, new, "entry_id"))

    @property
    def owners(self) -> tuple[str, ...]:
        """Return the entries to which the rows belong, each once."""
        places = {one.name: one.columns.index("entry_id") for one in CATALOG_TABLES if "entry_id" in one.columns}
        added = (one.cells[places[one.table.name]] for one in self.added if one.table.name in places)
        others = (one.after.get("entry_id") for one in (*self.changed, *self.withdrawn))
        return tuple(dict.fromkeys(str(owner) for owner in chain(added, others) if owner))


class _Differing(NamedTuple):
    """A row that stands there with another hash than the one brought, and its mark."""

    brought: Brought
    row_hash: str
    withdrawn_on: str


def reckon(
    connection: Connection, package: Package, withdrawn: Sequence[str], progress: Progress = NO_PROGRESS
) -> CatalogPlan:
    """Return what the file with these rows would do to the store as this transaction sees it.

    Raises:
        StoreError: the file would break a rule of the store, or rows of the store are damaged.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    moment = moment_of(connection)
    sorting, comparing = stretches(progress, 1, 4)
    ours = _all_theirs_to_say(package, sorting)
    left_out = sum(len(package[name]) - len(rows) for name, rows in ours.items())
    refuse_lost_in_package(ours, {name: _keys(connection, TABLES_BY_NAME[name]) for name in _NAMED_BY_OTHERS})
    added: list[Brought] = []
    changed: list[RowChange] = []
    for table, one in zip(CATALOG_TABLES, stretches(comparing, *map(len, ours.values())), strict=True):
        looking, reading = stretches(one, 1, 1)
        new, differing = _compared(connection, table, ours[table.name], looking)
        added += new
        changed += _changed(connection, table, differing, reading)
    return CatalogPlan(
        added=tuple(added),
        changed=tuple(changed),
        withdrawn=tuple(_withdrawals(connection, withdrawn)),
        same=sum(map(len, ours.values())) - len(added) - len(changed),
        left_out=left_out,
        moment=moment,
    )


def moment_of(connection: Connection) -> Moment:
    """Return the present moment of the store: a plan of the same moment would come out the same again."""
    return Moment(read_head_or_refuse(connection).own_hash, today())


def _keys(connection: Connection, table: AnyTable) -> frozenset[Key]:
    return frozenset(map(tuple, connection.execute(select(*(table.table.c[name] for name in table.key)))))


def _all_theirs_to_say(package: Package, progress: Progress) -> Package:
    ours: dict[str, Rows] = {}
    for place, table in enumerate(CATALOG_TABLES):
        progress.step(place, len(CATALOG_TABLES))
        ours[table.name] = _theirs_to_say(table, package[table.name])
    progress.step(1, 1)
    return ours


def _theirs_to_say(table: AnyTable, rows: Rows) -> Rows:
    """Return the rows that a supplier may speak of: none of the shop's own, and none that names one of those."""
    if table in _NOT_TAKEN:
        return {}
    naming = tuple(dict.fromkeys((*table.key, *table.references)))
    columns = [tuple(column_of(table, rows.values(), one)) for one in naming]
    shops = {name for one in columns for name in set(one) if _is_the_shops(name)}
    if not shops:
        return rows
    named = zip(rows.items(), zip(*columns, strict=True), strict=True)
    return {key: brought for (key, brought), names in named if shops.isdisjoint(names)}


def _is_the_shops(name: Value) -> bool:
    """Say whether a key or a reference is one that the shop gives itself: a number is one of an observation."""
    return name >= OWN_OBSERVATIONS_FROM if isinstance(name, int) else is_own_entry(str(name))


def _compared(
    connection: Connection, table: AnyTable, rows: Rows, progress: Progress
) -> tuple[list[Brought], list[_Differing]]:
    """Return which of ``rows`` are not there yet, and which stand there otherwise, by their hashes alone."""
    if not rows:
        return [], []
    progress.step(0, 1)
    new, differing = dict(rows), []
    columns = [table.table.c[name] for name in (*table.key, "row_hash", "withdrawn_on")]
    standing = connection.execute(select(*columns), execution_options={"yield_per": _ROWS_AT_ONCE})
    for row in told_through(standing, progress, len(rows)):
        brought = new.pop(tuple(row[:-2]), None)
        if brought is not None and brought.row_hash != row[-2]:
            differing.append(_Differing(brought, row[-2], row[-1]))
    return list(new.values()), differing


def _changed(
    connection: Connection, table: AnyTable, differing: Sequence[_Differing], progress: Progress
) -> Iterator[RowChange]:
    for start in range(0, len(differing), _ROWS_AT_ONCE):
        progress.step(start, len(differing))
        kept = (
            (one, keep_withdrawal(one.brought, one.withdrawn_on)) for one in differing[start : start + _ROWS_AT_ONCE]
        )
        wanted = [new for one, new in kept if new["row_hash"] != one.row_hash]
        there = find_rows(connection, [(table, new) for new in wanted])
        yield from (_change(table, old, new) for old, new in zip(there, wanted, strict=True))


def _change(table: AnyTable, old: Values | None, new: Values) -> RowChange:
    if old is not None:
        refuse_other_thing(table, tuple(new[name] for name in table.key), old, new)
    return RowChange(table, old, new)


def _withdrawals(connection: Connection, entry_ids: Sequence[str]) -> Iterator[RowChange]:
    wanted = [(ENTRIES, {"entry_id": one}) for one in entry_ids if not is_own_entry(one)]
    for old in find_rows(connection, wanted):
        if old is not None and not old["withdrawn_on"]:
            yield RowChange(ENTRIES, old, with_mark(ENTRIES, old, today()))
