"""What can differ between one case and the next: harmless changes and such that may break a fit.

Each change edits a case in place. Amounts are drawn so that both sides of the limit, and its neighbourhood, occur.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from typing import Any

from tests.soundness.fields import (
    HEIGHT_DOUBT_MM,
    HEIGHTS,
    HOLE_DOUBT_MM,
    PATTERNS,
    SIZES,
    WATER_THREADS,
    Json,
    look_up,
    put,
)

Change = Callable[[Json, random.Random], None]


def value_at(case: Json, path: str) -> Any:  # a JSON value
    """Return the value at a path without its doubt."""
    node = look_up(case, path)
    if isinstance(node, dict) and "either" in node:
        node = node["either"][0]
    return node["value"] if isinstance(node, dict) else node


def set_value(case: Json, path: str, value: Any) -> None:  # a JSON value
    """Replace the value at a path, keeping its doubt; None removes it."""
    node = look_up(case, path)
    keeps_doubt = value is not None and isinstance(node, dict) and "value" in node
    put(case, path, {**node, "value": value} if keeps_doubt else value)


def _shift(case: Json, path: str, amount: float) -> None:
    value = value_at(case, path)
    if value is not None:
        set_value(case, path, round(value + amount, 3))


def set_doubts(case: Json, rng: random.Random) -> None:
    """Give many sizes a doubt of their own, from none to wide."""
    share = rng.choice((0.0, 0.0, 0.3, 1.0, 1.0))
    overall = rng.choice((0.0, 0.1, 0.3, 0.5, 0.5, 1.0))
    fields = {path: doubt for path, doubt, *_ in SIZES.values()}
    fields |= dict.fromkeys(PATTERNS.values(), HOLE_DOUBT_MM) | dict.fromkeys(HEIGHTS.values(), HEIGHT_DOUBT_MM)
    for path, default in fields.items():
        node = look_up(case, path)
        if node is None or isinstance(node, dict) or rng.random() >= share:
            continue
        factor = overall if rng.random() < 0.9 else rng.choice((0.0, 1.0, 2.0, 5.0))
        how = rng.choice(("measured", "measured", "measured", "sheet", "claimed", "plate", "standard"))
        put(case, path, {"value": node, "doubt": round(default * factor, 4), "how": how})


# --- harmless: the pump is the same one, looked at another way


def turn_pump(case: Json, rng: random.Random) -> None:
    path = PATTERNS["pump"]
    angle = rng.uniform(0, 360)
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    turned = []
    for x, y, *slot in value_at(case, path):
        spot: list[float] = [round(x * cos - y * sin, 3), round(x * sin + y * cos, 3)]
        turned.append(spot + ([slot[0], round((slot[1] + angle) % 360, 3)] if slot else []))
    set_value(case, path, turned)


def reorder_pump_holes(case: Json, rng: random.Random) -> None:
    holes, heights = value_at(case, PATTERNS["pump"]), value_at(case, HEIGHTS["pump"])
    order = rng.sample(range(len(holes)), len(holes))
    set_value(case, PATTERNS["pump"], [holes[i] for i in order])
    if heights is not None:
        set_value(case, HEIGHTS["pump"], [heights[i] for i in order])


def same_legs_on_both_sides(case: Json, rng: random.Random) -> None:
    """Make one seat of the machine lower and the one of the pump over it higher by as much."""
    if value_at(case, HEIGHTS["machine"]) is None:
        return
    count = len(value_at(case, HEIGHTS["machine"]))
    which, step = rng.randrange(count), rng.choice((0.5, 1.0, 2.0))
    set_value(case, HEIGHTS["machine"], [-step if i == which else 0 for i in range(count)])
    set_value(case, HEIGHTS["pump"], [0 if i == which else -step for i in range(count)])


HARMLESS: tuple[Change, ...] = (turn_pump, reorder_pump_holes, same_legs_on_both_sides)

# --- may break a fit


def other_bore(case: Json, rng: random.Random) -> None:
    bore = value_at(case, "pump.bore.diameter_mm")
    standards = sorted([n * 25.4 / 16 for n in range(8, 30)] + list(range(12, 45)), key=lambda size: abs(size - bore))
    amounts = (rng.uniform(-0.12, 0.2), rng.uniform(-0.12, 0.2), rng.choice(standards[:4]) + 0.02 - bore)
    _shift(case, "pump.bore.diameter_mm", rng.choice(amounts))


def other_shaft(case: Json, rng: random.Random) -> None:
    _shift(case, "machine.shaft.diameter_mm", rng.choice((rng.uniform(-0.15, 0.1), -0.3, 0.05, -0.05)))


def other_key_width(case: Json, rng: random.Random) -> None:
    path = rng.choice(("machine.shaft.key_width_mm", "pump.bore.keyway_width_mm"))
    set_value(case, path, rng.choice((4, 4.7, 4.8, 4.85, 5, 5.02, 6, 6.35, 6.5, 7.9375, 8)))


def other_key_height(case: Json, rng: random.Random) -> None:
    path = rng.choice(("machine.shaft.key_top_mm", "pump.bore.keyway_floor_mm"))
    _shift(case, path, rng.choice((rng.uniform(-0.5, 0.5), rng.uniform(-2, 2))))


def other_keyed_length(case: Json, rng: random.Random) -> None:
    path, low, high = rng.choice(
        (
            ("machine.shaft.keyseat_length_mm", 0.5, 12),
            ("machine.shaft.keyseat_from_end_mm", 0, 50),
            ("pump.bore.keyway_from_mm", 0, 62),
            ("pump.bore.keyway_to_mm", 10, 60),
        )
    )
    set_value(case, path, round(rng.uniform(low, high), 2))


def other_projection(case: Json, rng: random.Random) -> None:
    least = value_at(case, "machine.shaft.diameter_mm") + value_at(case, "pump.bore.recess_mm")
    most = value_at(case, "pump.bore.depth_mm") - 1.6
    about = rng.choice((least, most, most)) + rng.choice((rng.uniform(-0.4, 0.4), rng.uniform(-3, 3), 6))
    set_value(case, "machine.shaft.projection_mm", round(about, 2))


def other_bore_depth(case: Json, rng: random.Random) -> None:
    _shift(case, "pump.bore.depth_mm", rng.uniform(-4, 3))


def other_recess(case: Json, rng: random.Random) -> None:
    most = value_at(case, "machine.shaft.projection_mm") - value_at(case, "machine.shaft.diameter_mm")
    set_value(case, "pump.bore.recess_mm", round(rng.choice((most + rng.uniform(-0.5, 0.5), rng.uniform(0, 60))), 2))


def other_circle(case: Json, rng: random.Random) -> None:
    factor = 1 + rng.choice((rng.uniform(-0.012, 0.012), rng.uniform(-0.1, 0.1)))
    holes = [[round(x * factor, 3), round(y * factor, 3), *slot] for x, y, *slot in value_at(case, PATTERNS["pump"])]
    set_value(case, PATTERNS["pump"], holes)


def one_hole_moved(case: Json, rng: random.Random) -> None:
    path = PATTERNS[rng.choice(("machine", "pump"))]
    holes = [list(hole) for hole in value_at(case, path)]
    hole = rng.choice(holes)
    amount = rng.choice((0.2, 0.5, 1.0, 3.0))
    hole[0] = round(hole[0] + rng.uniform(-amount, amount), 3)
    hole[1] = round(hole[1] + rng.uniform(-amount, amount), 3)
    set_value(case, path, holes)


def mirrored_pattern(case: Json, rng: random.Random) -> None:  # noqa: ARG001 (one shape for all changes)
    holes = [[-x, y, *([s[0], 180 - s[1]] if s else [])] for x, y, *s in value_at(case, PATTERNS["pump"])]
    set_value(case, PATTERNS["pump"], holes)


def more_or_fewer_holes(case: Json, rng: random.Random) -> None:
    side = rng.choice(("machine", "pump"))
    holes, heights = value_at(case, PATTERNS[side]), value_at(case, HEIGHTS[side])
    if rng.random() < 0.6:
        extra = rng.choice(((80.0, 5.0), (-5.0, 66.0), (33.0, 33.0)))
        holes, heights = [*holes, list(extra)], None if heights is None else [*heights, rng.choice((0, 0, -1))]
    else:
        holes, heights = holes[:-1], None if heights is None else heights[:-1]
    set_value(case, PATTERNS[side], holes)
    if heights is not None:
        set_value(case, HEIGHTS[side], heights)


def other_hole_size(case: Json, rng: random.Random) -> None:
    _shift(case, "pump.flange.hole_mm", rng.choice((rng.uniform(-1, 1), -0.6, 2.0)))


def other_bolt(case: Json, rng: random.Random) -> None:
    set_value(case, "machine.face.bolt", rng.choice(("1/4-20 UNC", "5/16-18 UNC", "M8x1.25", "3/8-16 UNC", "M10x1.5")))


def other_bolt_length(case: Json, rng: random.Random) -> None:
    _shift(case, "machine.face.bolt_length_mm", rng.choice((rng.uniform(-6, 4), -12)))


def other_tapped_depth_or_material(case: Json, rng: random.Random) -> None:
    if value_at(case, "machine.face.hole_kind") != "through":
        set_value(case, "machine.face.tapped_depth_mm", round(rng.uniform(9, 24), 1))
    set_value(case, "machine.face.material", rng.choice(("aluminium", "iron", "steel")))


def other_pilot(case: Json, rng: random.Random) -> None:
    for side in ("machine.face", "pump.flange"):
        if rng.random() < 0.7:
            kind = rng.choice(("none", "boss", "recess"))
            set_value(case, f"{side}.pilot_kind", kind)
            put(case, f"{side}.pilot_mm", None if kind == "none" else round(95 + rng.uniform(-0.3, 0.3), 2))
            put(case, f"{side}.pilot_depth_mm", None if kind == "none" else round(4 + rng.uniform(-0.5, 0.5), 2))


def other_pilot_size(case: Json, rng: random.Random) -> None:
    what, amount = rng.choice((("pilot_mm", 0.3), ("pilot_depth_mm", 1.5)))
    _shift(case, f"{rng.choice(('machine.face', 'pump.flange'))}.{what}", rng.uniform(-amount, amount))


def short_seat(case: Json, rng: random.Random) -> None:
    path = HEIGHTS[rng.choice(("machine", "pump"))]
    heights = value_at(case, path)
    if heights is None:
        return
    which, by = rng.randrange(len(heights)), rng.choice((0.05, 0.1, 0.15, 0.2, 0.25, 0.4, 2.0))
    set_value(case, path, [height - by if i == which else height for i, height in enumerate(heights)])


def legs_without_heights(case: Json, rng: random.Random) -> None:
    side = rng.choice(("machine", "pump"))
    set_value(case, HEIGHTS[side], None)
    kind = {"machine": "machine.face.seat_kind", "pump": "pump.flange.seat_kind"}[side]
    set_value(case, kind, rng.choice(("legs", "flat face", "flat face")))


def other_water_end(case: Json, rng: random.Random) -> None:
    end = rng.choice(("machine.water.supply", "machine.water.discharge", "pump.ports.inlet", "pump.ports.outlet"))
    match rng.randrange(3):
        case 0:
            set_value(case, f"{end}.thread", rng.choice(WATER_THREADS))
        case 1:
            set_value(case, f"{end}.gender", rng.choice(("male", "female")))
        case _:
            if value_at(case, f"{end}.thread") == "M22x1.5":
                set_value(case, f"{end}.seal_mm", rng.choice((13.95, 14.05, 14.95, 15)))


def m22_of_unclear_seal(case: Json, rng: random.Random) -> None:
    for end in ("machine.water.discharge", "pump.ports.outlet"):
        set_value(case, f"{end}.thread", "M22x1.5")
        put(case, f"{end}.seal_mm", {"value": rng.choice((14, 14.4, 15)), "doubt": rng.choice((0.1, 0.6, 1.2))})


def other_speed(case: Json, rng: random.Random) -> None:
    speed = value_at(case, "machine.power.speed_rpm")
    amount = rng.choice((rng.uniform(-300, 300), rng.uniform(-1500, 1500)))
    set_value(case, "machine.power.speed_rpm", round(max(300, speed + amount)))


def other_rated_speed(case: Json, rng: random.Random) -> None:
    rated = rng.choice((1450, 1750, 2800, 3400, 3450))
    set_value(case, "pump.rating.speed_rpm", rated)
    set_value(case, "pump.rating.max_speed_rpm", rng.choice((None, rated, rated + 200)))


def other_speed_limit(case: Json, rng: random.Random) -> None:
    """Move the pump's limit alone about the engine's speed: nothing else changes with it."""
    limit = value_at(case, "machine.power.speed_rpm") + rng.choice((-200, -50, -1, 0, 1, 100))
    put(case, "pump.rating.speed_rpm", round(min(limit, value_at(case, "pump.rating.speed_rpm"))))
    put(case, "pump.rating.max_speed_rpm", rng.choice((None, round(limit))))


def other_pressure_rating(case: Json, rng: random.Random) -> None:
    path = rng.choice(("pump.rating.pressure_bar", "machine.water.discharge.rating_bar"))
    highest = value_at(case, "pump.rating.pressure_bar")
    set_value(case, path, round(highest * rng.uniform(0.5, 1.3)))
    if rng.random() < 0.3:
        put(case, path, {"value": highest, "doubt": rng.choice((0, 5, 20)), "how": "claimed"})


def other_power(case: Json, rng: random.Random) -> None:
    power = value_at(case, "machine.power.power_kw")
    set_value(case, "machine.power.power_kw", round(power * rng.choice((rng.uniform(0.4, 1.3), 4.0, 8.0)), 2))


def other_flow(case: Json, rng: random.Random) -> None:
    flow = value_at(case, "pump.rating.flow_lpm")
    set_value(case, "pump.rating.flow_lpm", round(flow * rng.choice((rng.uniform(0.9, 1.1), rng.uniform(0.5, 2))), 2))


def other_nozzle(case: Json, rng: random.Random) -> None:
    if rng.random() < 0.5:
        set_value(case, "machine.water.nozzle_number", rng.choice((2, 2.5, 3, 3.5, 4, 4.5, 5, 6)))
    else:
        working = value_at(case, "machine.water.working_pressure_bar")
        set_value(case, "machine.water.working_pressure_bar", round(working * rng.uniform(0.85, 1.15)))


def other_supply(case: Json, rng: random.Random) -> None:
    path, low, high = rng.choice(
        (
            ("machine.water.supply.flow_lpm", 8, 24),
            ("machine.water.supply.temperature_c", 10, 80),
            ("machine.water.supply.pressure_bar", 0.2, 10),
            ("pump.rating.max_inlet_c", 15, 65),
            ("pump.rating.min_supply_bar", 0, 4),
            ("pump.rating.max_supply_bar", 2, 9),
        )
    )
    set_value(case, path, round(rng.uniform(low, high), 1))


def less_built_in(case: Json, rng: random.Random) -> None:
    for what in ("unloader", "thermal_relief"):
        put(case, f"pump.has.{what}", rng.random() < 0.6)
        put(case, f"old_pump.has.{what}", rng.random() < 0.6)


def other_word(case: Json, rng: random.Random) -> None:
    path, words = rng.choice(
        (
            ("machine.shaft.form", ("tapered", "threaded", "straight plain")),
            ("machine.shaft.axis", ("horizontal", "vertical")),
            ("machine.shaft.turn", ("cw", "ccw")),
            ("pump.bore.form", ("hollow splined", "solid keyed", "hollow keyed")),
            ("pump.bore.axis", ("horizontal", "vertical", "both")),
            ("pump.bore.turn", ("cw", "ccw", "either")),
            ("pump.oil", ("vented for a horizontal shaft", "vented for a vertical shaft", "vented for both")),
        )
    )
    set_value(case, path, rng.choice(words))


def less_room(case: Json, rng: random.Random) -> None:
    if rng.random() < 0.5:
        put(case, "machine.room.length_mm", round(rng.uniform(190, 240)))
        return
    start, span = rng.uniform(0, 360), rng.choice((40, 90, 200))
    put(case, "machine.room.outlet_free_deg", [[round(start), round(start + span) % 360]])


def two_versions(case: Json, rng: random.Random) -> None:
    path, amount = rng.choice(
        (
            ("pump.bore.diameter_mm", 0.3),
            ("pump.flange.hole_mm", 1.0),
            ("machine.shaft.projection_mm", 5.0),
            ("pump.rating.flow_lpm", 1.0),
            ("machine.power.speed_rpm", 200.0),
        )
    )
    one = value_at(case, path)
    other = round(one + rng.choice((rng.uniform(-amount, amount), 0.01 * amount)), 2)
    put(case, path, {"either": [one, {"value": other, "doubt": rng.choice((0, 0.05)), "how": "measured"}]})


def known_by_habit(case: Json, rng: random.Random) -> None:
    path = rng.choice(
        ("pump.bore.depth_mm", "machine.shaft.key_width_mm", "pump.rating.pressure_bar", "machine.face.tapped_depth_mm")
    )
    value = value_at(case, path)
    if isinstance(value, (int, float)):
        put(case, path, {"value": value, "doubt": 0.05, "how": "typical"})


CHANGES: tuple[Change, ...] = (
    other_bore,
    other_shaft,
    other_key_width,
    other_key_height,
    other_keyed_length,
    other_projection,
    other_bore_depth,
    other_recess,
    other_circle,
    one_hole_moved,
    mirrored_pattern,
    more_or_fewer_holes,
    other_hole_size,
    other_bolt,
    other_bolt_length,
    other_tapped_depth_or_material,
    other_pilot,
    other_pilot_size,
    short_seat,
    legs_without_heights,
    other_water_end,
    m22_of_unclear_seal,
    other_speed,
    other_rated_speed,
    other_speed_limit,
    other_pressure_rating,
    other_power,
    other_flow,
    other_nozzle,
    other_supply,
    less_built_in,
    other_word,
    less_room,
    two_versions,
    known_by_habit,
)
