"""A supplier's catalog into the store as one act with a name: all of it or nothing, and never over what is the shop's.

An import (``importing.py``) is a barrier for undo and keeps only what it overwrote; this act keeps every row before and
after, so that it is undone like any act of the shop.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, NamedTuple
from uuid import uuid4

from sqlalchemy import Connection, Engine, insert, select

from xref_app.store.connect import reading, writing
from xref_app.store.errors import StoreError
from xref_app.store.history import Change, read_head_or_refuse
from xref_app.store.importing import (
    Key,
    Package,
    keep_withdrawal,
    present_rows,
    refuse_lost_in_package,
    refuse_other_thing,
)
from xref_app.store.numbers import OWN_OBSERVATIONS_FROM, is_own_entry
from xref_app.store.row_changes import RowChange, carry_out, find_row, plain, today, told, with_mark
from xref_app.store.row_hash import Values
from xref_app.store.tables import (
    CATALOG_TABLES,
    ENTRIES,
    OBSERVATIONS,
    PHOTOS,
    RESERVATIONS,
    SALVAGED_UNITS,
    SAVES,
    SHELF,
    UNIT_RESERVATIONS,
    AnyTable,
)

# What lies in this shop is this shop's to say; of pictures a file brings no bytes.
_NOT_TAKEN: Final = (SHELF, RESERVATIONS, SALVAGED_UNITS, UNIT_RESERVATIONS, PHOTOS)
_ID: Final = "catalog-file"
# House rules. The history keeps every row of an act that can be undone; of a whole catalog that would double the store.
MOST_UNDONE_ROWS: Final = 100_000
_ONE_BY_ONE: Final = 5_000  # reading a table whole is quicker than looking up more rows than these


@dataclass(frozen=True, slots=True)
class CatalogSource:
    """Which file: ``supplier`` an id of whoever signs, ``serial`` its number, ``digest`` what it is told apart by."""

    supplier: str
    serial: int
    digest: str


@dataclass(frozen=True, slots=True)
class CatalogPlan:
    """What a file would do to rows; ``same`` stand there already, ``left_out`` are not the supplier's to say."""

    added: tuple[RowChange, ...]
    changed: tuple[RowChange, ...]
    withdrawn: tuple[RowChange, ...]
    same: int
    left_out: int

    @property
    def changes(self) -> tuple[RowChange, ...]:
        """Return all of them."""
        return (*self.added, *self.changed, *self.withdrawn)

    @property
    def can_be_undone(self) -> bool:
        """Say whether the act can be undone by name; a larger one is undone by the copy that was made before it."""
        return len(self.changes) <= MOST_UNDONE_ROWS


class _Mark(NamedTuple):
    """What tells a row that stands there apart from another of its key."""

    row_hash: str
    withdrawn_on: str


@dataclass(frozen=True, slots=True)
class LastRead:
    """The file of the highest number that was ever taken of one supplier."""

    serial: int
    digest: str


class OlderCatalogError(StoreError):
    """A file that is older than one that was taken already."""

    def __init__(self, *, serial: int, last: LastRead) -> None:
        why = "another file of that number" if serial == last.serial else f"number {last.serial}"
        super().__init__(
            f"The catalog file has number {serial}, and {why} was taken already; nothing was changed: ask for a newer "
            "one, or take it all the same."
        )
        self.serial = serial
        self.last = last


def plan_catalog(engine: Engine, package: Package, withdrawn: Sequence[str]) -> CatalogPlan:
    """Return what the file with these rows would do to the store as it is now; nothing is changed.

    Raises:
        StoreError: the file would break a rule of the store, or rows of the store are damaged.
    """
    with reading(engine) as connection:
        return _plan(connection, package, withdrawn)


def last_read(engine: Engine, supplier: str) -> LastRead | None:
    """Return the newest file taken of ``supplier``; one that was undone counts, for it was known."""
    with reading(engine) as connection:
        return _last_read(connection, supplier)


def last_reads(engine: Engine) -> Mapping[str, LastRead]:
    """Return the newest file taken of every supplier, by the supplier's id."""
    with reading(engine) as connection:
        return _last_reads(connection, "%")


def refuse_older(engine: Engine, source: CatalogSource) -> None:
    """Raise OlderCatalogError where the number of ``source`` does not rise."""
    with reading(engine) as connection:
        _refuse_older(connection, source)


def apply_catalog(  # noqa: PLR0913 - the act has a name, a person and a reason
    engine: Engine,
    package: Package,
    withdrawn: Sequence[str],
    source: CatalogSource,
    *,
    name: str,
    who: str,
    why: str,
    older_too: bool = False,
) -> CatalogPlan:
    """Carry out what ``plan_catalog`` tells, planned anew inside the transaction that writes, and return it.

    Raises:
        OlderCatalogError: the number does not rise, and not ``older_too``.
        StoreError: another of its kinds; nothing was changed.
    """
    with writing(engine) as connection:
        head = read_head_or_refuse(connection)
        if not older_too:
            _refuse_older(connection, source)
        plan = _plan(connection, package, withdrawn)
        save_id = ":".join((_ID, source.supplier, str(source.serial), source.digest, uuid4().hex))
        serial = head.serial
        if plan.changes:
            change = Change(who=who, action="save", why=why, key=(save_id, name))
            change = told(change, plan.changes) if plan.can_be_undone else _told_as_import(change, plan)
            serial = carry_out(connection, head, plan.changes, change)
        if serial:
            connection.execute(insert(SAVES).values(save_id=save_id, serial=serial))
    return plan


def _refuse_older(connection: Connection, source: CatalogSource) -> None:
    last = _last_read(connection, source.supplier)
    if last is None or source.serial > last.serial or (source.serial, source.digest) == (last.serial, last.digest):
        return
    raise OlderCatalogError(serial=source.serial, last=last)


def _last_read(connection: Connection, supplier: str) -> LastRead | None:
    return _last_reads(connection, supplier).get(supplier)


def _last_reads(connection: Connection, supplier: str) -> Mapping[str, LastRead]:
    """Return the newest file of each supplier whose id is like ``supplier``."""
    found = connection.scalars(select(SAVES.c.save_id).where(SAVES.c.save_id.like(f"{_ID}:{supplier}:%"))).all()
    newest: dict[str, LastRead] = {}
    for _id, name, serial, digest in (one.split(":")[:4] for one in found):
        read = LastRead(int(serial), digest)
        newest[name] = max(newest.get(name, read), read, key=lambda one: one.serial)
    return newest


def _plan(connection: Connection, package: Package, withdrawn: Sequence[str]) -> CatalogPlan:
    ours = {table.name: _theirs_to_say(table, package[table.name]) for table in CATALOG_TABLES}
    left_out = sum(len(package[name]) - len(rows) for name, rows in ours.items())
    marks = {table.name: _marks(connection, table) for table in CATALOG_TABLES}
    refuse_lost_in_package(ours, marks)
    added: list[RowChange] = []
    changed: list[RowChange] = []
    for table in CATALOG_TABLES:
        rows, there = ours[table.name], marks[table.name]
        added += [RowChange(table, None, values) for key, values in rows.items() if key not in there]
        changed += _changed(connection, table, rows, there)
    return CatalogPlan(
        added=tuple(added),
        changed=tuple(changed),
        withdrawn=tuple(_withdrawals(connection, withdrawn, marks[ENTRIES.name])),
        same=sum(map(len, ours.values())) - len(added) - len(changed),
        left_out=left_out,
    )


def _marks(connection: Connection, table: AnyTable) -> Mapping[Key, _Mark]:
    """Return hash and withdrawal of every row by key: enough to see what differs, a tenth of reading the rows."""
    named = [table.table.c[name] for name in (*table.key, "row_hash", "withdrawn_on")]
    return {tuple(row[:-2]): _Mark(row[-2], row[-1]) for row in connection.execute(select(*named))}


def _theirs_to_say(table: AnyTable, rows: Mapping[Key, Values]) -> Mapping[Key, Values]:
    """Return the rows that a supplier may speak of: none of the shop's own, and none that names one of those."""
    if table in _NOT_TAKEN:
        return {}
    return {key: values for key, values in rows.items() if not _is_the_shops(table, values)}


def _is_the_shops(table: AnyTable, values: Values) -> bool:
    if table is OBSERVATIONS and _number(values) >= OWN_OBSERVATIONS_FROM:
        return True
    return any(is_own_entry(str(values[name])) for name in (*table.key, *table.references))


def _number(values: Values) -> int:
    return int(values["observation_id"] or 0)


def _changed(
    connection: Connection, table: AnyTable, rows: Mapping[Key, Values], there: Mapping[Key, _Mark]
) -> list[RowChange]:
    wanted: dict[Key, Values] = {}
    for key, values in rows.items():
        mark = there.get(key)
        if mark is None or mark.row_hash == values["row_hash"]:
            continue
        new = keep_withdrawal(table, values, {"withdrawn_on": mark.withdrawn_on})
        if new["row_hash"] != mark.row_hash:
            wanted[key] = new
    return [_change(table, key, new, old) for key, new, old in _with_rows(connection, table, wanted)]


def _with_rows(
    connection: Connection, table: AnyTable, wanted: Mapping[Key, Values]
) -> Iterator[tuple[Key, Values, Mapping[str, object] | None]]:
    """Yield each wanted row with the one that stands there, verified; a damaged one raises DamagedStoreError."""
    whole = present_rows(connection, table) if len(wanted) > _ONE_BY_ONE else None
    for key, new in wanted.items():
        yield key, new, find_row(connection, table, new) if whole is None else whole.get(key)


def _change(table: AnyTable, key: Key, new: Values, old: Mapping[str, object] | None) -> RowChange:
    if old is None:  # the key that stands there is of a damaged row
        return RowChange(table, None, new)
    refuse_other_thing(table, key, old, new)
    return RowChange(table, plain(old), new)


def _withdrawals(connection: Connection, entry_ids: Sequence[str], there: Mapping[Key, _Mark]) -> Iterator[RowChange]:
    for entry_id in entry_ids:
        mark = there.get((entry_id,))
        if mark is None or mark.withdrawn_on or is_own_entry(entry_id):
            continue
        old = find_row(connection, ENTRIES, {"entry_id": entry_id})
        if old is not None:
            yield RowChange(ENTRIES, old, with_mark(ENTRIES, old, today()))


def _told_as_import(change: Change, plan: CatalogPlan) -> Change:
    """Return ``change`` as a large import is told: what it overwrote, and of all else only how many rows."""
    overwritten = told(change, (*plan.changed, *plan.withdrawn)).before
    counts = {"added": len(plan.added), "changed": len(plan.changed), "withdrawn": len(plan.withdrawn)}
    return replace(change, action="import", before=overwritten, after=counts)
