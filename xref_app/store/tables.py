"""The tables: one per class of ``core/model/catalog.py``, its columns read off that class, and the history.

The columns are not written down a second time; only what a class cannot say stands here: keys and references.
Each catalog table has two columns of the store's own, ``row_hash`` and ``withdrawn_on`` (unless the class has it).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Any, Final, Generic, TypeVar, get_type_hints

from sqlalchemy import Boolean, Column, Double, ForeignKey, Integer, MetaData, Table, Text, UniqueConstraint
from sqlalchemy.types import TypeEngine

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

METADATA: Final = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
        "pk": "pk_%(table_name)s",
    }
)

CatalogRow = (
    Entry
    | Number
    | Observation
    | MachineRow
    | DriverRow
    | PortRow
    | PartRow
    | ShelfRow
    | ReservationRow
    | SalvagedUnit
    | UnitReservationRow
    | ReplacedBy
    | OutcomeRow
    | BlamedSize
    | Photo
)

R_co = TypeVar("R_co", bound=CatalogRow, covariant=True)
R = TypeVar("R", bound=CatalogRow)

# Any: each column type has its own kind of value, and the keys are types themselves.
_TYPES: Final[Mapping[object, type[TypeEngine[Any]]]] = {
    str: Text,
    int: Integer,
    int | None: Integer,
    float: Double,
    float | None: Double,
    bool | None: Boolean,
}


@dataclass(frozen=True)
class CatalogTable(Generic[R_co]):
    """One table and the class of its rows.

    ``columns`` are the attributes of the class in order; ``numeric`` those of them that hold floats; ``optional``
    the references in which an empty text means 'none' (NULL in the database, or no foreign key could hold it);
    ``later`` those that came after their table: one that is empty counts in no hash, so that older hashes hold.
    """

    name: str
    row_type: type[R_co]
    key: tuple[str, ...]
    table: Table = field(repr=False)
    columns: tuple[str, ...] = field(repr=False)
    numeric: frozenset[str] = field(repr=False)
    optional: frozenset[str] = field(repr=False)
    references: Mapping[str, str] = field(repr=False)
    later: frozenset[str] = field(repr=False, default=frozenset())


AnyTable = CatalogTable[CatalogRow]


def _catalog_table(  # noqa: PLR0913 - what a class cannot say of its table
    name: str,
    row_type: type[R],
    key: tuple[str, ...],
    references: Mapping[str, str],
    *,
    may_be_empty: tuple[str, ...] = (),
    later: tuple[str, ...] = (),
) -> CatalogTable[R]:
    """Return the table for ``row_type``; ``references`` maps a column to the ``table.column`` that must hold it."""
    hints = get_type_hints(row_type)
    columns = tuple(one.name for one in fields(row_type))
    optional = frozenset(may_be_empty)
    built: list[Column[object]] = []
    for column in columns:
        targets = [ForeignKey(references[column])] if column in references else []
        built.append(
            Column(
                column,
                _TYPES[hints[column]](),
                *targets,
                primary_key=column in key,
                autoincrement=False,
                nullable=column in optional or hints[column] in (int | None, float | None, bool | None),
                index=column in references and column not in key,
            )
        )
    if "withdrawn_on" not in columns:
        built.append(Column("withdrawn_on", Text(), nullable=False))
    built.append(Column("row_hash", Text(), nullable=False))
    numeric = frozenset(column for column in columns if _TYPES[hints[column]] is Double)
    table = Table(name, METADATA, *built)
    return CatalogTable(name, row_type, key, table, columns, numeric, optional, references, frozenset(later))


_ENTRY: Final = "entries.entry_id"

ENTRIES: Final = _catalog_table("entries", Entry, ("entry_id",), {})
PARTS: Final = _catalog_table("parts", PartRow, ("part_id",), {})
NUMBERS: Final = _catalog_table("numbers", Number, ("entry_id", "number"), {"entry_id": _ENTRY})
OBSERVATIONS: Final = _catalog_table("observations", Observation, ("observation_id",), {"entry_id": _ENTRY})
DRIVERS: Final = _catalog_table("drivers", DriverRow, ("entry_id",), {"entry_id": _ENTRY})
MACHINES: Final = _catalog_table(
    "machines",
    MachineRow,
    ("entry_id",),
    {"entry_id": _ENTRY, "driver_id": "drivers.entry_id", "pump_id": _ENTRY},
    may_be_empty=("pump_id",),
)
PORTS: Final = _catalog_table("ports", PortRow, ("entry_id", "port"), {"entry_id": _ENTRY})
SHELF: Final = _catalog_table(
    "shelf",
    ShelfRow,
    ("shelf_id",),
    {"part_id": "parts.part_id", "entry_id": _ENTRY},
    may_be_empty=("part_id", "entry_id"),
    later=("low_at",),
)
RESERVATIONS: Final = _catalog_table(
    "reservations", ReservationRow, ("reservation_id",), {"shelf_id": "shelf.shelf_id"}
)
SALVAGED_UNITS: Final = _catalog_table("salvaged_units", SalvagedUnit, ("unit_id",), {"entry_id": _ENTRY})
UNIT_RESERVATIONS: Final = _catalog_table(
    "unit_reservations", UnitReservationRow, ("reservation_id",), {"unit_id": "salvaged_units.unit_id"}
)
REPLACED_BY: Final = _catalog_table(
    "replaced_by", ReplacedBy, ("entry_id", "new_entry_id"), {"entry_id": _ENTRY, "new_entry_id": _ENTRY}
)
OUTCOMES: Final = _catalog_table(
    "outcomes", OutcomeRow, ("outcome_id",), {"machine_id": "machines.entry_id", "pump_id": _ENTRY}
)
BLAMED_SIZES: Final = _catalog_table(
    "blamed_sizes", BlamedSize, ("blamed_id",), {"outcome_id": "outcomes.outcome_id", "entry_id": _ENTRY}
)

PHOTOS: Final = _catalog_table("photos", Photo, ("entry_id", "content_hash"), {"entry_id": _ENTRY})

# In an order in which every row's references are written before the row itself.
CATALOG_TABLES: Final[tuple[AnyTable, ...]] = (
    ENTRIES,
    PARTS,
    NUMBERS,
    OBSERVATIONS,
    DRIVERS,
    MACHINES,
    PORTS,
    SHELF,
    RESERVATIONS,
    SALVAGED_UNITS,
    UNIT_RESERVATIONS,
    REPLACED_BY,
    OUTCOMES,
    BLAMED_SIZES,
    PHOTOS,
)

TABLES_BY_NAME: Final[Mapping[str, AnyTable]] = {one.name: one for one in CATALOG_TABLES}

# Append-only. ``tallies`` is the row count and hash sum of every catalog table after the change (see tally.py), so
# that a row that vanished is noticed as surely as one that was altered.
HISTORY: Final = Table(
    "history",
    METADATA,
    Column("serial", Integer(), primary_key=True, autoincrement=False),
    Column("at", Text(), nullable=False),
    Column("who", Text(), nullable=False),
    Column("action", Text(), nullable=False),
    Column("table_name", Text(), nullable=False),
    Column("row_key", Text(), nullable=False),
    Column("before", Text(), nullable=False),
    Column("after", Text(), nullable=False),
    Column("why", Text(), nullable=False),
    Column("tallies", Text(), nullable=False),
    Column("previous_hash", Text(), nullable=False),
    Column("own_hash", Text(), nullable=False),
    UniqueConstraint("previous_hash"),
)

# Entries somebody began and has not saved: no part of the catalog, of its history or its tallies. ``turn`` orders them
# by when they were kept, which a clock set wrong cannot do.
DRAFTS: Final = Table(
    "drafts",
    METADATA,
    Column("draft_id", Text(), primary_key=True, autoincrement=False, nullable=False),
    Column("turn", Integer(), nullable=False),
    Column("kind", Text(), nullable=False),
    Column("content", Text(), nullable=False),
    Column("changed_at", Text(), nullable=False),
    Column("row_hash", Text(), nullable=False),
)

# The shop's jobs as they were left, so that they reopen so: no part of the catalog either, ordered by ``turn`` as well.
JOBS: Final = Table(
    "jobs",
    METADATA,
    Column("job_id", Text(), primary_key=True, autoincrement=False, nullable=False),
    Column("turn", Integer(), nullable=False),
    Column("content", Text(), nullable=False),
    Column("changed_at", Text(), nullable=False),
    Column("row_hash", Text(), nullable=False),
)

# Which saves were carried out, so that one that is sent twice is done once.
SAVES: Final = Table(
    "saves",
    METADATA,
    Column("save_id", Text(), primary_key=True, autoincrement=False, nullable=False),
    Column("serial", Integer(), ForeignKey("history.serial"), nullable=False),
)
