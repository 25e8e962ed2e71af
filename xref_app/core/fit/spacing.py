"""How far the shaft goes into the bore, and how thick something between the faces must and may be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.house_rules import BOTTOM_CLEARANCE_MM, ENGAGEMENT_DIAMETERS, MOST_STACK_MM
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import PilotKind
from xref_app.core.quantity.range import SAME_MM, Range


@dataclass(frozen=True, slots=True)
class Reach:
    """How far the shaft goes in, mm. Worst case over all doubts.

    ``clearance_mm`` is left at the bottom and ``engagement_mm`` inside the bore with the faces together; moving them
    apart by t adds t to the one and takes t from the other. ``least_mm`` is the least t that surely leaves enough room,
    ``most_mm`` the largest that surely leaves enough shaft inside.
    """

    clearance_mm: Range
    engagement_mm: Range
    engagement_needed_mm: Range
    doubt_rss_mm: float

    @property
    def least_mm(self) -> float:
        """Return the least distance that surely leaves enough room at the bottom; 0 or less: none is needed."""
        return BOTTOM_CLEARANCE_MM - self.clearance_mm.low

    @property
    def best_mm(self) -> tuple[float, float]:
        """Return the least and the largest distance that could do in the best case, mm."""
        most = self.engagement_mm.high - self.engagement_needed_mm.low
        return BOTTOM_CLEARANCE_MM - self.clearance_mm.high, min(most, MOST_STACK_MM)

    @property
    def most_apart_mm(self) -> float:
        """Return the largest distance that surely leaves enough shaft in the bore; negative: not even none."""
        return self.engagement_mm.low - self.engagement_needed_mm.high

    @property
    def most_mm(self) -> float:
        """Return the largest such distance that spacers may make up."""
        return min(self.most_apart_mm, MOST_STACK_MM)

    def moved_out(self, apart: Range) -> Reach:
        """Return the reach with the faces ``apart`` from each other, mm."""
        return replace(self, clearance_mm=self.clearance_mm + apart, engagement_mm=self.engagement_mm - apart)

    @property
    def holds(self) -> bool:
        """Say whether room and engagement are surely enough."""
        return self.least_mm <= SAME_MM and self.most_mm >= -SAME_MM


def reach_or_none(machine: Machine, pump: Pump) -> Reach | None:
    """Return how far the shaft goes in, or None while one of its four sizes is not known."""
    projection, diameter = machine.shaft.projection_mm, machine.shaft.diameter_mm
    depth, recess = pump.bore.depth_mm, pump.bore.recess_mm
    if projection is None or diameter is None or depth is None or recess is None:
        return None
    return Reach(
        clearance_mm=depth.range - projection.range,
        engagement_mm=projection.range - recess.range,
        engagement_needed_mm=diameter.range * ENGAGEMENT_DIAMETERS,
        doubt_rss_mm=(depth.doubt**2 + projection.doubt**2) ** 0.5,
    )


def missing_for_reach(machine: Machine, pump: Pump) -> tuple[str, ...]:
    """Return the fields of the sizes that the reach still lacks."""
    sizes = (
        ("shaft_projection_mm", machine.shaft.projection_mm),
        ("shaft_diameter_mm", machine.shaft.diameter_mm),
        ("bore_depth_mm", pump.bore.depth_mm),
        ("bore_recess_mm", pump.bore.recess_mm),
    )
    return tuple(field for field, size in sizes if size is None)


def bolts_used(machine: Machine, pump: Pump) -> int:
    """Return how many bolts hold the pump: all of the face with fewer holes; 0 while a pattern is not known."""
    ours, theirs = machine.face.holes_xy_mm, pump.flange.holes_xy_mm
    if ours is None or theirs is None:
        return 0
    return min(len(ours.holes), len(theirs.holes))


def boss_on_flat_or_none(machine: Machine, pump: Pump) -> Range | None:
    """Return how high a boss stands that has no recess to go into, mm; None where there is none or it is not known."""
    sides = (machine.face, pump.flange)
    kinds = [side.pilot_kind.value if side.pilot_kind else None for side in sides]
    if sorted(kind or "" for kind in kinds) != sorted((PilotKind.BOSS, PilotKind.NONE)):
        return None
    boss = sides[kinds.index(PilotKind.BOSS)]
    return boss.pilot_depth_mm.range if boss.pilot_depth_mm else None


def window_mm(machine: Machine, pump: Pump) -> Range | None:
    """Return how far apart the faces surely may be for reach and pilot, mm.

    None where nothing surely does, or while the reach is not known: then nothing thick can be chosen.
    """
    reach = reach_or_none(machine, pump)
    if reach is None:
        return None
    boss = boss_on_flat_or_none(machine, pump)
    least = max(reach.least_mm, boss.high if boss else reach.least_mm)
    return Range(least, reach.most_mm) if least <= reach.most_mm else None


def is_surely_apart(machine: Machine, pump: Pump) -> bool:
    """Say whether the faces surely cannot stay together, whatever the true sizes: the shaft bottoms or a boss meets."""
    reach, boss = reach_or_none(machine, pump), boss_on_flat_or_none(machine, pump)
    return (reach is not None and reach.best_mm[0] > SAME_MM) or (boss is not None and boss.low > SAME_MM)
