"""The engine's face and the pump's flange, one over the other: plain geometry that screen and paper both draw.

Everything is in mm about the shaft's axis, x right and y up, looking at the engine's face with the pump in front.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from xref_app.core.model.known import Dimension, Fact, Hole, Pattern, Seats
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import PilotKind
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.threads import bolt_nominal_mm
from xref_app.sheets.face_misses import Placed, least_missing_turn_deg, misses, turned
from xref_app.sheets.shapes import CentreLine, Circle, Drawing, Label, Line, Segment, Shape

# The outlet's arrow starts this far outside the outermost hole's centre and is this long, mm (house rule: looks only).
_ARROW_FROM_MM, _ARROW_MM = 7.0, 12.0
# A seat lower than the highest by no more than this stands flush for the eye, mm (house rule: looks only).
_FLUSH_MM = 0.005
# Points drawn round each end of a slot.
_SLOT_STEPS = 12
_KEY_SHARE = 0.25
# Half a cross on a hole's centre, mm: alone, and inside the hole (house rule: looks only).
_CROSS_MM, _SMALL_CROSS_MM = 3.5, 1.2
# A lone cross grows with the pattern, to be seen on a small sheet; the pump's stands out from under the engine's.
_CROSS_SHARE, _PUMP_CROSS_TIMES = 0.07, 1.7
# The cross on a bolt that misses its hole, mm, and how far its label turns aside, degrees (house rule: looks only).
_MISS_CROSS_MM, _LABEL_TILT_DEG = 9.0, 60.0
_SMALLEST_REACH_MM = 20.0

TITLE = marked("drawing", "Engine's face and pump's flange, seen from the pump")
NO_MACHINE_HOLES = marked("drawing", "Bolt holes of the engine's face: not known")
NO_PUMP_HOLES = marked("drawing", "Bolt holes of the pump's flange: not known")
NO_SHAFT = marked("drawing", "Shaft diameter: not known")
NO_BORE = marked("drawing", "Bore diameter: not known")
NO_OUTLET = marked("drawing", "Outlet direction: not known")
NO_HOLE_SIZE = marked("drawing", "Hole size: not known, centres only")
NOT_TURNED = marked("drawing", "Pump not turned")
TURNED = marked("drawing", "Pump turned {turn}° counter-clockwise")
NO_TURN = marked("drawing", "No turn is known to work; shown turned {turn}°, where it misses least")
TURN_OPEN = marked("drawing", "Turn not known yet; shown turned {turn}°")
MISSED_BY = marked("drawing", "{miss:.1f} mm off")
SEAT_LOW = marked("drawing", "seat {low:.1f} mm low")
OUTLET = marked("drawing", "outlet")


@dataclass(slots=True)
class _Sheet:
    """What has been drawn so far."""

    shapes: list[Shape] = field(default_factory=list)
    notes: list[Sentence] = field(default_factory=list)
    not_known: list[Sentence] = field(default_factory=list)

    def chain(self, points: list[tuple[float, float]], line: Line) -> None:
        """Join ``points`` by straight lines."""
        for (x1, y1), (x2, y2) in pairwise(points):
            self.shapes.append(Segment(x1, y1, x2, y2, line))

    def miss(self, name: str) -> None:
        """Note that something could not be drawn, once."""
        sentence = Sentence(name)
        if sentence not in self.not_known:
            self.not_known.append(sentence)


def face_drawing(machine: Machine, pump: Pump, clocking_deg: float | None) -> Drawing:
    """Return both faces in one view.

    Args:
        machine: The machine side.
        pump: The pump in front of it.
        clocking_deg: The pump's turn, counter-clockwise; None where no turn is known to work: the pump is then shown
            where its holes miss least, and the bolts that certainly miss are marked.
    """
    sheet = _Sheet()
    bolt_mm = bolt_size_or_none(machine)
    turn_deg = clocking_deg if clocking_deg is not None else _shown_turn_deg(machine, pump)
    _draw_machine(sheet, machine, bolt_mm)
    _draw_pump(sheet, pump, turn_deg)
    _draw_seats(sheet, machine.face.holes_xy_mm, machine.face.seat_heights_mm, Line.MACHINE, 0.0)
    _draw_seats(sheet, pump.flange.holes_xy_mm, pump.flange.seat_heights_mm, Line.PUMP, turn_deg)
    _draw_outlet(sheet, pump, turn_deg)
    _draw_turn(sheet, machine, pump, clocking_deg, turn_deg)
    drawing = Drawing(
        tuple(sheet.shapes), tuple(sheet.notes), tuple(sheet.not_known), clocking_deg, title=Sentence(TITLE)
    )
    reach_mm = drawing.reach_mm
    if drawing.is_empty:
        return drawing
    return drawing.with_shapes(CentreLine(-reach_mm, 0.0, reach_mm, 0.0), CentreLine(0.0, -reach_mm, 0.0, reach_mm))


def bolt_size_or_none(machine: Machine) -> float | None:
    """Return the basic diameter of the face's bolts, mm; None where thread or its size is not known."""
    bolt = machine.face.bolt
    return None if bolt is None else bolt_nominal_mm(bolt.value)


def _shown_turn_deg(machine: Machine, pump: Pump) -> float:
    ours, theirs = machine.face.holes_xy_mm, pump.flange.holes_xy_mm
    return 0.0 if ours is None or theirs is None else least_missing_turn_deg(ours.holes, theirs.holes)


def _draw_machine(sheet: _Sheet, machine: Machine, bolt_mm: float | None) -> None:
    through = machine.face.hole_mm
    hole_mm = through.value if through is not None else bolt_mm
    _draw_holes(sheet, machine.face.holes_xy_mm, hole_mm, Line.MACHINE, 0.0)
    if machine.face.holes_xy_mm is None:
        sheet.miss(NO_MACHINE_HOLES)
    _draw_pilot(sheet, machine.face.pilot_kind, machine.face.pilot_mm, Line.MACHINE)
    shaft = machine.shaft
    if shaft.diameter_mm is None:
        sheet.miss(NO_SHAFT)
        return
    _draw_keyed_circle(sheet, shaft.diameter_mm, shaft.key_width_mm, shaft.key_top_mm, Line.MACHINE)


def _draw_pump(sheet: _Sheet, pump: Pump, turn_deg: float) -> None:
    hole = pump.flange.hole_mm
    _draw_holes(sheet, pump.flange.holes_xy_mm, None if hole is None else hole.value, Line.PUMP, turn_deg)
    if pump.flange.holes_xy_mm is None:
        sheet.miss(NO_PUMP_HOLES)
    _draw_pilot(sheet, pump.flange.pilot_kind, pump.flange.pilot_mm, Line.PUMP)
    bore = pump.bore
    if bore.diameter_mm is None:
        sheet.miss(NO_BORE)
        return
    _draw_keyed_circle(sheet, bore.diameter_mm, bore.keyway_width_mm, bore.keyway_floor_mm, Line.PUMP)


def _draw_holes(sheet: _Sheet, pattern: Pattern | None, hole_mm: float | None, line: Line, turn_deg: float) -> None:
    if pattern is None:
        return
    if hole_mm is None:
        sheet.miss(NO_HOLE_SIZE)
    for hole in pattern.holes:
        placed = turned(hole, turn_deg)
        if line is Line.MACHINE or hole_mm is None:
            _draw_cross(sheet, placed, line, half_mm=_half_cross_mm(pattern, hole_mm, line))
        if hole_mm is None:
            continue
        if hole.slot_mm > 0:
            sheet.chain(list(_slot_outline(placed, hole_mm / 2)), line)
        else:
            sheet.shapes.append(Circle(placed.x_mm, placed.y_mm, hole_mm, line))


def _half_cross_mm(pattern: Pattern, hole_mm: float | None, line: Line) -> float:
    if hole_mm is not None:
        return _SMALL_CROSS_MM
    half_mm = max(_CROSS_MM, _CROSS_SHARE * _reach_mm(pattern))
    return half_mm * _PUMP_CROSS_TIMES if line is Line.PUMP else half_mm


def _draw_cross(sheet: _Sheet, hole: Placed, line: Line, *, half_mm: float) -> None:
    """Mark the centre of a hole, so that it is found even where the size is not known."""
    x, y = hole.x_mm, hole.y_mm
    sheet.shapes.append(Segment(x - half_mm, y, x + half_mm, y, line))
    sheet.shapes.append(Segment(x, y - half_mm, x, y + half_mm, line))


def _slot_outline(slot: Placed, radius_mm: float) -> Iterator[tuple[float, float]]:
    """Yield the outline of a slot: two half circles joined by their tangents, closed."""
    along = math.radians(slot.slot_deg)
    for side, start in ((1, along - math.pi / 2), (-1, along + math.pi / 2)):
        x = slot.x_mm + side * slot.slot_mm / 2 * math.cos(along)
        y = slot.y_mm + side * slot.slot_mm / 2 * math.sin(along)
        for step in range(_SLOT_STEPS + 1):
            angle = start + math.pi * step / _SLOT_STEPS
            yield x + radius_mm * math.cos(angle), y + radius_mm * math.sin(angle)
    first = along - math.pi / 2
    yield (
        slot.x_mm + slot.slot_mm / 2 * math.cos(along) + radius_mm * math.cos(first),
        slot.y_mm + slot.slot_mm / 2 * math.sin(along) + radius_mm * math.sin(first),
    )


def _draw_pilot(sheet: _Sheet, kind: Fact[PilotKind] | None, pilot_mm: Dimension | None, line: Line) -> None:
    if kind is not None and kind.value is not PilotKind.NONE and pilot_mm is not None:
        sheet.shapes.append(Circle(0.0, 0.0, pilot_mm.value, line))


def _draw_keyed_circle(
    sheet: _Sheet, across: Dimension, width: Dimension | None, height: Dimension | None, line: Line
) -> None:
    """Draw a shaft with its key, or a bore with its keyway, the key up; ``height`` is from the far side."""
    radius_mm = across.value / 2
    sheet.shapes.append(Circle(0.0, 0.0, across.value, line))
    if width is None:
        return
    half_mm = min(width.value / 2, radius_mm)
    foot_mm = math.sqrt(radius_mm**2 - half_mm**2)
    top_mm = height.value - radius_mm if height is not None else radius_mm + width.value * _KEY_SHARE
    sheet.chain([(-half_mm, foot_mm), (-half_mm, top_mm), (half_mm, top_mm), (half_mm, foot_mm)], line)


def _draw_seats(sheet: _Sheet, pattern: Pattern | None, seats: Seats | None, line: Line, turn_deg: float) -> None:
    """Label every seat that stands lower than the highest."""
    if pattern is None or seats is None or len(seats.heights_mm) != len(pattern.holes):
        return
    highest_mm = max(seats.heights_mm)
    for hole, height_mm in zip(pattern.holes, seats.heights_mm, strict=True):
        low_mm = highest_mm - height_mm
        if low_mm > _FLUSH_MM:
            sheet.shapes.append(_beside(turned(hole, turn_deg), Sentence(SEAT_LOW, {"low": low_mm}), line))


def _beside(hole: Placed, text: Sentence, line: Line) -> Label:
    """Label a hole a little off the direction from the axis, where the outlet's arrow may stand."""
    return Label(hole.x_mm, hole.y_mm, text, line, hole.angle_deg - _LABEL_TILT_DEG, clear_mm=6.0)


def _draw_outlet(sheet: _Sheet, pump: Pump, turn_deg: float) -> None:
    """Draw which way the pressure port points, from outside the flange."""
    direction = pump.ports.outlet.direction_deg
    if direction is None:
        sheet.miss(NO_OUTLET)
        return
    angle_deg = (direction.value + turn_deg) % 360
    cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    start_mm = max(_reach_mm(pump.flange.holes_xy_mm), _SMALLEST_REACH_MM) + _arrow_from_mm(pump)
    end_mm, middle_mm = start_mm + _ARROW_MM, start_mm + _ARROW_MM / 2
    sheet.shapes.append(Segment(start_mm * cos, start_mm * sin, end_mm * cos, end_mm * sin, Line.PUMP, arrow=True))
    beside_deg = angle_deg + 90
    sheet.shapes.append(Label(middle_mm * cos, middle_mm * sin, Sentence(OUTLET), Line.PUMP, beside_deg, clear_mm=1.0))


def _arrow_from_mm(pump: Pump) -> float:
    """Return how far outside the outermost hole's centre the arrow starts: clear of a cross that stands for a hole."""
    flange = pump.flange
    if flange.holes_xy_mm is None or flange.hole_mm is not None:
        return _ARROW_FROM_MM
    return max(_ARROW_FROM_MM, 1.3 * _half_cross_mm(flange.holes_xy_mm, None, Line.PUMP))


def _reach_mm(pattern: Pattern | None) -> float:
    holes = () if pattern is None else pattern.holes
    return max((math.hypot(one.x_mm, one.y_mm) for one in holes), default=0.0)


def _draw_turn(sheet: _Sheet, machine: Machine, pump: Pump, clocking_deg: float | None, turn_deg: float) -> None:
    ours, theirs = machine.face.holes_xy_mm, pump.flange.holes_xy_mm
    if ours is None or theirs is None:
        return
    turn = round(turn_deg) % 360
    if clocking_deg is not None:
        sheet.notes.append(Sentence(TURNED if turn else NOT_TURNED, {"turn": turn}))
        return
    _draw_misses(sheet, ours, theirs, play_mm=_play_or_none(machine, pump), turn_deg=turn_deg)
    is_missed = any(one.line is Line.MISS for one in sheet.shapes if isinstance(one, Segment))
    sheet.notes.append(Sentence(NO_TURN if is_missed else TURN_OPEN, {"turn": turn}))


def _play_or_none(machine: Machine, pump: Pump) -> float | None:
    """Return how far a bolt may stand off the middle of its hole, mm; None while either size is not known."""
    bolt_mm, hole = bolt_size_or_none(machine), pump.flange.hole_mm
    return None if bolt_mm is None or hole is None else (hole.value - bolt_mm) / 2


def _draw_misses(sheet: _Sheet, ours: Pattern, theirs: Pattern, *, play_mm: float | None, turn_deg: float) -> None:
    if play_mm is None:
        return
    for bolt, off_mm in misses(ours.holes, theirs.holes, turn_deg=turn_deg, play_mm=play_mm):
        x, y, half_mm = bolt.x_mm, bolt.y_mm, _MISS_CROSS_MM / 2
        sheet.shapes.append(Segment(x - half_mm, y - half_mm, x + half_mm, y + half_mm, Line.MISS))
        sheet.shapes.append(Segment(x - half_mm, y + half_mm, x + half_mm, y - half_mm, Line.MISS))
        where = Hole(bolt.x_mm, bolt.y_mm)
        sheet.shapes.append(_beside(turned(where, 0.0), Sentence(MISSED_BY, {"miss": off_mm}), Line.MISS))
