"""The thin lines that fill a cut face."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from xref_app.sheets.shapes import Hatching, Line, Point, Segment

# A line that only touches a corner is none, mm.
_LEAST_MM = 0.05


def hatch_lines(hatching: Hatching, *, apart_mm: float) -> Iterator[Segment]:
    """Yield the lines inside the polygon; neighbours that touch share them, for they are counted from the origin."""
    along = (math.cos(math.radians(hatching.towards_deg)), math.sin(math.radians(hatching.towards_deg)))
    across = (-along[1], along[0])
    heights = [_dot(corner, across) for corner in hatching.corners]
    for count in range(math.ceil(min(heights) / apart_mm), math.floor(max(heights) / apart_mm) + 1):
        height = count * apart_mm
        for begins, ends in _inside(hatching.corners, along, across, height):
            if ends - begins > _LEAST_MM:
                yield Segment(
                    begins * along[0] + height * across[0],
                    begins * along[1] + height * across[1],
                    ends * along[0] + height * across[0],
                    ends * along[1] + height * across[1],
                    Line.HATCH,
                )


def _inside(corners: Sequence[Point], along: Point, across: Point, height: float) -> Iterator[tuple[float, float]]:
    """Yield from where to where a straight line runs inside the polygon, counted along it."""
    crossings: list[float] = []
    for first, second in pairwise((*corners, corners[0])):
        low, high = _dot(first, across), _dot(second, across)
        if (low <= height) != (high <= height):
            share = (height - low) / (high - low)
            crossings.append(_dot(first, along) + share * (_dot(second, along) - _dot(first, along)))
    crossings.sort()
    yield from zip(crossings[::2], crossings[1::2], strict=True)


def _dot(point: Point, direction: Point) -> float:
    return point[0] * direction[0] + point[1] * direction[1]
