"""Where the jaws go between the holes of a face: any count, any two holes, any edges."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from xref_app.core.sentence import marked
from xref_app.sheets.jaws_shapes import Arrow, JawDrawing, Kind, Point, Sheet, arc, plus, polar
from xref_app.sheets.jaws_tools import INSIDE, Grip, caliper, cross

# An invented face, mm: wide holes, so that the jaws in them are seen.
CIRCLE_MM, HOLE_MM, PLATE_MM, AXIS_MM = 92.0, 14.0, 122.0, 24.0
MOST_HOLES = 8
_SIZE = 1.15
# How far the beam may lie from the line of the jaws, best first, and how wide it is with half a hole, mm.
_REACHES_MM, _BEAM_ROOM_MM = (30.0, 26.0, 22.0, 18.0, 34.0, 38.0, 42.0, 55.0), 19.0
_NOTHING_MM = 1e-9
_PAIR = re.compile(r"(?:side )?([1-9])-([1-9])")
_TO_HOLE = re.compile(r"shaft to hole ([1-9])")

COUNT, NEIGHBOURS, OPPOSITE, HOLE_SIZE, AXIS_SIZE, TURN = (
    "count",
    "neighbours",
    "opposite",
    "hole size",
    "shaft or bore",
    "turn",
)
OUTER, INNER, CENTRES = "outer edges", "inner edges", "centres"

COUNT_WORDS = marked("drawing", "The face from the front with {holes} bolt holes, counted counter-clockwise.")
TURN_WORDS = marked("drawing", "The face from the front: 0° is right, 90° is up, and hole 1 is somewhere between.")
HOLE_WORDS = marked("drawing", "The inside jaws stand in a bolt hole and open to its edges.")
AXIS_WORDS = marked("drawing", "The jaws close on the shaft, or open in the bore, in the middle of the face.")
TO_HOLE_WORDS = marked(
    "drawing", "One jaw on the edge of the shaft or bore, the other in hole {hole} on the edge that is nearer."
)
PAIR_WORDS = {
    OUTER: marked(
        "drawing",
        "{holes} holes: the inside jaws stand in holes {one} and {other} and open to the edges farthest apart.",
    ),
    INNER: marked(
        "drawing",
        "{holes} holes: the outside jaws stand in holes {one} and {other} and close on the edges between them.",
    ),
    CENTRES: marked("drawing", "{holes} holes: from the middle of hole {one} to the middle of hole {other}."),
}
RIGHT, UP = marked("drawing", "0°"), marked("drawing", "90°")


@dataclass(frozen=True, slots=True)
class _Face:
    """How many holes the face has, and whether a shaft stands out of it or a bore goes in."""

    holes: int
    has_shaft: bool


def holes_drawing(step: str, holes: int, way: str, *, has_shaft: bool) -> JawDrawing | None:
    """Return the picture of one step; None where the face has no such hole.

    Args:
        step: ``count``, ``neighbours``, ``opposite``, ``1-2`` or ``side 1-2``, ``hole size``, ``shaft to hole 1``,
            ``shaft or bore`` or ``turn``; anything else shows neighbours.
        holes: How many the face has, 2 to 8.
        way: ``outer edges``, ``inner edges`` or ``centres``; anything else shows outer edges.
        has_shaft: Whether a shaft stands out of the face, else a bore goes in.
    """
    if not 2 <= holes <= MOST_HOLES:
        return None
    face = _Face(holes, has_shaft)
    whole = {COUNT: _count, HOLE_SIZE: _hole_size, AXIS_SIZE: _axis_size, TURN: _turn}.get(step)
    if whole is not None:
        return whole(face)
    to_hole = _TO_HOLE.fullmatch(step)
    if to_hole:
        return _to_hole(int(to_hole[1]), face)
    return _pair(_pair_of(step, holes), face, way if way in PAIR_WORDS else OUTER)


def hole_centre(number: int, holes: int) -> Point:
    """Return the centre of a hole, counted counter-clockwise from the right, mm from the axis."""
    return polar(CIRCLE_MM / 2, _angle_deg(number, holes))


def _angle_deg(number: int, holes: int) -> float:
    """Return the direction of a hole; two and four lie as on most faces, a corner of three at the top."""
    first = {3: 90.0, 4: 45.0, 5: 90.0, 7: 90.0, 8: 22.5}.get(holes, 0.0)
    return first + 360.0 * (number - 1) / holes


def _pair_of(step: str, holes: int) -> tuple[int, int]:
    pair = _PAIR.fullmatch(step)
    if pair:
        return int(pair[1]), int(pair[2])
    return (1, 1 + holes // 2) if step == OPPOSITE else (1, 2)


def _draw(face: _Face) -> Sheet:
    sheet = Sheet()
    sheet.circle(Kind.PART, (0, 0), PLATE_MM / 2)
    sheet.circle(Kind.CENTRE, (0, 0), CIRCLE_MM / 2)
    radius, corner = AXIS_MM / 2, 14.0
    kind, key = (Kind.PART, radius - 4) if face.has_shaft else (Kind.EMPTY, radius + 3)
    half = radius * math.sin(math.radians(corner))
    sheet.fill(kind, [*arc((0, 0), radius, -90 + corner, 270 - corner), (-half, -key), (half, -key)])
    cross(sheet, (0, 0), AXIS_MM / 2 + 4)
    for number in range(1, face.holes + 1):
        sheet.circle(Kind.EMPTY, hole_centre(number, face.holes), HOLE_MM / 2)
    return sheet


def _number(sheet: Sheet, number: int, holes: int) -> None:
    """Number a hole, inward of it: the plate's rim and the jaws are outward."""
    angle = _angle_deg(number, holes)
    sheet.number(number, polar(CIRCLE_MM / 2 - HOLE_MM / 2 - 1, angle), angle + 180)


def _count(face: _Face) -> JawDrawing:
    sheet, holes = _draw(face), face.holes
    for number in range(1, holes + 1):
        sheet.circle(Kind.MEASURED, hole_centre(number, holes), HOLE_MM / 2)
        _number(sheet, number, holes)
    start = _angle_deg(1, holes)
    sheet.arrows.append(Arrow(tuple(arc((0, 0), PLATE_MM / 2 + 7, start, start + 40)), is_double=False))
    return sheet.done(COUNT_WORDS, holes=holes)


def _turn(face: _Face) -> JawDrawing:
    sheet = _draw(face)
    first, reach = _angle_deg(1, face.holes) or 30.0, PLATE_MM / 2 + 8
    sheet.line(Kind.CENTRE, (0, 0), (reach + 8, 0))
    sheet.line(Kind.CENTRE, (0, 0), (0, reach + 8))
    sheet.circle(Kind.MEASURED, polar(CIRCLE_MM / 2, first), HOLE_MM / 2)
    sheet.line(Kind.CENTRE, (0, 0), polar(reach + 4, first))
    sheet.arrows.append(Arrow(tuple(arc((0, 0), reach, 0, first)), is_double=False))
    sheet.name(RIGHT, (reach + 8, 0), 0)
    sheet.name(UP, (0, reach + 8), 90)
    return sheet.done(TURN_WORDS)


def _hole_size(face: _Face) -> JawDrawing:
    sheet, angle = _draw(face), _angle_deg(1, face.holes)
    centre, tangent, outward = hole_centre(1, face.holes), polar(1, angle + 90), polar(1, angle)
    ends = plus(centre, tangent, HOLE_MM / 2), plus(centre, tangent, -HOLE_MM / 2)
    caliper(sheet, *ends, Grip(outward, 24, INSIDE, size=_SIZE))
    return sheet.done(HOLE_WORDS)


def _axis_size(face: _Face) -> JawDrawing:
    sheet, radius = _draw(face), AXIS_MM / 2
    sheet.circle(Kind.MEASURED, (0, 0), radius)
    caliper(sheet, (-radius, 0), (radius, 0), Grip((0, 1), 24, (not face.has_shaft,) * 2, size=_SIZE))
    return sheet.done(AXIS_WORDS)


def _to_hole(number: int, face: _Face) -> JawDrawing | None:
    if number > face.holes:
        return None
    sheet, angle = _draw(face), _angle_deg(number, face.holes)
    ends = polar(AXIS_MM / 2, angle), polar(CIRCLE_MM / 2 - HOLE_MM / 2, angle)
    away = polar(1, angle + 90)
    caliper(sheet, *ends, Grip(away, 24, (face.has_shaft, False), size=_SIZE))
    sheet.number(number, polar(CIRCLE_MM / 2 + HOLE_MM / 2, angle), angle - 60)
    return sheet.done(TO_HOLE_WORDS, hole=number)


def _pair(pair: tuple[int, int], face: _Face, way: str) -> JawDrawing | None:
    (one, other), holes = pair, face.holes
    if one == other or max(pair) > holes:
        return None
    sheet = _draw(face)
    start, end = hole_centre(one, holes), hole_centre(other, holes)
    for centre in (start, end):
        sheet.circle(Kind.MEASURED, centre, HOLE_MM / 2)
    for number in pair:
        _number(sheet, number, holes)
    if way == CENTRES:
        cross(sheet, start, HOLE_MM / 2 + 3)
        cross(sheet, end, HOLE_MM / 2 + 3)
        sheet.span(start, end)
    else:
        _jaws_in(sheet, pair, holes, way)
    return sheet.done(PAIR_WORDS[way], holes=holes, one=one, other=other)


def _jaws_in(sheet: Sheet, numbers: tuple[int, int], holes: int, way: str) -> None:
    start, end = (hole_centre(number, holes) for number in numbers)
    apart = math.dist(start, end)
    along = ((end[0] - start[0]) / apart, (end[1] - start[1]) / apart)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    away, reach = _beam_place(along, middle, numbers, holes)
    side = -HOLE_MM / 2 if way == OUTER else HOLE_MM / 2
    ends = plus(start, along, side), plus(end, along, -side)
    inside = INSIDE if way == OUTER else (False, False)
    caliper(sheet, *ends, Grip(away, reach, inside, size=_SIZE, tip_mm=3.5))


def _beam_place(along: Point, middle: Point, numbers: tuple[int, int], holes: int) -> tuple[Point, float]:
    """Return to which side of two holes the beam lies, and how far, so that it covers no other hole."""
    left = (-along[1], along[0])
    outward = left[0] * middle[0] + left[1] * middle[1]
    is_left = outward > _NOTHING_MM or (abs(outward) <= _NOTHING_MM and left[1] > 0)
    first = left if is_left else (-left[0], -left[1])
    others = [hole_centre(number, holes) for number in range(1, holes + 1) if number not in numbers]
    for away in (first, (-first[0], -first[1])):
        far = [(x - middle[0]) * away[0] + (y - middle[1]) * away[1] for x, y in others]
        for reach in _REACHES_MM:
            if all(not -HOLE_MM / 2 < one - reach < _BEAM_ROOM_MM for one in far):
                return away, reach
    return first, _REACHES_MM[0]
