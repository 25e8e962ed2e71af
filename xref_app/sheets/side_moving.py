"""The shaft with its key, and one bolt with washer and nut, in the side view."""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.core.fit.bolt_joint import is_through
from xref_app.core.fit.house_rules import NUT_DIAMETERS
from xref_app.sheets.shapes import Line, Outline, Segment, Shape
from xref_app.sheets.side_frame import Frame
from xref_app.sheets.side_lengths import BoltLengths

# How far the shaft is drawn on behind the engine's case, mm; looks only, as are the next (house rules).
_SHAFT_ON_MM = 5.0
# Head and washer of a bolt in its diameters (from memory, looks only: close to the hexagon tables).
_HEAD_HIGH, _HEAD_WIDE, _WASHER_WIDE, _CORE = 0.6, 1.6, 2.0, 0.84
# The cross on a bolt's tip or a shaft's end that has no room, mm.
_MISS_CROSS_MM = 5.0


def shaft(frame: Frame) -> Iterator[Shape]:
    """Yield the shaft up to its end, and its key where its span and its height are known."""
    projection, radius = frame.machine.shaft.projection_mm, frame.shaft_mm
    if projection is None or radius is None:
        return
    from_mm, end_mm = -frame.case_deep_mm - _SHAFT_ON_MM, projection.value
    for y in (radius, -radius):
        yield Segment(from_mm, y, end_mm, y, Line.MACHINE)
    yield Segment(end_mm, -radius, end_mm, radius, Line.MACHINE)
    span, top = key_span_or_none(frame), frame.key_top_mm
    if span is not None and top is not None:
        yield Outline(((span[0], radius), (span[0], top), (span[1], top), (span[1], radius)), Line.MACHINE)


def key_span_or_none(frame: Frame) -> tuple[float, float] | None:
    """Return from where to where the shaft's key lies, mm from the engine's face."""
    sizes = frame.machine.shaft
    if sizes.projection_mm is None or sizes.keyseat_length_mm is None or sizes.keyseat_from_end_mm is None:
        return None
    ends = sizes.projection_mm.value - sizes.keyseat_from_end_mm.value
    return ends - sizes.keyseat_length_mm.value, ends


def bolt_tip_mm(frame: Frame, bolt: BoltLengths) -> float | None:
    """Return where the bolt ends, mm from the engine's face; negative inside the engine."""
    seat = bolt_seat_mm(frame, bolt)
    return None if seat is None else seat - bolt.length_mm


def bolt_seat_mm(frame: Frame, bolt: BoltLengths | None) -> float | None:
    """Return where the underside of the bolt's head lies, mm from the engine's face; with no bolt the flange's back."""
    thickness, washer = frame.pump.flange.thickness_mm, 0.0 if bolt is None else bolt.washer_mm.middle
    return None if thickness is None else frame.gap_mm + thickness.value + washer


def bolt_axis_mm(frame: Frame) -> float | None:
    """Return the height of the bolt that is drawn: the engine's, or with a plate the pump's."""
    return frame.bolt_y_mm if frame.between.plate_mm is None else frame.hole_y_mm


def bolt(frame: Frame, lengths: BoltLengths) -> Iterator[Shape]:
    """Yield head, washer, shank and thread, and the nut where the hole goes through."""
    y, seat, tip = bolt_axis_mm(frame), bolt_seat_mm(frame, lengths), bolt_tip_mm(frame, lengths)
    if y is None or seat is None or tip is None:
        return
    across, washer = lengths.diameter_mm, lengths.washer_mm.middle
    yield _box((seat, seat + _HEAD_HIGH * across), y, _HEAD_WIDE * across)
    yield _box((seat - washer, seat), y, _WASHER_WIDE * across)
    yield _box((tip, seat), y, across)
    if lengths.is_through and is_through(frame.machine):
        back = -frame.case_deep_mm
        yield _box((back - washer, back), y, _WASHER_WIDE * across)
        yield _box((back - washer - NUT_DIAMETERS * across, back - washer), y, _HEAD_WIDE * across)
    in_thread_to = -frame.case_deep_mm if lengths.is_through else frame.between.plate_mm or 0.0
    if tip < in_thread_to:
        for side in (1, -1):
            core = y + side * _CORE * across / 2
            yield Segment(tip, core, in_thread_to, core, Line.THREAD)


def cross(x: float, y: float) -> Iterator[Shape]:
    """Yield the cross that marks a miss."""
    half = _MISS_CROSS_MM / 2
    yield Segment(x - half, y - half, x + half, y + half, Line.MISS)
    yield Segment(x - half, y + half, x + half, y - half, Line.MISS)


def _box(along: tuple[float, float], y: float, across: float) -> Outline:
    low, high = y - across / 2, y + across / 2
    return Outline(((along[0], low), (along[1], low), (along[1], high), (along[0], high)), Line.BETWEEN)
