"""Families driven by electric motors, and the pumps with a solid shaft of their own."""

from __future__ import annotations

from tests.sample.families import (
    EVERY_PUMP,
    G12_FEMALE,
    G34_FEMALE,
    G34_MALE,
    G38_CONE_MALE,
    G38_FEMALE,
    M22_14_MALE,
    M22_15_FEMALE,
    M22_15_MALE,
    NPT38_FEMALE,
    SQUARE_DEG,
    Family,
    depth,
    flange,
    inch_drive,
    metric_drive,
    rated,
    reach,
    room_and_water,
    seats,
    tapped_face,
)
from tests.sample.said import holes

# NEMA MG 1 4.4.4: AJ 5.875 in, AK 4.500 in, 3/8-16, U 0.625 and 0.875 in, AH 2.06 and 2.12 in, ES 1.41 in.
C_FACE = holes(74.61, *SQUARE_DEG)
C_REGISTER = ("boss", "4 1/2 in", "4.1 mm")
C_RECESS = ("recess", "114.5 mm", "5.0 mm")
# IEC 60072-1, FT100 and FT115 (flange columns from memory): M 100 and 115 mm, N 80 and 95 mm, T 3 mm.
FT100 = holes(50.0, *SQUARE_DEG)
FT115 = holes(57.5, *SQUARE_DEG)

_SHAFT_58, _BORE_58 = inch_drive("5/8", "3/16", "5/8 in|15.87 mm", "5/8 in|15.89 mm", "horizontal")
_SHAFT_78, _BORE_78 = inch_drive("7/8", "3/16", "7/8 in|22.22 mm", "7/8 in|22.24 mm", "horizontal")
# ISO 773: over-key height GA = d - t1 + h, hub floor d + t2. 16 mm takes 5x5, 19 mm 6x6, 24 mm 8x7.
_SHAFT_16, _BORE_16 = metric_drive(16, 5, "18", "18.35")
_SHAFT_19, _BORE_19 = metric_drive(19, 6, "21.5", "21.85")
_SHAFT_24, _BORE_24 = metric_drive(24, 8, "27", "27.35")


def _electric(power: str, speed: str) -> dict[str, str]:
    return {"power_kind": "electric", "power_kw": power, "power_speed_rpm": speed}


NEMA_56C = Family(
    key="C56",
    title="56C face, 5/8 in",
    frame="56C",
    pumps=10,
    machines=4,
    driver=_SHAFT_58
    | reach("52.3 mm|2.06 in", "35.8 mm|1.41 in")
    | tapped_face(C_FACE, "3/8-16 UNC", "1 in", "14.2 mm", "iron")
    | seats("face", "flat face", C_REGISTER),
    driver_variants=(
        _electric("2 hp", "1725 rpm"),
        _electric("1.5 hp", "1725 rpm"),
        _electric("2 hp", "1725 rpm") | _SHAFT_16,
    ),
    machine=room_and_water("4 gpm|15 l/min", "130 bar", "4", "69 bar"),
    pump=_BORE_58
    | depth("57.0 mm", "50 mm")
    | flange(C_FACE, "10.4 mm", "12.0 mm")
    | seats("flange", "flat face", C_RECESS)
    | EVERY_PUMP,
    pump_variants=(
        {},
        {"has_thermal_relief": "no"},
        {"bore_depth_mm": "60.0 mm", "bore_keyway_to_mm": "52 mm"},
        {"flange_pilot_mm": "114.4 mm"},
        _BORE_16,
    ),
    ratings=(rated("1500 psi", "2 gpm", "1725 rpm", "1750 rpm"), rated("100 bar", "7.6 l/min", "1725 rpm", "1750 rpm")),
    short_bore="53.0 mm",
    misfit=_BORE_78,
)
NEMA_145TC = Family(
    key="C145",
    title="145TC face, 7/8 in",
    frame="145TC",
    pumps=10,
    machines=3,
    driver=_SHAFT_78
    | reach("53.8 mm|2.12 in", "35.8 mm|1.41 in")
    | tapped_face(C_FACE, "3/8-16 UNC", "1 in", "14.2 mm", "iron")
    | seats("face", "flat face", C_REGISTER),
    driver_variants=(_electric("3 hp", "1725 rpm"), _electric("3 hp", "3450 rpm")),
    machine=room_and_water("6 gpm|22 l/min", "160 bar", "5.5", "82 bar"),
    pump=_BORE_78
    | depth("58.0 mm", "51 mm")
    | flange(C_FACE, "10.4 mm", "12.0 mm")
    | seats("flange", "flat face", C_RECESS)
    | EVERY_PUMP,
    pump_variants=({}, {"has_unloader": "no"}, {"bore_depth_mm": "62.0 mm", "bore_keyway_to_mm": "54 mm"}),
    ratings=(
        rated("1800 psi", "3 gpm", "1725 rpm", "1750 rpm"),
        rated("2200 psi", "2 gpm", "3450 rpm", "3600 rpm"),
    ),
    short_bore="54.5 mm",
    machine_variants=({}, {"nozzle_number": "3", "working_pressure_bar": "122 bar"}),
    misfit=_BORE_58,
)
_METRIC_INLETS = (G34_FEMALE, G34_FEMALE, G12_FEMALE)
_METRIC_OUTLETS = (M22_15_MALE, M22_15_MALE, G38_FEMALE, M22_14_MALE, NPT38_FEMALE)
# One thread in two forms: the cone takes a hose end, the flat port a fitting with its washer under the shoulder.
_OUTLETS_90 = (M22_15_MALE, M22_15_MALE, G38_FEMALE, M22_14_MALE, G38_CONE_MALE)
IEC_80 = Family(
    key="I80",
    title="80 B14 face, 19 mm",
    frame="80 B14",
    pumps=10,
    machines=4,
    driver=_SHAFT_19
    | reach("40 mm|40.0 mm", "32 mm", "4 mm")
    | tapped_face(FT100, "M6x1", "25 mm", "14 mm", "aluminium")
    | seats("face", "flat face", ("boss", "80.0 mm", "3.0 mm")),
    driver_variants=(_electric("1.1 kW", "2800 rpm"), _electric("0.75 kW", "1450 rpm")),
    machine=room_and_water("12 l/min", "150 bar", "3", "77 bar"),
    pump=_BORE_19
    | depth("44.0 mm", "40 mm")
    | flange(FT100, "7.0 mm", "12.0 mm")
    | seats("flange", "flat face", ("recess", "80.2 mm", "4.0 mm"))
    | EVERY_PUMP,
    pump_variants=({}, {"has_chemical_inlet": "no"}, {"bore_depth_mm": "47.0 mm"}),
    ratings=(
        rated("110 bar", "6 l/min", "2800 rpm", "3000 rpm"),
        rated("100 bar", "4.5 l/min", "1450 rpm", "1500 rpm"),
    ),
    short_bore="41.0 mm",
    machine_variants=({}, {"nozzle_number": "2.5", "working_pressure_bar": "62 bar"}),
    misfit=rated("110 bar", "6 l/min", "1450 rpm", "1500 rpm"),
    supply=G34_MALE,
    discharge=M22_15_FEMALE,
    inlets=_METRIC_INLETS,
    outlets=_METRIC_OUTLETS,
)
IEC_90 = Family(
    key="I90",
    title="90 B14 face, 24 mm",
    frame="90 B14",
    pumps=10,
    machines=4,
    driver=_SHAFT_24
    | reach("50 mm|50.0 mm", "40 mm", "5 mm")
    | tapped_face(FT115, "M8x1.25", "30 mm", "18 mm", "aluminium")
    | seats("face", "flat face", ("boss", "95.0 mm", "3.0 mm")),
    driver_variants=(_electric("1.5 kW", "1450 rpm"), _electric("2.2 kW", "2800 rpm")),
    machine=room_and_water("16 l/min", "170 bar", "4", "77 bar"),
    pump=_BORE_24
    | depth("54.0 mm", "50 mm")
    | flange(FT115, "9.0 mm", "12.0 mm")
    | seats("flange", "flat face", ("recess", "95.3 mm", "4.0 mm"))
    | EVERY_PUMP,
    pump_variants=({}, {"has_thermal_relief": "no"}, {"bore_depth_mm": "58.0 mm"}),
    ratings=(rated("130 bar", "8 l/min", "1450 rpm", "1500 rpm"), rated("150 bar", "8 l/min", "2800 rpm", "3000 rpm")),
    short_bore="51.0 mm",
    # 15/16 in, 23.81 mm, looks like 24 mm in the hand.
    misfit=inch_drive("15/16", "1/4", "15/16 in", "15/16 in|23.83 mm", "horizontal")[1],
    supply=G34_MALE,
    discharge=M22_15_FEMALE,
    inlets=_METRIC_INLETS,
    outlets=_OUTLETS_90,
)
SOLID_24 = Family(
    key="S24",
    title="solid shaft 24 mm",
    frame="",
    pumps=5,
    machines=1,
    driver=_SHAFT_24
    | reach("50 mm", "40 mm", "5 mm")
    | tapped_face(FT115, "M8x1.25", "30 mm", "18 mm", "aluminium")
    | seats("face", "flat face", ("boss", "95.0 mm", "3.0 mm")),
    driver_variants=(_electric("2.2 kW", "1450 rpm"),),
    machine=room_and_water("20 l/min", "200 bar", "5", "100 bar"),
    pump=_BORE_24
    | depth("50.0 mm", "45 mm")
    | {"bore_form": "solid keyed", "bore_diameter_mm": "24 mm|23.98 mm", "bore_keyway_floor_mm": "27 mm"}
    | flange(FT115, "9.0 mm", "14.0 mm")
    | seats("flange", "flat face")
    | EVERY_PUMP
    | {"has_unloader": "no", "has_thermal_relief": "no", "oil": "vented for a horizontal shaft"},
    pump_variants=({}, {"bore_turn": "cw"}),
    ratings=(
        rated("200 bar", "11 l/min", "1450 rpm", "1750 rpm"),
        rated("170 bar", "13 l/min", "1450 rpm", "1750 rpm"),
    ),
    short_bore="48.0 mm",
    misfit={
        "bore_diameter_mm": "15/16 in|23.80 mm",
        "bore_keyway_width_mm": "1/4 in",
        "bore_keyway_floor_mm": "26.60 mm",
    },
    supply=G34_MALE,
    discharge=M22_15_FEMALE,
    inlets=(G12_FEMALE,),
    outlets=(G38_FEMALE, NPT38_FEMALE),
)

MOTOR_FAMILIES = (NEMA_56C, NEMA_145TC, IEC_80, IEC_90, SOLID_24)
