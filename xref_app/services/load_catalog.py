"""The catalog out of the store: all of it at once, and what has changed in it since."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from xref_app.core.model.catalog import Number
from xref_app.services.catalog import Catalog, Damage
from xref_app.services.doubts import counted_rows, doubting, doubts_of
from xref_app.store.repository import CatalogRepository
from xref_app.store.verified import DamagedRow, true_owners


def load_catalog(repository: CatalogRepository) -> Catalog:
    """Return the catalog as it stands in the store; damaged rows are left out and remembered."""
    entries = {entry.entry_id: entry for entry in repository.entries()}
    kinds = ("pump", "driver", "machine")
    numbers: dict[str, tuple[Number, ...]] = {}
    for number in repository.all_numbers():
        numbers[number.entry_id] = (*numbers.get(number.entry_id, ()), number)
    observations = {entry: rows for kind in kinds for entry, rows in repository.all_observations(kind).items()}
    ports = {entry: rows for kind in kinds for entry, rows in repository.all_ports(kind).items()}
    blamed = repository.blamed_sizes()
    counted = counted_rows(observations, ports, blamed)
    return Catalog(
        entries=entries,
        numbers=numbers,
        observations=observations | {one: rows.observations for one, rows in counted.items()},
        ports=ports | {one: rows.ports for one, rows in counted.items()},
        machines={row.entry_id: row for row in repository.machines()},
        drivers={row.entry_id: row for row in repository.drivers()},
        parts=repository.parts(),
        bins=repository.shelf(),
        replaced_by=repository.replaced_by(),
        outcomes=repository.outcomes(),
        damaged=_whole_damage(repository, entries),
        photos=repository.photos_of(entries),
        reservations=repository.reservations(),
        blamed=blamed,
        doubts=doubts_of(counted),
    )


def refreshed(catalog: Catalog, repository: CatalogRepository, entry_ids: Collection[str]) -> Catalog:
    """Return ``catalog`` with these entries, and all that is said of them, as they stand in the store now.

    What a save, an undo or a redo touched is read again, and what is or was in doubt; the rest is shared.
    """
    blamed = repository.blamed_sizes()
    entry_ids = {*entry_ids, *doubting(catalog.blamed), *doubting(blamed)}
    observations, ports = dict(repository.observations_of(entry_ids)), dict(repository.ports_of(entry_ids))
    counted = counted_rows(observations, ports, blamed)
    entries, machines, drivers = dict(catalog.entries), dict(catalog.machines), dict(catalog.drivers)
    numbers = dict(catalog.numbers)
    for entry_id in entry_ids:
        for kept in (entries, machines, drivers, numbers):
            kept.pop(entry_id, None)
        entry = repository.entry(entry_id)
        if entry is None or entry.withdrawn_on:
            continue
        entries[entry_id] = entry
        numbers[entry_id] = repository.numbers_of(entry_id)
        machine, driver = repository.machine(entry_id), repository.driver(entry_id)
        if machine is not None:
            machines[entry_id] = machine
        if driver is not None:
            drivers[entry_id] = driver
    return replace(
        catalog,
        entries=entries,
        numbers=numbers,
        machines=machines,
        drivers=drivers,
        observations={
            **catalog.observations,
            **observations,
            **{one: rows.observations for one, rows in counted.items()},
        },
        ports={**catalog.ports, **ports, **{one: rows.ports for one, rows in counted.items()}},
        photos={**catalog.photos, **repository.photos_of(entry_ids)},
        blamed=blamed,
        doubts=doubts_of(counted),
        # What is damaged stays so: to read an entry again heals nothing, and its row may stand under another.
        damaged=catalog.damaged.with_more(_whole_damage(repository, entries)),
    )


def restocked(catalog: Catalog, repository: CatalogRepository) -> Catalog:
    """Return ``catalog`` with shelf, listed parts, what happened and what replaces what as in the store now."""
    bins, reservations, outcomes = repository.shelf(), repository.reservations(), repository.outcomes()
    chains, parts = repository.replaced_by(), repository.parts()
    before = (catalog.bins, catalog.reservations, catalog.outcomes, catalog.replaced_by, catalog.parts)
    is_the_same = (bins, reservations, outcomes, chains, parts) == before
    if is_the_same and not repository.damaged():
        return catalog
    damaged = catalog.damaged.with_more(shop_damage(repository))
    return replace(
        catalog,
        bins=bins,
        reservations=reservations,
        outcomes=outcomes,
        replaced_by=chains,
        parts=parts,
        damaged=damaged,
    )


def shop_damage(repository: CatalogRepository) -> Damage:
    """Return what is damaged of the rows that belong to no entry alone: parts, bins, chains, outcomes."""
    return damage_of(repository.damaged(), (), vanished=bool(repository.missing(of_entries=False)))


def _whole_damage(repository: CatalogRepository, entries: Collection[str]) -> Damage:
    """Return whose rows were set aside; where that cannot be told, or rows have vanished, anybody's."""
    return damage_of(repository.damaged(), entries, vanished=bool(repository.missing()))


def damage_of(damaged: Collection[DamagedRow], entries: Collection[str], *, vanished: bool) -> Damage:
    """Return whose rows ``damaged`` are, of ``entries``; anybody's where that cannot be told, or rows ``vanished``."""
    named = frozenset(row.values.get("entry_id", "") for row in damaged)
    owners = named & frozenset(entries)
    # The name of the owner may be what was hit, and then it is another entry that lacks the row.
    others = frozenset(one for row in damaged if "entry_id" in row.values for one in true_owners(row, entries))
    return Damage(len(damaged), owners | others, anywhere=vanished or not named <= owners)
