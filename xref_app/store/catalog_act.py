"""A supplier's catalog into the store as one act with a name: all of it or nothing, and never over what is the shop's.

An import (``importing.py``) is a barrier for undo and keeps only what it overwrote; this act keeps every row before and
after, so that it is undone like any act of the shop.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final
from uuid import uuid4

from sqlalchemy import Connection, Engine, insert, select

from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.connect import reading, writing
from xref_app.store.errors import StoreError
from xref_app.store.history import Change, read_head_or_refuse
from xref_app.store.importing import (
    Key,
    Package,
    Present,
    canonical_rows,
    keep_withdrawal,
    present_rows,
    refuse_lost_in_package,
    refuse_other_thing,
)
from xref_app.store.numbers import OWN_OBSERVATIONS_FROM, is_own_entry
from xref_app.store.row_changes import RowChange, carry_out, plain, today, told, with_mark
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


def plan_catalog(engine: Engine, rows: CatalogRows, withdrawn: Sequence[str]) -> CatalogPlan:
    """Return what the file would do to the store as it is now; nothing is changed.

    Raises:
        StoreError: the file would break a rule of the store, or rows of the store are damaged.
    """
    with reading(engine) as connection:
        return _plan(connection, canonical_rows(rows), withdrawn)


def last_read(engine: Engine, supplier: str) -> LastRead | None:
    """Return the newest file taken of ``supplier``; one that was undone counts, for it was known."""
    with reading(engine) as connection:
        return _last_read(connection, supplier)


def refuse_older(engine: Engine, source: CatalogSource) -> None:
    """Raise OlderCatalogError where the number of ``source`` does not rise."""
    with reading(engine) as connection:
        _refuse_older(connection, source)


def apply_catalog(  # noqa: PLR0913 - the act has a name, a person and a reason
    engine: Engine,
    rows: CatalogRows,
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
    package = canonical_rows(rows)
    with writing(engine) as connection:
        head = read_head_or_refuse(connection)
        if not older_too:
            _refuse_older(connection, source)
        plan = _plan(connection, package, withdrawn)
        save_id = ":".join((_ID, source.supplier, str(source.serial), source.digest, uuid4().hex))
        serial = head.serial
        if plan.changes:
            change = told(Change(who=who, action="save", why=why, key=(save_id, name)), plan.changes)
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
    found = connection.scalars(select(SAVES.c.save_id).where(SAVES.c.save_id.like(f"{_ID}:{supplier}:%"))).all()
    read = [LastRead(int(one.split(":")[2]), one.split(":")[3]) for one in found]
    return max(read, key=lambda one: one.serial, default=None)


def _plan(connection: Connection, package: Package, withdrawn: Sequence[str]) -> CatalogPlan:
    ours = {table.name: _theirs_to_say(table, package[table.name]) for table in CATALOG_TABLES}
    left_out = sum(len(package[name]) - len(rows) for name, rows in ours.items())
    present = {table.name: present_rows(connection, table) for table in CATALOG_TABLES}
    refuse_lost_in_package(ours, present)
    changes = [one for table in CATALOG_TABLES for one in _changes(table, ours[table.name], present[table.name])]
    went = tuple(_withdrawals(withdrawn, present[ENTRIES.name]))
    alters = [one for one in changes if one.alters]
    return CatalogPlan(
        added=tuple(one for one in alters if one.before is None),
        changed=tuple(one for one in alters if one.before is not None),
        withdrawn=went,
        same=len(changes) - len(alters),
        left_out=left_out,
    )


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


def _changes(table: AnyTable, rows: Mapping[Key, Values], present: Present) -> list[RowChange]:
    changes = []
    for key, values in rows.items():
        old = present.get(key)
        if old is None:
            changes.append(RowChange(table, None, values))
            continue
        new = keep_withdrawal(table, values, old)
        if new["row_hash"] != old["row_hash"]:
            refuse_other_thing(table, key, old, new)
        changes.append(RowChange(table, plain(old), new))
    return changes


def _withdrawals(entry_ids: Sequence[str], present: Present) -> list[RowChange]:
    standing = [present[entry_id,] for entry_id in entry_ids if (entry_id,) in present and not is_own_entry(entry_id)]
    return [
        RowChange(ENTRIES, plain(one), with_mark(ENTRIES, plain(one), today()))
        for one in standing
        if not one["withdrawn_on"]
    ]
