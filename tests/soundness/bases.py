"""Cases that fit, of the kinds the trade meets: the starting points of the random ones.

All numbers are invented but for sizes of ASME B17.1, ISO 773, NEMA MG 1 (56C) and IEC 60072-1 (frame 90, B14).
"""

from __future__ import annotations

import copy
import math
from typing import Any

from tests.soundness.fields import Json, put

_SECTION_10: Json = {
    "machine": {
        "shaft": {
            "form": "straight keyed",
            "axis": "horizontal",
            "diameter_mm": {"value": 19.03, "doubt": 0.02, "how": "measured"},
            "projection_mm": 61.9,
            "key_width_mm": 4.76,
            "key_top_mm": 21.12,
            "keyseat_length_mm": 38.1,
            "keyseat_from_end_mm": 0,
            "turn": "ccw",
        },
        "face": {
            "holes_xy_mm": [[46, 0], [0, 46], [-46, 0], [0, -46]],
            "bolt": "5/16-24 UNF",
            "bolt_length_mm": 31.75,
            "tapped_depth_mm": 19,
            "material": "aluminium",
            "pilot_kind": "none",
            "seat_heights_mm": [0, 0, 0, 0],
        },
        "power": {"kind": "petrol", "power_kw": 4.1, "speed_rpm": 3400},
        "water": {
            "supply": {
                "thread": "3/4-11.5 NH",
                "gender": "male",
                "flow_lpm": 19,
                "temperature_c": 20,
                "pressure_bar": 3,
            },
            "discharge": {"thread": "M22x1.5", "gender": "female", "seal_mm": 14, "rating_bar": 230},
            "nozzle_number": 3.5,
            "working_pressure_bar": 140,
        },
        "room": {"outlet_free_deg": [[0, 360]], "length_mm": 250},
    },
    "pump": {
        "bore": {
            "form": "hollow keyed",
            "axis": "horizontal",
            "diameter_mm": 19.05,
            "depth_mm": 65,
            "recess_mm": 0,
            "keyway_width_mm": 4.78,
            "keyway_floor_mm": 21.26,
            "keyway_from_mm": 0,
            "keyway_to_mm": 60,
            "turn": "either",
        },
        "flange": {
            "holes_xy_mm": [[46, 0], [0, 46], [-46, 0], [0, -46]],
            "hole_mm": 8.7,
            "thickness_mm": 12,
            "pilot_kind": "none",
            "seat_heights_mm": [0, 0, 0, 0],
        },
        "ports": {
            "inlet": {"thread": "3/4-11.5 NH", "gender": "female"},
            "outlet": {"thread": "M22x1.5", "gender": "male", "seal_mm": 14, "direction_deg": 90},
        },
        "rating": {
            "pressure_bar": 190,
            "flow_lpm": 9.5,
            "speed_rpm": 3400,
            "max_speed_rpm": 3600,
            "max_inlet_c": 60,
            "min_supply_bar": 0.5,
            "max_supply_bar": 8,
        },
        "has": {"unloader": True, "thermal_relief": True, "chemical_inlet": True, "inlet_screen": True},
        "oil": "sealed",
        "length_mm": 210,
    },
    "old_pump": {"has": {"unloader": True, "thermal_relief": True}},
    "shelf": [{"kind": "spacer", "thickness_mm": 3.2, "count": 4, "cost": 0.4}],
}


def changed(case: Json, **by_path: Any) -> Json:  # JSON values
    """Return a copy with values put at paths written with ``__`` for the dot."""
    result = copy.deepcopy(case)
    for path, value in by_path.items():
        put(result, path.replace("__", "."), value)
    return result


def on_circle(radius_mm: float, *angles_deg: float) -> list[list[float]]:
    """Return holes on a circle, rounded as a caliper shows them."""
    turns = [math.radians(angle) for angle in angles_deg]
    return [[round(radius_mm * math.cos(turn), 2), round(radius_mm * math.sin(turn), 2)] for turn in turns]


def section_10() -> Json:
    """Return the case of design.md section 10: horizontal 3/4 in, four bolts."""
    return copy.deepcopy(_SECTION_10)


def vertical_three_legs() -> Json:
    """Return a vertical 7/8 in shaft with three unequally spaced legs."""
    legs = on_circle(101.0, 90, 240, 342)
    case = changed(
        _SECTION_10,
        machine__shaft={
            "form": "straight keyed",
            "axis": "vertical",
            "diameter_mm": 22.21,
            "projection_mm": 61.0,
            "key_width_mm": 4.74,
            "key_top_mm": 24.2,
            "keyseat_length_mm": 40,
            "keyseat_from_end_mm": 1,
            "turn": "cw",
        },
        machine__face__holes_xy_mm=legs,
        machine__face__seat_kind="legs",
        machine__face__seat_heights_mm=[0, 0, 0],
        machine__power={"kind": "petrol", "power_kw": 4.4, "speed_rpm": 3100},
        machine__water__working_pressure_bar=120,
        machine__room__length_mm=None,
        pump__flange__holes_xy_mm=legs,
        pump__flange__seat_kind="legs",
        pump__flange__seat_heights_mm=[0, 0, 0],
        pump__flange__hole_mm=9.0,
        pump__rating__max_speed_rpm=None,
    )
    bore = {"diameter_mm": 22.25, "keyway_floor_mm": 24.6, "axis": "vertical", "turn": "cw", "depth_mm": 66}
    case["pump"]["bore"] |= bore
    return case


def one_inch() -> Json:
    """Return a horizontal 1 in shaft with a 1/4 in key and four bolts, no two gaps between them equal."""
    holes = [[52.0, 31.0], [-52.0, 31.0], [-47.0, -36.0], [49.0, -36.0]]
    return changed(
        _SECTION_10,
        machine__shaft__diameter_mm=25.38,
        machine__shaft__key_width_mm=6.33,
        machine__shaft__key_top_mm=28.05,
        machine__shaft__projection_mm=80,
        machine__shaft__keyseat_length_mm=45,
        machine__face__holes_xy_mm=holes,
        machine__face__bolt="3/8-16 UNC",
        machine__face__material="iron",
        machine__face__bolt_length_mm=31.75,
        machine__face__tapped_depth_mm=22,
        machine__power={"kind": "petrol", "power_kw": 9.7, "speed_rpm": 3400},
        machine__water__supply__flow_lpm=24,
        machine__water__nozzle_number=5,
        machine__water__working_pressure_bar=173,
        machine__water__discharge={"thread": "3/8-18 NPT", "gender": "male", "rating_bar": 280},
        pump__bore__diameter_mm=25.43,
        pump__bore__depth_mm=84,
        pump__bore__keyway_width_mm=6.4,
        pump__bore__keyway_floor_mm=28.42,
        pump__bore__keyway_to_mm=80,
        pump__flange__holes_xy_mm=holes,
        pump__flange__hole_mm=10.4,
        pump__ports__outlet={"thread": "3/8-18 NPT", "gender": "female", "direction_deg": 0},
        pump__rating={
            "pressure_bar": 250,
            "flow_lpm": 15,
            "speed_rpm": 3400,
            "max_inlet_c": 60,
            "min_supply_bar": 0,
            "max_supply_bar": 8,
        },
    )


def through_bolts() -> Json:
    """Return the 1 in case with bolts passing the face to nuts."""
    return changed(
        one_inch(),
        machine__face__hole_kind="through",
        machine__face__hole_mm=10.5,
        machine__face__thickness_mm=10,
        machine__face__tapped_depth_mm=None,
        machine__face__bolt_length_mm=44.45,
    )


def motor_56c() -> Json:
    """Return a NEMA 56C motor: 5/8 in shaft, boss of 4.5 in on the motor and a register on the pump."""
    holes = on_circle(5.875 * 25.4 / 2, 45, 135, 225, 315)
    return changed(
        _SECTION_10,
        machine__shaft__diameter_mm=15.86,
        machine__shaft__key_top_mm=17.8,
        machine__shaft__projection_mm=52.3,
        machine__shaft__keyseat_length_mm=35.8,
        machine__face={
            "holes_xy_mm": holes,
            "bolt": "3/8-16 UNC",
            "bolt_length_mm": 25.4,
            "tapped_depth_mm": 14,
            "material": "iron",
            "pilot_kind": "boss",
            "pilot_mm": {"value": 114.27, "doubt": 0.03, "how": "standard"},
            "pilot_depth_mm": 4.0,
            "seat_kind": "flat face",
        },
        machine__power={"kind": "electric", "power_kw": 2.3, "speed_rpm": 1725},
        machine__water__nozzle_number=3,
        machine__water__working_pressure_bar=133,
        pump__bore__diameter_mm=15.9,
        pump__bore__depth_mm=56,
        pump__bore__keyway_floor_mm=18.12,
        pump__bore__keyway_to_mm=52,
        pump__flange={
            "holes_xy_mm": holes,
            "hole_mm": 10.4,
            "thickness_mm": 12,
            "pilot_kind": "recess",
            "pilot_mm": {"value": 114.45, "doubt": 0.05, "how": "measured"},
            "pilot_depth_mm": 5.0,
            "seat_kind": "flat face",
        },
        pump__rating__flow_lpm=8,
        pump__rating__speed_rpm=1750,
        pump__rating__max_speed_rpm=1750,
    )


def motor_iec_24() -> Json:
    """Return an IEC frame 90 motor, B14: 24 mm shaft with an 8x7 key, four M8 on 115 mm."""
    holes = on_circle(57.5, 45, 135, 225, 315)
    return changed(
        motor_56c(),
        machine__shaft__diameter_mm={"value": 23.98, "doubt": 0.03, "how": "measured"},
        machine__shaft__key_width_mm=7.98,
        machine__shaft__key_top_mm=26.9,
        machine__shaft__projection_mm=50,
        machine__shaft__keyseat_length_mm=40,
        machine__face__holes_xy_mm=holes,
        machine__face__bolt="M8x1.25",
        machine__face__pilot_mm=94.99,
        machine__face__pilot_depth_mm=3.0,
        machine__power={"kind": "electric", "power_kw": 4.0, "speed_rpm": 1450},
        machine__water__nozzle_number=4,
        machine__water__working_pressure_bar=146,
        machine__water__discharge={"thread": "G3/8 cone 60", "gender": "female", "rating_bar": 250},
        pump__bore__diameter_mm=24.04,
        pump__bore__depth_mm=54,
        pump__bore__keyway_width_mm=8.05,
        pump__bore__keyway_floor_mm=27.4,
        pump__bore__keyway_to_mm=50,
        pump__flange__holes_xy_mm=holes,
        pump__flange__hole_mm=9.0,
        pump__flange__pilot_mm=95.25,
        pump__flange__pilot_depth_mm=3.8,
        pump__ports__outlet={"thread": "G3/8 cone 60", "gender": "male", "direction_deg": 180},
        pump__rating__flow_lpm=11,
        pump__rating__speed_rpm=1450,
        pump__rating__max_speed_rpm=None,
    )


def slotted() -> Json:
    """Return the section 10 case with radial slots on the pump."""
    slots = [[48, 0, 8, 0], [0, 48, 8, 90], [-48, 0, 8, 180], [0, -48, 8, 270]]
    return changed(_SECTION_10, pump__flange__holes_xy_mm=slots)


BASES = (section_10, vertical_three_legs, one_inch, through_bolts, motor_56c, motor_iec_24, slotted)
