"""Families driven by petrol engines: vertical 7/8 and 1 in on three legs, horizontal 3/4 and 1 in on four bolts.

Bolt circles and projections are invented near what the trade sees; "common practice, no published source".
"""

from __future__ import annotations

from tests.sample.families import (
    EVERY_PUMP,
    SQUARE_DEG,
    Family,
    Sizes,
    depth,
    flange,
    inch_drive,
    rated,
    reach,
    room_and_water,
    seats,
    tapped_face,
)
from tests.sample.said import holes

# Three legs, never evenly spaced: the arcs between them are 150, 102 and 108 degrees, and 140, 110 and 110.
WIDE_LEGS = holes(101.1, 90, 240, 342)
CLOSE_LEGS = holes(92.0, 90, 230, 340)
SMALL_SQUARE = holes(46.04, *SQUARE_DEG)
LARGE_SQUARE = holes(82.55, *SQUARE_DEG)
LEVEL = "0; 0; 0"
# A pump that gives 140 bar at 3400 turns gives this much through the same nozzle at 3600.
AT_3600: Sizes = {"working_pressure_bar": "157 bar"}

_SHAFT_78, _BORE_78 = inch_drive("7/8", "3/16", "7/8 in|22.21 mm|.874 in", "7/8 in|22.24 mm|.876 in", "vertical")
_SHAFT_1V, _BORE_1V = inch_drive("1", "1/4", "1 in|25.38 mm", "1 in|25.42 mm", "vertical")
_SHAFT_34, _BORE_34 = inch_drive("3/4", "3/16", "3/4 in|19.03 mm|.749 in", "3/4 in|19.07 mm", "horizontal")
# A 3/4 in bore on a vertical pump: looks the same on a picture, and no 7/8 in shaft goes in.
_BORE_34V = inch_drive("3/4", "3/16", "3/4 in", "3/4 in|19.08 mm", "vertical")[1]
_SHAFT_1H, _BORE_1H = inch_drive("1", "1/4", "1 in|25.39 mm", "1 in|25.42 mm|1.001 in", "horizontal")

_SMALL_RATINGS: tuple[Sizes, ...] = (
    rated("2700 psi", "2.5 gpm", "3400 rpm", "3600 rpm"),
    rated("190 bar", "9.5 l/min", "3400 rpm", "3600 rpm"),
    rated("2800 psi", "2.4 gpm", "3400 rpm", "3600 rpm"),
    rated("3000 psi", "2.7 gpm", "3400 rpm", "3600 rpm"),
    rated("3100 psi", "2.55 gpm", "3450 rpm", "3600 rpm"),
)
_LARGE_RATINGS: tuple[Sizes, ...] = (
    rated("4000 psi", "4 gpm", "3400 rpm", "3600 rpm"),
    rated("275 bar", "15 l/min", "3400 rpm", "3600 rpm"),
    rated("3600 psi", "3.5 gpm", "3400 rpm", "3600 rpm"),
    rated("4200 psi", "4 gpm", "3450 rpm", "3600 rpm"),
)


def _petrol(power: str, speed: str) -> dict[str, str]:
    return {"power_kind": "petrol", "power_kw": power, "power_speed_rpm": speed}


def _on_legs(
    key: str,
    title: str,
    legs: str,
    *,
    pumps: int,
    machines: int,
    drivers: tuple[Sizes, ...],
    at_3600: tuple[Sizes, ...],
) -> Family:
    return Family(
        key=key,
        title=title,
        frame="",
        pumps=pumps,
        machines=machines,
        driver=_SHAFT_78
        | reach("65.0 mm", "44.5 mm|1 3/4 in")
        | tapped_face(legs, "5/16-18 UNC", "1 1/2 in", "26 mm", "aluminium")
        | seats("face", "legs", heights=LEVEL),
        driver_variants=drivers,
        machine=room_and_water("5 gpm|19 l/min", "3600 psi", "3.5", "140 bar"),
        pump=_BORE_78
        | depth("70.0 mm", "66 mm")
        | flange(legs, "8.7 mm", "14.0 mm")
        | seats("flange", "legs", heights=LEVEL)
        | EVERY_PUMP,
        pump_variants=(
            {},
            {"bore_depth_mm": "74.0 mm", "bore_keyway_to_mm": "70 mm"},
            {"flange_seat_heights_mm": "0; 0; -2", "oil": "vented for a vertical shaft"},
            {"bore_depth_mm": "58.0 mm", "bore_keyway_to_mm": "55 mm"},
            {"has_thermal_relief": "no", "has_inlet_screen": "no"},
            {"flange_thickness_mm": "12.0 mm", "bore_recess_mm": "4 mm"},
            {"has_chemical_inlet": "no", "oil": "vented for both"},
            # A 1 in bore: the listed sleeve and stepped key make it fit.
            _BORE_1V,
        ),
        ratings=_SMALL_RATINGS,
        short_bore="66.0 mm",
        machine_variants=at_3600,
        misfit=_BORE_34V,
    )


VERTICAL = _on_legs(
    "V78",
    "vertical 7/8 in",
    WIDE_LEGS,
    pumps=20,
    machines=11,
    drivers=(
        _petrol("6.5 hp", "3400 rpm"),
        _petrol("5.5 hp", "3400 rpm"),
        _petrol("6 hp", "3400 rpm") | {"face_seat_heights_mm": "0; -0.8; 0"},
        _petrol("4.8 kW", "3600 rpm"),
        _petrol("6.5 hp", "3450 rpm") | {"shaft_projection_mm": "61.9 mm"},
    ),
    at_3600=({}, {}, {}, AT_3600, {}),
)
VERTICAL_CLOSE = _on_legs(
    "V92",
    "vertical 7/8 in, close legs",
    CLOSE_LEGS,
    pumps=5,
    machines=4,
    drivers=(_petrol("5.5 hp", "3400 rpm"), _petrol("4.1 kW", "3400 rpm") | {"shaft_projection_mm": "64.5 mm"}),
    at_3600=({},),
)
VERTICAL_ONE_INCH = Family(
    key="V1",
    title="vertical 1 in",
    frame="",
    pumps=4,
    machines=3,
    driver=_SHAFT_1V
    | reach("80.2 mm", "50 mm|2 in")
    | tapped_face(WIDE_LEGS, "3/8-16 UNC", "1 1/2 in", "26 mm", "aluminium")
    | seats("face", "legs", heights=LEVEL),
    driver_variants=(_petrol("9 hp", "3400 rpm"), _petrol("8.5 hp", "3600 rpm")),
    machine=room_and_water("6 gpm", "4000 psi", "4", "165 bar"),
    pump=_BORE_1V
    | depth("85.0 mm", "80 mm")
    | flange(WIDE_LEGS, "10.4 mm", "15.0 mm")
    | seats("flange", "legs", heights=LEVEL)
    | EVERY_PUMP,
    pump_variants=({}, {"flange_seat_heights_mm": "0; -1.5; 0"}),
    ratings=(rated("3200 psi", "3.1 gpm", "3400 rpm", "3600 rpm"), rated("3300 psi", "3 gpm", "3400 rpm", "3600 rpm")),
    short_bore="81.0 mm",
    misfit=_BORE_78,
    machine_variants=({}, {"working_pressure_bar": "185 bar"}),
)
SMALL_HORIZONTAL = Family(
    key="H34",
    title="horizontal 3/4 in",
    frame="",
    pumps=22,
    machines=12,
    driver=_SHAFT_34
    | reach("61.9 mm|2 7/16 in", "38.1 mm|1 1/2 in")
    | tapped_face(SMALL_SQUARE, "5/16-24 UNF", "1 1/4 in", "19 mm", "aluminium")
    | seats("face", "flat face"),
    driver_variants=(
        _petrol("5.5 hp", "3400 rpm"),
        _petrol("6.5 hp", "3600 rpm") | {"shaft_projection_mm": "64.2 mm"},
        _petrol("4.1 kW", "3400 rpm"),
        _petrol("6.5 hp", "3400 rpm") | {"shaft_projection_mm": "68.0 mm"},
        _petrol("5 hp", "3400 rpm") | {"face_bolt": "M8x1.25", "face_bolt_length_mm": "30 mm"},
    ),
    machine=room_and_water("5 gpm|19 l/min|20 l/min", "230 bar|3500 psi", "3.5", "140 bar"),
    pump=_BORE_34
    | depth("65.0 mm", "60 mm")
    | flange(SMALL_SQUARE, "8.7 mm|8.8 mm", "12.0 mm")
    | seats("flange", "flat face")
    | EVERY_PUMP,
    pump_variants=(
        {},
        {"flange_holes_xy_mm": holes(46.04, 0, 90, 180, 270)},
        {"bore_depth_mm": "72.0 mm", "bore_keyway_to_mm": "66 mm"},
        {"has_thermal_relief": "no"},
        {"flange_holes_xy_mm": holes(44.45, *SQUARE_DEG)},
        {"bore_depth_mm": "56.0 mm", "bore_keyway_to_mm": "52 mm"},
        {"bore_axis": "both", "oil": "vented for both"},
        # 19 mm looks like 3/4 in (19.05 mm) and takes a 6 mm key.
        {"bore_diameter_mm": "19 mm|19.02 mm", "bore_keyway_width_mm": "6 mm", "bore_keyway_floor_mm": "21.85 mm"},
        {"has_unloader": "no", "has_inlet_screen": "no", "oil": "vented for a horizontal shaft"},
    ),
    ratings=_SMALL_RATINGS,
    short_bore="63.0 mm",
    machine_variants=({}, AT_3600, {}, {}, {}),
    # Same face, same bore, and made for half the speed.
    misfit=rated("2700 psi", "2.5 gpm", "1450 rpm", "1750 rpm"),
)
LARGE_HORIZONTAL = Family(
    key="H1",
    title="horizontal 1 in",
    frame="",
    pumps=13,
    machines=8,
    driver=_SHAFT_1H
    | reach("88.1 mm", "50.8 mm|2 in")
    | tapped_face(LARGE_SQUARE, "3/8-16 UNC", "1 1/2 in", "24 mm", "aluminium")
    | seats("face", "flat face", ("boss", "146.0 mm", "3.0 mm")),
    driver_variants=(
        _petrol("13 hp", "3400 rpm"),
        _petrol("14 hp", "3600 rpm"),
        _petrol("9.7 kW", "3400 rpm") | {"shaft_projection_mm": "93.0 mm"},
        _petrol("11 hp", "3400 rpm"),
    ),
    machine=room_and_water("8 gpm|30 l/min", "320 bar|4500 psi", "4.5", "215 bar"),
    pump=_BORE_1H
    | depth("92.0 mm", "86 mm")
    | flange(LARGE_SQUARE, "10.4 mm", "16.0 mm")
    | seats("flange", "flat face", ("recess", "146.4 mm", "4.0 mm"))
    | EVERY_PUMP,
    pump_variants=(
        {},
        {"bore_depth_mm": "98.0 mm", "bore_keyway_to_mm": "90 mm"},
        {"has_chemical_inlet": "no", "oil": "vented for a horizontal shaft"},
        {"has_unloader": "no", "oil": "vented for a horizontal shaft"},
        {"flange_holes_xy_mm": holes(80.0, *SQUARE_DEG)},
    ),
    ratings=_LARGE_RATINGS,
    short_bore="89.0 mm",
    misfit={"bore_diameter_mm": "24 mm|24.02 mm", "bore_keyway_width_mm": "8 mm", "bore_keyway_floor_mm": "27.35 mm"},
)

ENGINE_FAMILIES = (VERTICAL, VERTICAL_CLOSE, VERTICAL_ONE_INCH, SMALL_HORIZONTAL, LARGE_HORIZONTAL)
