"""The catalog of a large store: its entries stay in the store until they are asked for."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from typing import Any

from xref_app.core.model.catalog import BlamedSize
from xref_app.services.catalog import Catalog, Damage
from xref_app.services.load_catalog import shop_damage
from xref_app.services.stored_entries import StoredEntries, StoredView
from xref_app.store.entry_rows import EntryRows
from xref_app.store.repository import CatalogRepository


@dataclass(frozen=True, slots=True)
class StoredDamage:
    """What is damaged of a store that is read bit by bit: ``apart`` was found without it."""

    entries: StoredEntries
    apart: Damage

    def touches(self, *entry_ids: str) -> bool:
        """Say whether something known of one of ``entry_ids`` may be missing; they are read for it."""
        return self.apart.touches(*entry_ids) or self.entries.damaged(entry_ids)

    def known(self) -> Damage:
        """Return what is damaged of all that was read so far."""
        found = self.entries.known_damaged()
        return self.apart.with_more(Damage(len(found), found))

    def with_more(self, other: Damage) -> StoredDamage:
        """Return this damage and ``other`` together."""
        return replace(self, apart=self.apart.with_more(other))


def stored_catalog(entries: StoredEntries, repository: CatalogRepository, damage: Damage) -> Catalog:
    """Return the catalog over ``entries``; what is not of single entries (parts, bins, outcomes) is read now.

    ``damage`` is what was found when the whole store was read.
    """
    blamed = repository.blamed_sizes()
    entries = entries.after((), blamed) if blamed else entries
    catalog = Catalog(
        **_mappings(entries),
        parts=repository.parts(),
        bins=repository.shelf(),
        replaced_by=repository.replaced_by(),
        outcomes=repository.outcomes(),
        reservations=repository.reservations(),
        on_demand=entries,
        blamed=blamed,
        doubts=entries.doubts,
    )
    return replace(catalog, damaged=StoredDamage(entries, damage.with_more(shop_damage(repository))))


def restored(catalog: Catalog, entry_ids: Collection[str], blamed: tuple[BlamedSize, ...]) -> Catalog:
    """Return a catalog made by ``stored_catalog`` with ``entry_ids``, and what is blamed, as in the store now."""
    if not isinstance(catalog.damaged, StoredDamage):
        raise TypeError("this catalog is in memory, not in a store")
    fresh = catalog.damaged.entries.after(entry_ids, blamed)
    damaged = StoredDamage(fresh, catalog.damaged.apart)
    return replace(catalog, **_mappings(fresh), on_demand=fresh, damaged=damaged, blamed=blamed, doubts=fresh.doubts)


def _mappings(entries: StoredEntries) -> Mapping[str, Any]:
    """Return the mappings of a catalog, by the names of its attributes; each holds rows of its own class."""

    def view(pick: Callable[[str, EntryRows], Any], kind: str = "") -> StoredView[Any]:
        return StoredView(entries, pick, kind=kind)

    return {
        "entries": view(lambda entry_id, _rows: entries.entry(entry_id)),
        "numbers": view(lambda _id, rows: rows.numbers),
        "observations": view(lambda _id, rows: rows.observations),
        "ports": view(lambda _id, rows: rows.ports),
        "photos": view(lambda _id, rows: rows.photos),
        "machines": view(lambda _id, rows: rows.machine, "machine"),
        "drivers": view(lambda _id, rows: rows.driver, "driver"),
    }
