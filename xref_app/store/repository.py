"""The catalog as plain values. Whatever feeds a verdict is compared with its hash first.

A repository remembers only what it had to set aside, so give each task its own; the Engine under it may be shared.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from sqlalchemy import ColumnElement, Connection, Engine

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
    SalvagedUnit,
    ShelfRow,
    UnitReservationRow,
)
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.connect import reading
from xref_app.store.entry_rows import OWNED
from xref_app.store.health import TallyBreak, tally_breaks
from xref_app.store.history import acts_naming
from xref_app.store.row_changes import rows_after
from xref_app.store.tables import (
    BLAMED_SIZES,
    CATALOG_TABLES,
    DRIVERS,
    ENTRIES,
    MACHINES,
    NUMBERS,
    OBSERVATIONS,
    OUTCOMES,
    PARTS,
    PHOTOS,
    PORTS,
    REPLACED_BY,
    RESERVATIONS,
    SALVAGED_UNITS,
    SHELF,
    UNIT_RESERVATIONS,
    AnyTable,
    CatalogTable,
    R,
)
from xref_app.store.verified import DamagedRow, as_row, read_verified

O = TypeVar("O", Observation, PortRow, Photo)  # noqa: E741 - owned by an entry


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """An observation that does not count any more: who withdrew it, when (UTC), and why.

    What came withdrawn in a package has only the day in ``at``.
    """

    observation: Observation
    who: str
    at: str
    why: str


class CatalogRepository:
    """Reads one store. Each method is one short transaction; withdrawn rows are left out unless it says otherwise."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._set_aside: dict[tuple[str, tuple[str, ...]], DamagedRow] = {}

    def damaged(self) -> tuple[DamagedRow, ...]:
        """Return the rows that this repository came across and set aside so far."""
        return tuple(self._set_aside.values())

    def missing(self, *, of_entries: bool = True) -> tuple[TallyBreak, ...]:
        """Return the tables that lost or gained rows behind the program's back (quick: reads the hashes only).

        Without ``of_entries`` the tables are left out whose rows belong to one entry each.
        """
        tables = CATALOG_TABLES if of_entries else tuple(one for one in CATALOG_TABLES if one not in OWNED)
        with reading(self._engine) as connection:
            return tally_breaks(connection, tables)

    # -- entries and their numbers

    def entries(self, kind: str | None = None) -> tuple[Entry, ...]:
        """Return the entries of ``kind`` (``pump``, ``driver``, ``machine``), all kinds for None, by id."""
        with reading(self._engine) as connection:
            found = self._live(connection, ENTRIES)
        return tuple(one for one in found if kind is None or one.kind == kind)

    def entry(self, entry_id: str) -> Entry | None:
        """Return one entry, withdrawn ones too (``withdrawn_on`` says so); None where it is not or is damaged."""
        with reading(self._engine) as connection:
            found = self._rows(connection, ENTRIES, ENTRIES.table.c.entry_id == entry_id)
        return found[0] if found else None

    def all_numbers(self) -> tuple[Number, ...]:
        """Return every number of every entry that is not withdrawn."""
        with reading(self._engine) as connection:
            owners = self._owners(connection)
            return tuple(one for one in self._live(connection, NUMBERS) if one.entry_id in owners)

    def numbers_of(self, entry_id: str) -> tuple[Number, ...]:
        """Return the numbers under which one entry is known."""
        with reading(self._engine) as connection:
            return self._live(connection, NUMBERS, NUMBERS.table.c.entry_id == entry_id)

    def replaced_by(self) -> tuple[ReplacedBy, ...]:
        """Return every step of every chain."""
        with reading(self._engine) as connection:
            return self._live(connection, REPLACED_BY)

    # -- what is known of them

    def observations_of(self, entry_ids: Collection[str]) -> Mapping[str, tuple[Observation, ...]]:
        """Return the observations of each of ``entry_ids`` (also of one without any), in one query."""
        chosen = OBSERVATIONS.table.c.entry_id.in_(list(entry_ids))
        with reading(self._engine) as connection:
            found = self._live(connection, OBSERVATIONS, chosen)
        return _by_entry(found, entry_ids)

    def ports_of(self, entry_ids: Collection[str]) -> Mapping[str, tuple[PortRow, ...]]:
        """Return the water ports of each of ``entry_ids``, in one query."""
        chosen = PORTS.table.c.entry_id.in_(list(entry_ids))
        with reading(self._engine) as connection:
            found = self._live(connection, PORTS, chosen)
        return _by_entry(found, entry_ids)

    def all_observations(self, kind: str) -> Mapping[str, tuple[Observation, ...]]:
        """Return the observations of every entry of ``kind`` that is not withdrawn.

        The whole table is read and checked, so that a row whose damage hides whose it is, is set aside too.
        """
        with reading(self._engine) as connection:
            owners = self._owners(connection, kind)
            found = self._live(connection, OBSERVATIONS)
        return _by_entry((one for one in found if one.entry_id in owners), owners)

    def all_ports(self, kind: str) -> Mapping[str, tuple[PortRow, ...]]:
        """Return the water ports of every entry of ``kind`` that is not withdrawn; checked like observations."""
        with reading(self._engine) as connection:
            owners = self._owners(connection, kind)
            found = self._live(connection, PORTS)
        return _by_entry((one for one in found if one.entry_id in owners), owners)

    def photos_of(self, entry_ids: Collection[str]) -> Mapping[str, tuple[Photo, ...]]:
        """Return the photos of each of ``entry_ids``, in one query; photos.py finds their files."""
        chosen = PHOTOS.table.c.entry_id.in_(list(entry_ids))
        with reading(self._engine) as connection:
            found = self._live(connection, PHOTOS, chosen)
        return _by_entry(found, entry_ids)

    def versions_of(self, entry_id: str, field: str) -> tuple[Observation, ...]:
        """Return every observation of one field of one entry, withdrawn ones too (``withdrawn_on`` says so)."""
        with reading(self._engine) as connection:
            return self._versions(connection, entry_id, field)

    def withdrawals_of(self, entry_id: str, field: str) -> tuple[Withdrawn, ...]:
        """Return the withdrawn observations of one field of one entry, with who withdrew each, when and why."""
        with reading(self._engine) as connection:
            found = self._versions(connection, entry_id, field)
            return tuple(_withdrawal(connection, one) for one in found if one.withdrawn_on)

    def rows_of(self, entry_ids: Collection[str]) -> CatalogRows:
        """Return what is known of a few entries at one moment, without what is withdrawn: enough to show them anew."""
        chosen = list(entry_ids)
        with reading(self._engine) as connection:

            def live(table: CatalogTable[R]) -> tuple[R, ...]:
                return self._live(connection, table, table.table.c.entry_id.in_(chosen))

            return CatalogRows(
                entries=live(ENTRIES),
                numbers=live(NUMBERS),
                observations=live(OBSERVATIONS),
                drivers=live(DRIVERS),
                machines=live(MACHINES),
                ports=live(PORTS),
                salvaged_units=live(SALVAGED_UNITS),
                photos=live(PHOTOS),
            )

    # -- machines and what drives them

    def machines(self) -> tuple[MachineRow, ...]:
        """Return every build of every machine model."""
        with reading(self._engine) as connection:
            owners = self._owners(connection, "machine")
            return tuple(one for one in self._live(connection, MACHINES) if one.entry_id in owners)

    def machine(self, entry_id: str) -> MachineRow | None:
        """Return one build, or None where it is not, is withdrawn or is damaged."""
        with reading(self._engine) as connection:
            found = self._live(connection, MACHINES, MACHINES.table.c.entry_id == entry_id)
        return found[0] if found else None

    def machines_with_pump(self, pump_id: str) -> tuple[MachineRow, ...]:
        """Return the builds that left the works with this pump."""
        with reading(self._engine) as connection:
            owners = self._owners(connection, "machine")
            found = self._live(connection, MACHINES, MACHINES.table.c.pump_id == pump_id)
        return tuple(one for one in found if one.entry_id in owners)

    def drivers(self) -> tuple[DriverRow, ...]:
        """Return every engine and motor."""
        with reading(self._engine) as connection:
            owners = self._owners(connection, "driver")
            return tuple(one for one in self._live(connection, DRIVERS) if one.entry_id in owners)

    def driver(self, entry_id: str) -> DriverRow | None:
        """Return one engine or motor, or None where it is not, is withdrawn or is damaged."""
        with reading(self._engine) as connection:
            found = self._live(connection, DRIVERS, DRIVERS.table.c.entry_id == entry_id)
        return found[0] if found else None

    # -- what the shop has, and what happened

    def parts(self) -> tuple[PartRow, ...]:
        """Return every listed part."""
        with reading(self._engine) as connection:
            return self._live(connection, PARTS)

    def shelf(self) -> tuple[ShelfRow, ...]:
        """Return what lies in which bin."""
        with reading(self._engine) as connection:
            return self._live(connection, SHELF)

    def reservations(self) -> tuple[ReservationRow, ...]:
        """Return what is or was put by for a job; ``released_on`` is empty while it is."""
        with reading(self._engine) as connection:
            return self._live(connection, RESERVATIONS)

    def salvaged(self) -> tuple[SalvagedUnit, ...]:
        """Return the used units taken from dead machines."""
        with reading(self._engine) as connection:
            return self._live(connection, SALVAGED_UNITS)

    def unit_reservations(self) -> tuple[UnitReservationRow, ...]:
        """Return which used units are or were put by for a job."""
        with reading(self._engine) as connection:
            return self._live(connection, UNIT_RESERVATIONS)

    def outcomes(self, *, machine_id: str | None = None, pump_id: str | None = None) -> tuple[OutcomeRow, ...]:
        """Return what happened, with one machine, with one pump, with the two together, or with any."""
        with reading(self._engine) as connection:
            found = self._live(connection, OUTCOMES)
        return tuple(one for one in found if machine_id in (None, one.machine_id) and pump_id in (None, one.pump_id))

    def blamed_sizes(self) -> tuple[BlamedSize, ...]:
        """Return the sizes that are blamed for what happened, without those that were found to be right."""
        with reading(self._engine) as connection:
            return self._live(connection, BLAMED_SIZES)

    def everything(self) -> CatalogRows:
        """Return the whole catalog of one moment, withdrawn rows too, for export."""
        with reading(self._engine) as connection:
            return CatalogRows(
                entries=self._rows(connection, ENTRIES),
                numbers=self._live(connection, NUMBERS),
                observations=self._rows(connection, OBSERVATIONS),
                machines=self._live(connection, MACHINES),
                drivers=self._live(connection, DRIVERS),
                ports=self._live(connection, PORTS),
                parts=self._live(connection, PARTS),
                shelf=self._live(connection, SHELF),
                reservations=self._live(connection, RESERVATIONS),
                salvaged_units=self._live(connection, SALVAGED_UNITS),
                unit_reservations=self._live(connection, UNIT_RESERVATIONS),
                replaced_by=self._live(connection, REPLACED_BY),
                outcomes=self._live(connection, OUTCOMES),
                blamed_sizes=self._live(connection, BLAMED_SIZES),
                photos=self._live(connection, PHOTOS),
            )

    # -- inside

    def _versions(self, connection: Connection, entry_id: str, field: str) -> tuple[Observation, ...]:
        # The field is looked at after the hash: a damaged name must not hide a version in silence.
        found = self._rows(connection, OBSERVATIONS, OBSERVATIONS.table.c.entry_id == entry_id)
        return tuple(one for one in found if one.field == field)

    def _owners(self, connection: Connection, kind: str | None = None) -> frozenset[str]:
        found = self._live(connection, ENTRIES)
        return frozenset(one.entry_id for one in found if kind is None or one.kind == kind)

    def _live(self, connection: Connection, table: CatalogTable[R], *where: ColumnElement[bool]) -> tuple[R, ...]:
        # The mark is looked at after the hash: a damaged mark must not hide a row in silence.
        found = self._checked(connection, table, *where)
        return tuple(as_row(table, values) for values in found if values["withdrawn_on"] == "")

    def _rows(self, connection: Connection, table: CatalogTable[R], *where: ColumnElement[bool]) -> tuple[R, ...]:
        return tuple(as_row(table, values) for values in self._checked(connection, table, *where))

    def _checked(
        self, connection: Connection, table: AnyTable, *where: ColumnElement[bool]
    ) -> tuple[Mapping[str, object], ...]:
        found = read_verified(connection, table, *where)
        for one in found.damaged:
            self._set_aside[one.table, one.key] = one
        return found.sound


def _withdrawal(connection: Connection, observation: Observation) -> Withdrawn:
    """Return the last act that withdrew ``observation``."""
    key = {"observation_id": observation.observation_id, "withdrawn_on": observation.withdrawn_on}
    for act in acts_naming(connection, OBSERVATIONS.name, key):
        for row in rows_after(act, OBSERVATIONS.name):
            if all(row[name] == value for name, value in key.items()):
                return Withdrawn(observation, act.change.who, act.at, act.change.why)
    return Withdrawn(observation, "", observation.withdrawn_on, "")


def _by_entry(found: Iterable[O], entry_ids: Collection[str]) -> Mapping[str, tuple[O, ...]]:
    gathered: dict[str, list[O]] = {one: [] for one in sorted(entry_ids)}
    for row in found:
        gathered[row.entry_id].append(row)
    return {entry_id: tuple(rows) for entry_id, rows in gathered.items()}
