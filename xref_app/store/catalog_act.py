"""A supplier's catalog into the store as one act with a name: all of it or nothing, and never over what is the shop's.

An import (``importing.py``) is a barrier for undo and keeps only what it overwrote; this act keeps every row before and
after, so that it is undone like any act of the shop.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final
from uuid import uuid4

from sqlalchemy import Connection, Engine, insert, select

from xref_app.core.progress import NO_PROGRESS, Progress, stretches, told_through
from xref_app.store.catalog_plan import CatalogPlan, moment_of, reckon
from xref_app.store.connect import reading, writing
from xref_app.store.errors import StoreError
from xref_app.store.history import Change, Head, append, read_head_or_refuse
from xref_app.store.package import Brought, Package
from xref_app.store.row_changes import RowChange, carry_out, told
from xref_app.store.row_writing import insert_rows, write_rows
from xref_app.store.tables import CATALOG_TABLES, SAVES, AnyTable
from xref_app.store.tally import Tally

_ID: Final = "catalog-file"


@dataclass(frozen=True, slots=True)
class CatalogSource:
    """Which file: ``supplier`` an id of whoever signs, ``serial`` its number, ``digest`` what it is told apart by."""

    supplier: str
    serial: int
    digest: str


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


def plan_catalog(
    engine: Engine, package: Package, withdrawn: Sequence[str], progress: Progress = NO_PROGRESS
) -> CatalogPlan:
    """Return what the file with these rows would do to the store as it is now; nothing is changed.

    Raises:
        StoreError: the file would break a rule of the store, or rows of the store are damaged.
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    with reading(engine) as connection:
        return reckon(connection, package, withdrawn, progress)


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
    planned: CatalogPlan | None = None,
    progress: Progress = NO_PROGRESS,
) -> CatalogPlan:
    """Carry out what ``plan_catalog`` tells and return it; all of it as one act, or nothing.

    What was ``planned`` before is carried out only if nothing at all was done to the store since, which is looked at
    inside the transaction that writes; otherwise it is reckoned anew there.

    Raises:
        OlderCatalogError: the number does not rise, and not ``older_too``.
        StoreError: another of its kinds; nothing was changed.
        WorkCancelledError: ``progress`` says nobody waits any more; nothing was changed.
    """
    reckoning, acting = stretches(progress, 1, 1)
    with writing(engine) as connection:
        head = read_head_or_refuse(connection)
        if not older_too:
            _refuse_older(connection, source)
        is_still_so = planned is not None and planned.moment == moment_of(connection)
        plan = planned if planned and is_still_so else reckon(connection, package, withdrawn, reckoning)
        save_id = ":".join((_ID, source.supplier, str(source.serial), source.digest, uuid4().hex))
        serial = head.serial
        if plan.rows:
            change = Change(who=who, action="save", why=why, key=(save_id, name))
            serial = _carry_out(connection, head, plan, change, acting)
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


def _carry_out(connection: Connection, head: Head, plan: CatalogPlan, change: Change, progress: Progress) -> int:
    """Write the rows and the act into the history; return the serial of the act."""
    if plan.can_be_undone:
        return carry_out(connection, head, plan.changes, told(change, plan.changes))
    added: dict[str, list[Brought]] = {table.name: [] for table in CATALOG_TABLES}
    for one in plan.added:
        added[one.table.name].append(one)
    tallies = dict(head.tallies)
    for table, share in zip(CATALOG_TABLES, stretches(progress, *map(len, added.values())), strict=True):
        changed = [one for one in (*plan.changed, *plan.withdrawn) if one.table is table]
        _write_table(connection, table, added[table.name], changed, share)
        tallies[table.name] = _counted(tallies.get(table.name, Tally()), added[table.name], changed)
    return append(connection, head, _told_as_import(change, plan), tallies)


def _write_table(
    connection: Connection,
    table: AnyTable,
    added: Sequence[Brought],
    changed: Sequence[RowChange],
    progress: Progress,
) -> None:
    told = told_through(added, progress, len(added))
    insert_rows(connection, table, (one.stored for one in told))
    write_rows(connection, table, changed=(one.after for one in changed))


def _counted(tally: Tally, added: Sequence[Brought], changed: Sequence[RowChange]) -> Tally:
    """Return what a table should hold after this, if ``tally`` is what it should have held before."""
    tally = tally.minus(str(one.before["row_hash"]) for one in changed if one.before)
    tally = tally.plus(one.row_hash for one in added)
    return tally.plus(str(one.after["row_hash"]) for one in changed)


def _told_as_import(change: Change, plan: CatalogPlan) -> Change:
    """Return ``change`` as a large import is told: what it overwrote, and of all else only how many rows."""
    overwritten = told(change, (*plan.changed, *plan.withdrawn)).before
    counts = {"added": len(plan.added), "changed": len(plan.changed), "withdrawn": len(plan.withdrawn)}
    return replace(change, action="import", before=overwritten, after=counts)
