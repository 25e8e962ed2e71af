"""Engine, shaft and pump seen from the side, cut along the shaft, with every length that decides written on it.

The engine's face is x = 0 and the pump lies to the right; y is the height above the shaft's axis; all in mm.
"""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.core.fit.coupled import goes_in_directly
from xref_app.core.fit.hints import without_hints
from xref_app.core.model.known import Seats
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.shapes import CentreLine, Drawing, Shape
from xref_app.sheets.side_castings import between_faces, engine_case, pump_casting
from xref_app.sheets.side_frame import Frame, has_one_radius
from xref_app.sheets.side_lacks import lacks
from xref_app.sheets.side_lengths import NOTHING, Between, BoltLengths, bolt_lengths_or_none
from xref_app.sheets.side_moving import bolt, bolt_axis_mm, bolt_seat_mm, shaft
from xref_app.sheets.side_sizes import bolt_sizes, pilot_misses, shaft_sizes

TITLE = marked("drawing", "Engine and pump from the side, cut along the shaft and through one bolt")
COUPLED = marked(
    "drawing", "This shaft does not go straight into this pump: a coupling decides the lengths, and none is drawn"
)
OLD_BOLT = marked("drawing", "Shown with the old bolt")
NEW_BOLT = marked("drawing", "Shown with a bolt of {length:.1f} mm")
SEVERAL_RADII = marked("drawing", "The bolts are not equally far from the shaft: the first is shown")
SEATS = marked("drawing", "The seats are not equally high; they are drawn as if they were")
PLATE_BOLTS = marked("drawing", "The bolts that hold the plate to the engine are not shown")

# Holes that differ by no more lie equally far from the axis, mm (house rule: looks only).
_ONE_CIRCLE_MM = 0.5
# Seats that differ by no more are equally high for the eye, mm (house rule: looks only).
_FLUSH_MM = 0.005
# How far an axis runs past what it is the axis of, mm.
_AXIS_PAST_MM = 4.0


def side_drawing(machine: Machine, pump: Pump, between: Between = NOTHING) -> Drawing:
    """Return engine and pump from the side, to scale by the values as read; what is only a hint counts as not known.

    Args:
        machine: The machine side.
        pump: The pump in front of it.
        between: Spacers, plate and bolt; by default the faces meet and the old bolt is used.
    """
    machine, pump = without_hints(machine), without_hints(pump)
    if goes_in_directly(machine, pump) is False:
        return Drawing((), not_known=(Sentence(COUPLED),), title=Sentence(TITLE))
    frame = Frame(machine, pump, between)
    lengths = bolt_lengths_or_none(machine, pump, between)
    shapes = tuple(_shapes(frame, lengths))
    return Drawing(
        shapes, tuple(_notes(frame, lengths)) if shapes else (), lacks(machine, pump, between), title=Sentence(TITLE)
    )


def _shapes(frame: Frame, lengths: BoltLengths | None) -> Iterator[Shape]:
    if not _is_anything_known(frame):
        return
    yield from engine_case(frame)
    yield from pump_casting(frame)
    yield from between_faces(frame)
    yield from shaft(frame)
    yield from shaft_sizes(frame)
    yield from pilot_misses(frame)
    if lengths is not None:
        yield from bolt(frame, lengths)
        yield from bolt_sizes(frame, lengths)
    yield from _axes(frame, lengths)


def _is_anything_known(frame: Frame) -> bool:
    """Say whether there is more to draw than a bare face: shaft, bore or flange."""
    shaft, bore, flange = frame.machine.shaft, frame.pump.bore, frame.pump.flange
    return any(size is not None for size in (shaft.projection_mm, bore.depth_mm, flange.thickness_mm))


def _axes(frame: Frame, lengths: BoltLengths | None) -> Iterator[Shape]:
    ends = [frame.pump_back_mm or 0.0]
    projection = frame.machine.shaft.projection_mm
    ends.append(0.0 if projection is None else projection.value)
    left = -frame.case_deep_mm - 2 * _AXIS_PAST_MM
    yield CentreLine(left, 0.0, max(ends) + _AXIS_PAST_MM, 0.0)
    y, seat = bolt_axis_mm(frame), bolt_seat_mm(frame, lengths)
    if y is not None:
        right = _AXIS_PAST_MM + (0.0 if seat is None else seat)
        past = _AXIS_PAST_MM if lengths is None else _AXIS_PAST_MM + lengths.diameter_mm
        yield CentreLine(-frame.case_deep_mm - _AXIS_PAST_MM, y, right + past, y)


def _notes(frame: Frame, lengths: BoltLengths | None) -> Iterator[Sentence]:
    if lengths is not None:
        is_old = frame.between.bolt_length_mm is None
        yield Sentence(OLD_BOLT) if is_old else Sentence(NEW_BOLT, {"length": lengths.length_mm})
    pattern = frame.machine.face.holes_xy_mm
    if pattern is not None and not has_one_radius(pattern, within_mm=_ONE_CIRCLE_MM):
        yield Sentence(SEVERAL_RADII)
    if any(_is_uneven(seats) for seats in (frame.machine.face.seat_heights_mm, frame.pump.flange.seat_heights_mm)):
        yield Sentence(SEATS)
    if frame.between.plate_mm is not None:
        yield Sentence(PLATE_BOLTS)


def _is_uneven(seats: Seats | None) -> bool:
    return seats is not None and max(seats.heights_mm) - min(seats.heights_mm) > _FLUSH_MM
