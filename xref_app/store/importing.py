"""A whole catalog package into the store: all of it in one transaction, or nothing."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, Engine, bindparam, insert, update

from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.connect import place_of, writing
from xref_app.store.errors import DamagedStoreError, DoubledKeyError, LostReferenceError
from xref_app.store.history import Change, Head, append, read_head_or_refuse
from xref_app.store.numbers import is_own_entry
from xref_app.store.row_hash import Values, for_database, row_hash, to_values
from xref_app.store.tables import CATALOG_TABLES, OBSERVATIONS, AnyTable
from xref_app.store.tally import Tally
from xref_app.store.verified import read_verified

Key = tuple[object, ...]
Present = Mapping[Key, Mapping[str, object]]
Package = Mapping[str, Mapping[Key, Values]]


# Written down once: building a statement takes longer than running it.
_INSERTS: Final = {one.name: insert(one.table) for one in CATALOG_TABLES}
_UPDATES: Final = {
    one.name: update(one.table).where(*(one.table.c[name] == bindparam(f"key_{name}") for name in one.key))
    for one in CATALOG_TABLES
}


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
    added: tuple[Values, ...]
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


def canonical_rows(rows: CatalogRows) -> Package:
    """Return the rows of a package by table and key, in canonical form; raise DoubledKeyError for a key twice."""
    package: dict[str, dict[Key, Values]] = {}
    for table in CATALOG_TABLES:
        known = package.setdefault(table.name, {})
        for row in getattr(rows, table.name):
            values = to_values(table, row)
            key = _key(table, values)
            if key in known:
                raise DoubledKeyError(table=table.name, key=spelled(key), why="two rows of the package have this key")
            known[key] = values
    return package


def _key(table: AnyTable, values: Mapping[str, object]) -> Key:
    return tuple(values[name] for name in table.key)


def spelled(key: tuple[object, ...]) -> str:
    """Return a key for a sentence."""
    return " ".join(str(one) for one in key)


def present_rows(connection: Connection, table: AnyTable) -> Present:
    """Return the rows of ``table`` by key, or refuse: a damaged row must not be built upon."""
    found = read_verified(connection, table)
    if found.damaged:
        hit = f"row {spelled(found.damaged[0].key)} of {table.name} does not match its check sum"
        raise DamagedStoreError(place_of(connection.engine), hit)
    return {_key(table, values): values for values in found.sound}


def refuse_lost_in_package(package: Package, present: Mapping[str, Container[Key]]) -> None:
    """Raise LostReferenceError where a row of ``package`` names one that neither it nor the store has."""
    for table in CATALOG_TABLES:
        for column, target in table.references.items():
            other = target.partition(".")[0]
            for key, values in package[table.name].items():
                named = values[column]
                if named == "" and column in table.optional:
                    continue
                if (named,) not in package[other] and (named,) not in present[other]:
                    raise LostReferenceError(table=table.name, key=spelled(key), column=column, value=str(named))


def _plan(table: AnyTable, incoming: Mapping[Key, Values], present: Present) -> _Plan:
    added: list[Values] = []
    changed: list[Values] = []
    before: list[Mapping[str, object]] = []
    same = 0
    for key, values in incoming.items():
        old = present.get(key)
        if old is None:
            added.append(values)
            continue
        new = keep_withdrawal(table, values, old)
        if new["row_hash"] == old["row_hash"]:
            same += 1
            continue
        refuse_other_thing(table, key, old, new)
        _refuse_own_entry(table, key, new)
        changed.append(new)
        before.append(old)
    return _Plan(table, tuple(added), tuple(changed), tuple(before), same)


def keep_withdrawal(table: AnyTable, values: Values, old: Mapping[str, object]) -> Values:
    """Return the incoming row, withdrawn where the one that stands there is."""
    if values["withdrawn_on"] or not old["withdrawn_on"]:
        return values
    kept: Values = {**values, "withdrawn_on": str(old["withdrawn_on"])}
    kept["row_hash"] = row_hash(table, kept)
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
        write_rows(connection, plan.table, added=plan.added, changed=plan.changed)
        tally = tallies.get(plan.table.name, Tally()).minus(str(one["row_hash"]) for one in plan.before)
        tallies[plan.table.name] = tally.plus(str(one["row_hash"]) for one in (*plan.added, *plan.changed))
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


def write_rows(
    connection: Connection, table: AnyTable, *, added: tuple[Values, ...] = (), changed: tuple[Values, ...] = ()
) -> None:
    """Insert the canonical rows ``added`` and overwrite those with the keys of ``changed``."""
    if added:
        connection.execute(_INSERTS[table.name], [for_database(table, one) for one in added])
    if changed:
        rows = [{**for_database(table, one), **{f"key_{name}": one[name] for name in table.key}} for one in changed]
        connection.execute(_UPDATES[table.name], rows)
