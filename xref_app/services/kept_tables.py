"""The tables of values of the catalogs in use: put together once, and told of what changes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Collection
from dataclasses import dataclass
from threading import Lock
from typing import TYPE_CHECKING, Final

from xref_app.services.catalog import Catalog
from xref_app.services.machine_side import Values
from xref_app.services.sayings import known_together

if TYPE_CHECKING:
    from xref_app.services.value_table import ValueTable

# The last few: the catalog of the moment by kind, and the one before it.
_KEPT_TABLES: Final = 6


@dataclass(frozen=True, slots=True)
class _Kept:
    """A table beside the rows it was made of: while they are held here, no others can come to have their identity."""

    rows: tuple[object, ...]
    table: ValueTable


_Key = tuple[str, tuple[int, ...]]
_kept: OrderedDict[_Key, _Kept] = OrderedDict()
_keeping = Lock()


def table_of_kind(catalog: Catalog, kind: str) -> ValueTable:
    """Return what is known of every entry of ``kind`` as a table, by number; put together once for the same rows."""
    with _keeping:
        rows = _rows(catalog)
        kept = _kept.get(_key(kind, rows))
        table = kept.table if kept else _made(catalog, kind)
        _keep(kind, rows, table)
    return table


def carry_over(before: Catalog, after: Catalog, entry_ids: Collection[str]) -> None:
    """Make the tables of ``after`` out of those of ``before``: nothing differs but ``entry_ids``.

    Without it they are put together anew when somebody asks; with it a save costs milliseconds.
    """
    with _keeping:
        for kind in ("pump", "driver", "machine"):
            kept = _kept.get(_key(kind, _rows(before)))
            if kept is not None:
                changed = {one: _values(after, kind, one) for one in _touched(after, kind, entry_ids)}
                _keep(kind, _rows(after), kept.table.replaced(changed, _by_number(after)))


def bench_ids(catalog: Catalog, entry_id: str) -> tuple[str, ...]:
    """Return the entries that are one thing on the bench: a machine with its engine, else the entry alone."""
    row = catalog.machines.get(entry_id)
    return (entry_id,) if row is None else (row.driver_id, entry_id)


def _rows(catalog: Catalog) -> tuple[object, ...]:
    """Return what a table is made of; two catalogs that share all of it share their tables."""
    return (catalog.entries, catalog.numbers, catalog.observations, catalog.ports, catalog.machines)


def _key(kind: str, rows: tuple[object, ...]) -> _Key:
    return kind, tuple(id(one) for one in rows)


def _keep(kind: str, rows: tuple[object, ...], table: ValueTable) -> None:
    key = _key(kind, rows)
    _kept[key] = _Kept(rows, table)
    _kept.move_to_end(key)
    while len(_kept) > _KEPT_TABLES:
        _kept.popitem(last=False)


def _by_number(catalog: Catalog) -> Callable[[str], tuple[str, str]]:
    return lambda entry_id: (catalog.number_of(entry_id), entry_id)


def _made(catalog: Catalog, kind: str) -> ValueTable:
    from xref_app.services.stored_entries import StoredEntries  # noqa: PLC0415 - numpy only when somebody asks
    from xref_app.services.stored_tables import outlined_table  # noqa: PLC0415
    from xref_app.services.value_table import ValueTable  # noqa: PLC0415

    entries = catalog.on_demand
    if isinstance(entries, StoredEntries):
        changed = {one: _values(catalog, kind, one) for one in _touched(catalog, kind, entries.changes)}
        return outlined_table(entries.outline, kind).replaced(changed, _by_number(catalog))
    known = ((one, known_together(catalog, *bench_ids(catalog, one))) for one in catalog.ids_of(kind))
    return ValueTable.of(known).in_order(_by_number(catalog))


def _touched(catalog: Catalog, kind: str, entry_ids: Collection[str]) -> frozenset[str]:
    """Return whose values may differ: what is known of an engine is known of every machine it drives."""
    touched = frozenset(entry_ids)
    if kind != "machine":
        return touched
    return touched | {row.entry_id for one in touched for row in catalog.machines_driven_by(one)}


def _values(catalog: Catalog, kind: str, entry_id: str) -> Values | None:
    """Return what is known of an entry now; None where there is no such one of that kind."""
    entry = catalog.entries.get(entry_id)
    return None if entry is None or entry.kind != kind else catalog.known(*bench_ids(catalog, entry_id))
