"""How thick a spacer must and may be: the shaft's reach and a boss on a flat face both ask for one."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from xref_app.core.fit.finding import Need
from xref_app.core.fit.house_rules import BOTTOM_CLEARANCE_MM, ENGAGEMENT_DIAMETERS, SPACER_DOUBT_MM
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import PartKind, PilotKind
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked

SPACER_NEED = marked("findings", "Spacer {thickness:.2f} mm, one under every bolt")


@dataclass(frozen=True, slots=True)
class Reach:
    """How far the shaft goes in, mm. Worst case over all doubts.

    ``clearance_mm`` is left at the bottom and ``engagement_mm`` inside the bore with no spacer; a spacer of t adds t to
    the one and takes t from the other. ``least_mm`` is the thinnest spacer that surely leaves enough room, ``most_mm``
    the thickest that surely leaves enough shaft inside.
    """

    clearance_mm: Range
    engagement_mm: Range
    engagement_needed_mm: Range
    doubt_rss_mm: float

    @property
    def least_mm(self) -> float:
        """Return the thinnest spacer that surely leaves enough room at the bottom; 0 or less: none is needed."""
        return BOTTOM_CLEARANCE_MM - self.clearance_mm.low

    @property
    def best_mm(self) -> tuple[float, float]:
        """Return the thinnest and thickest spacer that could do in the best case, mm."""
        return BOTTOM_CLEARANCE_MM - self.clearance_mm.high, self.engagement_mm.high - self.engagement_needed_mm.low

    @property
    def most_mm(self) -> float:
        """Return the thickest spacer that surely leaves enough shaft in the bore; negative: not even none."""
        return self.engagement_mm.low - self.engagement_needed_mm.high


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


def lists_spacer(shelf: Shelf, pieces: int, *, at_least_mm: float, at_most_mm: float = inf) -> bool:
    """Say whether enough pieces of a spacer are listed that may be between the two, mm."""
    return any(
        part.kind is PartKind.SPACER
        and part.count >= max(pieces, 1)
        and part.thickness_mm is not None
        and at_least_mm <= part.thickness_mm + SPACER_DOUBT_MM
        and part.thickness_mm - SPACER_DOUBT_MM <= at_most_mm
        for part in shelf
    )


@dataclass(frozen=True, slots=True)
class Spacing:
    """The one spacer used under every bolt: its thickness (0 to 0 where none is needed), and the listed piece.

    ``window_mm`` is what would do, None where nothing can or where none is needed; ``part`` is None while nobody lists
    such a piece. ``bolts`` is how many pieces it takes.
    """

    thickness_mm: Range
    window_mm: Range | None = None
    part: Part | None = None
    bolts: int = 0

    @property
    def needs(self) -> tuple[Need, ...]:
        """Return the pieces to put in, always in the same words: one set serves reach and pilot."""
        if self.part is None:
            return ()
        return (Need(Sentence(SPACER_NEED, {"thickness": self.part.thickness_mm}), self.bolts, self.part),)


NO_SPACER = Spacing(Range.exactly(0.0))


def spacing(machine: Machine, pump: Pump, shelf: Shelf) -> Spacing:
    """Return the thinnest listed spacer that reach and pilot both accept, or none where none is needed or listed."""
    reach = reach_or_none(machine, pump)
    boss = _boss_height_or_none(machine, pump)
    least = max(reach.least_mm if reach else 0.0, boss or 0.0)
    if least <= SAME_MM:
        return NO_SPACER
    most = reach.most_mm if reach else None
    if most is None or most < least:
        return NO_SPACER
    window = Range(least, most)
    bolts = bolts_used(machine, pump)
    part = _thinnest_or_none(shelf, window, bolts)
    if part is None or part.thickness_mm is None:
        return Spacing(Range.exactly(0.0), window, None, bolts)
    return Spacing(Range.around(part.thickness_mm, SPACER_DOUBT_MM), window, part, bolts)


def bolts_used(machine: Machine, pump: Pump) -> int:
    """Return how many bolts hold the pump: all of the face with fewer holes; 0 while a pattern is not known."""
    ours, theirs = machine.face.holes_xy_mm, pump.flange.holes_xy_mm
    if ours is None or theirs is None:
        return 0
    return min(len(ours.holes), len(theirs.holes))


def _boss_height_or_none(machine: Machine, pump: Pump) -> float | None:
    """Return how thick a spacer must be to clear a boss that has no recess to go into, mm; None where there is none."""
    sides = (machine.face, pump.flange)
    kinds = [side.pilot_kind.value if side.pilot_kind else None for side in sides]
    if sorted(kind or "" for kind in kinds) != sorted((PilotKind.BOSS, PilotKind.NONE)):
        return None
    boss = sides[kinds.index(PilotKind.BOSS)]
    return boss.pilot_depth_mm.range.high + SPACER_DOUBT_MM if boss.pilot_depth_mm else None


def _thinnest_or_none(shelf: Shelf, window: Range, bolts: int) -> Part | None:
    fitting = [
        part
        for part in shelf
        if part.kind is PartKind.SPACER
        and part.thickness_mm is not None
        and part.count >= max(bolts, 1)
        and Range.around(part.thickness_mm, SPACER_DOUBT_MM).within(window)
    ]
    return min(fitting, key=lambda part: (part.thickness_mm, part.cost), default=None)
