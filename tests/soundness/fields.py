"""Where each value of a CASE.json lies, its default doubt, and what it could be where nobody knows it.

Default doubts are the house rule of design.md section 3, typed here a second time on purpose.
"""

from __future__ import annotations

from typing import Any

# A case is free-form JSON until xref_app has checked it against its schema.
Json = dict[str, Any]

# id: (path, default doubt, wild low, wild high). Wild limits are invented: wide enough to hold fits and misfits.
SIZES: dict[str, tuple[str, float, float, float]] = {
    "shaft_diameter_mm": ("machine.shaft.diameter_mm", 0.05, 10, 45),
    "shaft_projection_mm": ("machine.shaft.projection_mm", 0.10, 10, 90),
    "shaft_key_width_mm": ("machine.shaft.key_width_mm", 0.05, 3, 12),
    "shaft_key_top_mm": ("machine.shaft.key_top_mm", 0.05, 12, 48),
    "shaft_keyseat_length_mm": ("machine.shaft.keyseat_length_mm", 0.10, 1, 60),
    "shaft_keyseat_from_end_mm": ("machine.shaft.keyseat_from_end_mm", 0.10, 0, 50),
    "face_hole_mm": ("machine.face.hole_mm", 0.10, 5, 14),
    "face_thickness_mm": ("machine.face.thickness_mm", 0.05, 3, 25),
    "face_bolt_length_mm": ("machine.face.bolt_length_mm", 0.05, 8, 80),
    "face_tapped_depth_mm": ("machine.face.tapped_depth_mm", 0.10, 3, 30),
    "face_pilot_mm": ("machine.face.pilot_mm", 0.05, 50, 150),
    "face_pilot_depth_mm": ("machine.face.pilot_depth_mm", 0.10, 1, 8),
    "power_kw": ("machine.power.power_kw", 0.05, 0.3, 12),
    "power_speed_rpm": ("machine.power.speed_rpm", 0, 900, 4500),
    "supply_seal_mm": ("machine.water.supply.seal_mm", 0.10, 13.9, 15.1),
    "supply_flow_lpm": ("machine.water.supply.flow_lpm", 0.5, 3, 40),
    "supply_temperature_c": ("machine.water.supply.temperature_c", 1, 2, 95),
    "supply_pressure_bar": ("machine.water.supply.pressure_bar", 0.2, 0.1, 12),
    "discharge_seal_mm": ("machine.water.discharge.seal_mm", 0.10, 13.9, 15.1),
    "discharge_rating_bar": ("machine.water.discharge.rating_bar", 0, 60, 400),
    "nozzle_number": ("machine.water.nozzle_number", 0, 1, 9),
    "working_pressure_bar": ("machine.water.working_pressure_bar", 0, 40, 300),
    "room_length_mm": ("machine.room.length_mm", 5, 100, 400),
    "bore_diameter_mm": ("pump.bore.diameter_mm", 0.10, 10, 45),
    "bore_depth_mm": ("pump.bore.depth_mm", 0.10, 10, 100),
    "bore_recess_mm": ("pump.bore.recess_mm", 0.10, 0, 60),
    "bore_keyway_width_mm": ("pump.bore.keyway_width_mm", 0.10, 3, 12),
    "bore_keyway_floor_mm": ("pump.bore.keyway_floor_mm", 0.10, 12, 48),
    "bore_keyway_from_mm": ("pump.bore.keyway_from_mm", 0.10, 0, 60),
    "bore_keyway_to_mm": ("pump.bore.keyway_to_mm", 0.10, 1, 90),
    "flange_hole_mm": ("pump.flange.hole_mm", 0.10, 5, 14),
    "flange_thickness_mm": ("pump.flange.thickness_mm", 0.05, 3, 30),
    "flange_pilot_mm": ("pump.flange.pilot_mm", 0.10, 50, 150),
    "flange_pilot_depth_mm": ("pump.flange.pilot_depth_mm", 0.10, 1, 8),
    "inlet_seal_mm": ("pump.ports.inlet.seal_mm", 0.10, 13.9, 15.1),
    "outlet_seal_mm": ("pump.ports.outlet.seal_mm", 0.10, 13.9, 15.1),
    "outlet_direction_deg": ("pump.ports.outlet.direction_deg", 5, 0, 360),
    "rating_pressure_bar": ("pump.rating.pressure_bar", 0, 50, 350),
    "rating_flow_lpm": ("pump.rating.flow_lpm", 0.05, 2, 30),
    "rating_speed_rpm": ("pump.rating.speed_rpm", 0, 900, 4500),
    "rating_max_speed_rpm": ("pump.rating.max_speed_rpm", 0, 900, 4500),
    "rating_max_inlet_c": ("pump.rating.max_inlet_c", 0, 20, 95),
    "rating_min_supply_bar": ("pump.rating.min_supply_bar", 0, 0, 4),
    "rating_max_supply_bar": ("pump.rating.max_supply_bar", 0, 2, 12),
    "pump_length_mm": ("pump.length_mm", 1, 100, 400),
}

WATER_THREADS = (
    *("M22x1.5", "3/8-18 NPT", "3/4-11.5 NH", "3/4-14 NPT", "M24x1.5", "M24x1.5 cone 24 S"),
    *("G3/8", "G3/8 cone 60", "G3/8 flat shoulder", "G3/4", "G3/4 flat end"),
)
# What the ends of a thread are sold with that screw together and do not seal; the standards are from memory:
# G: ISO 8434-6, ISO 1179; metric: ISO 8434-1, DIN 3863, ISO 9974, ISO 6149. A screw coupling has its seal instead.
SOLD_WITH = {
    "G": ("cone 60", "flat shoulder", "flat end", "O-ring"),
    "M": ("cone 24 L", "cone 24 S", "cone 60", "flat shoulder", "flat end", "O-ring"),
}

# id: (path, what it could be where nobody knows it).
WORDS: dict[str, tuple[str, tuple[str, ...]]] = {
    "shaft_form": ("machine.shaft.form", ("straight keyed", "straight plain", "tapered", "threaded", "splined")),
    "shaft_axis": ("machine.shaft.axis", ("horizontal", "vertical")),
    "shaft_turn": ("machine.shaft.turn", ("cw", "ccw")),
    "face_hole_kind": ("machine.face.hole_kind", ("tapped", "through")),
    "face_bolt": ("machine.face.bolt", ("1/4-20 UNC", "5/16-24 UNF", "3/8-16 UNC", "M6x1", "M8x1.25", "M10x1.5")),
    "face_material": ("machine.face.material", ("aluminium", "iron", "steel")),
    "face_pilot_kind": ("machine.face.pilot_kind", ("none", "boss", "recess")),
    "face_seat_kind": ("machine.face.seat_kind", ("flat face", "legs")),
    "power_kind": ("machine.power.kind", ("petrol", "electric")),
    "supply_thread": ("machine.water.supply.thread", WATER_THREADS),
    "supply_gender": ("machine.water.supply.gender", ("male", "female")),
    "discharge_thread": ("machine.water.discharge.thread", WATER_THREADS),
    "discharge_gender": ("machine.water.discharge.gender", ("male", "female")),
    "bore_form": ("pump.bore.form", ("hollow keyed", "hollow plain", "hollow splined", "solid keyed")),
    "bore_axis": ("pump.bore.axis", ("horizontal", "vertical", "both")),
    "bore_turn": ("pump.bore.turn", ("cw", "ccw", "either")),
    "flange_pilot_kind": ("pump.flange.pilot_kind", ("none", "boss", "recess")),
    "flange_seat_kind": ("pump.flange.seat_kind", ("flat face", "legs")),
    "inlet_thread": ("pump.ports.inlet.thread", WATER_THREADS),
    "inlet_gender": ("pump.ports.inlet.gender", ("male", "female")),
    "outlet_thread": ("pump.ports.outlet.thread", WATER_THREADS),
    "outlet_gender": ("pump.ports.outlet.gender", ("male", "female")),
    "oil": ("pump.oil", ("sealed", "vented for a horizontal shaft", "vented for a vertical shaft", "vented for both")),
}

FLAGS: dict[str, str] = {
    "has_unloader": "pump.has.unloader",
    "has_thermal_relief": "pump.has.thermal_relief",
    "old_unloader": "old_pump.has.unloader",
    "old_thermal_relief": "old_pump.has.thermal_relief",
}

PATTERNS = {"machine": "machine.face.holes_xy_mm", "pump": "pump.flange.holes_xy_mm"}
HEIGHTS = {"machine": "machine.face.seat_heights_mm", "pump": "pump.flange.seat_heights_mm"}
SECTORS = "machine.room.outlet_free_deg"
HOLE_DOUBT_MM = 0.10
HEIGHT_DOUBT_MM = 0.05

# Absent on purpose (a rule stands in for it) or looked at on arrival: not knowing it makes nothing of it.
ABSENT_IS_ALLOWED = frozenset(
    {"face_material", "face_hole_kind", "rating_max_speed_rpm", "oil", "room_length_mm", "pump_length_mm"}
    | {"outlet_direction_deg", "power_kind"}
)


def look_up(case: Json, path: str) -> Any:  # a JSON value
    """Return what stands at a dotted path, None where nothing does."""
    here: Any = case  # a JSON value
    for name in path.split("."):
        if not isinstance(here, dict) or name not in here:
            return None
        here = here[name]
    return here


def put(case: Json, path: str, value: Any) -> None:  # a JSON value
    """Write a value at a dotted path; None removes it."""
    *parents, last = path.split(".")
    here = case
    for name in parents:
        here = here.setdefault(name, {})
    if value is None:
        here.pop(last, None)
    else:
        here[last] = value
