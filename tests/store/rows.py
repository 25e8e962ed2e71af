"""A small catalog of invented things in which every table has rows, and ways to look at a store's bytes."""

from __future__ import annotations

from pathlib import Path

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

PUMPS = 12
FIELDS = ("bore_diameter_mm", "bore_depth_mm", "flange_thickness_mm", "rating_speed_rpm")


def small_catalog() -> CatalogRows:
    """Return 14 entries: 12 pumps, a driver and a machine, with what hangs on them."""
    pumps = tuple(
        Entry(f"P{n:03}", "pump", "Invented & Söhne", f"Pump {n}", added_on="2026-03-02") for n in range(PUMPS)
    )
    return CatalogRows(
        entries=(*pumps, Entry("D001", "driver", "Nobody", "Engine 1"), Entry("M001", "machine", "Nobody", "Washer 1")),
        numbers=tuple(Number(one.entry_id, f"QX-{n:04}", "maker", "plate") for n, one in enumerate(pumps)),
        observations=observations(),
        drivers=(DriverRow("D001", "petrol"),),
        machines=(MachineRow("M001", "WX 27", "D001", "P001"),),
        ports=tuple(PortRow(one.entry_id, "inlet", "3/4-11.5 NH", "female", swivel=True) for one in pumps),
        parts=(PartRow("S32", "spacer", "Spacer 3.2 mm", thickness_mm=3.2, end_1_swivel=False, cost=0.4),),
        shelf=(ShelfRow("H1", "S32", "", "C3", 4, 0.4), ShelfRow("H2", "", "P002", "A1", 1, low_at=1)),
        reservations=(ReservationRow("R-001", "H1", 1, "job 117", "José", "2026-03-02"),),
        salvaged_units=(
            SalvagedUnit("U1", "P003", hours=120.5),
            SalvagedUnit("U2", "P005", condition="runs", price=40.0, bin="F1"),
            SalvagedUnit("U3", "P004"),
        ),
        unit_reservations=(UnitReservationRow("RU-001", "U3", "job 117", "José", "2026-03-02"),),
        replaced_by=(ReplacedBy("P000", "P001"), ReplacedBy("P001", "P002")),
        outcomes=(OutcomeRow("O1", "M001", "P001", "fine"),),
        blamed_sizes=(BlamedSize("B1", "O1", "P001", "bore_diameter_mm", 12),),
        photos=(Photo("P001", "ab" * 32, "Plate", 1600, 1200, "José", "2026-03-02"),),
    )


def observations() -> tuple[Observation, ...]:
    """Return one value of each of four fields for each pump; no two rows alike, one word that is not ASCII."""
    return tuple(
        Observation(
            observation_id=1 + pump * len(FIELDS) + place,
            entry_id=f"P{pump:03}",
            field=field,
            as_typed=f"{10 + pump + place / 10} mm",
            value=10 + pump + place / 10,
            text="",
            doubt=0.05,
            how="measured",
            seen_by="José",
            seen_on="2026-03-02",
        )
        for pump in range(PUMPS)
        for place, field in enumerate(FIELDS)
    )


def every_byte(folder: Path) -> dict[str, bytes]:
    """Return the content of every file under ``folder`` (never while a store in it is open)."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}
