"""Holes found evenly spaced by caliper lie where they are said to lie, whatever the caliper could not see.

Checked against patterns drawn at random and worst ones made on purpose, their distances taken by plain geometry.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

import pytest
from scipy.optimize import minimize_scalar

from xref_app.core.identify.circle import HoleDistance, circle_from
from xref_app.core.identify.even_holes import SAME_WITHIN_MM, even_doubt_mm, holes_on_circle_mm
from xref_app.core.quantity.edges import EdgeReading
from xref_app.core.quantity.range import Range

Point = tuple[float, float]
DOUBT_MM = 0.1
RADIUS_MM = 46.0


def spread(values: Sequence[float]) -> float:
    return max(values) - min(values)


def looks_even(holes: Sequence[Point]) -> bool:
    chords = [math.dist(one, other) for one, other in zip(holes, [*holes[1:], holes[0]], strict=True)]
    radii = [math.hypot(*hole) for hole in holes]
    return spread(chords) <= SAME_WITHIN_MM and spread(radii) <= SAME_WITHIN_MM


def placed(radii: Sequence[float], angles: Sequence[float]) -> list[Point]:
    return [(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, angles, strict=True)]


def off_mm(found: Sequence[Point], truth: Sequence[Point]) -> float:
    """Return how far the worst hole is off once the pattern is turned to lie as near as it can."""

    def worst(turn: float) -> float:
        cos, sin = math.cos(turn), math.sin(turn)
        turned = [(x * cos - y * sin, x * sin + y * cos) for x, y in found]
        return max(math.dist(one, other) for one, other in zip(turned, truth, strict=True))

    return float(minimize_scalar(worst, bounds=(-0.05, 0.05), method="bounded", options={"xatol": 1e-9}).fun)


def worst_patterns(count: int) -> list[list[Point]]:
    """Return patterns that stray in one sense over half the circle, out and in, as far as they still look even."""
    even = [2 * math.pi * number / count for number in range(count)]
    shapes = [[min(number, count - number) for number in range(count)], [number % 2 for number in range(count)]]
    made = []
    for along in shapes:
        for out in shapes:
            for sign in (-1, 1):
                scale = 1.0
                while scale > 1e-4:
                    radii = [RADIUS_MM + sign * scale * step * 0.1 for step in out]
                    angles = [angle + scale * step * 0.1 / RADIUS_MM for angle, step in zip(even, along, strict=True)]
                    holes = placed(radii, angles)
                    if looks_even(holes):
                        made.append(holes)
                        break
                    scale *= 0.97
    return made


def random_patterns(count: int, rng: random.Random) -> list[list[Point]]:
    made: list[list[Point]] = []
    for _ in range(4000):
        size = rng.uniform(0.2, 1.0)
        radii = [RADIUS_MM + size * rng.uniform(-0.06, 0.06) for _ in range(count)]
        angles = [2 * math.pi * n / count + size * rng.uniform(-0.12, 0.12) / RADIUS_MM for n in range(count)]
        holes = placed(radii, angles)
        if looks_even(holes):
            made.append(holes)
    return made


@pytest.mark.parametrize("count", range(3, 9))
def test_every_pattern_that_looks_even_lies_within_the_doubt(count: int) -> None:
    rng = random.Random(count)
    patterns = [*worst_patterns(count), *random_patterns(count, rng)]
    assert len(patterns) > 20
    farthest = 0.0
    for truth in patterns:
        error = rng.choice((-DOUBT_MM, 0.0, DOUBT_MM))
        chord = Range.around(math.dist(truth[0], truth[1]) + error, DOUBT_MM)
        circle = circle_from([HoleDistance(EdgeReading(chord))], holes=count).diameter_mm
        found = holes_on_circle_mm(circle.middle, [360 / count] * count)
        farthest = max(farthest, off_mm(found, truth) / even_doubt_mm(circle, count))
    assert farthest <= 1.0
    assert farthest > 0.4  # the doubt is no wider than it needs to be by much


def test_a_looser_look_makes_the_doubt_larger() -> None:
    circle = Range.around(92.0, 0.1)
    doubts = [even_doubt_mm(circle, 4, same_within_mm=within) for within in (0.0, 0.1, 0.2)]
    assert doubts == sorted(doubts)
    assert doubts[0] == pytest.approx(0.05)
    assert doubts[2] > 0.4
