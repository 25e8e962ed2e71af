"""The catalog of one moment, in memory: what finding and judging read, without a query per candidate."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Protocol

from xref_app.core.model.catalog import (
    BlamedSize,
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
    number_to_call,
)
from xref_app.core.model.known import Known
from xref_app.core.model.observed import values_by_field
from xref_app.core.model.shelf import Shelf
from xref_app.core.model.stock import Stock
from xref_app.search.pattern import NumberPattern
from xref_app.services.doubts import Doubt
from xref_app.services.shelf_parts import shelf_of


@dataclass(frozen=True, slots=True)
class Damage:
    """What the store had to set aside: rows in all, the entries they belong to, and whether any entry may be hit."""

    rows: int = 0
    entries: frozenset[str] = frozenset()
    anywhere: bool = False

    def touches(self, *entry_ids: str) -> bool:
        """Say whether something known of one of ``entry_ids`` may be missing."""
        return self.anywhere or not self.entries.isdisjoint(entry_ids)

    def known(self) -> Damage:
        """Return what is known of the damage without looking for more."""
        return self

    def with_more(self, other: Damage) -> Damage:
        """Return this damage and ``other`` together."""
        return Damage(
            max(self.rows, other.rows), self.entries | other.entries, anywhere=self.anywhere or other.anywhere
        )


class Damaged(Protocol):
    """What the store had to set aside, as far as it has been read."""

    def touches(self, *entry_ids: str) -> bool:
        """Say whether something known of one of ``entry_ids`` may be missing; all that is stored of them is read."""

    def known(self) -> Damage:
        """Return what is known of the damage without looking for more."""

    def with_more(self, other: Damage) -> Damaged:
        """Return this damage and ``other`` together."""


class OnDemand(Protocol):
    """What only a store can tell quickly whose entries are not all in memory."""

    def ids_of(self, kind: str) -> Iterator[str]:
        """Yield the ids of the entries of one kind."""

    def builds_of(self, model: str) -> Sequence[str]:
        """Return the ids of the machines of this model."""

    def may_lack_builds(self, model: str) -> bool:
        """Say whether a machine of this model may be there whose own row cannot be read."""

    def machines_with(self, pump_id: str) -> Sequence[str]:
        """Return the ids of the machines that came with this pump."""

    def machines_driven_by(self, driver_id: str) -> Sequence[str]:
        """Return the ids of the machines that this engine or motor drives."""

    def numbered_like(self, pattern: NumberPattern) -> Sequence[str]:
        """Return the ids of entries that have nearly this number, those most like it first."""

    def read(self, entry_ids: Iterable[str]) -> object:
        """Read these entries together: they are asked for next."""


NO_DAMAGE = Damage()


@dataclass(frozen=True)
class Catalog:
    """Every row that finding, judging and showing need, by entry; plain values throughout.

    Of a large store the entries are read ``on_demand``; its mappings then hold what is asked of them. Readings of a
    size that is in doubt stand in ``doubts``, by entry, and not in ``observations`` and ``ports``.
    """

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
    damaged: Damaged = NO_DAMAGE
    photos: Mapping[str, tuple[Photo, ...]] = field(default_factory=dict)
    reservations: tuple[ReservationRow, ...] = ()
    job_in_hand: str = ""
    on_demand: OnDemand | None = None
    blamed: tuple[BlamedSize, ...] = ()
    doubts: Mapping[str, tuple[Doubt, ...]] = field(default_factory=dict)

    def known(self, *entry_ids: str) -> Mapping[str, tuple[Known, ...]]:
        """Return what is known by field of entries that are one thing on the bench (a machine and its engine).

        The strongest reading counts whichever entry has it; several versions stand where equal-rank ones contradict.
        """
        return values_by_field(
            [one for entry in entry_ids for one in self.observations.get(entry, ())],
            [one for entry in entry_ids for one in self.ports.get(entry, ())],
        )

    def fields_in_doubt(self, *entry_ids: str) -> frozenset[str]:
        """Return the fields of these entries that are in doubt."""
        return frozenset(one.blamed.field for entry in entry_ids for one in self.doubts.get(entry, ()))

    def number_of(self, entry_id: str) -> str:
        """Return the number to call an entry by: its maker's, else its first, else its id."""
        return number_to_call(entry_id, self.numbers.get(entry_id, ()))

    def ids_of(self, kind: str) -> Iterator[str]:
        """Yield the id of every ``pump``, ``driver`` or ``machine``."""
        if self.on_demand is not None:
            return self.on_demand.ids_of(kind)
        return (entry.entry_id for entry in self.entries.values() if entry.kind == kind)

    def pumps(self) -> tuple[Entry, ...]:
        """Return every pump, by id."""
        return tuple(self.entries[one] for one in self.ids_of("pump"))

    def builds_of(self, model: str) -> tuple[MachineRow, ...]:
        """Return the builds of a machine model."""
        if self.on_demand is not None:
            return tuple(self.machines[one] for one in self.on_demand.builds_of(model))
        return tuple(row for row in self.machines.values() if row.model == model)

    def may_lack_builds(self, model: str) -> bool:
        """Say whether a build of this model may be there whose own row is set aside."""
        if self.on_demand is not None:
            return self.on_demand.may_lack_builds(model)
        damaged = self.damaged.known().entries
        return any(
            one not in self.machines and self.entries[one].kind == "machine" for one in damaged & self.entries.keys()
        )

    def machines_with(self, pump_id: str) -> tuple[MachineRow, ...]:
        """Return the machines that came with a pump."""
        if self.on_demand is not None:
            return tuple(self.machines[one] for one in self.on_demand.machines_with(pump_id))
        return tuple(row for row in self.machines.values() if row.pump_id == pump_id)

    def machines_driven_by(self, driver_id: str) -> tuple[MachineRow, ...]:
        """Return the machines that an engine or motor drives."""
        if self.on_demand is not None:
            return tuple(self.machines[one] for one in self.on_demand.machines_driven_by(driver_id))
        return tuple(row for row in self.machines.values() if row.driver_id == driver_id)

    def read_ahead(self, entry_ids: Iterable[str]) -> None:
        """Have these entries read together, where they are not in memory: one by one takes longer."""
        if self.on_demand is not None:
            self.on_demand.read(entry_ids)

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
        return shelf_of(self.parts, self.stock, self.job_in_hand)
