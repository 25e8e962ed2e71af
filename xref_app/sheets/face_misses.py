"""Which bolts certainly miss their holes when the pump is turned to where they miss least."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from xref_app.core.model.known import Hole


@dataclass(frozen=True, slots=True)
class Placed:
    """A hole or slot in its place on the sheet, mm about the shaft's axis, x right, y up."""

    x_mm: float
    y_mm: float
    slot_mm: float
    slot_deg: float

    @property
    def angle_deg(self) -> float:
        """Return its direction from the axis, degrees from x towards y."""
        return math.degrees(math.atan2(self.y_mm, self.x_mm))


def turned(hole: Hole, turn_deg: float) -> Placed:
    """Return ``hole`` turned about the axis, degrees counter-clockwise."""
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    x = hole.x_mm * cos - hole.y_mm * sin
    y = hole.x_mm * sin + hole.y_mm * cos
    return Placed(x, y, hole.slot_mm, hole.slot_deg + turn_deg)


def least_missing_turn_deg(bolts: Sequence[Hole], holes: Sequence[Hole]) -> float:
    """Return the turn at which the worst bolt is nearest to its hole, of those that line up one bolt and one hole.

    A drawing aid, not a verdict: the judge solves the turns exactly.
    """
    lined_up = [0.0] + [
        (turned(bolt, 0.0).angle_deg - turned(hole, 0.0).angle_deg) % 360 for bolt in bolts for hole in holes
    ]

    def worst_mm(turn_deg: float) -> tuple[float, float]:
        offsets = [_nearest_mm(turned(bolt, 0.0), holes, turn_deg) for bolt in bolts]
        return round(max(offsets, default=0.0), 6), turn_deg

    return min(lined_up, key=worst_mm)


def misses(
    bolts: Sequence[Hole], holes: Sequence[Hole], *, turn_deg: float, play_mm: float
) -> Iterator[tuple[Placed, float]]:
    """Yield each bolt farther than ``play_mm`` from every hole, and how far off the nearest is, mm."""
    for bolt in bolts:
        placed = turned(bolt, 0.0)
        off_mm = _nearest_mm(placed, holes, turn_deg)
        if off_mm > play_mm:
            yield placed, off_mm


def _nearest_mm(bolt: Placed, holes: Sequence[Hole], turn_deg: float) -> float:
    """Return the distance from ``bolt`` to the centre of the nearest hole, or to the centre line of a slot, mm."""
    return min((_off_mm(bolt, turned(hole, turn_deg)) for hole in holes), default=0.0)


def _off_mm(bolt: Placed, hole: Placed) -> float:
    along = math.radians(hole.slot_deg)
    x, y = bolt.x_mm - hole.x_mm, bolt.y_mm - hole.y_mm
    forward = x * math.cos(along) + y * math.sin(along)
    beyond = max(abs(forward) - hole.slot_mm / 2, 0.0)
    aside = -x * math.sin(along) + y * math.cos(along)
    return math.hypot(beyond, aside)
