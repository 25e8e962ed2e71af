"""Which rows leave the shop: the whole catalog or some entries with what belongs to them, and nothing of the sample."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Any, Final

from xref_app.core.fields.table_schemas import TABLES, table_schema
from xref_app.core.model.catalog import Entry
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.numbers import OWN_OBSERVATIONS_FROM
from xref_app.store.numbers import is_own_entry as is_own

# What lies in the shop and for whom: nobody else's business unless the shop says so.
_OWN_AFFAIRS: Final = ("shelf", "reservations", "salvaged_units", "unit_reservations")


@dataclass(frozen=True, slots=True)
class ExportWish:
    """What is to leave: ``entry_ids`` (None: every entry); the shop's own affairs only ``with_shop``."""

    entry_ids: frozenset[str] | None = None
    with_shop: bool = False


def rows_to_export(rows: CatalogRows, wish: ExportWish) -> CatalogRows:
    """Return what of ``rows`` leaves: every row names only rows that leave too.

    A machine brings its driver and the pump that was on it; what happened goes where both machine and pump go, the
    sizes blamed for it likewise. Listed parts go with a whole catalog or with the shelf. Pictures stay: their bytes lie
    beside the store.
    """
    left = replace(rows, photos=())
    if not wish.with_shop:
        left = replace(left, **dict.fromkeys(_OWN_AFFAIRS, ()))
    if wish.entry_ids is not None:
        chosen = _with_what_they_need(rows, wish.entry_ids)
        left = replace(left, entries=tuple(one for one in rows.entries if one.entry_id in chosen))
        left = replace(left, parts=rows.parts if wish.with_shop else ())
    return _whole(left)


def without_entries(rows: CatalogRows, strangers: Collection[Entry]) -> CatalogRows:
    """Return ``rows`` without the entries that are told as ``strangers`` are, and without what hangs on them."""
    told = {(one.entry_id, one.kind, one.maker, one.name) for one in strangers}
    kept = tuple(one for one in rows.entries if (one.entry_id, one.kind, one.maker, one.name) not in told)
    return rows if len(kept) == len(rows.entries) else _whole(replace(rows, entries=kept))


def rows_to_share(rows: CatalogRows, withdrawn: Collection[str] = ()) -> CatalogRows:
    """Return what of ``rows`` another shop can take: nothing numbered by this shop, nothing that is ``withdrawn``.

    Every shop gives the same numbers to entries, observations and outcomes of its own, so elsewhere they mean others.
    """
    return _whole(
        replace(
            rows,
            entries=tuple(one for one in rows.entries if not is_own(one.entry_id) and one.entry_id not in withdrawn),
            observations=tuple(one for one in rows.observations if one.observation_id < OWN_OBSERVATIONS_FROM),
            outcomes=tuple(one for one in rows.outcomes if not is_own(one.outcome_id)),
            blamed_sizes=tuple(one for one in rows.blamed_sizes if not is_own(one.blamed_id)),
        )
    )


def _with_what_they_need(rows: CatalogRows, entry_ids: Collection[str]) -> set[str]:
    chosen = set(entry_ids)
    for machine in rows.machines:
        if machine.entry_id in entry_ids:
            chosen |= {machine.driver_id, machine.pump_id}
    return chosen


def _whole(rows: CatalogRows) -> CatalogRows:
    """Return ``rows`` without those that name one which is not there, in the order in which tables name each other."""
    there: dict[tuple[str, str], set[object]] = {}
    # Any: the tables side by side, each of its own rows.
    kept: dict[str, Any] = {}
    for name in TABLES:
        keys = table_schema(name).foreign_keys
        named = [(key.column, there[key.other_table, key.other_column]) for key in keys]
        kept[name] = tuple(
            one for one in getattr(rows, name) if all(getattr(one, column) in known for column, known in named)
        )
        for column in table_schema(name).primary_key:
            there[name, column] = {getattr(one, column) for one in kept[name]} | {""}
    return replace(rows, **kept)
