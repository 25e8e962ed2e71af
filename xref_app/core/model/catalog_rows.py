"""A whole catalog as plain rows, one tuple per table of data_schema."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class CatalogRows:
    """Every row of every table, each in the order of its file; the attributes are the names of the tables."""

    entries: tuple[Entry, ...] = ()
    numbers: tuple[Number, ...] = ()
    observations: tuple[Observation, ...] = ()
    drivers: tuple[DriverRow, ...] = ()
    machines: tuple[MachineRow, ...] = ()
    ports: tuple[PortRow, ...] = ()
    parts: tuple[PartRow, ...] = ()
    shelf: tuple[ShelfRow, ...] = ()
    reservations: tuple[ReservationRow, ...] = ()
    salvaged_units: tuple[SalvagedUnit, ...] = ()
    unit_reservations: tuple[UnitReservationRow, ...] = ()
    replaced_by: tuple[ReplacedBy, ...] = ()
    outcomes: tuple[OutcomeRow, ...] = ()
    blamed_sizes: tuple[BlamedSize, ...] = ()
    photos: tuple[Photo, ...] = ()


# The class of one row of each table.
ROW_CLASSES = {
    "entries": Entry,
    "numbers": Number,
    "observations": Observation,
    "drivers": DriverRow,
    "machines": MachineRow,
    "ports": PortRow,
    "parts": PartRow,
    "shelf": ShelfRow,
    "reservations": ReservationRow,
    "salvaged_units": SalvagedUnit,
    "unit_reservations": UnitReservationRow,
    "replaced_by": ReplacedBy,
    "outcomes": OutcomeRow,
    "blamed_sizes": BlamedSize,
    "photos": Photo,
}

# A whole catalog that nobody looks at row by row: by table, the cells of each row in the order of its class. An object
# per row would take twice the time and the memory.
RowCells = tuple[str | float | int | bool | None, ...]
CatalogCells = Mapping[str, Sequence[RowCells]]
