"""Where the jaws go on a face or flange: holes, thickness, bolts, pilots, and how far things reach."""

from __future__ import annotations

from xref_app.core.sentence import marked
from xref_app.sheets.jaws_shapes import Arrow, JawDrawing, Kind, Point, Sheet, arc, box, polar
from xref_app.sheets.jaws_tools import INSIDE, Grip, Rod, caliper, depth_rod, rule, straightedge

# Invented sizes, mm.
HOLE_MM, THICKNESS_MM = 14.0, 16.0
THREAD_DEEP_MM, DRILLED_DEEP_MM = 24.0, 32.0
BOLT_LENGTH_MM = 46.0
PILOT_MM, PILOT_HIGH_MM = 40.0, 7.0
ROOM_MM, PUMP_LENGTH_MM = 150.0, 150.0
OUTLET_DEG, FREE_FROM_DEG, FREE_TO_DEG = 60.0, 20.0, 160.0

BESIDE_HOLE = marked("drawing", "bolt hole")
NO_THREAD = marked("drawing", "no thread")
THREAD = marked("drawing", "thread")
BOSS, RECESS = marked("drawing", "boss"), marked("drawing", "recess")
STRAIGHTEDGE = marked("drawing", "straightedge")
FACE, FIRST_THING = marked("drawing", "mounting face"), marked("drawing", "nearest thing")
FARTHEST = marked("drawing", "farthest end")
OUTLET, FREE = marked("drawing", "outlet"), marked("drawing", "free")
RIGHT, UP = marked("drawing", "0°"), marked("drawing", "90°")

HOLE_WORDS = marked("drawing", "The plate cut open at a bolt hole; the inside jaws open across the hole.")
THICKNESS_WORDS = marked("drawing", "The plate cut open beside a bolt hole; the outside jaws close on its two faces.")
TAPPED_WORDS = marked(
    "drawing", "A threaded hole cut open; the depth rod goes to its end, and what has no thread is taken off."
)
BOLT_WORDS = marked(
    "drawing", "A bolt; the caliper's end stands on its tip and the depth rod reaches to the underside of its head."
)
PILOT_WORDS = marked(
    "drawing", "A boss is measured with the outside jaws across it, a recess with the inside jaws across it."
)
PILOT_DEPTH_WORDS = marked(
    "drawing", "The depth rod goes from the top of a boss to the seat, or from the seat to the floor of a recess."
)
ROOM_WORDS = marked("drawing", "A rule from the mounting face to the nearest thing that a pump would hit.")
LENGTH_WORDS = marked("drawing", "The pump from the side; a rule from its mounting face to its farthest end.")
DIRECTION_WORDS = marked(
    "drawing", "The face with the pump in front of it: the outlet's angle is counted from the right, 0°, up to 90°."
)
FREE_WORDS = marked(
    "drawing", "The face from the front: from which angle to which nothing stands in the way; 0° is right, 90° is up."
)


def hole() -> JawDrawing:
    """Return the inside jaws in a bolt hole."""
    sheet, half = Sheet(), HOLE_MM / 2
    _plate_with_hole(sheet, right=30)
    caliper(sheet, (-half, -5), (half, -5), Grip((0, 1), 21, INSIDE, size=0.8, tip_mm=4))
    return sheet.done(HOLE_WORDS)


def thickness() -> JawDrawing:
    """Return the outside jaws on a plate beside a bolt hole."""
    sheet = Sheet()
    _plate_with_hole(sheet, right=26)
    caliper(sheet, (17, -THICKNESS_MM), (17, 0), Grip((1, 0), 20, size=0.8, tip_mm=4))
    sheet.label(BESIDE_HOLE, (0, 4), 100)
    return sheet.done(THICKNESS_WORDS)


def _plate_with_hole(sheet: Sheet, *, right: float) -> None:
    half = HOLE_MM / 2
    sheet.fill(Kind.CUT, box(-30, -THICKNESS_MM, -half, 0))
    sheet.fill(Kind.CUT, box(half, -THICKNESS_MM, right, 0))
    sheet.line(Kind.EDGE, (-half, 0), (half, 0))
    sheet.line(Kind.EDGE, (-half, -THICKNESS_MM), (half, -THICKNESS_MM))
    sheet.line(Kind.CENTRE, (0, -THICKNESS_MM - 5), (0, 5))


def tapped_depth() -> JawDrawing:
    """Return the depth rod in a threaded hole."""
    sheet, half, deep = Sheet(), 8.0, -DRILLED_DEEP_MM
    left: list[Point] = [(-24, 0), (-24, -42), (24, -42), (24, 0)]
    sheet.fill(Kind.CUT, [*left, (half, 0), (half, deep), (0, deep - 4), (-half, deep), (-half, 0)])
    for side in (-1, 1):
        sheet.line(Kind.EDGE, (side * (half + 2), 0), (side * (half + 2), -THREAD_DEEP_MM))
    sheet.line(Kind.MEASURED, (-half - 2, -THREAD_DEEP_MM), (half + 2, -THREAD_DEEP_MM))
    sheet.line(Kind.EDGE, (-half, deep), (half, deep))
    for turn in range(1, 8):
        y = -turn * THREAD_DEEP_MM / 8
        sheet.line(Kind.EDGE, (-half - 2, y), (-half, y - 1.5))
        sheet.line(Kind.EDGE, (half, y - 1.5), (half + 2, y))
    depth_rod(sheet, (-3, 0), (-3, deep), Rod(near_mm=4, far_mm=12, beam_mm=20, size=1.2))
    root = half + 2
    sheet.measure(((root, 0), (root, -THREAD_DEEP_MM)), Arrow(((31, 0), (31, -THREAD_DEEP_MM))))
    sheet.line(Kind.EXTENSION, (half, deep), (31, deep))
    sheet.arrows.append(Arrow(((31, -THREAD_DEEP_MM), (31, deep))))
    sheet.label(THREAD, (32, -THREAD_DEEP_MM / 2), 0)
    sheet.label(NO_THREAD, (32, (deep - THREAD_DEEP_MM) / 2), 0)
    return sheet.done(TAPPED_WORDS)


def bolt_length() -> JawDrawing:
    """Return the depth rod along a bolt."""
    sheet, long = Sheet(), BOLT_LENGTH_MM
    sheet.fill(Kind.PART, [(-9, -10), (-8, -12), (0, -12), (0, 12), (-8, 12), (-9, 10)])
    sheet.line(Kind.EDGE, (-9, -5), (0, -5))
    sheet.line(Kind.EDGE, (-9, 5), (0, 5))
    sheet.fill(Kind.PART, [(0, -6), (long - 1.5, -6), (long, -4.5), (long, 4.5), (long - 1.5, 6), (0, 6)])
    for turn in range(13):
        x = long - 3 - 2 * turn
        sheet.line(Kind.EDGE, (x, -6), (x - 1, 6))
    sheet.line(Kind.CENTRE, (-14, 0), (long + 5, 0))
    depth_rod(sheet, (long, 9), (0, 9), Rod(near_mm=13, far_mm=3, beam_mm=24, size=0.9))
    sheet.measure(((0, -12), (long, -4.5)), Arrow(((0, -18), (long, -18))))
    return sheet.done(BOLT_WORDS)


def pilot() -> JawDrawing:
    """Return the outside jaws on a boss, and the inside jaws in a recess."""
    sheet, half = Sheet(), PILOT_MM / 2
    left, right = _boss_and_recess(sheet)
    caliper(sheet, (left - half, 3), (left + half, 3), Grip((0, 1), 16, size=0.75, tip_mm=2, over_mm=22))
    caliper(sheet, (right - half, -3), (right + half, -3), Grip((0, 1), 22, INSIDE, size=0.75, tip_mm=2, over_mm=22))
    return sheet.done(PILOT_WORDS)


def pilot_depth() -> JawDrawing:
    """Return the depth rod beside a boss, and in a recess."""
    sheet, half, high = Sheet(), PILOT_MM / 2, PILOT_HIGH_MM
    left, right = _boss_and_recess(sheet)
    x = left + half + 3
    depth_rod(sheet, (x, high), (x, 0), Rod(near_mm=3, far_mm=14, size=0.9, beam_mm=28))
    sheet.measure(((left + half, high), (left + half, 0)), Arrow(((left + half + 12, high), (left + half + 12, 0))))
    x = right - half + 3
    depth_rod(sheet, (x, 0), (x, -high), Rod(near_mm=3, far_mm=14, size=0.9, beam_mm=28))
    sheet.measure(
        ((right - half, 0), (right - half, -high)), Arrow(((right - half + 11, 0), (right - half + 11, -high)))
    )
    return sheet.done(PILOT_DEPTH_WORDS)


def _boss_and_recess(sheet: Sheet) -> tuple[float, float]:
    """Draw a face with a boss and one with a recess, seats at y = 0; return the x of their middles."""
    left, right, half, high, wide = -40.0, 40.0, PILOT_MM / 2, PILOT_HIGH_MM, 32.0
    foot = -16.0
    boss: list[Point] = [(left - wide, 0), (left - half, 0), (left - half, high), (left + half, high)]
    sheet.fill(Kind.CUT, [*boss, (left + half, 0), (left + wide, 0), (left + wide, foot), (left - wide, foot)])
    recess: list[Point] = [(right - wide, 0), (right - half, 0), (right - half, -high), (right + half, -high)]
    sheet.fill(Kind.CUT, [*recess, (right + half, 0), (right + wide, 0), (right + wide, foot), (right - wide, foot)])
    sheet.line(Kind.EDGE, (right - half, 0), (right + half, 0))
    for middle, word in ((left, BOSS), (right, RECESS)):
        sheet.line(Kind.CENTRE, (middle, foot - 4), (middle, high + 4))
        sheet.name(word, (middle, foot - 4), -90)
    return left, right


def room_length() -> JawDrawing:
    """Return a rule from the mounting face to the nearest thing."""
    sheet = Sheet()
    sheet.fill(Kind.PART, box(-38, -38, 0, 42))
    sheet.fill(Kind.PART, box(0, -6, 34, 6))
    sheet.fill(Kind.CUT, box(ROOM_MM, -38, ROOM_MM + 12, 42))
    ghost: list[Point] = [(0, 26), (14, 26), (14, 16), (60, 16), (60, 24), (112, 24), (112, -24), (60, -24), (60, -16)]
    sheet.line(Kind.HIDDEN, *ghost, (14, -16), (14, -26), (0, -26))
    sheet.line(Kind.CENTRE, (-42, 0), (ROOM_MM - 4, 0))
    rule(sheet, 0, ROOM_MM, -48, high=9)
    sheet.measure(((0, -34), (ROOM_MM, -34)), Arrow(((0, -34), (ROOM_MM, -34))))
    sheet.label(FACE, (0, 42), 70)
    sheet.label(FIRST_THING, (ROOM_MM, 42), 110)
    return sheet.done(ROOM_WORDS)


def pump_length() -> JawDrawing:
    """Return a rule from the pump's mounting face to its farthest end."""
    sheet, long = Sheet(), PUMP_LENGTH_MM
    sheet.fill(Kind.PART, box(0, -34, 12, 34))
    sheet.fill(Kind.PART, box(12, -22, 66, 22))
    sheet.fill(Kind.PART, box(66, -30, 122, 30))
    sheet.fill(Kind.PART, box(122, -8, long, 12))
    for x in (80, 94, 108):
        sheet.circle(Kind.EDGE, (x, 14), 4)
        sheet.circle(Kind.EDGE, (x, -14), 4)
    sheet.line(Kind.CENTRE, (-6, 0), (long + 6, 0))
    straightedge(sheet, -5, -54, 0, 40)
    straightedge(sheet, long, -54, long + 5, 20)
    rule(sheet, 0, long, -54, high=9)
    sheet.measure(((0, -34), (long, -8)), Arrow(((0, -39), (long, -39))))
    sheet.label(FACE, (0, 40), 70)
    sheet.label(FARTHEST, (long + 3, 20), 90)
    return sheet.done(LENGTH_WORDS)


def outlet_direction() -> JawDrawing:
    """Return the angle of the outlet in the view of the holes."""
    sheet = Sheet()
    _round_face(sheet)
    side = 7.0
    along, across = polar(1, OUTLET_DEG), polar(1, OUTLET_DEG + 90)

    def at(out: float, aside: float) -> Point:
        return along[0] * out + across[0] * aside, along[1] * out + across[1] * aside

    sheet.fill(Kind.PART, [at(34, -side), at(58, -side), at(58, side), at(34, side)])
    sheet.line(Kind.CENTRE, (0, 0), at(66, 0))
    sheet.arrows.append(Arrow((at(60, 0), at(76, 0)), is_double=False))
    sheet.arrows.append(Arrow(tuple(arc((0, 0), 50, 0, OUTLET_DEG - 9)), is_double=False))
    sheet.label(OUTLET, at(68, -4), OUTLET_DEG - 90)
    return sheet.done(DIRECTION_WORDS)


def room_free() -> JawDrawing:
    """Return the sector in which nothing stands in the outlet's way."""
    sheet, reach = Sheet(), 58.0
    sheet.fill(Kind.GAUGE, [(0, 0), *arc((0, 0), reach, FREE_FROM_DEG, FREE_TO_DEG)])
    sheet.fill(Kind.CUT, box(46, -36, 70, 8))
    sheet.fill(Kind.CUT, box(-70, -36, -46, 8))
    _round_face(sheet)
    sheet.arrows.append(Arrow(tuple(arc((0, 0), reach + 4, FREE_FROM_DEG, FREE_TO_DEG))))
    sheet.label(FREE, polar(42, 125), 125)
    return sheet.done(FREE_WORDS)


def _round_face(sheet: Sheet) -> None:
    sheet.circle(Kind.PART, (0, 0), 38)
    sheet.circle(Kind.EDGE, (0, 0), 10)
    for turn in range(4):
        sheet.circle(Kind.EMPTY, polar(29, 45 + 90 * turn), 4)
    sheet.line(Kind.CENTRE, (-44, 0), (76, 0))
    sheet.line(Kind.CENTRE, (0, -44), (0, 66))
    sheet.name(RIGHT, (76, 0), 0)
    sheet.name(UP, (0, 66), 100)
