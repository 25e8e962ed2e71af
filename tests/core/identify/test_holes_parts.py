"""The parts that place holes: least squares against scipy, contradictions against statics, and the sense."""

from __future__ import annotations

import math
import random
from itertools import combinations

import numpy as np
import pytest
from scipy.optimize import least_squares

from xref_app.core.identify.holes_fit import fitted_or_none, surely_contradict
from xref_app.core.identify.holes_linear import inverse_or_none
from xref_app.core.identify.holes_place import Pair, Point, placed
from xref_app.core.identify.holes_sense import runs_clockwise, surely_runs_one_way
from xref_app.core.quantity.range import Range

SQUARE: tuple[Point, ...] = ((0.0, 0.0), (65.0, 0.0), (65.0, 65.0), (0.0, 65.0))


def pattern(seed: int) -> tuple[Point, ...]:
    draw = random.Random(seed)
    angles = sorted(draw.uniform(0, 2 * math.pi) for _ in range(draw.randint(4, 7)))
    return tuple((draw.uniform(40, 70) * math.cos(one), draw.uniform(40, 70) * math.sin(one)) for one in angles)


def noisy(points: tuple[Point, ...], seed: int, doubt: float) -> dict[Pair, Range]:
    draw = random.Random(seed)
    return {
        (one, other): Range.around(math.dist(points[one], points[other]) + draw.uniform(-3, 3) * doubt, doubt)
        for one, other in combinations(range(len(points)), 2)
    }


@pytest.mark.parametrize("seed", range(12))
def test_the_fit_is_the_least_squares_one_of_scipy(seed: int) -> None:
    points = pattern(seed)
    readings = noisy(points, seed, 0.05)
    pairs = list(readings)
    fit = fitted_or_none(placed(len(points), {pair: one.middle for pair, one in readings.items()}), readings)
    assert fit is not None

    def misses(flat: np.ndarray) -> list[float]:
        rows = flat.reshape(-1, 2)
        return [float(np.linalg.norm(rows[one] - rows[other])) - readings[one, other].middle for one, other in pairs]

    theirs = least_squares(misses, np.array(points).ravel(), xtol=1e-14, ftol=1e-14, gtol=1e-14)
    assert sum(miss**2 for miss in fit.residuals.values()) == pytest.approx(2 * theirs.cost, rel=1e-6)
    for pair, miss in zip(pairs, theirs.fun, strict=True):
        assert fit.residuals[pair] == pytest.approx(-miss, abs=1e-5)


@pytest.mark.parametrize(("share", "contradicts"), [(0.995, False), (1.005, True)])
def test_the_square_contradicts_itself_from_where_statics_says(share: float, contradicts: bool) -> None:
    # The one self-stress of a square with both diagonals is 1 in each side and -√2 in each diagonal (force, statics
    # textbooks). Readings are consistent as long as |Σ force · error| ≤ doubt · Σ |force|; the diagonals alone can take
    # up 2√2 / (4 + 2√2) of it. Sides exact, diagonals too long by e: e · 2√2 = doubt · (4 + 2√2).
    doubt = 0.05
    error = share * doubt * (4 + 2 * math.sqrt(2)) / (2 * math.sqrt(2))
    readings = {
        (one, other): Range.around(math.dist(SQUARE[one], SQUARE[other]) + (error if other - one == 2 else 0.0), doubt)
        for one, other in combinations(range(4), 2)
    }
    fit = fitted_or_none(SQUARE, readings)
    assert fit is not None
    assert surely_contradict(fit, readings) is contradicts


@pytest.mark.parametrize("seed", range(5))
def test_the_inverse_is_that_of_numpy(seed: int) -> None:
    matrix = np.random.default_rng(seed).uniform(-1, 1, (7, 7))
    ours = inverse_or_none(matrix.tolist())
    assert ours is not None
    assert np.allclose(ours, np.linalg.inv(matrix))


def test_what_has_no_inverse_gives_none() -> None:
    assert inverse_or_none([[1.0, 2.0], [2.0, 4.0]]) is None
    assert inverse_or_none([[0.0]]) is None


def test_the_sense_is_open_where_the_points_may_be_off_by_more_than_their_height() -> None:
    flat = ((0.0, 0.0), (80.0, 0.0), (40.0, 1.0))
    assert not runs_clockwise(flat, about_axis=False)
    assert runs_clockwise(flat[::-1], about_axis=False)
    assert surely_runs_one_way(flat, 0.1, about_axis=False)
    assert not surely_runs_one_way(flat, 1.0, about_axis=False)
    opposite = ((0.0, 0.0), (60.0, 0.0), (0.0, 60.0), (-60.0, 0.5))
    assert surely_runs_one_way(opposite, 1.0, about_axis=True)
    assert not surely_runs_one_way(opposite[:2] + opposite[3:], 1.0, about_axis=True)
