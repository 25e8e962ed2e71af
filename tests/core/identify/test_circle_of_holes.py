"""Holes placed by all their distances: their circle, and whether they can be equally spaced, over random patterns."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from xref_app.core.identify.circle import CircleFound, Spacing
from xref_app.core.identify.circle_of_holes import circle_of_holes
from xref_app.core.identify.holes import AXIS, Apart, SeenFrom, holes_from
from xref_app.core.quantity.range import Range

Point = tuple[float, float]


def found(points: Sequence[Point], *, doubt: float, axis: Point | None = None) -> CircleFound | None:
    named = dict(enumerate(points, start=1)) | ({} if axis is None else {AXIS: axis})
    apart = [
        Apart(one, other, Range.around(math.dist(named[one], named[other]), doubt))
        for one, other in combinations(sorted(named), 2)
    ]
    return circle_of_holes(apart, holes_from(apart, holes=len(points), seen_from=SeenFrom.ENGINE))


def on_circle(radius: float, turns_deg: Sequence[float], middle: Point = (0.0, 0.0)) -> list[Point]:
    return [
        (middle[0] + radius * math.cos(math.radians(turn)), middle[1] + radius * math.sin(math.radians(turn)))
        for turn in turns_deg
    ]


def algebraic_circle_mm(points: Sequence[Point]) -> float:
    """Return the diameter of the circle through points by Kåsa's linear fit, x² + y² + D x + E y + F = 0."""
    rows = np.array([[x, y, 1.0] for x, y in points])
    d, e, f = np.linalg.lstsq(rows, np.array([-(x**2) - y**2 for x, y in points]), rcond=None)[0]
    return float(2 * math.sqrt(d**2 / 4 + e**2 / 4 - f))


steps = st.lists(st.floats(25, 150), min_size=2, max_size=6).filter(lambda arcs: sum(arcs) <= 335)


@settings(deadline=None)
@given(st.floats(30, 120), steps, st.floats(0.01, 0.05))
def test_holes_on_a_circle_give_that_circle(radius: float, arcs: list[float], doubt: float) -> None:
    turns = [0.0]
    for arc in arcs:
        turns.append(turns[-1] + arc)
    assume(turns[-1] > 120)  # a short row of holes hardly bends: the placing itself refuses it
    points = on_circle(radius, turns)
    circle = found(points, doubt=doubt)
    assert circle is not None
    assert circle.diameter_mm.low - 1e-6 <= algebraic_circle_mm(points) <= circle.diameter_mm.high + 1e-6
    even = max(abs(arc - 360 / len(turns)) for arc in [*arcs, 360 - turns[-1]])
    if even > 3:
        assert circle.spacing is Spacing.UNEQUAL
        assert circle.notes


@settings(deadline=None)
@given(st.floats(30, 120), st.integers(3, 8))
def test_even_holes_can_be_even(radius: float, holes: int) -> None:
    circle = found(on_circle(radius, [360 * hole / holes for hole in range(holes)]), doubt=0.05)
    assert circle is not None
    assert circle.spacing is Spacing.CAN_BE_EQUAL
    assert circle.notes == ()
    assert circle.diameter_mm.low < 2 * radius < circle.diameter_mm.high


@settings(deadline=None)
@given(st.floats(40, 90), st.floats(2, 15))
def test_holes_off_the_circle_of_the_others_have_none(radius: float, out: float) -> None:
    points = [*on_circle(radius, [0, 90, 180]), (0.0, -radius - out)]
    assert found(points, doubt=0.05) is None


def test_the_axis_decides_whose_circle_it_is() -> None:
    square = on_circle(46, [0, 90, 180, 270])
    about = found(square, doubt=0.1, axis=(0.0, 0.0))
    assert about is not None
    assert (about.diameter_mm.low, about.diameter_mm.high) == pytest.approx((91.8, 92.2))
    assert about.spacing is Spacing.CAN_BE_EQUAL
    assert found(square, doubt=0.1, axis=(3.0, 0.0)) is None


def test_two_holes_are_a_circle_only_if_the_shaft_lies_between_them() -> None:
    alone = found([(-46.0, 0.0), (46.0, 0.0)], doubt=0.1)
    assert alone is not None
    assert (alone.spacing, len(alone.notes)) == (Spacing.ASSUMED_EQUAL, 1)
    beside = found(on_circle(46, [0, 120]), doubt=0.1, axis=(0.0, 0.0))
    assert beside is not None
    assert beside.spacing is Spacing.UNEQUAL
