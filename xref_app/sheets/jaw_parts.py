"""The parts as the pictures show them, to proportions made up for the eye."""

from __future__ import annotations

import math

from xref_app.sheets.jaw_shapes import Ink, Path, Point, Round, Shape, axis, box, circle_path, cross

# A shaft of 40 with its key, drawn large; lengths of the side view run along x (house rule: looks only).
SHAFT, KEY_W, KEY_UP, KEY_DOWN = 40.0, 10.0, 5.0, 5.0
REACH = 62.0
# Where keyseat and keyway begin and end, from the engine's and from the pump's face.
SEAT_BEGINS, SEAT_ENDS, WAY_BEGINS, WAY_ENDS, WAY_DEEP = 20.0, 46.0, 12.0, 50.0, 4.0
HEAD_UNDER, BOLT_TIP, BOLT_AROUND = -30.0, 44.0, 14.0
PILOT, PILOT_STEP = 48.0, 9.0
SEAT_LOW = 6.0


def shaft_end(*, lifted: float = 0.0) -> tuple[Shape, ...]:
    """Return the end of a shaft with its key on top, ``lifted`` out of its seat."""
    half, low, high = KEY_W / 2, SHAFT / 2 - KEY_DOWN, SHAFT / 2 + KEY_UP
    edge = math.sqrt((SHAFT / 2) ** 2 - half**2)
    outline = Path(
        (*_rim_left_of_slot(), (half, edge), (half, low), (-half, low), (-half, edge)), Ink.PART, closed=True
    )
    key = box(-half, low + lifted, half, high + lifted, Ink.CUT)
    return (outline, key, *cross((0, 0), SHAFT / 2 + 8))


def bore_end() -> tuple[Shape, ...]:
    """Return a hub seen from its mouth, with the keyway on top."""
    half, top = KEY_W / 2, SHAFT / 2 + KEY_UP
    edge = math.sqrt((SHAFT / 2) ** 2 - half**2)
    bore = Path((*_rim_left_of_slot(), (half, edge), (half, top), (-half, top), (-half, edge)), Ink.PART, closed=True)
    return (Round((0, 0), SHAFT * 1.75, Ink.PART), bore, *cross((0, 0), SHAFT * 0.875 + 6))


def _rim_left_of_slot() -> tuple[Point, ...]:
    """Return the points of a circle of ``SHAFT`` from the left of the slot on top, round, to its right."""
    half = KEY_W / 2
    rim = [point for point in circle_path((0, 0), SHAFT, 96) if not (abs(point[0]) < half and point[1] > 0)]
    first = next(place for place, (x, y) in enumerate(rim) if x < 0 < y)
    return (*rim[first:], *rim[:first])


def shaft_side() -> tuple[Shape, ...]:
    """Return engine face and shaft from the side: the face at x = 0, the shaft's end at ``REACH``, the keyseat open."""
    half = SHAFT / 2
    face = Path(((-14, -38), (0, -38), (0, 38), (-14, 38)), Ink.CUT, closed=True)
    shaft = Path(((0, half), (REACH, half), (REACH, -half), (0, -half)), Ink.PART)
    low = half - 8
    seat = Path(((SEAT_BEGINS, half), (SEAT_BEGINS, low), (SEAT_ENDS, low), (SEAT_ENDS, half)), Ink.HIDDEN)
    return (face, shaft, seat, axis((-20, 0), (REACH + 10, 0)))


def bore_side(*, recess: float = 0.0, keyway_from: float | None = None) -> tuple[Shape, ...]:
    """Return the pump cut open: its mounting face at x = 0, the bore going left to its stop at x = -REACH.

    ``recess`` sets the mouth of the bore back behind the face; ``keyway_from`` cuts a keyway that begins so far in.
    """
    half, outer = SHAFT / 2, SHAFT / 2 + 18
    mouth: tuple[Point, ...] = ((0, half + 6), (-recess, half + 6), (-recess, half)) if recess else ((0, half),)
    keyway: tuple[Point, ...] = ()
    if keyway_from is not None:
        top = half + WAY_DEEP
        keyway = ((-keyway_from, half), (-keyway_from, top), (-WAY_ENDS, top), (-WAY_ENDS, half))
        mouth = mouth if keyway_from else ()
    lower = tuple((x, -y) for x, y in (((0, half),) if keyway else mouth))[::-1]
    points = (
        *((0, outer), *mouth, *keyway, (-REACH, half), (-REACH, -half), *lower, (0, -outer)),
        *((-REACH - 12, -outer), (-REACH - 12, outer)),
    )
    return (Path(points, Ink.CUT, closed=True), axis((-REACH - 20, 0), (14, 0)))


def plate_side(thickness: float) -> tuple[Shape, ...]:
    """Return a plate from the side, cut, standing up, with a bolt hole below the middle."""
    half = thickness / 2
    upper, lower = box(-half, -2, half, 26, Ink.CUT), box(-half, -34, half, -14, Ink.CUT)
    hole = (Path(((-half, -2), (-half, -14)), Ink.PART), Path(((half, -2), (half, -14)), Ink.PART))
    return (upper, lower, *hole, axis((-half - 8, -8), (half + 8, -8)))


def pilot_side(*, boss: bool) -> tuple[Shape, ...]:
    """Return a face with its pilot from the side, cut: a boss standing out to the right, or a recess."""
    step, half = PILOT_STEP if boss else -PILOT_STEP, PILOT / 2
    points = ((-20, -40), (0, -40), (0, -half), (step, -half), (step, half), (0, half), (0, 40), (-20, 40))
    return (Path(points, Ink.CUT, closed=True), axis((-26, 0), (22, 0)))


def legs_side() -> tuple[Shape, ...]:
    """Return a pump standing on legs of which the right one is short: seats at y = 0, 0 and ``-SEAT_LOW``."""
    points = (
        *((-46, -36), (-46, 0), (-30, 0), (-30, -18), (-8, -18), (-8, 0), (8, 0), (8, -18)),
        *((28, -18), (28, -SEAT_LOW), (46, -SEAT_LOW), (46, -36)),
    )
    return (Path(points, Ink.CUT, closed=True),)


def bolt_side() -> tuple[Shape, ...]:
    """Return a bolt from the side, its head to the left, its thread to the right."""
    half = BOLT_AROUND / 2
    head, shank = box(HEAD_UNDER - 14, -16, HEAD_UNDER, 16, Ink.PART), box(HEAD_UNDER, -half, BOLT_TIP, half, Ink.PART)
    runs = [Path(((8, side * (half - 1.6)), (BOLT_TIP, side * (half - 1.6))), Ink.HIDDEN) for side in (1, -1)]
    ends = Path(((8, half), (8, -half)), Ink.PART)
    return (head, shank, ends, *runs, axis((HEAD_UNDER - 20, 0), (BOLT_TIP + 8, 0)))


PUMP_END, ROOM = 104.0, 116.0


def pump_lying() -> tuple[Shape, ...]:
    """Return a pump from the side: its mounting face at x = 0, flange, case and head to the right."""
    flange, case = box(0, -40, 9, 40, Ink.PART), box(9, -32, 58, 32, Ink.PART)
    head, cap = box(58, -24, 92, 24, Ink.PART), box(92, -10, PUMP_END, 10, Ink.PART)
    ports = (box(66, 24, 82, 31, Ink.PART), box(66, -31, 82, -24, Ink.PART))
    return (flange, case, head, cap, *ports, axis((-10, 0), (PUMP_END + 8, 0)))


def room_side() -> tuple[Shape, ...]:
    """Return the engine's face at x = 0 with its shaft, and what a pump would hit, ``ROOM`` away."""
    engine, wall = box(-26, -40, 0, 40, Ink.CUT), box(ROOM, -40, ROOM + 8, 40, Ink.CUT)
    shaft = Path(((0, 10), (40, 10), (40, -10), (0, -10)), Ink.PART)
    pump = box(3, -26, ROOM - 14, 26, Ink.HIDDEN)
    return (engine, wall, shaft, pump, axis((-32, 0), (52, 0)))
