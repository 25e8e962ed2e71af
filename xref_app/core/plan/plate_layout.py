"""Where the holes of the plate lie, at which turn of the pump, and what they leave between them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from xref_app.core.fit.way_out import points_free
from xref_app.core.model.known import Pattern
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.plan.house_rules import (
    EDGE_DIAMETERS,
    LEAST_EDGE_MM,
    LEAST_WEB_MM,
    MADE_DIAMETER_MM,
    MADE_POSITION_MM,
    OVERSIZE_MM,
)
from xref_app.core.plan.plate_bolts import Sunk
from xref_app.core.plan.plate_centre import Centre, stepped_up
from xref_app.core.quantity.range import SAME_MM

# A web as made is thinner than drawn: two places, and half the oversize on either side.
WEB_LOST_MM = 2 * math.sqrt(2) * MADE_POSITION_MM + OVERSIZE_MM
# At an edge one place, half the oversize, and the outline's own half millimetre.
EDGE_LOST_MM = math.sqrt(2) * MADE_POSITION_MM + OVERSIZE_MM / 2 + 0.5
_OUTLINE_STEP_MM = 1.0
# Webs that differ by less are the same web: the turn nearest to 0 is taken.
_SAME_WEB_MM = 1e-6

Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Holes:
    """Both patterns and the sizes of what is cut at each, mm; slots are met at their middle."""

    engine: tuple[Place, ...]
    pump: tuple[Place, ...]
    sunk: Sunk
    thread_mm: float


@dataclass(frozen=True, slots=True)
class Layout:
    """The plate in its plane, mm as drawn; ``in_recess`` says that a pump hole opens into the engine's recess."""

    turn_deg: int
    pump: tuple[Place, ...]
    least_web_mm: float
    outline_mm: float
    least_edge_mm: float
    in_recess: bool

    @property
    def leaves_web(self) -> bool:
        """Say whether every web is thick enough as made."""
        return self.least_web_mm >= LEAST_WEB_MM + WEB_LOST_MM - SAME_MM


def places(pattern: Pattern) -> tuple[Place, ...]:
    """Return the middles of the holes and slots of a pattern."""
    return tuple((hole.x_mm, hole.y_mm) for hole in pattern.holes)


def turned(place: Place, degrees: float) -> Place:
    """Return a place turned about the axis, counter-clockwise."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return place[0] * cos - place[1] * sin, place[0] * sin + place[1] * cos


def layout(holes: Holes, centre: Centre, free_turns: frozenset[int]) -> Layout:
    """Return the layout at the whole degree that leaves the largest least web.

    Turns with the outlet free go first while one of them leaves web enough; of equal webs the turn nearest to 0 wins.
    """
    fixed = min(_fixed_webs(holes, centre), default=math.inf)
    webs = {turn: min(fixed, _turning_web(holes, turn)) for turn in range(-179, 181)}
    order = sorted(webs, key=lambda turn: (abs(turn), -turn))
    free = [turn for turn in order if turn % 360 in free_turns]
    best = _widest(free, webs) if free else None
    if best is None or webs[best] < LEAST_WEB_MM + WEB_LOST_MM - SAME_MM:
        best = _widest(order, webs)
    pump = tuple(turned(place, best) for place in holes.pump)
    outline, edge = _outline(holes, centre)
    recess = centre.engine_recess
    inside = recess is not None and any(math.hypot(*place) < recess.diameter_mm / 2 for place in pump)
    return Layout(best % 360, pump, webs[best], outline, edge, inside)


def free_turns(machine: Machine, pump: Pump) -> frozenset[int]:
    """Return the whole degrees at which the outlet surely points where the machine leaves room; all while unknown."""
    return frozenset(turn for turn in range(360) if points_free(machine, pump, turn) is not False)


def _widest(order: list[int], webs: dict[int, float]) -> int:
    most = max(webs[turn] for turn in order)
    return next(turn for turn in order if webs[turn] >= most - _SAME_WEB_MM)


def _fixed_webs(holes: Holes, centre: Centre) -> Iterator[float]:
    """Yield the webs that no turn changes: within each pattern, and to the bore and recesses about the centre."""
    head, thread = holes.sunk.counterbore_mm / 2, holes.thread_mm / 2
    for pattern, radius in ((holes.engine, head), (holes.pump, thread)):
        for index, one in enumerate(pattern):
            yield from (math.dist(one, other) - 2 * radius for other in pattern[:index])
    recesses = [recess.diameter_mm for recess in (centre.engine_recess, centre.pump_recess) if recess]
    round_all = max(centre.bore_mm, *recesses) if recesses else centre.bore_mm
    yield from (math.hypot(*place) - head - round_all / 2 for place in holes.engine)
    open_to_pump = max(centre.bore_mm, centre.pump_recess.diameter_mm if centre.pump_recess else 0.0)
    for place in holes.pump:
        yield math.hypot(*place) - thread - open_to_pump / 2
        if centre.engine_recess:
            # A pump's hole may open into the engine's recess, but not into its wall.
            yield abs(math.hypot(*place) - centre.engine_recess.diameter_mm / 2) - thread


def _turning_web(holes: Holes, turn: int) -> float:
    radii = holes.sunk.counterbore_mm / 2 + holes.thread_mm / 2
    pump = [turned(place, turn) for place in holes.pump]
    return min(math.dist(one, other) for one in holes.engine for other in pump) - radii


def _outline(holes: Holes, centre: Centre) -> tuple[float, float]:
    """Return the outline's diameter that leaves edge enough as made, and the least edge as drawn, mm."""
    clearance, thread = holes.sunk.clearance_mm, holes.thread_mm
    far_engine = max(math.hypot(*place) for place in holes.engine)
    far_pump = max(math.hypot(*place) for place in holes.pump)
    recesses = [recess.diameter_mm for recess in (centre.engine_recess, centre.pump_recess) if recess]
    middle = max([centre.bore_mm, *recesses]) / 2 + MADE_DIAMETER_MM
    rims = (far_engine + holes.sunk.counterbore_mm / 2, far_pump + thread / 2, middle)
    needed = (
        rims[0] + LEAST_EDGE_MM,
        far_engine + clearance / 2 + max(EDGE_DIAMETERS * clearance, LEAST_EDGE_MM),
        rims[1] + max(EDGE_DIAMETERS * thread, LEAST_EDGE_MM),
        middle + LEAST_EDGE_MM,
    )
    outline = stepped_up(2 * (max(needed) + EDGE_LOST_MM), _OUTLINE_STEP_MM)
    return outline, outline / 2 - max(rims[:2])
