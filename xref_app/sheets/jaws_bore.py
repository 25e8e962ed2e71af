"""Where the jaws go in a pump's keyed bore: cut open lengthwise, and seen from the front."""

from __future__ import annotations

import math

from xref_app.core.sentence import marked
from xref_app.sheets.jaws_shapes import Arrow, JawDrawing, Kind, Point, Sheet, arc, box
from xref_app.sheets.jaws_tools import INSIDE, Grip, Rod, caliper, cross, depth_rod, straightedge

# An invented bore, mm, measured from the mounting face.
BORE_MM, DEPTH_MM, RECESS_MM, RECESS_ACROSS_MM = 20.0, 60.0, 9.0, 34.0
KEYWAY_WIDTH_MM, KEYWAY_FLOOR_MM = 6.0, 23.5
KEYWAY_FROM_MM, KEYWAY_TO_MM = 16.0, 46.0
_RADIUS_MM, _MOUTH_MM, _HUB_MM, _FLANGE_MM, _FLANGE_THICK_MM, _BACK_MM = BORE_MM / 2, 17.0, 27.0, 40.0, 13.0, 72.0
_FLOOR_Y_MM = KEYWAY_FLOOR_MM - _RADIUS_MM

STRAIGHTEDGE = marked("drawing", "straightedge")
STOP = marked("drawing", "stop")
KEYWAY = marked("drawing", "keyway")
MOUTH = marked("drawing", "bore begins")

DIAMETER_WORDS = marked(
    "drawing", "The pump cut open; the inside jaws go in from the mouth and open across the bore, clear of the keyway."
)
DEPTH_WORDS = marked(
    "drawing", "A straightedge lies across the pump's seats; from there the depth rod goes down the bore to the stop."
)
RECESS_WORDS = marked(
    "drawing", "A straightedge lies across the pump's seats; from there the depth rod goes to where the bore begins."
)
WIDTH_WORDS = marked("drawing", "The bore from the front; the small inside jaws open between the sides of the keyway.")
FLOOR_WORDS = marked(
    "drawing", "The pump cut open; one inside jaw on the far side of the bore, the other on the floor of the keyway."
)
FROM_WORDS = marked(
    "drawing",
    "A straightedge lies across the pump's seats; from there the depth rod reaches to where the keyway begins.",
)
TO_WORDS = marked(
    "drawing", "A straightedge lies across the pump's seats; from there the depth rod runs in the keyway to its end."
)


def bore_diameter() -> JawDrawing:
    """Return the inside jaws across the bore."""
    sheet = Sheet()
    _cut_open(sheet, keyway_from_mm=None)
    caliper(sheet, (22, -_RADIUS_MM), (22, _RADIUS_MM), Grip((-1, 0), 32, INSIDE, tip_mm=4))
    return sheet.done(DIAMETER_WORDS)


def keyway_floor() -> JawDrawing:
    """Return the inside jaws from the far side of the bore to the keyway's floor."""
    sheet = Sheet()
    _cut_open(sheet, keyway_from_mm=RECESS_MM)
    caliper(sheet, (26, -_RADIUS_MM), (26, _FLOOR_Y_MM), Grip((-1, 0), 36, INSIDE, tip_mm=4))
    sheet.label(KEYWAY, (KEYWAY_TO_MM, _FLOOR_Y_MM - 1.5), -20)
    return sheet.done(FLOOR_WORDS)


def bore_depth() -> JawDrawing:
    """Return the depth rod down to the stop."""
    sheet = Sheet()
    _cut_open(sheet, keyway_from_mm=None)
    _rod_from_seats(sheet, DEPTH_MM, 0.0)
    sheet.measure(((0, 0), (DEPTH_MM, 0)), Arrow(((0, -6), (DEPTH_MM, -6))))
    sheet.label(STOP, (_BACK_MM, 0), 0)
    return sheet.done(DEPTH_WORDS)


def bore_recess() -> JawDrawing:
    """Return the depth rod down to where the bore begins."""
    sheet, y = Sheet(), (_RADIUS_MM + _MOUTH_MM) / 2
    _cut_open(sheet, keyway_from_mm=None)
    _rod_from_seats(sheet, RECESS_MM, y)
    sheet.measure(((0, y), (RECESS_MM, y)), Arrow(((0, 3), (RECESS_MM, 3))))
    sheet.label(MOUTH, (RECESS_MM + 3, 5), 0)
    return sheet.done(RECESS_WORDS)


def keyway_from() -> JawDrawing:
    """Return the depth rod to where the keyway begins."""
    sheet, y = Sheet(), _RADIUS_MM - 1.0
    _cut_open(sheet, keyway_from_mm=KEYWAY_FROM_MM)
    _rod_from_seats(sheet, KEYWAY_FROM_MM, y)
    ends: tuple[Point, Point] = ((0, y), (KEYWAY_FROM_MM, _RADIUS_MM))
    sheet.measure(ends, Arrow(((0, 0), (KEYWAY_FROM_MM, 0))))
    sheet.label(KEYWAY, (KEYWAY_TO_MM, _FLOOR_Y_MM - 1.5), -20)
    return sheet.done(FROM_WORDS)


def keyway_to() -> JawDrawing:
    """Return the depth rod along the keyway to its end."""
    sheet, y = Sheet(), (_RADIUS_MM + _FLOOR_Y_MM) / 2
    _cut_open(sheet, keyway_from_mm=RECESS_MM)
    _rod_from_seats(sheet, KEYWAY_TO_MM, y)
    sheet.measure(((0, y), (KEYWAY_TO_MM, y)), Arrow(((0, 2), (KEYWAY_TO_MM, 2))))
    sheet.label(KEYWAY, (KEYWAY_TO_MM, _RADIUS_MM), -20)
    return sheet.done(TO_WORDS)


def keyway_width() -> JawDrawing:
    """Return the small inside jaws in the keyway."""
    sheet, half = Sheet(), KEYWAY_WIDTH_MM / 2
    corner = math.degrees(math.asin(half / _RADIUS_MM))
    sheet.circle(Kind.PART, (0, 0), _HUB_MM - 5)
    outline = arc((0, 0), _RADIUS_MM, 90 + corner, 450 - corner)
    sheet.fill(Kind.EMPTY, [*outline, (half, _FLOOR_Y_MM), (-half, _FLOOR_Y_MM)])
    cross(sheet, (0, 0), _RADIUS_MM + 3)
    middle = (_RADIUS_MM + _FLOOR_Y_MM) / 2
    caliper(sheet, (-half, middle), (half, middle), Grip((0, 1), 14, INSIDE, size=0.55, tip_mm=1.5))
    return sheet.done(WIDTH_WORDS)


def _rod_from_seats(sheet: Sheet, deep_mm: float, y: float) -> None:
    straightedge(sheet, -6, -_FLANGE_MM - 4, 0, _FLANGE_MM + 4)
    depth_rod(sheet, (0, y), (deep_mm, y), Rod(near_mm=9 if y < 1 else 3, far_mm=9 if y < 1 else 13, beam_mm=28))


def _cut_open(sheet: Sheet, *, keyway_from_mm: float | None) -> None:
    """Draw the pump's end cut open, its mounting face at the left, the keyway up where there is one."""
    flange, hub, bore, mouth = _FLANGE_MM, _HUB_MM, _RADIUS_MM, _MOUTH_MM
    upper: list[Point] = [(DEPTH_MM, bore)]
    if keyway_from_mm is not None:
        slot = box(keyway_from_mm, bore, KEYWAY_TO_MM, _FLOOR_Y_MM)
        upper += [slot[1], slot[2], slot[3], slot[0]]
    upper += [(RECESS_MM, bore), (RECESS_MM, mouth), (0, mouth)]
    if keyway_from_mm == RECESS_MM:
        upper = [(DEPTH_MM, bore), (KEYWAY_TO_MM, bore), (KEYWAY_TO_MM, _FLOOR_Y_MM), (RECESS_MM, _FLOOR_Y_MM)]
        upper += [(RECESS_MM, mouth), (0, mouth)]
    lower: list[Point] = [(0, -mouth), (RECESS_MM, -mouth), (RECESS_MM, -bore), (DEPTH_MM, -bore)]
    outside: list[Point] = [(0, flange), (_FLANGE_THICK_MM, flange), (_FLANGE_THICK_MM, hub), (_BACK_MM, hub)]
    below: list[Point] = [(_BACK_MM, -hub), (_FLANGE_THICK_MM, -hub), (_FLANGE_THICK_MM, -flange), (0, -flange)]
    sheet.fill(Kind.CUT, [*outside, *below, *lower, *upper])
    sheet.line(Kind.EDGE, (0, -mouth), (0, mouth))
    sheet.line(Kind.EDGE, (RECESS_MM, -bore), (RECESS_MM, bore))
    if keyway_from_mm is not None:
        sheet.line(Kind.EDGE, (keyway_from_mm, bore), (KEYWAY_TO_MM, bore))
    sheet.line(Kind.CENTRE, (-4, 0), (_BACK_MM + 6, 0))
