"""The middle of the plate: the bore that clears shaft and key, and what takes in a boss of either face."""

from __future__ import annotations

import math
from dataclasses import dataclass

from xref_app.core.plan.house_rules import (
    BORE_STEP_MM,
    BOSS_CLEARANCE_MM,
    CENTRING_MM,
    DEPTH_STEP_MM,
    LEAST_FLOOR_MM,
    MADE_DIAMETER_MM,
    MADE_POSITION_MM,
    MADE_THICKNESS_MM,
    SHAFT_CLEARANCE_MM,
)
from xref_app.core.plan.plate_parts import Recess
from xref_app.core.plan.plate_readings import Boss, PlateReadings
from xref_app.core.quantity.range import SAME_MM

# How far the plate's bores may sit off the shaft's axis, mm: as made and as set.
OFF_CENTRE_MM = math.sqrt(2) * (MADE_POSITION_MM + CENTRING_MM)


@dataclass(frozen=True, slots=True)
class Centre:
    """One way to make the middle: the bore, and the recess on either side (None where the bore itself serves)."""

    bore_mm: float
    engine_recess: Recess | None = None
    pump_recess: Recess | None = None

    def depth_taken_mm(self) -> float:
        """Return the thickness that the recesses as made take at most, and 0 where there is none."""
        both = (self.engine_recess, self.pump_recess)
        return sum(recess.depth_mm + MADE_THICKNESS_MM for recess in both if recess)

    def leaves_floor(self, thickness_mm: float) -> bool:
        """Say whether the floor of the recesses, or between them, is thick enough as made."""
        taken = self.depth_taken_mm()
        left = thickness_mm - MADE_THICKNESS_MM - taken
        return taken == 0 or left >= LEAST_FLOOR_MM - SAME_MM


def stepped_up(value_mm: float, step_mm: float) -> float:
    """Return the least whole number of steps that is no less than ``value_mm``."""
    return round(math.ceil(value_mm / step_mm - SAME_MM) * step_mm, 6)


def bosses_take_mm(readings: PlateReadings) -> float:
    """Return how thick the plate must be that no boss comes out at the other side or meets the other, mm; 0: none."""
    heights = [boss.height_mm.high for boss in (readings.engine_boss, readings.pump_boss) if boss]
    return sum(heights) + BOSS_CLEARANCE_MM if heights else 0.0


def centres(readings: PlateReadings) -> tuple[Centre, ...]:
    """Return the ways to make the middle, most material first: recesses, the bore opened to one, then to both."""
    bore = stepped_up(
        2 * (readings.shaft_radius_mm.high + SHAFT_CLEARANCE_MM + OFF_CENTRE_MM) + MADE_DIAMETER_MM, BORE_STEP_MM
    )
    engine, pump = _recess(readings.engine_boss), _recess(readings.pump_boss)
    bores = sorted({bore} | {recess.diameter_mm for recess in (engine, pump) if recess and recess.diameter_mm > bore})
    return tuple(Centre(size, _beyond(size, engine), _beyond(size, pump)) for size in bores)


def _beyond(bore_mm: float, recess: Recess | None) -> Recess | None:
    return recess if recess and recess.diameter_mm > bore_mm else None


def _recess(boss: Boss | None) -> Recess | None:
    """Return the recess that lets a boss in wherever the doubts put it: it clears the boss and does not centre it."""
    if boss is None:
        return None
    diameter = boss.diameter_mm.high + 2 * OFF_CENTRE_MM + MADE_DIAMETER_MM
    depth = boss.height_mm.high + BOSS_CLEARANCE_MM + MADE_THICKNESS_MM
    return Recess(stepped_up(diameter, BORE_STEP_MM), stepped_up(depth, DEPTH_STEP_MM))
