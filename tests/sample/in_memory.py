"""The sample's rows as the catalog that finding and judging read, without a store between."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.services.catalog import Catalog

Row = TypeVar("Row")


def catalog_of(rows: CatalogRows) -> Catalog:
    """Return the catalog that holds ``rows``."""
    return Catalog(
        entries={entry.entry_id: entry for entry in rows.entries},
        numbers=_gathered(rows.numbers, lambda row: row.entry_id),
        observations=_gathered((row for row in rows.observations if not row.withdrawn_on), lambda row: row.entry_id),
        ports=_gathered(rows.ports, lambda row: row.entry_id),
        machines={row.entry_id: row for row in rows.machines},
        drivers={row.entry_id: row for row in rows.drivers},
        parts=rows.parts,
        bins=rows.shelf,
        replaced_by=rows.replaced_by,
        outcomes=rows.outcomes,
        reservations=rows.reservations,
    )


def _gathered(rows: Iterable[Row], entry_of: Callable[[Row], str]) -> dict[str, tuple[Row, ...]]:
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(entry_of(row), []).append(row)
    return {entry: tuple(of_entry) for entry, of_entry in found.items()}
