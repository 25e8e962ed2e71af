"""The catalog of one moment, in memory: what finding and judging read, without a query per candidate."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from xref_app.core.model.catalog import (
    DriverRow,
    Entry,
    MachineRow,
    Number,
    Observation,
    OutcomeRow,
    PartRow,
    Photo,
    PortRow,
    ReplacedBy,
    ReservationRow,
    ShelfRow,
)
from xref_app.core.model.known import Known
from xref_app.core.model.observed import values_by_field
from xref_app.core.model.shelf import Part, PartEnd, Shelf
from xref_app.core.model.stock import Stock
from xref_app.core.model.words import Gender, PartKind
from xref_app.store.repository import CatalogRepository

# A listed part that lies in no bin can be ordered; no job takes more pieces of one part than this (house rule).
ORDERED_PIECES = 24

# Of these a job may need several of one row; where fewer are free, more can be ordered: a piece or two under each bolt,
# a few in the chains of both ports (house rule).
MOST_OF_ONE_PART: Mapping[PartKind, int] = {
    PartKind.BOLT: 12,
    PartKind.SPACER: 12,
    PartKind.SHIM: 12,
    PartKind.FITTING: 4,
}


@dataclass(frozen=True, slots=True)
class Damage:
    """What the store had to set aside: rows in all, the entries they belong to, and whether any entry may be hit."""

    rows: int = 0
    entries: frozenset[str] = frozenset()
    anywhere: bool = False

    def touches(self, *entry_ids: str) -> bool:
        """Say whether something known of one of ``entry_ids`` may be missing."""
        return self.anywhere or not self.entries.isdisjoint(entry_ids)


NO_DAMAGE = Damage()


@dataclass(frozen=True)
class Catalog:
    """Every row that finding, judging and showing need, by entry; plain values throughout."""

    entries: Mapping[str, Entry]
    numbers: Mapping[str, tuple[Number, ...]]
    observations: Mapping[str, tuple[Observation, ...]]
    ports: Mapping[str, tuple[PortRow, ...]]
    machines: Mapping[str, MachineRow]
    drivers: Mapping[str, DriverRow]
    parts: tuple[PartRow, ...]
    bins: tuple[ShelfRow, ...]
    replaced_by: tuple[ReplacedBy, ...]
    outcomes: tuple[OutcomeRow, ...]
    damaged: Damage = NO_DAMAGE
    photos: Mapping[str, tuple[Photo, ...]] = field(default_factory=dict)
    reservations: tuple[ReservationRow, ...] = ()
    job_in_hand: str = ""

    def known(self, *entry_ids: str) -> Mapping[str, tuple[Known, ...]]:
        """Return what is known by field of entries that are one thing on the bench (a machine and its engine).

        The strongest reading counts whichever entry has it; several versions stand where equal-rank ones contradict.
        """
        return values_by_field(
            [one for entry in entry_ids for one in self.observations.get(entry, ())],
            [one for entry in entry_ids for one in self.ports.get(entry, ())],
        )

    def number_of(self, entry_id: str) -> str:
        """Return the number to call an entry by: its maker's, else its first, else its id."""
        numbers = self.numbers.get(entry_id, ())
        makers = [one.number for one in numbers if one.role == "maker"]
        return next(iter([*makers, *(one.number for one in numbers)]), entry_id)

    def pumps(self) -> tuple[Entry, ...]:
        """Return every pump, by id."""
        return tuple(entry for entry in self.entries.values() if entry.kind == "pump")

    @cached_property
    def stock(self) -> Stock:
        """Return the bins with what is put by in them."""
        return Stock(self.bins, self.reservations)

    def for_job(self, job: str) -> Catalog:
        """Return the catalog as the job in hand sees it: what is put by for ``job`` is free for it."""
        return self if job == self.job_in_hand else replace(self, job_in_hand=job)

    @cached_property
    def shelf(self) -> Shelf:
        """Return every listed part: those free in a bin first, the others marked as to order.

        Only what is free counts, and what is put by for the job in hand; the free pieces of several bins add up. A
        part of which a job may need more than are free stands there twice, in a bin and to order.
        """
        in_bins: dict[str, list[ShelfRow]] = {}
        for row in self.bins:
            if row.part_id and self.stock.free(row, job=self.job_in_hand) > 0:
                in_bins.setdefault(row.part_id, []).append(row)
        parts = [_part(row, self._lying(in_bins.get(row.part_id, []))) for row in self.parts]
        parts += [_more_of(part) for part in parts if _may_run_short(part)]
        return tuple(sorted(parts, key=lambda part: (part.to_order, part.cost)))

    def _lying(self, places: Sequence[ShelfRow]) -> _Lying | None:
        if not places:
            return None
        job, prices = self.job_in_hand, [one.price for one in places if one.price is not None]
        holding = [one for one in places if job and self.stock.held(job, (one.shelf_id,))]
        return _Lying(
            count=sum(self.stock.free(one, job=job) for one in places),
            bin=_bins(places),
            price=max(prices, default=None),
            reserved=self.stock.held(job, [one.shelf_id for one in holding]),
            reserved_bin=_bins(holding),
        )


@dataclass(frozen=True, slots=True)
class _Lying:
    """What is free of one part in all its bins; of several prices the highest counts (house rule)."""

    count: int
    bin: str
    price: float | None
    reserved: int
    reserved_bin: str


def _bins(places: Sequence[ShelfRow]) -> str:
    return ", ".join(sorted({one.bin for one in places}))


def load_catalog(repository: CatalogRepository) -> Catalog:
    """Return the catalog as it stands in the store; damaged rows are left out and remembered."""
    entries = {entry.entry_id: entry for entry in repository.entries()}
    kinds = ("pump", "driver", "machine")
    numbers: dict[str, tuple[Number, ...]] = {}
    for number in repository.all_numbers():
        numbers[number.entry_id] = (*numbers.get(number.entry_id, ()), number)
    return Catalog(
        entries=entries,
        numbers=numbers,
        observations={entry: rows for kind in kinds for entry, rows in repository.all_observations(kind).items()},
        ports={entry: rows for kind in kinds for entry, rows in repository.all_ports(kind).items()},
        machines={row.entry_id: row for row in repository.machines()},
        drivers={row.entry_id: row for row in repository.drivers()},
        parts=repository.parts(),
        bins=repository.shelf(),
        replaced_by=repository.replaced_by(),
        outcomes=repository.outcomes(),
        damaged=_damage(repository, frozenset(entries)),
        photos=repository.photos_of(entries),
        reservations=repository.reservations(),
    )


def refreshed(catalog: Catalog, repository: CatalogRepository, entry_ids: Collection[str]) -> Catalog:
    """Return ``catalog`` with these entries, and all that is said of them, as they stand in the store now.

    What a save, an undo or a redo touched is read again, and nothing else: the rest of the catalog is shared.
    """
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
        observations={**catalog.observations, **repository.observations_of(entry_ids)},
        ports={**catalog.ports, **repository.ports_of(entry_ids)},
        photos={**catalog.photos, **repository.photos_of(entry_ids)},
        damaged=_damage(repository, frozenset(entries)),
    )


def restocked(catalog: Catalog, repository: CatalogRepository) -> Catalog:
    """Return ``catalog`` with the shelf as it stands in the store now, whoever changed it."""
    bins, reservations = repository.shelf(), repository.reservations()
    if (bins, reservations) == (catalog.bins, catalog.reservations) and not repository.damaged():
        return catalog
    damaged = _damage(repository, frozenset(catalog.entries))
    return replace(catalog, bins=bins, reservations=reservations, damaged=_worse(catalog.damaged, damaged))


def _worse(one: Damage, other: Damage) -> Damage:
    return Damage(max(one.rows, other.rows), one.entries | other.entries, anywhere=one.anywhere or other.anywhere)


def _damage(repository: CatalogRepository, entries: frozenset[str]) -> Damage:
    """Return whose rows were set aside; where that cannot be told, or rows have vanished, anybody's."""
    damaged = repository.damaged()
    owners = frozenset(row.values.get("entry_id", "") for row in damaged)
    return Damage(len(damaged), owners & entries, anywhere=bool(repository.missing()) or not owners <= entries)


def _part(row: PartRow, in_bin: _Lying | None) -> Part:
    return Part(
        kind=PartKind(row.kind),
        count=in_bin.count if in_bin else ORDERED_PIECES,
        cost=_cost(row, in_bin),
        part_id=row.part_id,
        name=row.name,
        bin=in_bin.bin if in_bin else "",
        thickness_mm=row.thickness_mm,
        outside_mm=row.outside_mm,
        inside_mm=row.inside_mm,
        width_mm=row.width_mm,
        height_mm=row.height_mm,
        hub_width_mm=row.hub_width_mm,
        hub_height_mm=row.hub_height_mm,
        length_mm=row.length_mm,
        thread=row.thread,
        ends=_ends(row),
        rating_bar=row.rating_bar,
        max_c=row.max_c,
        number=row.number,
        bore_a_mm=row.bore_a_mm,
        bore_b_mm=row.bore_b_mm,
        torque_nm=row.torque_nm,
        to_order=in_bin is None,
        reserved=in_bin.reserved if in_bin else 0,
        reserved_bin=in_bin.reserved_bin if in_bin else "",
    )


def _may_run_short(part: Part) -> bool:
    return not part.to_order and part.count < MOST_OF_ONE_PART.get(part.kind, 0)


def _more_of(part: Part) -> Part:
    """Return the row to order of a part with few pieces free."""
    return replace(part, count=ORDERED_PIECES, to_order=True, lying=part.count)


def _cost(row: PartRow, in_bin: _Lying | None) -> float:
    price = in_bin.price if in_bin is not None and in_bin.price is not None else row.cost
    return price or 0.0


def _ends(row: PartRow) -> tuple[PartEnd, ...]:
    given = (
        (row.end_1_thread, row.end_1_gender, row.end_1_seal_mm, row.end_1_swivel),
        (row.end_2_thread, row.end_2_gender, row.end_2_seal_mm, row.end_2_swivel),
        (row.end_3_thread, row.end_3_gender, row.end_3_seal_mm, row.end_3_swivel),
    )
    return tuple(
        PartEnd(thread, Gender(gender), seal, swivel=swivel is True) for thread, gender, seal, swivel in given if thread
    )
