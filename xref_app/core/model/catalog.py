"""The rows of the catalog as plain values: one class per table of data_schema, one attribute per column.

Dates are ISO texts (``2026-11-25``); an empty text or None stands for 'not known'.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Entry:
    """A pump, a driver (engine or motor) or a machine the shop knows of."""

    entry_id: str
    kind: str
    maker: str
    name: str
    note: str = ""
    added_by: str = ""
    added_on: str = ""
    withdrawn_on: str = ""


@dataclass(frozen=True, slots=True)
class Number:
    """A number under which an entry is known, as written on the plate or sheet."""

    entry_id: str
    number: str
    role: str
    how: str
    source: str = ""


def number_to_call(entry_id: str, numbers: Sequence[Number]) -> str:
    """Return the number to call an entry by: its maker's, else its first, else its id."""
    makers = [one.number for one in numbers if one.role == "maker"]
    return next(iter([*makers, *(one.number for one in numbers)]), entry_id)


@dataclass(frozen=True, slots=True)
class Observation:
    """One value of one field of one entry: as typed, converted, its doubt, how known, by whom, when."""

    observation_id: int
    entry_id: str
    field: str
    as_typed: str
    value: float | None
    text: str
    doubt: float | None
    how: str
    seen_by: str = ""
    seen_on: str = ""
    source: str = ""
    withdrawn_on: str = ""


@dataclass(frozen=True, slots=True)
class MachineRow:
    """One build of a machine model: what drives it, which pump was on it, and how to tell it from its sisters."""

    entry_id: str
    model: str
    driver_id: str
    pump_id: str = ""
    built_from: str = ""
    built_to: str = ""
    tell_apart: str = ""


@dataclass(frozen=True, slots=True)
class DriverRow:
    """What kind of driver an entry is and which published frame its plate names, if any."""

    entry_id: str
    power_kind: str
    frame: str = ""


@dataclass(frozen=True, slots=True)
class PortRow:
    """One water port of an entry: inlet or outlet of a pump, supply or discharge of a machine."""

    entry_id: str
    port: str
    thread: str
    gender: str
    seal_mm: float | None = None
    swivel: bool | None = None
    direction_deg: float | None = None
    how: str = "measured"
    seen_by: str = ""
    seen_on: str = ""


@dataclass(frozen=True, slots=True)
class PartRow:
    """One listed part; which sizes are given depends on its kind."""

    part_id: str
    kind: str
    name: str
    thickness_mm: float | None = None
    outside_mm: float | None = None
    inside_mm: float | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    hub_width_mm: float | None = None
    hub_height_mm: float | None = None
    length_mm: float | None = None
    thread: str = ""
    end_1_thread: str = ""
    end_1_gender: str = ""
    end_1_seal_mm: float | None = None
    end_1_swivel: bool | None = None
    end_2_thread: str = ""
    end_2_gender: str = ""
    end_2_seal_mm: float | None = None
    end_2_swivel: bool | None = None
    end_3_thread: str = ""
    end_3_gender: str = ""
    end_3_seal_mm: float | None = None
    end_3_swivel: bool | None = None
    rating_bar: float | None = None
    max_c: float | None = None
    number: float | None = None
    bore_a_mm: float | None = None
    bore_b_mm: float | None = None
    torque_nm: float | None = None
    cost: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """What lies in which bin: a part or a whole pump, and how many; at ``low_at`` pieces or fewer it is marked low."""

    shelf_id: str
    part_id: str
    entry_id: str
    bin: str
    count: int
    price: float | None = None
    counted_on: str = ""
    low_at: int | None = None


@dataclass(frozen=True, slots=True)
class ReservationRow:
    """Pieces of one shelf place that are put by for ``job`` until ``released_on``; the job in the shop's own words."""

    reservation_id: str
    shelf_id: str
    quantity: int
    job: str
    reserved_by: str = ""
    reserved_on: str = ""
    released_on: str = ""


@dataclass(frozen=True, slots=True)
class SalvagedUnit:
    """A used pump or driver taken from a dead machine."""

    unit_id: str
    entry_id: str
    taken_from: str = ""
    condition: str = "unknown"
    hours: float | None = None
    price: float | None = None
    bin: str = ""
    tested_on: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class UnitReservationRow:
    """A salvaged unit that is put by for ``job`` until ``released_on``; both sides of a pair have the same job."""

    reservation_id: str
    unit_id: str
    job: str
    reserved_by: str = ""
    reserved_on: str = ""
    released_on: str = ""


@dataclass(frozen=True, slots=True)
class ReplacedBy:
    """One step of a chain: the maker or a seller names ``new_entry_id`` as what replaces ``entry_id``."""

    entry_id: str
    new_entry_id: str
    since: str = ""
    how: str = "claimed"
    source: str = ""


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture of an entry; its bytes lie beside the store under ``content_hash`` (SHA-256, hexadecimal)."""

    entry_id: str
    content_hash: str
    caption: str
    width_px: int
    height_px: int
    added_by: str = ""
    added_on: str = ""


@dataclass(frozen=True, slots=True)
class OutcomeRow:
    """What happened when a pump was put on a machine."""

    outcome_id: str
    machine_id: str
    pump_id: str
    result: str
    note: str = ""
    seen_by: str = ""
    seen_on: str = ""


@dataclass(frozen=True, slots=True)
class BlamedSize:
    """A size that is blamed for an outcome: ``field`` of ``entry_id``.

    Readings of it up to the number ``doubts_up_to`` do not count until somebody looks again; 0 doubts none, where the
    verdict had not said that it fits.
    """

    blamed_id: str
    outcome_id: str
    entry_id: str
    field: str
    doubts_up_to: int
