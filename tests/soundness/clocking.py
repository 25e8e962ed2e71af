"""Turns of the pump at which every bolt passes: dense scan of angle and shift about each angle two holes suggest."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from tests.soundness.realisation import Hole

STEP_DEG = 0.02
SLOT_STEP_MM = 0.3
FEWEST_WHEN_UNEQUAL = 3  # house rule
Floats = npt.NDArray[np.float64]
Assignment = tuple[tuple[int, int], ...]


class Mating(NamedTuple):
    """A turn that works: which pump hole lies on which machine hole, and what is left over, mm."""

    turn_deg: float
    pairs: Assignment
    spare_mm: float


def matings(machine: Sequence[Hole], pump: Sequence[Hole], *, play_mm: float, shift_mm: float) -> list[Mating]:
    """Return one mating per assignment of holes that lets every bolt pass.

    ``play_mm`` is how far a bolt may lie off its hole's centre; ``shift_mm`` how far the pump may slide.
    """
    if play_mm < 0 or (len(machine) != len(pump) and min(len(machine), len(pump)) < FEWEST_WHEN_UNEQUAL):
        return []
    found: dict[Assignment, Mating] = {}
    for turn_deg in _suggested_turns(machine, pump, play_mm + shift_mm):
        for pairs in _assignments(machine, pump, turn_deg, play_mm + shift_mm):
            if pairs in found:
                continue
            mating = _best(machine, pump, pairs, turn_deg, play_mm, shift_mm)
            if mating is not None:
                found[pairs] = mating
    return list(found.values())


def _suggested_turns(machine: Sequence[Hole], pump: Sequence[Hole], reach_mm: float) -> Iterator[float]:
    pump_leads = len(pump) <= len(machine)
    few, many = (pump, machine) if pump_leads else (machine, pump)
    anchor = max(few, key=lambda hole: (hole.slot_mm == 0, math.hypot(hole.x, hole.y)))
    for start in _along(anchor):
        for other in many:
            for end in _along(other):
                if abs(math.hypot(*start) - math.hypot(*end)) <= reach_mm + SLOT_STEP_MM:
                    turn = math.degrees(math.atan2(end[1], end[0]) - math.atan2(start[1], start[0]))
                    yield turn if pump_leads else -turn


def _along(hole: Hole) -> list[tuple[float, float]]:
    if hole.slot_mm == 0:
        return [(hole.x, hole.y)]
    count = math.ceil(hole.slot_mm / SLOT_STEP_MM)
    cos, sin = math.cos(math.radians(hole.slot_deg)), math.sin(math.radians(hole.slot_deg))
    steps = [hole.slot_mm * (i / count - 0.5) for i in range(count + 1)]
    return [(hole.x + t * cos, hole.y + t * sin) for t in steps]


def _turned(hole: Hole, turn_deg: float) -> tuple[float, float, float, float]:
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    along = math.radians(hole.slot_deg + turn_deg)
    half = hole.slot_mm / 2
    return hole.x * cos - hole.y * sin, hole.x * sin + hole.y * cos, half * math.cos(along), half * math.sin(along)


def _off(spot: tuple[float, float, float, float], target: Hole, shift: tuple[float, float] = (0.0, 0.0)) -> float:
    x, y, ux, uy = spot
    dx, dy = target.x - x - shift[0], target.y - y - shift[1]
    length_squared = ux * ux + uy * uy
    if length_squared > 0:
        t = max(-1.0, min(1.0, (dx * ux + dy * uy) / length_squared))
        dx, dy = dx - t * ux, dy - t * uy
    return math.hypot(dx, dy)


def _assignments(machine: Sequence[Hole], pump: Sequence[Hole], turn_deg: float, reach_mm: float) -> list[Assignment]:
    """Return every one-to-one assignment whose holes come near enough at this turn, give or take a small one."""
    spots = [_turned(hole, turn_deg) for hole in pump]
    near = 3 * reach_mm + 1.0
    table = [[_off(spot, hole) <= near for hole in machine] for spot in spots]
    if len(pump) > len(machine):
        table = [list(column) for column in zip(*table, strict=True)]
        swapped = [tuple((j, i) for i, j in pairs) for pairs in _one_to_one(table)]
        return [tuple(sorted(pairs)) for pairs in swapped]
    return [tuple(pairs) for pairs in _one_to_one(table)]


def _one_to_one(
    table: list[list[bool]], row: int = 0, used: frozenset[int] = frozenset()
) -> list[list[tuple[int, int]]]:
    if row == len(table):
        return [[]]
    found = []
    for column, is_near in enumerate(table[row]):
        if is_near and column not in used:
            found += [[(row, column), *rest] for rest in _one_to_one(table, row + 1, used | {column})]
    return found


def _best(
    machine: Sequence[Hole],
    pump: Sequence[Hole],
    pairs: Assignment,
    turn_deg: float,
    play_mm: float,
    shift_mm: float,
) -> Mating | None:
    quick = _least_squares(machine, pump, pairs, turn_deg, shift_mm)
    if quick[1] <= play_mm:
        return Mating(quick[0], pairs, play_mm - quick[1])
    if _is_hopeless(machine, pump, pairs, play_mm):
        return None
    turn, off = _scan(machine, pump, pairs, turn_deg, play_mm, shift_mm)
    return Mating(turn, pairs, play_mm - off) if off <= play_mm else None


def _least_squares(
    machine: Sequence[Hole], pump: Sequence[Hole], pairs: Assignment, turn_deg: float, shift_mm: float
) -> tuple[float, float]:
    """Return a good guess of the turn with its greatest offset: a quick yes, never a no."""
    moment = square = 0.0
    for j, i in pairs:
        x, y, _, _ = _turned(pump[j], turn_deg)
        moment += x * (machine[i].y - y) - y * (machine[i].x - x)
        square += x * x + y * y
    turn = turn_deg + math.degrees(moment / square if square else 0.0)
    spots = [_turned(pump[j], turn) for j, _ in pairs]
    sx = sum(machine[i].x - spot[0] for spot, (_, i) in zip(spots, pairs, strict=True)) / len(pairs)
    sy = sum(machine[i].y - spot[1] for spot, (_, i) in zip(spots, pairs, strict=True)) / len(pairs)
    size = math.hypot(sx, sy)
    keep = min(1.0, shift_mm / size) if size > 0 else 0.0
    return turn, max(_off(spot, machine[i], (sx * keep, sy * keep)) for spot, (_, i) in zip(spots, pairs, strict=True))


def _is_hopeless(machine: Sequence[Hole], pump: Sequence[Hole], pairs: Assignment, play_mm: float) -> bool:
    """Say whether two holes lie so much further apart on one side that no turn or shift can help."""
    round_pairs = [(j, i) for j, i in pairs if pump[j].slot_mm == 0 and machine[i].slot_mm == 0]
    for n, (j, i) in enumerate(round_pairs):
        for other_j, other_i in round_pairs[n + 1 :]:
            on_pump = math.hypot(pump[j].x - pump[other_j].x, pump[j].y - pump[other_j].y)
            on_machine = math.hypot(machine[i].x - machine[other_i].x, machine[i].y - machine[other_i].y)
            if abs(on_pump - on_machine) > 2 * play_mm:
                return True
    return False


def _scan(
    machine: Sequence[Hole],
    pump: Sequence[Hole],
    pairs: Assignment,
    turn_deg: float,
    play_mm: float,
    shift_mm: float,
) -> tuple[float, float]:
    radius = max(5.0, min(math.hypot(pump[j].x, pump[j].y) for j, _ in pairs))
    window = math.degrees((play_mm + shift_mm + SLOT_STEP_MM) / radius) + 0.2
    turns = np.arange(turn_deg - window, turn_deg + window, STEP_DEG)
    turn, off, shift = _least_offset(machine, pump, pairs, turns, _disc(shift_mm))
    for zoom in (1.0, 0.15):
        fine = np.linspace(turn - 1.5 * STEP_DEG * zoom, turn + 1.5 * STEP_DEG * zoom, 31)
        around = shift + _disc(shift_mm * 0.4 * zoom)
        length = np.maximum(np.hypot(around[:, 0], around[:, 1]), 1e-12)
        around *= np.minimum(1.0, shift_mm / length)[:, None]
        better = _least_offset(machine, pump, pairs, fine, around)
        if better[1] < off:
            turn, off, shift = better
    return turn, off


def _disc(radius_mm: float) -> Floats:
    if radius_mm <= 0:
        return np.zeros((1, 2))
    spots = [(0.0, 0.0)]
    for ring in (1, 2, 3):
        for n in range(6 * ring):
            angle = 2 * math.pi * n / (6 * ring)
            spots.append((radius_mm * ring / 3 * math.cos(angle), radius_mm * ring / 3 * math.sin(angle)))
    return np.array(spots)


def _least_offset(
    machine: Sequence[Hole], pump: Sequence[Hole], pairs: Assignment, turns_deg: Floats, shifts: Floats
) -> tuple[float, float, Floats]:
    worst = np.zeros((len(turns_deg), len(shifts)))
    for j, i in pairs:
        hole, target = pump[j], machine[i]
        cos, sin = np.cos(np.radians(turns_deg)), np.sin(np.radians(turns_deg))
        dx = (target.x - (hole.x * cos - hole.y * sin))[:, None] - shifts[None, :, 0]
        dy = (target.y - (hole.x * sin + hole.y * cos))[:, None] - shifts[None, :, 1]
        if hole.slot_mm > 0:
            along = np.radians(hole.slot_deg + turns_deg)
            ux, uy = np.cos(along)[:, None], np.sin(along)[:, None]
            t = np.clip(dx * ux + dy * uy, -hole.slot_mm / 2, hole.slot_mm / 2)
            dx, dy = dx - t * ux, dy - t * uy
        worst = np.maximum(worst, np.hypot(dx, dy))
    best = np.unravel_index(int(np.argmin(worst)), worst.shape)
    return float(turns_deg[best[0]]), float(worst[best]), shifts[best[1]]
