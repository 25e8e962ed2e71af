"""Which way numbered holes run round a face: distances alone cannot tell a pattern from its mirror image."""

from __future__ import annotations

from collections.abc import Sequence

from xref_app.core.identify.holes_place import Point, area


def runs_clockwise(points: Sequence[Point], *, about_axis: bool) -> bool:
    """Say whether the holes run clockwise; the first point is the axis where ``about_axis``."""
    return sum(_senses(points, 0.0, about_axis=about_axis)) < 0


def surely_runs_one_way(points: Sequence[Point], off_mm: float, *, about_axis: bool) -> bool:
    """Say whether the sense cannot change although every point may be ``off_mm`` away."""
    senses = _senses(points, off_mm, about_axis=about_axis)
    return abs(sum(senses)) > senses.count(0)


def _senses(points: Sequence[Point], off_mm: float, *, about_axis: bool) -> list[int]:
    """Return 1 for every counter-clockwise step, -1 for every clockwise one and 0 where ``off_mm`` leaves it open.

    About an axis the steps are those from hole to hole and back to the first. However the holes lie, at most one gap is
    half a turn or more, so of three holes and more most steps go the way the holes run. Without an axis the polygon of
    the holes is the one step.
    """
    if not about_axis:
        return [1] if len(points) < 3 else [_sign(points, off_mm)]
    axis, *holes = points
    steps = list(zip(holes, (*holes[1:], holes[0]), strict=True))
    if len(holes) == 2:
        steps = steps[:1]
    return [_sign((axis, one, other), off_mm) for one, other in steps]


def _sign(points: Sequence[Point], off_mm: float) -> int:
    """Return the sense of a polygon, or 0 where its area can be nothing.

    Corners that move by m change the area by less than m times the way round plus m² for every corner.
    """
    following = (*points[1:], points[0])
    around = sum(abs(x - u) + abs(y - v) for (x, y), (u, v) in zip(points, following, strict=True))
    signed = area(points)
    if abs(signed) <= around * off_mm + len(points) * off_mm**2:
        return 0
    return 1 if signed > 0 else -1
