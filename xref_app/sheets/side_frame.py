"""Where things stand in the side view: heights above the shaft's axis, and how far the drawing goes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from xref_app.core.fit.bolt_joint import is_through
from xref_app.core.model.known import Hole, Pattern
from xref_app.core.model.machine import Face, Machine
from xref_app.core.model.pump import Flange, Pump
from xref_app.core.model.words import PilotKind
from xref_app.core.standards.threads import bolt_nominal_mm
from xref_app.sheets.side_lengths import Between

# House rules, looks only: nobody measured how thick the castings are, so so much of them is shown and left open, mm.
_CASE_DEEP_MM, _BEHIND_THREAD_MM, _OUTSIDE_HOLE_MM = 10.0, 5.0, 8.0
_HUB_MM, _BEHIND_BORE_MM, _ROUND_SHAFT_MM = 7.0, 6.0, 3.0
_NO_SHAFT_MM = 10.0


@dataclass(frozen=True, slots=True)
class Frame:
    """The side view's heights above the axis and lengths from the engine's face, mm, by the values as read."""

    machine: Machine
    pump: Pump
    between: Between

    @property
    def gap_mm(self) -> float:
        """Return how far the pump's face stands from the engine's."""
        return self.between.thickness_mm.middle

    @property
    def shaft_mm(self) -> float | None:
        """Return the shaft's radius."""
        across = self.machine.shaft.diameter_mm
        return None if across is None else across.value / 2

    @property
    def bore_mm(self) -> float | None:
        """Return the bore's radius."""
        across = self.pump.bore.diameter_mm
        return None if across is None else across.value / 2

    @property
    def inner_mm(self) -> float:
        """Return from where the engine's face is drawn."""
        return max(self.shaft_mm or 0.0, self.bore_mm or 0.0, 0.0) + _ROUND_SHAFT_MM or _NO_SHAFT_MM

    @property
    def hub_mm(self) -> float:
        """Return the height up to which the pump is drawn as deep as its bore."""
        floor = self.keyway_floor_mm or 0.0
        return max((self.bore_mm or _NO_SHAFT_MM) + _HUB_MM, floor + _HUB_MM / 2)

    @property
    def keyway_floor_mm(self) -> float | None:
        """Return the height of the keyway's floor above the axis."""
        floor = self.pump.bore.keyway_floor_mm
        return None if floor is None or self.bore_mm is None else floor.value - self.bore_mm

    @property
    def key_top_mm(self) -> float | None:
        """Return the height of the key's top above the axis."""
        top = self.machine.shaft.key_top_mm
        return None if top is None or self.shaft_mm is None else top.value - self.shaft_mm

    @property
    def bolt_y_mm(self) -> float | None:
        """Return how far the engine's first bolt is from the axis."""
        pattern = self.machine.face.holes_xy_mm
        if pattern is None or not pattern.holes:
            return None
        return math.hypot(pattern.holes[0].x_mm, pattern.holes[0].y_mm)

    @property
    def hole_y_mm(self) -> float | None:
        """Return how far the pump's hole is from the axis that comes nearest to that bolt."""
        pattern = self.pump.flange.holes_xy_mm
        if pattern is None:
            return None
        wanted = self.bolt_y_mm if self.bolt_y_mm is not None else math.inf
        return min((_nearest_mm(hole, wanted) for hole in pattern.holes), key=lambda y: abs(y - wanted), default=None)

    @property
    def bolt_mm(self) -> float | None:
        """Return the radius of the engine's bolt."""
        bolt = self.machine.face.bolt
        across = None if bolt is None else bolt_nominal_mm(bolt.value)
        return None if across is None else across / 2

    @property
    def engine_hole_mm(self) -> float | None:
        """Return the radius of the hole in the engine's face."""
        if not is_through(self.machine):
            return self.bolt_mm
        across = self.machine.face.hole_mm
        return None if across is None else across.value / 2

    @property
    def flange_hole_mm(self) -> float | None:
        """Return the radius of the hole in the flange."""
        across = self.pump.flange.hole_mm
        return None if across is None else across.value / 2

    @property
    def case_deep_mm(self) -> float:
        """Return how much of the engine's case is drawn behind its face."""
        face = self.machine.face
        if is_through(self.machine) and face.thickness_mm is not None:
            return face.thickness_mm.value
        deep = 0.0 if face.tapped_depth_mm is None else face.tapped_depth_mm.value + _BEHIND_THREAD_MM
        return max(_CASE_DEEP_MM, deep, _pilot_depth_mm(self.machine.face) + _BEHIND_THREAD_MM)

    @property
    def is_case_open(self) -> bool:
        """Say whether the case goes on behind what is drawn."""
        return not (is_through(self.machine) and self.machine.face.thickness_mm is not None)

    @property
    def pump_back_mm(self) -> float | None:
        """Return how far the pump is drawn from the engine's face, None while the bore's depth is not known."""
        depth = self.pump.bore.depth_mm
        return None if depth is None else self.gap_mm + depth.value + _BEHIND_BORE_MM

    @property
    def top_mm(self) -> float:
        """Return how far up castings are drawn."""
        holes = [y for y in (self.bolt_y_mm, self.hole_y_mm) if y is not None]
        outermost = max(holes, default=self.hub_mm)
        return max(outermost + (self.bolt_mm or 0.0) * 2 + _OUTSIDE_HOLE_MM, self.pilot_mm + _OUTSIDE_HOLE_MM)

    @property
    def low_mm(self) -> float:
        """Return how far down they are drawn: as far as there is something to see."""
        return max(self.hub_mm, self.inner_mm + _HUB_MM)

    @property
    def pilot_mm(self) -> float:
        """Return the largest radius of boss and recess, 0 where there is none."""
        return max(_pilot_radius_mm(self.machine.face), _pilot_radius_mm(self.pump.flange))


def _nearest_mm(hole: Hole, wanted_mm: float) -> float:
    """Return the distance of a hole from the axis; of a slot that of its place nearest to the one wanted."""
    middle_mm = math.hypot(hole.x_mm, hole.y_mm)
    half_mm = hole.slot_mm / 2
    return min(max(wanted_mm, middle_mm - half_mm), middle_mm + half_mm)


def has_one_radius(pattern: Pattern, *, within_mm: float) -> bool:
    """Say whether all holes lie equally far from the axis."""
    away = [math.hypot(hole.x_mm, hole.y_mm) for hole in pattern.holes]
    return max(away, default=0.0) - min(away, default=0.0) <= within_mm


def _pilot_radius_mm(side: Face | Flange) -> float:
    kind = side.pilot_kind
    if kind is None or kind.value is PilotKind.NONE or side.pilot_mm is None or side.pilot_depth_mm is None:
        return 0.0
    return side.pilot_mm.value / 2


def _pilot_depth_mm(side: Face | Flange) -> float:
    return 0.0 if side.pilot_depth_mm is None or not _pilot_radius_mm(side) else side.pilot_depth_mm.value


def pilot_step_mm(side: Face | Flange) -> tuple[float, float]:
    """Return up to which height and how far a face stands out at its middle, mm; negative: how far it stands back."""
    radius_mm = _pilot_radius_mm(side)
    if not radius_mm or side.pilot_kind is None or side.pilot_depth_mm is None:
        return 0.0, 0.0
    sign = 1 if side.pilot_kind.value is PilotKind.BOSS else -1
    return radius_mm, sign * side.pilot_depth_mm.value
