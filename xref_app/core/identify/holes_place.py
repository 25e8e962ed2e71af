"""Points placed from the distances between them: a first placing, with ruler and compasses."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

Point = tuple[float, float]
Pair = tuple[int, int]


def placed(count: int, distances: Mapping[Pair, float]) -> tuple[Point, ...]:
    """Return ``count`` ≥ 2 points with about these distances, the first at the origin, the second on the x axis.

    The two furthest apart make the base line; the point highest over it goes up; every other is where the circles about
    the ends of the base cross, on that side which agrees better with the highest point. Circles that do not quite meet
    are taken to touch.

    Args:
        count: Number of points, numbered from 0.
        distances: Every pair (lower number first), mm.

    Source: two-circle intersection.
    """

    def apart(one: int, other: int) -> float:
        return 0.0 if one == other else distances[min(one, other), max(one, other)]

    left, right = max(distances, key=lambda pair: distances[pair])
    base = apart(left, right)
    upper = [_over_base(base, apart(left, point), apart(right, point)) for point in range(count)]
    top = max(range(count), key=lambda point: upper[point][1])
    points = [_better_side(one, upper[top], apart(top, point)) for point, one in enumerate(upper)]
    return turned(points)


def turned(points: Sequence[Point]) -> tuple[Point, ...]:
    """Return the points moved and turned so that the first is the origin and the second lies on the x axis."""
    (x0, y0), (x1, y1) = points[:2]
    angle = math.atan2(y1 - y0, x1 - x0)
    cos, sin = math.cos(angle), math.sin(angle)
    moved = ((x - x0, y - y0) for x, y in points)
    return tuple((x * cos + y * sin, y * cos - x * sin) for x, y in moved)


def area(points: Sequence[Point]) -> float:
    """Return the area of the polygon, positive where its corners run counter-clockwise, mm² (shoelace formula)."""
    following = (*points[1:], points[0])
    return sum(x * next_y - next_x * y for (x, y), (next_x, next_y) in zip(points, following, strict=True)) / 2


def _over_base(base: float, from_left: float, from_right: float) -> Point:
    x = (from_left**2 - from_right**2 + base**2) / (2 * base)
    return x, math.sqrt(max(from_left**2 - x**2, 0.0))


def _better_side(point: Point, top: Point, wanted: float) -> Point:
    mirrored = (point[0], -point[1])
    return min((point, mirrored), key=lambda one: abs(math.dist(one, top) - wanted))
