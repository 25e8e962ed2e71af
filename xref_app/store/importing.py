"""A whole catalog package into the store: all of it in one transaction, or nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, Engine

from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.connect import place_of, writing
from xref_app.store.errors import DamagedStoreError, DoubledKeyError
from xref_app.store.history import Change, Head, append, read_head_or_refuse
from xref_app.store.numbers import is_own_entry
from xref_app.store.package import Brought, Key, Rows, canonical_rows, refuse_lost_in_package, spelled
from xref_app.store.row_hash import Values, row_hash
from xref_app.store.row_writing import insert_rows, write_rows
from xref_app.store.tables import CATALOG_TABLES, OBSERVATIONS, AnyTable
from xref_app.store.tally import Tally
from xref_app.store.verified import read_verified

Present = Mapping[Key, Mapping[str, object]]


@dataclass(frozen=True, slots=True)
class ImportCount:
    """How many rows an import added, changed, and found to be there already."""

    added: int
    changed: int
    same: int


@dataclass(frozen=True, slots=True)
class _Plan:
    """What an import has to do to one table; ``before`` are the rows that ``changed`` will overwrite."""

    table: AnyTable
    added: tuple[Brought, ...]
    changed: tuple[Values, ...]
    before: tuple[Mapping[str, object], ...]
    same: int


def import_catalog(engine: Engine, rows: CatalogRows, *, who: str, why: str) -> ImportCount:
    """Add the rows of a package that are new and overwrite those of the same key that differ; keep all others.

    A row that the shop withdrew stays withdrawn. What is overwritten is kept in the one history row of the import.
    The same package again changes nothing at all, not even the history.

    Raises:
        StoreError: one of its kinds; the store is unchanged.
    """
    package = canonical_rows(rows)
    with writing(engine) as connection:
        head = read_head_or_refuse(connection)
        present = {table.name: present_rows(connection, table) for table in CATALOG_TABLES}
        refuse_lost_in_package(package, present)
        plans = [_plan(table, package[table.name], present[table.name]) for table in CATALOG_TABLES]
        count = ImportCount(
            added=sum(len(one.added) for one in plans),
            changed=sum(len(one.changed) for one in plans),
            same=sum(one.same for one in plans),
        )
        if count.added or count.changed:
            _carry_out(connection, head, plans, who=who, why=why)
    return count


def present_rows(connection: Connection, table: AnyTable) -> Present:
    """Return the rows of ``table`` by key, or refuse: a damaged row must not be built upon."""
    found = read_verified(connection, table)
    if found.damaged:
        hit = f"row {spelled(found.damaged[0].key)} of {table.name} does not match its check sum"
        raise DamagedStoreError(place_of(connection.engine), hit)
    return {tuple(values[name] for name in table.key): values for values in found.sound}


def _plan(table: AnyTable, incoming: Rows, present: Present) -> _Plan:
    added: list[Brought] = []
    changed: list[Values] = []
    before: list[Mapping[str, object]] = []
    same = 0
    for key, brought in incoming.items():
        old = present.get(key)
        if old is None:
            added.append(brought)
            continue
        new = keep_withdrawal(brought, str(old["withdrawn_on"]))
        if new["row_hash"] == old["row_hash"]:
            same += 1
            continue
        refuse_other_thing(table, key, old, new)
        _refuse_own_entry(table, key, new)
        changed.append(new)
        before.append(old)
    return _Plan(table, tuple(added), tuple(changed), tuple(before), same)


def keep_withdrawal(brought: Brought, withdrawn_on: str) -> Values:
    """Return the incoming row, withdrawn where the one that stands there is."""
    values = brought.values
    if values["withdrawn_on"] or not withdrawn_on:
        return values
    kept: Values = {**values, "withdrawn_on": withdrawn_on}
    kept["row_hash"] = row_hash(brought.table, kept)
    return kept


def refuse_other_thing(table: AnyTable, key: Key, old: Mapping[str, object], new: Values) -> None:
    """Refuse an observation that would take the number of one of another thing."""
    if table is not OBSERVATIONS or all(old[name] == new[name] for name in ("entry_id", "field")):
        return
    why = f"it is {old['field']} of {old['entry_id']} here and {new['field']} of {new['entry_id']} in the package"
    raise DoubledKeyError(table=table.name, key=spelled(key), why=why)


def _refuse_own_entry(table: AnyTable, key: Key, new: Values) -> None:
    """Refuse to overwrite what the shop itself says of an entry of its own."""
    if is_own_entry(str(new.get("entry_id") or new.get("reservation_id") or "")):
        why = "it is of an entry that the shop made itself, and the package says something else"
        raise DoubledKeyError(table=table.name, key=spelled(key), why=why)


def _carry_out(connection: Connection, head: Head, plans: list[_Plan], *, who: str, why: str) -> None:
    tallies = dict(head.tallies)
    for plan in plans:
        insert_rows(connection, plan.table, (one.stored for one in plan.added))
        write_rows(connection, plan.table, changed=plan.changed)
        tally = tallies.get(plan.table.name, Tally()).minus(str(one["row_hash"]) for one in plan.before)
        tally = tally.plus(one.row_hash for one in plan.added)
        tallies[plan.table.name] = tally.plus(str(one["row_hash"]) for one in plan.changed)
    change = Change(
        who=who,
        action="import",
        why=why,
        before={plan.table.name: [dict(one) for one in plan.before] for plan in plans if plan.before},
        after={name: dict(counts) for name, counts in _counts(plans)},
    )
    append(connection, head, change, tallies)


def _counts(plans: list[_Plan]) -> Iterator[tuple[str, Mapping[str, int]]]:
    for plan in plans:
        yield plan.table.name, {"added": len(plan.added), "changed": len(plan.changed), "same": plan.same}
