"""The physical families of the sample: what fits together by design, as people would say the sizes.

Every size is invented. What follows a published standard is named: keys (ASME B17.1, ISO 773), motor faces and shafts
(NEMA MG 1 4.4.4 for 56C and 145TC; IEC 60072-1 for 80 and 90 B14, whose flange columns are from memory). Engine faces
are "common practice, no published source". Alternatives divided by ``|`` say the same size in other ways.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from tests.sample.said import inch_key_mm

Sizes = Mapping[str, str]
Port = tuple[str, str, str]  # thread, gender, seal in mm or ""

HOSE_MALE: Port = ("3/4-11.5 NH", "male", "")
HOSE_FEMALE: Port = ("3/4-11.5 NH", "female", "")
G34_MALE: Port = ("G3/4 flat end", "male", "")
G34_FEMALE: Port = ("G3/4 flat end", "female", "")
M22_14_MALE: Port = ("M22x1.5", "male", "14")
M22_14_FEMALE: Port = ("M22x1.5", "female", "14")
M22_15_MALE: Port = ("M22x1.5", "male", "15")
M22_15_FEMALE: Port = ("M22x1.5", "female", "15")
NPT38_FEMALE: Port = ("3/8-18 NPT", "female", "")
G38_FEMALE: Port = ("G3/8 flat shoulder", "female", "")
G38_CONE_MALE: Port = ("G3/8 cone 60", "male", "")
NPT12_FEMALE: Port = ("1/2-14 NPT", "female", "")
G12_FEMALE: Port = ("G1/2 flat shoulder", "female", "")


@dataclass(frozen=True, slots=True)
class Family:
    """One kind of drive: its drivers, machines and the pumps made for it.

    ``driver``, ``machine`` and ``pump`` are the base sizes; each of the ``..._variants`` overrides some and one is
    taken in turn; the machine's go with the driver's.
    ``misfit`` makes the family's look-alike pump that cannot go on. ``short_bore`` is the bore depth of
    the pump that needs a spacer.
    """

    key: str
    title: str
    frame: str
    pumps: int
    machines: int
    driver: Sizes
    driver_variants: tuple[Sizes, ...]
    machine: Sizes
    pump: Sizes
    pump_variants: tuple[Sizes, ...]
    ratings: tuple[Sizes, ...]
    short_bore: str
    misfit: Sizes
    supply: Port = HOSE_MALE
    discharge: Port = M22_14_FEMALE
    inlets: tuple[Port, ...] = (HOSE_FEMALE, HOSE_FEMALE, NPT12_FEMALE)
    outlets: tuple[Port, ...] = (M22_14_MALE, M22_14_MALE, NPT38_FEMALE, M22_15_MALE, G38_FEMALE)
    machine_variants: tuple[Sizes, ...] = ({},)


SQUARE_DEG = (45, 135, 225, 315)


def inch_drive(
    shaft: str, key: str, shaft_said: str, bore_said: str, axis: str
) -> tuple[dict[str, str], dict[str, str]]:
    """Return the shaft's and the bore's sizes for an inch shaft with its square key."""
    top, floor = inch_key_mm(Fraction(shaft), Fraction(key))
    shaft_sizes = {
        "shaft_form": "straight keyed",
        "shaft_axis": axis,
        "shaft_diameter_mm": shaft_said,
        "shaft_key_width_mm": f"{key} in",
        "shaft_key_top_mm": top,
    }
    bore_sizes = {
        "bore_form": "hollow keyed",
        "bore_axis": axis,
        "bore_diameter_mm": bore_said,
        "bore_keyway_width_mm": f"{key} in",
        "bore_keyway_floor_mm": floor,
    }
    return shaft_sizes, bore_sizes


def metric_drive(shaft_mm: int, key_mm: int, top_mm: str, floor_mm: str) -> tuple[dict[str, str], dict[str, str]]:
    """Return the shaft's and the bore's sizes for a metric shaft with its key (ISO 773)."""
    shaft_sizes = {
        "shaft_form": "straight keyed",
        "shaft_axis": "horizontal",
        "shaft_diameter_mm": f"{shaft_mm} mm|{shaft_mm - 1}.99 mm",
        "shaft_key_width_mm": f"{key_mm} mm",
        "shaft_key_top_mm": f"{top_mm} mm",
    }
    bore_sizes = {
        "bore_form": "hollow keyed",
        "bore_axis": "horizontal",
        "bore_diameter_mm": f"{shaft_mm} mm|{shaft_mm}.02 mm",
        "bore_keyway_width_mm": f"{key_mm} mm|{key_mm}.02 mm",
        "bore_keyway_floor_mm": f"{floor_mm} mm",
    }
    return shaft_sizes, bore_sizes


def reach(projection: str, keyseat: str, from_end: str = "0 mm") -> dict[str, str]:
    """Return how far the shaft stands out and where its keyseat lies."""
    return {
        "shaft_projection_mm": projection,
        "shaft_keyseat_length_mm": keyseat,
        "shaft_keyseat_from_end_mm": from_end,
        "shaft_turn": "ccw",
    }


def depth(bore: str, keyway_to: str, recess: str = "0 mm") -> dict[str, str]:
    """Return how deep the bore goes and where its keyway lies."""
    return {
        "bore_depth_mm": bore,
        "bore_recess_mm": recess,
        "bore_keyway_from_mm": "0 mm",
        "bore_keyway_to_mm": keyway_to,
        "bore_turn": "either",
    }


def tapped_face(pattern: str, bolt: str, bolt_length: str, tapped: str, material: str) -> dict[str, str]:
    """Return a driving face with threaded holes."""
    return {
        "face_holes_xy_mm": pattern,
        "face_hole_kind": "tapped",
        "face_bolt": bolt,
        "face_bolt_length_mm": bolt_length,
        "face_tapped_depth_mm": tapped,
        "face_material": material,
    }


def flange(pattern: str, hole: str, thickness: str) -> dict[str, str]:
    """Return a pump's flange."""
    return {"flange_holes_xy_mm": pattern, "flange_hole_mm": hole, "flange_thickness_mm": thickness}


def seats(prefix: str, kind: str, pilot: tuple[str, str, str] = ("none", "", ""), heights: str = "") -> dict[str, str]:
    """Return seats and pilot of a face or flange; sizes that do not exist are left out."""
    pilot_kind, pilot_mm, pilot_depth = pilot
    found = {
        f"{prefix}_pilot_kind": pilot_kind,
        f"{prefix}_pilot_mm": pilot_mm,
        f"{prefix}_pilot_depth_mm": pilot_depth,
        f"{prefix}_seat_kind": kind,
        f"{prefix}_seat_heights_mm": heights,
    }
    return {name: value for name, value in found.items() if value}


def room_and_water(flow: str, rating: str, nozzle: str, working: str) -> dict[str, str]:
    """Return a machine's water and room."""
    return {
        "supply_flow_lpm": flow,
        "supply_temperature_c": "15 C|18 C|20 C",
        "supply_pressure_bar": "3 bar|3.5 bar|45 psi",
        "discharge_rating_bar": rating,
        "nozzle_number": nozzle,
        "working_pressure_bar": working,
        "room_outlet_free_deg": "0 360|0 200; 250 360",
        "room_length_mm": "280 mm|310 mm",
    }


def rated(pressure: str, flow: str, speed: str, fastest: str) -> dict[str, str]:
    """Return a pump's rating."""
    return {
        "rating_pressure_bar": pressure,
        "rating_flow_lpm": flow,
        "rating_speed_rpm": speed,
        "rating_max_speed_rpm": fastest,
    }


EVERY_PUMP = {
    "rating_max_inlet_c": "60 C",
    "rating_min_supply_bar": "0.5 bar",
    "rating_max_supply_bar": "8 bar",
    "has_unloader": "yes",
    "has_thermal_relief": "yes",
    "has_chemical_inlet": "yes",
    "has_inlet_screen": "yes",
    "oil": "sealed",
    "pump_length_mm": "205 mm|212 mm|221 mm",
}
