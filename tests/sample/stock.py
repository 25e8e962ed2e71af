"""What lies on the shelf of the invented shop, what was salvaged, and what happened on its bench."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tests.sample.readings import PEOPLE
from tests.sample.said import Dice
from tests.sample.units import CANNOT_FIT, FITS, NEEDS_SPACER, Units
from xref_app.core.model.catalog import (
    Entry,
    OutcomeRow,
    PartRow,
    ReservationRow,
    SalvagedUnit,
    ShelfRow,
    UnitReservationRow,
)

# Kinds that the shop always has in stock; of the others it has seven tenths.
ALWAYS = {"spacer", "shim", "bolt", "stepped key", "nozzle", "coupling"}
CONDITIONS = ("tested good", "runs", "worn", "for parts", "unknown")
DEAD = ("cracked frame", "burnt windings on the twin unit", "tank rusted through", "seized pump", "drowned in the shed")


# Bins of these kinds are marked low at so many pieces; the two reservations are of the first places that have them.
LOW_AT = {"spacer": 6, "stepped key": 4, "nozzle": 4, "coupling": 4}
PUT_BY = (("T-005", 4, "118", "Ilvane", "2025-11-18"), ("T-038", 4, "118", "Ilvane", "2025-11-18"))


# Whole machines whose pump is gone and whose engine runs, and good pumps off machines whose engine is: what was drawn
# before does not pair up, for an engine alone says nothing of its water.
SEIZED, BURNT = "pump seized, engine runs", "engine burnt out, pump tested on the bench"
PAIR_UP = (
    ("M-001", SEIZED, "runs", 310.0, 60.0, "F1"),
    ("M-012", SEIZED, "runs", None, 55.0, "F1"),
    ("M-016", SEIZED, "tested good", 140.0, 90.0, "F2"),
    ("M-017", SEIZED, "runs", None, None, "F2"),
    ("M-019", SEIZED, "tested good", 205.0, 75.0, "F3"),
    ("M-021", SEIZED, "runs", 480.0, 40.0, "F3"),
    ("M-031", SEIZED, "runs", None, 45.0, "F4"),
    ("M-032", SEIZED, "tested good", 90.0, 80.0, "F4"),
    ("M-050", SEIZED, "runs", 260.0, 35.0, "F5"),
    ("P-001", BURNT, "tested good", 150.0, 45.0, "C2"),
    ("P-006", BURNT, "runs", 420.0, 20.0, "C2"),
    ("P-003", BURNT, "tested good", None, 35.0, "C4"),
    ("P-008", BURNT, "tested good", 75.0, 50.0, "C4"),
    ("P-026", BURNT, "tested good", 110.0, 65.0, "C5"),
    ("P-027", BURNT, "runs", None, 25.0, "C5"),
    ("P-031", BURNT, "runs", 380.0, 30.0, "C6"),
    ("P-034", BURNT, "tested good", 60.0, 70.0, "C6"),
    ("P-036", BURNT, "tested good", None, None, "C7"),
    ("P-053", BURNT, "tested good", 210.0, 40.0, "C7"),
    ("P-054", BURNT, "runs", None, 30.0, "C8"),
    ("P-064", BURNT, "tested good", 95.0, 55.0, "C8"),
    ("P-101", BURNT, "runs", 330.0, 25.0, "C9"),
)


def to_pair_up(units: Sequence[SalvagedUnit]) -> tuple[SalvagedUnit, ...]:
    """Return ``units`` and those that came in later, which pair up."""
    later = (
        SalvagedUnit(
            unit_id=f"U-{number:03d}",
            entry_id=entry_id,
            taken_from=taken_from,
            condition=condition,
            hours=hours,
            price=price,
            bin=label,
            tested_on="2025-10-30" if condition == "tested good" else "",
        )
        for number, (entry_id, taken_from, condition, hours, price, label) in enumerate(PAIR_UP, start=len(units) + 1)
    )
    return (*units, *later)


def unit_reservations() -> tuple[UnitReservationRow, ...]:
    """Return what is put by of the salvaged units for the shop's job 118."""
    return (UnitReservationRow("RU-001", "U-016", "118", "Ilvane", "2025-11-18"),)


def shelf(dice: Dice, parts: Sequence[PartRow], pumps: Sequence[str]) -> tuple[ShelfRow, ...]:
    """Return the bins with parts, then those with whole pumps."""
    stocked = [part for part in parts if part.kind in ALWAYS or dice.chance(0.7)]
    rows = [
        ShelfRow("", part.part_id, "", _bin(dice), dice.whole(4, 24), None, dice.day(2025, 2025)) for part in stocked
    ]
    rows.extend(
        ShelfRow("", "", pump, _bin(dice), dice.whole(1, 3), float(dice.whole(90, 260)), dice.day(2025, 2025))
        for pump in pumps
    )
    kinds = {part.part_id: part.kind for part in parts}
    return tuple(
        replace(row, shelf_id=f"S-{number:03d}", low_at=LOW_AT.get(kinds.get(row.part_id, "")))
        for number, row in enumerate(rows, start=1)
    )


def added_to_shelf(dice: Dice, parts: Sequence[PartRow], bins: Sequence[ShelfRow]) -> tuple[ShelfRow, ...]:
    """Return ``bins`` and new ones for parts that came into the shop later; two in ten of those are to order."""
    stocked = [part for part in parts if dice.chance(0.8)]
    later = (
        ShelfRow(f"S-{number:03d}", part.part_id, "", _bin(dice), dice.whole(1, 4), None, dice.day(2025, 2025))
        for number, part in enumerate(stocked, start=len(bins) + 1)
    )
    return (*bins, *later)


def reservations(places: Sequence[ShelfRow]) -> tuple[ReservationRow, ...]:
    """Return what is put by for the shop's job 118."""
    lies = {place.part_id: place.shelf_id for place in places}
    return tuple(
        ReservationRow(f"R-{number:03d}", lies[part_id], pieces, job, who, day)
        for number, (part_id, pieces, job, who, day) in enumerate(PUT_BY, start=1)
    )


def salvaged(dice: Dice, entries: Sequence[Entry]) -> tuple[SalvagedUnit, ...]:
    """Return used pumps and drivers: every fifth pump and every second driver."""
    units = [entry for entry in entries if entry.kind == "pump"][::5] + [
        entry for entry in entries if entry.kind == "driver"
    ][::2]
    rows: list[SalvagedUnit] = []
    for number, entry in enumerate(units, start=1):
        condition = dice.pick(CONDITIONS)
        rows.append(
            SalvagedUnit(
                unit_id=f"U-{number:03d}",
                entry_id=entry.entry_id,
                taken_from=dice.pick(DEAD),
                condition=condition,
                hours=float(dice.whole(20, 900)) if dice.chance(0.4) else None,
                price=float(dice.whole(15, 120)) if dice.chance(0.7) else None,
                bin=_bin(dice),
                tested_on=dice.day(2025, 2025) if condition == "tested good" else "",
            )
        )
    return tuple(rows)


def outcomes(dice: Dice, units: Units) -> tuple[OutcomeRow, ...]:
    """Return what happened with the first pumps of every family on its first machine."""
    happened = (
        (FITS, "installed and fine", ""),
        (NEEDS_SPACER, "installed with parts", "spacers under the flange"),
        (CANNOT_FIT, "did not fit", "would not go on the shaft or turns at the wrong speed"),
    )
    rows: list[OutcomeRow] = []
    for key, machines in units.machines_of.items():
        for place, result, note in happened[: 3 if key in {"V78", "H34"} else 1]:
            pump = units.pumps_of[key][place]
            outcome_id = f"O-{len(rows) + 1:03d}"
            rows.append(
                OutcomeRow(outcome_id, machines[0], pump, result, note, dice.pick(PEOPLE), dice.day(2025, 2025))
            )
    return tuple(rows)


def _bin(dice: Dice) -> str:
    return f"{dice.pick('ABCDEF')}{dice.whole(1, 12)}"
