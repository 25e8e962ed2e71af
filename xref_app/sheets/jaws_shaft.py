"""Where the jaws go on a keyed shaft: seen on its end, from the side, and from above onto the keyseat."""

from __future__ import annotations

import math

from xref_app.core.sentence import marked
from xref_app.sheets.jaws_shapes import Arrow, JawDrawing, Kind, Point, Sheet, arc, box
from xref_app.sheets.jaws_tools import INSIDE, Grip, Rod, caliper, cross, depth_rod, straightedge

# An invented shaft, mm.
SHAFT_MM, PROJECTION_MM = 20.0, 62.0
KEY_WIDTH_MM, KEY_TOP_MM, SEAT_FLOOR_MM = 6.0, 23.0, 6.5
KEYSEAT_LENGTH_MM, KEYSEAT_FROM_END_MM = 30.0, 9.0
_RADIUS_MM = SHAFT_MM / 2
_SMALL = 0.42

KEYSEAT = marked("drawing", "keyseat")
KEY = marked("drawing", "key")
KEY_OUT = marked("drawing", "key, taken out")
SHAFT_END = marked("drawing", "shaft's end")
STRAIGHTEDGE = marked("drawing", "straightedge")
SEAT = marked("drawing", "bolt seat")

DIAMETER_WORDS = marked(
    "drawing", "The shaft seen on its end, the keyseat at the top; the outside jaws close on it left and right."
)
KEY_WIDTH_WORDS = marked(
    "drawing", "The key taken out of the shaft; the outside jaws close on the two sides that lie against the slot."
)
KEY_TOP_WORDS = marked(
    "drawing", "The shaft seen on its end with the key in it; one outside jaw under the shaft, the other on the key."
)
PROJECTION_WORDS = marked(
    "drawing", "A straightedge lies across the bolt seats; from there the depth rod measures out to the shaft's end."
)
KEYSEAT_WORDS = marked(
    "drawing", "The shaft seen from above; the small inside jaws stand in the slot and touch its two ends."
)
FROM_END_WORDS = marked(
    "drawing", "The shaft seen from above; one jaw on the shaft's end, the other in the slot where it begins."
)


def shaft_diameter() -> JawDrawing:
    """Return the outside jaws on a shaft, clear of the keyseat."""
    sheet = Sheet()
    _end_view(sheet)
    grip = Grip((0, -1), 17, size=_SMALL, tip_mm=2.5)
    caliper(sheet, (-_RADIUS_MM, 0), (_RADIUS_MM, 0), grip)
    sheet.label(KEYSEAT, (KEY_WIDTH_MM / 2, _RADIUS_MM), 25)
    return sheet.done(DIAMETER_WORDS)


def key_width() -> JawDrawing:
    """Return the outside jaws on a key that was taken out."""
    sheet, half, foot = Sheet(), KEY_WIDTH_MM / 2, 17.0
    _end_view(sheet)
    sheet.line(Kind.HIDDEN, (-half, SEAT_FLOOR_MM), (-half, foot))
    sheet.line(Kind.HIDDEN, (half, SEAT_FLOOR_MM), (half, foot))
    sheet.fill(Kind.PART, box(-half, foot, half, foot + KEY_WIDTH_MM))
    middle = foot + KEY_WIDTH_MM / 2
    caliper(sheet, (-half, middle), (half, middle), Grip((0, 1), 9, size=_SMALL, tip_mm=1.8))
    sheet.label(KEY_OUT, (half, foot + 0.8), -20)
    return sheet.done(KEY_WIDTH_WORDS)


def key_top() -> JawDrawing:
    """Return the outside jaws under the shaft and over its key."""
    sheet, half, top = Sheet(), KEY_WIDTH_MM / 2, KEY_TOP_MM - _RADIUS_MM
    _end_view(sheet)
    sheet.fill(Kind.PART, box(-half, SEAT_FLOOR_MM, half, top))
    caliper(sheet, (0, -_RADIUS_MM), (0, top), Grip((1, 0), 16, size=_SMALL, tip_mm=2.5))
    sheet.label(KEY, (-half, top - 1), 160)
    return sheet.done(KEY_TOP_WORDS)


def _end_view(sheet: Sheet) -> None:
    half = KEY_WIDTH_MM / 2
    corner = math.degrees(math.asin(half / _RADIUS_MM))
    outline = arc((0, 0), _RADIUS_MM, 90 + corner, 450 - corner)
    sheet.fill(Kind.PART, [*outline, (half, SEAT_FLOOR_MM), (-half, SEAT_FLOOR_MM)])
    cross(sheet, (0, 0), _RADIUS_MM + 2.5)


def projection() -> JawDrawing:
    """Return the depth rod from the plane of the seats to the shaft's end."""
    sheet = Sheet()
    sheet.fill(Kind.CUT, box(-12, 15, 0, 40))
    sheet.fill(Kind.CUT, box(-12, -40, 0, -15))
    sheet.fill(Kind.PART, box(-12, -_RADIUS_MM, PROJECTION_MM, _RADIUS_MM))
    sheet.line(Kind.CENTRE, (-17, 0), (PROJECTION_MM + 6, 0))
    straightedge(sheet, 0, -36, 5, 36)
    rod_y = 19.0
    depth_rod(sheet, (PROJECTION_MM, rod_y), (0, rod_y), Rod(near_mm=13, far_mm=3, beam_mm=22))
    ends: tuple[Point, Point] = ((0, -_RADIUS_MM - 15), (PROJECTION_MM, -_RADIUS_MM))
    sheet.measure(ends, Arrow(((0, -25), (PROJECTION_MM, -25))))
    sheet.label(STRAIGHTEDGE, (5, 34), 0)
    return sheet.done(PROJECTION_WORDS)


def keyseat_length() -> JawDrawing:
    """Return the inside jaws at both ends of the keyseat."""
    sheet = Sheet()
    start, end = _from_above(sheet)
    caliper(sheet, (start, 0), (end, 0), Grip((0, 1), 22, INSIDE, size=0.9, tip_mm=1.5, over_mm=24))
    return sheet.done(KEYSEAT_WORDS)


def keyseat_from_end() -> JawDrawing:
    """Return one jaw in the keyseat where it begins and one on the shaft's end."""
    sheet = Sheet()
    _, end = _from_above(sheet)
    caliper(sheet, (end, 0), (PROJECTION_MM, 0), Grip((0, 1), 22, size=0.7, tip_mm=1.5))
    sheet.label(SHAFT_END, (PROJECTION_MM, -8), -30)
    return sheet.done(FROM_END_WORDS)


def _from_above(sheet: Sheet) -> tuple[float, float]:
    """Draw the shaft with its keyseat up; return where the seat starts and ends along it, mm."""
    sheet.fill(Kind.CUT, box(-12, 13, 0, 26))
    sheet.fill(Kind.CUT, box(-12, -26, 0, -13))
    sheet.fill(Kind.PART, box(-12, -_RADIUS_MM, PROJECTION_MM, _RADIUS_MM))
    end = PROJECTION_MM - KEYSEAT_FROM_END_MM
    start, round_mm = end - KEYSEAT_LENGTH_MM, KEY_WIDTH_MM / 2
    left, right = (start + round_mm, 0.0), (end - round_mm, 0.0)
    sheet.fill(Kind.EMPTY, [*arc(right, round_mm, -90, 90), *arc(left, round_mm, 90, 270)])
    sheet.line(Kind.CENTRE, (-17, 0), (PROJECTION_MM + 6, 0))
    return start, end
