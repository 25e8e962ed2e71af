"""Does this pump fit this machine, given exact numbers: a second implementation that shares no code with xref_app.

Rules: design.md section 4. ``ease`` moves every limit outward (positive) or inward (negative) by far less than any
measuring tool can see, so that float rounding and the steps of a scan never decide: who claims that all fit is
checked with a positive ease, who claims that none fits with a negative one.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace

from tests.soundness.clocking import Mating, matings
from tests.soundness.realisation import Realisation
from tests.soundness.standard_sizes import it9_mm

LENIENT, STRICT = 1.0, -1.0
ROUNDING = 1e-6  # relative and absolute, on plain comparisons
SCAN_MM = 0.004  # what the scan of turn and shift may miss, mm
WAY_OUT_EASE_DEG = 2.5  # a working turn is known to its assignment, not to its degree

SAFETY = 1.5  # house rule, as all of these
SERVICE_FACTOR = 2.0
KEY_YIELD_MPA = 370.0
WIDTH_MM = 0.05
GAP_MM = 0.15
CLEARANCE_MM = 1.6
SAME_SEAL_MM = 0.2  # two seals of one size, each read with the default doubt of 0.10; 14 and 15 mm are 1 apart
EFFICIENCY = 0.85
NOZZLE_BAR, LPM_PER_GPM = 275.790292, 3.785411784  # 4000 psi in bar; litres in a US gallon (NIST SP 811)


def fits(real: Realisation, ease: float = LENIENT) -> tuple[bool, set[str]]:
    """Return whether it fits as is, and the names of all checks that fail."""
    failing = failing_before_faces(real, ease) | _failing_faces(real, ease)
    return not failing, failing


def fits_quickly(real: Realisation, ease: float = LENIENT) -> bool:
    """Return whether it fits as is, giving up at the first failing check."""
    for name, check in CHECKS.items():
        if name != "faces" and check(real, ease):
            return False
    return not _failing_faces(real, ease)


def at_rest(real: Realisation, mating: Mating | None) -> Realisation:
    """Return the same with the faces as far apart as their seats let them come.

    Lengths are measured from the plane of the highest seats. Where high seats meet low ones the pump comes closer, so
    that the shaft reaches further in and a boss has less room.
    """
    if mating is None:
        return real
    apart = max(seat_sums_mm(real, mating))
    moved = dict(real.sizes)
    moved["shaft_projection_mm"] -= apart
    for side in ("face", "flange"):
        if real.words[f"{side}_pilot_kind"] == "boss":
            moved[f"{side}_pilot_depth_mm"] -= apart
    return replace(real, sizes=moved)


def failing_at(real: Realisation, turn_pairs: set[tuple[int, int]], ease: float) -> set[str]:
    """Return the failing checks with the pump bolted on so that these (pump hole, machine hole) pairs meet."""
    failing = failing_before_faces(real, ease)
    met = [turn for turn in working_turns(real, ease) if set(turn.pairs) == turn_pairs]
    if not met:
        return failing | {"pattern"}
    if not at_most(max(gaps_mm(real, met[0])), GAP_MM, ease):
        failing |= {"seat"}
    if not any(_points_out(real, turn, ease) for turn in met):
        failing |= {"way out"}
    return failing | failing_along_the_shaft(at_rest(real, met[0]), ease)


def failing_along_the_shaft(real: Realisation, ease: float) -> set[str]:
    """Return the failing checks that hang on how far apart the faces are."""
    return {name for check in (_key_load, _reach, _pilot) for name in check(real, ease)}


def failing_before_faces(real: Realisation, ease: float) -> set[str]:
    """Return the failing checks that need no turn of the pump."""
    return {name for check in CHECKS.values() for name in check(real, ease)}


def at_most(value: float, limit: float, ease: float) -> bool:
    """Say whether a value stays within a limit, moved by a rounding error's width."""
    return value <= limit + ease * ROUNDING * max(1.0, abs(limit))


def _drive(real: Realisation, ease: float) -> set[str]:  # noqa: ARG001 (one shape for all checks)
    words, failing = real.words, set()
    if words["bore_axis"] not in ("both", words["shaft_axis"]):
        failing.add("axis")
    if (words["bore_form"], words["shaft_form"]) != ("hollow keyed", "straight keyed"):
        failing.add("drive")
    if words["bore_turn"] not in ("either", words["shaft_turn"]):
        failing.add("turn")
    return failing


def _bore(real: Realisation, ease: float) -> set[str]:
    bore = real.sizes["bore_diameter_mm"]
    clearance = bore - real.sizes["shaft_diameter_mm"]
    # A standard bore is at most its IT9 above nominal; the grade is that of the size it was made to.
    good = at_most(0.0, clearance, ease) and at_most(clearance, 2 * it9_mm(bore), ease)
    return set() if good else {"bore"}


def _key(real: Realisation, ease: float) -> set[str]:
    sizes = real.sizes
    same = at_most(abs(sizes["shaft_key_width_mm"] - sizes["bore_keyway_width_mm"]), WIDTH_MM, ease)
    under = sizes["shaft_key_top_mm"] < sizes["bore_keyway_floor_mm"] + ease * ROUNDING
    return set() if same and under else {"key"}


def key_height_mm(real: Realisation) -> float:
    """Return the height of the key in the shaft: the table's, else from the height over it, never above its width."""
    if real.key_height_mm is not None:
        return real.key_height_mm
    sizes = real.sizes
    return min(sizes["shaft_key_width_mm"], 2 * (sizes["shaft_key_top_mm"] - sizes["shaft_diameter_mm"]))


def keyed_overlap_mm(real: Realisation) -> float:
    """Return the length along the axis that the key shares with shaft and hub; negative where they miss."""
    sizes = real.sizes
    end = sizes["shaft_projection_mm"] - sizes["shaft_keyseat_from_end_mm"]
    start = end - sizes["shaft_keyseat_length_mm"]
    return min(end, sizes["bore_keyway_to_mm"]) - max(start, sizes["bore_keyway_from_mm"])


def _key_load(real: Realisation, ease: float) -> set[str]:
    sizes = real.sizes
    length, height = keyed_overlap_mm(real), key_height_mm(real)
    if length <= 0 or height <= 0 or sizes["power_speed_rpm"] <= 0:
        return {"key load"}
    torque_nmm = SERVICE_FACTOR * 9549.297 * sizes["power_kw"] / sizes["power_speed_rpm"] * 1000
    diameter = sizes["shaft_diameter_mm"]
    shear = 2 * torque_nmm / (diameter * sizes["shaft_key_width_mm"] * length)
    bearing = 4 * torque_nmm / (diameter * height * length)
    good = at_most(shear, 0.577 * KEY_YIELD_MPA / SAFETY, ease) and at_most(bearing, 0.9 * KEY_YIELD_MPA / SAFETY, ease)
    return set() if good else {"key load"}


def _reach(real: Realisation, ease: float) -> set[str]:
    sizes = real.sizes
    projection = sizes["shaft_projection_mm"]
    engaged = at_most(sizes["shaft_diameter_mm"], projection - sizes["bore_recess_mm"], ease)
    clear = at_most(CLEARANCE_MM, sizes["bore_depth_mm"] - projection, ease)
    return set() if engaged and clear else {"reach"}


def _pilot(real: Realisation, ease: float) -> set[str]:
    kinds = real.words["face_pilot_kind"], real.words["flange_pilot_kind"]
    if "boss" not in kinds:
        return set()
    boss, recess = ("face", "flange") if kinds[0] == "boss" else ("flange", "face")
    sizes = real.sizes
    if kinds[0] != kinds[1] and at_most(sizes[f"{boss}_pilot_depth_mm"], 0.0, ease):
        return set()  # lifted clear of the other face
    if "recess" not in kinds:
        return {"pilot"}
    enters = at_most(sizes[f"{boss}_pilot_mm"], sizes[f"{recess}_pilot_mm"], ease)
    seats = at_most(sizes[f"{boss}_pilot_depth_mm"], sizes[f"{recess}_pilot_depth_mm"], ease)
    return set() if enters and seats else {"pilot"}


_METRIC = re.compile(r"M(\d+(?:\.\d+)?)(?:x(\d+(?:\.\d+)?))?")
_INCH = re.compile(r"(?:(\d+)-)?(\d+)/(\d+)-(\d+)")
_COARSE_MM = {6.0: 1.0, 8.0: 1.25, 10.0: 1.5, 12.0: 1.75}  # ISO 261


def bolt_major_and_pitch_mm(thread: str) -> tuple[float, float]:
    """Return the nominal major diameter and the pitch of a bolt thread, mm."""
    metric = _METRIC.match(thread)
    if metric is not None:
        major = float(metric[1])
        return major, float(metric[2]) if metric[2] else _COARSE_MM[major]
    inch = _INCH.match(thread)
    assert inch is not None, thread
    whole = float(inch[1] or 0)
    return (whole + int(inch[2]) / int(inch[3])) * 25.4, 25.4 / int(inch[4])


def is_through(real: Realisation) -> bool:
    """Say whether the machine's holes are through holes; not said means tapped."""
    return real.words.get("face_hole_kind", "tapped") == "through"


def _bolts(real: Realisation, ease: float) -> set[str]:
    """Return whether each bolt holds, old or new, with what lies under it."""
    places = {*real.under_mm, *real.new_bolts_mm} or {0}
    return {name for place in places for name in _bolt(real, place, ease)}


def _bolt(real: Realisation, place: int, ease: float) -> set[str]:
    sizes = real.sizes
    major, pitch = bolt_major_and_pitch_mm(real.words["face_bolt"])
    length = real.new_bolts_mm.get(place, sizes["face_bolt_length_mm"])
    beyond = length - sizes["flange_thickness_mm"] - real.washer_mm - real.under_mm.get(place, 0.0)
    if is_through(real):
        needed = sizes["face_thickness_mm"] + real.nut_per_diameter * major + 2 * pitch
        return set() if at_most(needed, beyond, ease) else {"bolts"}
    turns = 1.0 if real.words.get("face_material") in ("iron", "steel") else 1.5
    good = at_most(turns * major, beyond, ease) and at_most(beyond, sizes["face_tapped_depth_mm"], ease)
    return set() if good else {"bolts"}


def _joint(real: Realisation, hose: str, port: str) -> bool:
    words, sizes = real.words, real.sizes
    # The end's form stands behind its thread: ends of two forms are as little one joint as ends of two threads.
    threads = {re.sub(r"\s", "", words[f"{end}_thread"]).upper() for end in (hose, port)}
    if len(threads) > 1 or words[f"{hose}_gender"] == words[f"{port}_gender"]:
        return False
    return threads != {"M22X1.5"} or abs(sizes[f"{hose}_seal_mm"] - sizes[f"{port}_seal_mm"]) <= SAME_SEAL_MM


def _joints(real: Realisation, ease: float) -> set[str]:  # noqa: ARG001 (one shape for all checks)
    good = {"inlet": _joint(real, "supply", "inlet"), "outlet": _joint(real, "discharge", "outlet")}
    return {name for name, joins in good.items() if not joins}


def flow_lpm(real: Realisation) -> float:
    """Return what the pump delivers at the engine's speed: positive displacement."""
    return real.sizes["rating_flow_lpm"] * real.sizes["power_speed_rpm"] / real.sizes["rating_speed_rpm"]


def nozzle_pressure_bar(real: Realisation) -> float:
    """Return the pressure the nozzle makes of the whole flow, whatever any valve says."""
    return NOZZLE_BAR * (flow_lpm(real) / LPM_PER_GPM / real.sizes["nozzle_number"]) ** 2


def _running(real: Realisation, ease: float) -> set[str]:
    sizes, failing = real.sizes, set()
    limit_rpm = sizes.get("rating_max_speed_rpm", sizes["rating_speed_rpm"])
    if not at_most(sizes["power_speed_rpm"], limit_rpm, ease):
        failing.add("speed")
    highest = sizes["rating_pressure_bar"]
    hose_stands = at_most(highest, sizes["discharge_rating_bar"], ease)
    pump_reaches = at_most(sizes["working_pressure_bar"], highest, ease)
    if not (real.flags["has_unloader"] and hose_stands and pump_reaches):
        failing.add("pressure")
    alone = nozzle_pressure_bar(real)
    if not at_most(min(alone, highest) * flow_lpm(real) / 600 / EFFICIENCY, sizes["power_kw"], ease):
        failing.add("power")
    working = sizes["working_pressure_bar"]
    if not at_most(abs(alone - working), 0.1 * working, ease):
        failing.add("nozzle")
    return failing


def _water(real: Realisation, ease: float) -> set[str]:
    sizes = real.sizes
    good = (
        at_most(1.2 * flow_lpm(real), sizes["supply_flow_lpm"], ease)
        and at_most(sizes["supply_temperature_c"], sizes["rating_max_inlet_c"], ease)
        and at_most(sizes["rating_min_supply_bar"], sizes["supply_pressure_bar"], ease)
        and at_most(sizes["supply_pressure_bar"], sizes["rating_max_supply_bar"], ease)
    )
    return set() if good else {"supply"}


def _carried_over(real: Realisation, ease: float) -> set[str]:  # noqa: ARG001 (one shape for all checks)
    flags = real.flags
    lost = any(flags.get(f"old_{what}") and not flags[f"has_{what}"] for what in ("unloader", "thermal_relief"))
    return {"carried over"} if lost else set()


def _room(real: Realisation, ease: float) -> set[str]:
    failing = set()
    oil = real.words.get("oil", "sealed")
    other = {"horizontal": "vented for a vertical shaft", "vertical": "vented for a horizontal shaft"}
    if oil == other[real.words["shaft_axis"]]:
        failing.add("oil")
    length, room = real.sizes.get("pump_length_mm"), real.sizes.get("room_length_mm")
    if length is not None and room is not None and not at_most(length, room, ease):
        failing.add("room")
    return failing


CHECKS: dict[str, Callable[[Realisation, float], set[str]]] = {
    "drive": _drive,
    "bore": _bore,
    "key": _key,
    "bolts": _bolts,
    "joints": _joints,
    "running": _running,
    "water": _water,
    "carried over": _carried_over,
    "room": _room,
}


def bolt_play_mm(real: Realisation) -> float:
    """Return how far a bolt may lie off the pump hole's centre, mm (floating fastener, ASME Y14.5)."""
    major, _ = bolt_major_and_pitch_mm(real.words["face_bolt"])
    play = (real.sizes["flange_hole_mm"] - major) / 2
    if is_through(real):
        play = -1.0 if real.sizes["face_hole_mm"] < major else play + (real.sizes["face_hole_mm"] - major) / 2
    return play


def shift_mm(real: Realisation) -> float:
    """Return how far the pump may slide on its shaft, and in its pilot where it has one, mm."""
    sizes = real.sizes
    limits = [sizes["bore_diameter_mm"] - sizes["shaft_diameter_mm"]]
    kinds = real.words["face_pilot_kind"], real.words["flange_pilot_kind"]
    if set(kinds) == {"boss", "recess"}:
        boss, recess = ("face", "flange") if kinds[0] == "boss" else ("flange", "face")
        limits.append(sizes[f"{recess}_pilot_mm"] - sizes[f"{boss}_pilot_mm"])
    return max(0.0, min(limits) / 2)


def working_turns(real: Realisation, ease: float = LENIENT) -> list[Mating]:
    """Return every assignment of holes under which all bolts pass."""
    play = bolt_play_mm(real)
    if play < 0:
        return []
    return matings(real.holes["machine"], real.holes["pump"], play_mm=play + ease * SCAN_MM, shift_mm=shift_mm(real))


def seat_sums_mm(real: Realisation, mating: Mating) -> list[float]:
    """Return how far both seats of each bolt used reach toward each other, mm, from the planes of the highest."""
    pump, machine = real.seats.get("pump", ()), real.seats.get("machine", ())
    below_pump, below_machine = max(pump, default=0.0), max(machine, default=0.0)
    return [
        (pump[j] - below_pump if pump else 0.0)
        + (machine[i] - below_machine if machine else 0.0)
        + real.under_mm.get(i, 0.0)
        for j, i in mating.pairs
    ]


def gaps_mm(real: Realisation, mating: Mating) -> list[float]:
    """Return the gap under each bolt used, mm, when the highest pair of seats touches."""
    sums = seat_sums_mm(real, mating)
    return [max(sums) - one for one in sums]


def _failing_faces(real: Realisation, ease: float) -> set[str]:
    turns = working_turns(real, ease)
    if not turns:
        return {"pattern"} | failing_along_the_shaft(real, ease)
    flush = [turn for turn in turns if at_most(max(gaps_mm(real, turn)), GAP_MM, ease)]
    if not flush:
        return {"seat"} | failing_along_the_shaft(at_rest(real, turns[0]), ease)
    out = [turn for turn in flush if _points_out(real, turn, ease)]
    along = [failing_along_the_shaft(at_rest(real, turn), ease) for turn in out or flush]
    return min(along, key=len) | (set() if out else {"way out"})


def _points_out(real: Realisation, mating: Mating, ease: float) -> bool:
    direction = real.sizes.get("outlet_direction_deg")
    if direction is None or real.sectors is None:
        return True
    spare = WAY_OUT_EASE_DEG * ease
    for start, end in real.sectors:
        span = end - start if end - start >= 360 else (end - start) % 360
        if span >= 360:
            return True
        if math.fmod(direction + mating.turn_deg - start + spare + 1080, 360) <= span + 2 * spare:
            return True
    return False
