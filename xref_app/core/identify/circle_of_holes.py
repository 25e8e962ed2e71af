"""The one circle that holes placed by all their distances can lie on, and whether they can be equally spaced on it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from xref_app.core.identify.circle import TWO_HOLES, CircleFound, Spacing
from xref_app.core.identify.circle_of_three import circle_through_three_mm
from xref_app.core.identify.holes import AXIS, Apart, HolesFound
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import ReadingError
from xref_app.core.sentence import Sentence, marked

UNEVEN = marked(
    "identify", "The holes are not equally spaced: their number and one distance would give a wrong circle."
)

Pair = tuple[int, int]


def circle_of_holes(distances: Sequence[Apart], found: HolesFound) -> CircleFound | None:
    """Return the circle that all holes can lie on, or None where no one circle goes through them.

    Where the axis was measured the circle is the one about it.

    Args:
        distances: What ``found`` was placed from.
        found: The placed holes.

    Source: a circle through three of the holes holds the circle through all, if there is one; D = c / sin(pi · steps /
    holes) must agree over all pairs where the holes are equally spaced.
    """
    read = {(min(one.first, one.second), max(one.first, one.second)): one.distance for one in distances}
    holes = len(found.holes)
    diameter = _shared(list(_circles(read, holes, about_axis=found.about_axis)))
    if diameter is None:
        return None
    if holes == 2 and not found.about_axis:
        return CircleFound(diameter, Spacing.ASSUMED_EQUAL, notes=(Sentence(TWO_HOLES),))
    steps = _steps(found)
    even = [read[pair] / math.sin(math.pi * count / holes) for pair, count in steps.items()]
    if _shared([diameter, *even]) is None:
        return CircleFound(diameter, Spacing.UNEQUAL, notes=(Sentence(UNEVEN),))
    return CircleFound(diameter, Spacing.CAN_BE_EQUAL)


def _circles(read: Mapping[Pair, Range], holes: int, *, about_axis: bool) -> Iterator[Range]:
    """Yield circles, mm, each of which holds the one through all holes if there is one."""
    if about_axis:
        yield from (distance * 2.0 for pair, distance in read.items() if AXIS in pair)
        return
    if holes == 2:
        yield from read.values()
    for one, other, third in combinations(range(1, holes + 1), 3):
        try:
            yield circle_through_three_mm(read[one, other], read[other, third], read[one, third])
        except ReadingError:  # three that can lie in one line say nothing about the circle; the others do
            continue


def _shared(circles: Sequence[Range]) -> Range | None:
    shared: Range | None = circles[0] if circles else None
    for circle in circles[1:]:
        shared = None if shared is None else shared.overlap_or_none(circle)
    return shared


def _steps(found: HolesFound) -> Mapping[Pair, int]:
    """Return how many steps round the middle of the holes each pair lies apart, the short way."""
    points = found.holes_xy_mm
    middle_x, middle_y = (sum(values) / len(points) for values in zip(*points, strict=True))
    round_it = sorted(
        range(len(points)), key=lambda hole: math.atan2(points[hole][1] - middle_y, points[hole][0] - middle_x)
    )
    place = {hole + 1: at for at, hole in enumerate(round_it)}
    pairs = combinations(sorted(place), 2)
    apart = {(one, other): abs(place[one] - place[other]) for one, other in pairs}
    return {pair: min(steps, len(points) - steps) for pair, steps in apart.items()}
