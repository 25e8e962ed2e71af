"""Points fitted to distances by least squares, with the worst that the doubts of the distances can do to each."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from xref_app.core.identify.holes_linear import Matrix, inverse_or_none
from xref_app.core.identify.holes_place import Pair, Point
from xref_app.core.quantity.range import Range

# Distances known better than this are weighed as if known so well, mm: else an exact one would weigh without end.
_FINEST_DOUBT_MM = 1e-6
_STEPS, _SMALL_STEP_MM = 30, 1e-9
_REWEIGHINGS, _LEAST_SHARE = 20, 1e-3
_ROUNDS = 60

Readings = Mapping[Pair, Range]
Weights = Mapping[Pair, float]


@dataclass(frozen=True, slots=True)
class Fit:
    """Points that suit the distances best.

    ``influence[slot][pair]`` is how far coordinate ``slot`` moves with the reading of a pair, mm per mm; see
    ``slots_of`` for the coordinates of a point. ``residuals`` are readings less fitted distances, mm.
    """

    points: tuple[Point, ...]
    influence: tuple[Mapping[Pair, float], ...]
    residuals: Mapping[Pair, float]


def slots_of(point: int) -> tuple[int | None, int | None]:
    """Return the numbers of the unknowns that are x and y of a point; None where it is 0 by choice of the axes."""
    if point == 0:
        return None, None
    return (0, None) if point == 1 else (2 * point - 3, 2 * point - 2)


def fitted_or_none(start: Sequence[Point], readings: Readings, shares: Weights | None = None) -> Fit | None:
    """Return the least-squares fit near ``start``, or None where a position stays free or no fit is reached.

    Args:
        start: Points near the answer, the first at the origin, the second on the x axis, mm.
        readings: Every pair of points, mm.
        shares: Further weights on the pairs; None for equal ones. A reading weighs by the square of its doubt.

    Source: Gauss-Newton.
    """
    weights = {pair: (shares[pair] if shares else 1.0) / _scale(reading) ** 2 for pair, reading in readings.items()}
    heaviest = max(weights.values())
    weights = {pair: weight / heaviest for pair, weight in weights.items()}
    points = tuple(start)
    for _ in range(_STEPS):
        influence = _influence_or_none(points, weights)
        if influence is None:
            return None
        residuals = _residuals(points, readings)
        moves = [sum(row[pair] * residuals[pair] for pair in row) for row in influence]
        points = tuple(_moved(point, slots_of(number), moves) for number, point in enumerate(points))
        if max(map(abs, moves), default=0.0) < _SMALL_STEP_MM:
            return Fit(points, tuple(influence), _residuals(points, readings))
    return None


def surely_contradict(fit: Fit, readings: Readings) -> bool:
    """Say whether no points at all have all their distances inside the readings.

    Raising the weight of what misses most drives the fit toward the least possible largest miss. With weights that add
    up to one the root of the weighted mean square is never above that: once it exceeds the doubts, nothing fits.

    Source: Lawson's algorithm for the Chebyshev norm.
    """
    shares = dict.fromkeys(readings, 1 / len(readings))
    for _ in range(_REWEIGHINGS):
        missed = {pair: abs(fit.residuals[pair]) / _scale(reading) for pair, reading in readings.items()}
        if max(missed.values()) <= 1:
            return False
        if math.sqrt(sum(shares[pair] * miss**2 for pair, miss in missed.items())) > 1 + 1e-6:
            return True
        shares = _reweighed(shares, missed)
        better = fitted_or_none(fit.points, readings, shares)
        if better is None:
            return False
        fit = better
    return False


def _reweighed(shares: Weights, missed: Weights) -> dict[Pair, float]:
    """Return the shares, adding up to one, moved toward what misses most; none so small that the fit loses its hold."""
    total = sum(shares[pair] * miss for pair, miss in missed.items())
    raised = {pair: max(shares[pair] * miss / total, _LEAST_SHARE / len(missed)) for pair, miss in missed.items()}
    whole = sum(raised.values())
    return {pair: share / whole for pair, share in raised.items()}


def worst_case_or_none(fit: Fit, readings: Readings, rows: Sequence[Sequence[Mapping[Pair, float]]]) -> Matrix | None:
    """Return how far each coordinate of each point can be off, mm, or None where the doubts are too large to tell.

    The influences times the doubts are the worst case as long as distances answer straight to positions. They bend by
    at most (move of both ends)² / (2 · distance), which is added to the doubts until nothing changes any more.

    Args:
        fit: The fit.
        readings: Every pair of points, mm.
        rows: Influences on x and on y of every point that moves are to be counted for.
    """
    free = [[_row(fit, slot) for slot in slots_of(point)] for point in range(len(fit.points))]
    bends: Weights = dict.fromkeys(readings, 0.0)
    for _ in range(_ROUNDS):
        moves = [math.hypot(*one) for one in _off(free, readings, bends)]
        bent = _bends_or_none(fit, moves)
        if bent is None:
            return None
        settled = max(abs(bent[pair] - bends[pair]) for pair in bends) < 1e-9
        bends = bent
        if settled:
            return _off(rows, readings, bends)
    return None


def rows_of(fit: Fit, point: int) -> tuple[Mapping[Pair, float], Mapping[Pair, float]]:
    """Return the influences of the readings on x and on y of a point."""
    x, y = slots_of(point)
    return _row(fit, x), _row(fit, y)


def _row(fit: Fit, slot: int | None) -> Mapping[Pair, float]:
    return {} if slot is None else fit.influence[slot]


def _off(rows: Sequence[Sequence[Mapping[Pair, float]]], readings: Readings, bends: Weights) -> Matrix:
    doubts = {pair: reading.doubt + bends[pair] for pair, reading in readings.items()}
    return [[sum(abs(by) * doubts[pair] for pair, by in row.items()) for row in point] for point in rows]


def _bends_or_none(fit: Fit, moves: Sequence[float]) -> Mapping[Pair, float] | None:
    """Return how far each distance can stray from its straight answer; None where points could meet."""
    bends = {}
    for one, other in fit.residuals:
        apart, move = math.dist(fit.points[one], fit.points[other]), moves[one] + moves[other]
        if move > apart / 2:
            return None
        bends[one, other] = move**2 / (2 * (apart - move))
    return bends


def _scale(reading: Range) -> float:
    return max(reading.doubt, _FINEST_DOUBT_MM)


def _residuals(points: Sequence[Point], readings: Readings) -> Mapping[Pair, float]:
    return {(i, j): reading.middle - math.dist(points[i], points[j]) for (i, j), reading in readings.items()}


def _moved(point: Point, slots: tuple[int | None, int | None], moves: Sequence[float]) -> Point:
    x, y = (0.0 if slot is None else moves[slot] for slot in slots)
    return point[0] + x, point[1] + y


def _influence_or_none(points: Sequence[Point], weights: Weights) -> list[dict[Pair, float]] | None:
    """Return (Jᵀ W J)⁻¹ Jᵀ W by pair, J being the derivatives of the distances by the unknowns."""
    slopes = {pair: _slopes(points, pair) for pair in weights}
    size = 2 * len(points) - 3
    normal = [[0.0] * size for _ in range(size)]
    for pair, row in slopes.items():
        for one, first in row.items():
            for other, second in row.items():
                normal[one][other] += weights[pair] * first * second
    inverse = inverse_or_none(normal)
    if inverse is None:
        return None
    return [
        {pair: weights[pair] * sum(line[slot] * by for slot, by in row.items()) for pair, row in slopes.items()}
        for line in inverse
    ]


def _slopes(points: Sequence[Point], pair: Pair) -> Mapping[int, float]:
    (x0, y0), (x1, y1) = points[pair[0]], points[pair[1]]
    apart = math.hypot(x1 - x0, y1 - y0) or 1.0
    slopes: dict[int, float] = {}
    for number, sign in ((pair[0], -1.0), (pair[1], 1.0)):
        for slot, along in zip(slots_of(number), (x1 - x0, y1 - y0), strict=True):
            if slot is not None:
                slopes[slot] = sign * along / apart
    return slopes
