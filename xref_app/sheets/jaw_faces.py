"""Where the jaws go on a face with bolt holes: one hole, two holes, the shaft or bore and a hole."""

from __future__ import annotations

import math
import re
from itertools import pairwise

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.jaw_shapes import Ink, JawDrawing, Path, Point, Round, Shape, Word, cross
from xref_app.sheets.jaw_tools import depth_rod, inside_jaws, outside_jaws

OUTER_EDGES = marked("jaws", "Inside jaws against the outer edges of holes {one} and {other}.")
INNER_EDGES = marked("jaws", "Outside jaws on the inner edges of holes {one} and {other}.")
FROM_SHAFT = marked("jaws", "Depth rod from the near edge of hole {one} to the shaft, the foot level with the edge.")
FROM_BORE = marked("jaws", "Outside jaws from the edge of the bore to the near edge of hole {one}.")
HOLE_ACROSS = marked("jaws", "Inside jaws across one bolt hole.")
SHAFT_ACROSS = marked("jaws", "Outside jaws across the shaft.")
BORE_ACROSS = marked("jaws", "Inside jaws across the bore.")
COUNT = marked("jaws", "A face with {count} holes, numbered counter-clockwise.")

INNER = "inner edges"
# Looks only (house rule): radius of the bolt circle, hole, shaft or bore, rim.
FLANGE_RADIUS, HOLE, FLANGE_BORE, RIM_RADIUS = 40.0, 11.0, 22.0, 53.0
_PAIR = re.compile(r"(\d)-(\d)")
_TO_HOLE = re.compile(r"shaft to hole (\d)")
# A number stands this far from its hole, and this far from any tool where it can, mm.
_BESIDE, _CLEAR = 12.5, 6.0


def face_drawing_of(step: str, holes: int, way: str, *, is_shaft: bool) -> JawDrawing:
    """Return the picture of one step; ``is_shaft`` where a shaft stands in the middle, else it is a bore."""
    part, places = flange_front(holes, is_shaft=is_shaft), hole_places(holes)
    to_hole, pair = _TO_HOLE.fullmatch(step), _PAIR.fullmatch(step)
    if pair is not None:
        tool, touch, said = _pair(places, (int(pair[1]), int(pair[2])), way)
    elif step == "neighbours":
        tool, touch, said = _pair(places, (1, 2), way)
    elif to_hole is not None:
        tool, touch, said = _to_hole(places, int(to_hole[1]), is_shaft=is_shaft)
    elif step == "hole size":
        tool, touch, said = _across(places[0], HOLE, is_inside=True, said=HOLE_ACROSS)
    elif step == "shaft or bore":
        said_of = SHAFT_ACROSS if is_shaft else BORE_ACROSS
        tool, touch, said = _across((0, 0), FLANGE_BORE, is_inside=not is_shaft, said=said_of)
    else:
        tool, touch, said = (), (places[0], places[-1]), Sentence(COUNT, {"count": holes})
    return JawDrawing((*part, *tool, *_numbers(places, tool)), touch, said)


def hole_places(count: int) -> tuple[Point, ...]:
    """Return the centres of ``count`` holes round the shaft, hole 1 right of the top, counter-clockwise."""
    start = 90 - 180 / count if count > 2 else 0
    angles = (math.radians(start + 360 * number / count) for number in range(count))
    return tuple((FLANGE_RADIUS * math.cos(angle), FLANGE_RADIUS * math.sin(angle)) for angle in angles)


def flange_front(count: int, *, is_shaft: bool) -> tuple[Shape, ...]:
    """Return a face from the front: rim, shaft (cut) or bore, bolt circle and ``count`` holes."""
    holes = [Round(place, HOLE, Ink.PART) for place in hole_places(count)]
    crosses = [line for place in hole_places(count) for line in cross(place, HOLE / 2 + 2)]
    rim, circle = Round((0, 0), 2 * RIM_RADIUS, Ink.PART), Round((0, 0), 2 * FLANGE_RADIUS, Ink.CENTRE)
    middle = Round((0, 0), FLANGE_BORE, Ink.CUT if is_shaft else Ink.PART)
    return (rim, middle, circle, *holes, *crosses)


_Laid = tuple[tuple[Shape, ...], tuple[Point, Point], Sentence]


def _across(centre: Point, diameter: float, *, is_inside: bool, said: str) -> _Laid:
    (x, y), half = centre, diameter / 2
    a, b = (x - half, y), (x + half, y)
    jaws = inside_jaws if is_inside else outside_jaws
    reach = math.sqrt(RIM_RADIUS**2 - x**2) - y + 6
    return jaws(a, b, reach), (a, b), Sentence(said)


def _pair(places: tuple[Point, ...], pair: tuple[int, int], way: str) -> _Laid:
    one, other = (places[number - 1] for number in pair)
    length = math.dist(one, other)
    ux, uy = (other[0] - one[0]) / length, (other[1] - one[1]) / length
    # The beam lies outside the face: on the side of the two holes that is turned away from the shaft.
    if -uy * (one[0] + other[0]) + ux * (one[1] + other[1]) < 0:
        one, other, ux, uy = other, one, -ux, -uy
    edge = -HOLE / 2 if way == INNER else HOLE / 2
    a = (one[0] - ux * edge, one[1] - uy * edge)
    b = (other[0] + ux * edge, other[1] + uy * edge)
    jaws, said = (outside_jaws, INNER_EDGES) if way == INNER else (inside_jaws, OUTER_EDGES)
    reach = RIM_RADIUS + 3 - abs(-uy * one[0] + ux * one[1])
    return jaws(a, b, reach), (a, b), Sentence(said, {"one": pair[0], "other": pair[1]})


def _to_hole(places: tuple[Point, ...], number: int, *, is_shaft: bool) -> _Laid:
    x, y = places[number - 1]
    radius = math.hypot(x, y)
    ux, uy = x / radius, y / radius
    a = (ux * FLANGE_BORE / 2, uy * FLANGE_BORE / 2)
    b = (x - ux * HOLE / 2, y - uy * HOLE / 2)
    if is_shaft:
        return depth_rod(b, a, 8.0), (a, b), Sentence(FROM_SHAFT, {"one": number})
    return outside_jaws(a, b, 17), (a, b), Sentence(FROM_BORE, {"one": number})


# -- the numbers of the holes, where no tool hides them


def _numbers(places: tuple[Point, ...], tool: tuple[Shape, ...]) -> tuple[Word, ...]:
    lines = [shape for shape in tool if isinstance(shape, Path)]
    return tuple(Word(_free_place(place, lines), str(number)) for number, place in enumerate(places, 1))


def _free_place(hole: Point, lines: list[Path]) -> Point:
    """Return a place beside ``hole`` and on the face, toward the middle where that is clear, else the clearest."""
    inward = math.atan2(-hole[1], -hole[0])
    turns = [sign * math.radians(step) for step in range(0, 181, 20) for sign in (1, -1)]
    spots = [
        (hole[0] + _BESIDE * math.cos(inward + turn), hole[1] + _BESIDE * math.sin(inward + turn)) for turn in turns
    ]
    on_face = [spot for spot in spots if math.hypot(*spot) < RIM_RADIUS - 4]
    clear = (spot for spot in on_face if _clearance(spot, lines) >= _CLEAR)
    return next(clear, max(on_face, key=lambda spot: _clearance(spot, lines)))


def _clearance(spot: Point, lines: list[Path]) -> float:
    """Return the distance from ``spot`` to the nearest line, 0 within a closed one."""
    return min((0.0 if _is_within(spot, line) else _to_path(spot, line) for line in lines), default=math.inf)


def _to_path(spot: Point, path: Path) -> float:
    points = (*path.points, path.points[0]) if path.closed else path.points
    return min(_to_stretch(spot, a, b) for a, b in pairwise(points))


def _to_stretch(spot: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    along = ((spot[0] - a[0]) * dx + (spot[1] - a[1]) * dy) / (dx * dx + dy * dy or 1.0)
    share = min(max(along, 0.0), 1.0)
    return math.dist(spot, (a[0] + share * dx, a[1] + share * dy))


def _is_within(spot: Point, path: Path) -> bool:
    """Tell whether a ray to the right leaves ``path`` an odd number of times."""
    if not path.closed:
        return False
    crossings = 0
    for (ax, ay), (bx, by) in pairwise((*path.points, path.points[0])):
        if (ay > spot[1]) != (by > spot[1]):
            crossings += spot[0] < ax + (spot[1] - ay) * (bx - ax) / (by - ay)
    return crossings % 2 == 1
