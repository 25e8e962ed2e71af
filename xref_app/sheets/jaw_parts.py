"""The parts as the pictures show them, to proportions made up for the eye."""

from __future__ import annotations

import math

from xref_app.sheets.jaw_shapes import Ink, Path, Point, Round, Shape, axis, box, circle_path, cross

# A shaft of 40 with its key, drawn large; lengths of the side view run along x (house rule: looks only).
SHAFT, KEY_W, KEY_UP, KEY_DOWN = 40.0, 10.0, 5.0, 5.0
REACH = 62.0


def shaft_end() -> tuple[Shape, ...]:
    """Return the end of a shaft with its key on top."""
    half, low, high = KEY_W / 2, SHAFT / 2 - KEY_DOWN, SHAFT / 2 + KEY_UP
    key = box(-half, low, half, high, Ink.CUT)
    return (Round((0, 0), SHAFT, Ink.PART), key, *cross((0, 0), SHAFT / 2 + 8))


def bore_end() -> tuple[Shape, ...]:
    """Return a hub seen from its mouth, with the keyway on top."""
    half, top = KEY_W / 2, SHAFT / 2 + KEY_UP
    edge = math.sqrt((SHAFT / 2) ** 2 - half**2)
    rim = [point for point in circle_path((0, 0), SHAFT, 96) if not (abs(point[0]) < half and point[1] > 0)]
    first = next(place for place, (x, y) in enumerate(rim) if x < 0 < y)
    around = (*rim[first:], *rim[:first])
    bore = Path((*around, (half, edge), (half, top), (-half, top), (-half, edge)), Ink.PART, closed=True)
    return (Round((0, 0), SHAFT * 1.75, Ink.PART), bore, *cross((0, 0), SHAFT * 0.875 + 6))


def shaft_side() -> tuple[Shape, ...]:
    """Return engine face and shaft from the side: the face at x = 0, the shaft's end at ``REACH``, the keyseat open."""
    face = Path(((-14, -34), (0, -34), (0, 34), (-14, 34)), Ink.CUT, closed=True)
    shaft = Path(((0, SHAFT / 2), (REACH, SHAFT / 2), (REACH, -SHAFT / 2), (0, -SHAFT / 2)), Ink.PART)
    seat = Path(((22, SHAFT / 2), (22, 12), (54, 12), (54, SHAFT / 2)), Ink.HIDDEN)
    return (face, shaft, seat, axis((-20, 0), (REACH + 10, 0)))


def bore_side(*, recess: float = 0.0) -> tuple[Shape, ...]:
    """Return the pump cut open: its mounting face at x = 0, the bore going left to its stop at x = -REACH.

    ``recess`` sets the mouth of the bore back behind the face.
    """
    half = SHAFT / 2
    points = (
        *((0, half + 18), (0, half + 4), (-recess, half + 4), (-recess, half), (-REACH, half), (-REACH, -half)),
        *((-recess, -half), (-recess, -half - 4), (0, -half - 4), (0, -half - 18), (-REACH - 12, -half - 18)),
        (-REACH - 12, half + 18),
    )
    wall = Path(points, Ink.CUT, closed=True)
    keyway = Path(((-6 - recess, half), (-6 - recess, half + 3.5), (-48, half + 3.5), (-48, half)), Ink.HIDDEN)
    return (wall, keyway, axis((-REACH - 20, 0), (14, 0)))


def hole_places(count: int) -> tuple[Point, ...]:
    """Return the centres of ``count`` holes round the shaft, hole 1 right of the top, counter-clockwise."""
    start = 90 - 180 / count if count > 2 else 0
    angles = (math.radians(start + 360 * number / count) for number in range(count))
    return tuple((FLANGE_RADIUS * math.cos(angle), FLANGE_RADIUS * math.sin(angle)) for angle in angles)


FLANGE_RADIUS, HOLE, FLANGE_BORE = 40.0, 11.0, 22.0


def flange_front(count: int) -> tuple[Shape, ...]:
    """Return a flange from the front: rim, shaft or bore, bolt circle and ``count`` holes."""
    holes = [Round(place, HOLE, Ink.PART) for place in hole_places(count)]
    crosses = [line for place in hole_places(count) for line in cross(place, HOLE / 2 + 2)]
    rim = Round((0, 0), 2 * FLANGE_RADIUS + 26, Ink.PART)
    circle = Round((0, 0), 2 * FLANGE_RADIUS, Ink.CENTRE)
    return (rim, Round((0, 0), FLANGE_BORE, Ink.PART), circle, *holes, *crosses)


def plate_side(thickness: float) -> tuple[Shape, ...]:
    """Return a plate from the side, cut, standing up."""
    return (box(-thickness / 2, -34, thickness / 2, 26, Ink.CUT),)


def pilot_side(*, boss: bool) -> tuple[Shape, ...]:
    """Return a face with its pilot from the side, cut: a boss standing out to the right, or a recess."""
    step = 9.0 if boss else -9.0
    points = ((-20, -40), (0, -40), (0, -24), (step, -24), (step, 24), (0, 24), (0, 40), (-20, 40))
    return (Path(points, Ink.CUT, closed=True), axis((-26, 0), (22, 0)))


def legs_side() -> tuple[Shape, ...]:
    """Return a pump standing on legs of which the right one is short: seats at y = 0, 0 and -5."""
    points = (
        *((-44, -34), (-44, 0), (-30, 0), (-30, -18), (-7, -18), (-7, 0), (7, 0), (7, -18)),
        *((30, -18), (30, -5), (44, -5), (44, -34)),
    )
    return (Path(points, Ink.CUT, closed=True),)


def thread_side(*, taper: float) -> tuple[tuple[Shape, ...], tuple[Point, ...]]:
    """Return a male thread from the side, its tip to the right, and its upper crests from the large end on.

    ``taper`` is how much the radius shrinks from the large end to the tip.
    """
    crests = tuple((-30 + 7.5 * number, 22 - taper * number / 8) for number in range(9))
    upper: list[Point] = []
    for x, y in crests:
        upper += [(x - 3.75, y - 4), (x, y)]
    upper.append((33.75, upper[-1][1] - 4))
    lower = [(x, -y) for x, y in reversed(upper)]
    body = Path((*upper, *lower), Ink.PART, closed=True)
    head = box(-48, -30, -33.75, 30, Ink.PART)
    return (head, body, axis((-54, 0), (42, 0))), crests
