"""Where the bolt holes of a face are, from the distances of every hole to every other."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations, permutations
from typing import Final

from xref_app.core.identify.holes_fit import Fit, fitted_or_none, rows_of, surely_contradict, worst_case_or_none
from xref_app.core.identify.holes_linear import Matrix
from xref_app.core.identify.holes_place import Pair, Point, placed
from xref_app.core.identify.holes_sense import runs_clockwise, surely_runs_one_way
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.quantity.readings import ReadingError, refuse_unless_positive
from xref_app.core.sentence import Sentence, marked

AXIS: Final = 0
"""The number that stands for the centre of the shaft or bore; holes count from 1."""

FEWEST_HOLES, MOST_HOLES = 2, 8

NO_AXIS = marked(
    "identify",
    "The shaft was not measured, so the holes are given about their own middle: take the distance from the shaft to"
    " every hole as well.",
)
MIRRORED = marked(
    "identify", "Taken on the loose pump and mirrored: given as seen with the pump in front of the engine."
)


class SeenFrom(StrEnum):
    """What somebody looked at while numbering the holes counter-clockwise."""

    ENGINE = "the engine's face"
    LOOSE_PUMP = "the loose pump's face"


@dataclass(frozen=True, slots=True)
class Apart:
    """The distance between the centres of two points, mm: hole 1, 2, 3 .. or AXIS."""

    first: int
    second: int
    distance: Range


@dataclass(frozen=True, slots=True)
class PlacedHole:
    """The centre of a hole with its doubt, mm, x right and y up."""

    x_mm: Range
    y_mm: Range


@dataclass(frozen=True, slots=True)
class HolesFound:
    """The holes in the order of their numbers, in the one view that both sides of a fit are given in.

    That view looks at the engine's face with the pump in front of it. With the axis measured it is the origin and hole
    1 lies to its right; else the origin is the middle of all holes and hole 2 lies to the right of hole 1. ``off_mm``
    says by how much each distance misses the one that was read (read less found).
    """

    holes: tuple[PlacedHole, ...]
    about_axis: bool
    off_mm: Mapping[Pair, float]
    notes: tuple[Sentence, ...] = ()

    @property
    def holes_xy_mm(self) -> tuple[Point, ...]:
        """Return the centres without their doubts, mm."""
        return tuple((hole.x_mm.middle, hole.y_mm.middle) for hole in self.holes)


def holes_from(distances: Sequence[Apart], *, holes: int, seen_from: SeenFrom) -> HolesFound:
    """Return where the holes are, with the worst that the doubts of the distances can do to each position.

    Distances cannot tell a pattern from its mirror image. So the holes are numbered counter-clockwise by whoever looks
    at the face; what was numbered on the loose pump, seen from its mounting face, is mirrored here. Two holes beside
    the axis are numbered so that the way from 1 to 2 is less than half a turn.

    Args:
        distances: Every hole to every other, centre to centre (``centre_distance_mm`` makes them of edges), and either
            none or all of the axis to every hole.
        holes: 2 to 8.
        seen_from: Which face was looked at.

    Raises:
        ReadingError: a distance is missing, doubled or no size; the distances contradict each other by more than their
            doubts; or the points lie so nearly in one line, or the doubts are so large, that distances cannot place
            them.

    Source: two-circle intersection, then least squares; worst case by the influence of each reading.
    """
    about_axis = any(AXIS in (one.first, one.second) for one in distances)
    readings = _readings(distances, holes, about_axis=about_axis)
    _refuse_open_triangles(readings, about_axis=about_axis)
    fit = _fit(readings, holes, about_axis=about_axis)
    points = _hole_points(fit.points, about_axis=about_axis)
    off = _worst_case(fit, readings, about_axis=about_axis)
    if not surely_runs_one_way(fit.points, math.hypot(*map(max, zip(*off, strict=True))), about_axis=about_axis):
        raise _flat()
    mirrored = -1 if seen_from is SeenFrom.LOOSE_PUMP else 1
    placed_holes = tuple(
        PlacedHole(Range.around(x, off_x), Range.around(mirrored * y, off_y))
        for (x, y), (off_x, off_y) in zip(points, off, strict=True)
    )
    notes = () if about_axis else (Sentence(NO_AXIS),)
    if seen_from is SeenFrom.LOOSE_PUMP:
        notes = (*notes, Sentence(MIRRORED))
    shift = 0 if about_axis else 1
    off_mm = {(one + shift, other + shift): miss for (one, other), miss in fit.residuals.items()}
    return HolesFound(placed_holes, about_axis, off_mm, notes)


def _readings(distances: Sequence[Apart], holes: int, *, about_axis: bool) -> Mapping[Pair, Range]:
    """Return the distance of every pair of points, points numbered from 0: the axis first where it was measured."""
    if not FEWEST_HOLES <= holes <= MOST_HOLES:
        raise ReadingError(f"A face of {holes} holes is not measured here; give {FEWEST_HOLES} to {MOST_HOLES} holes.")
    numbers = range(AXIS if about_axis else 1, holes + 1)
    read: dict[Pair, Range] = {}
    for one in distances:
        pair = (min(one.first, one.second), max(one.first, one.second))
        if pair in read:
            raise ReadingError(f"The distance {_between(pair)} is given twice; gather the readings into one first.")
        refuse_unless_positive(f"The distance {_between(pair)}", one.distance)
        read[pair] = one.distance
    wanted = list(combinations(numbers, 2))
    for pair in read.keys() - set(wanted):
        raise ReadingError(
            f"The distance {_between(pair)} is none of a face of {holes} holes; number them 1 to {holes}."
        )
    missing = [pair for pair in wanted if pair not in read]
    if missing:
        raise ReadingError(f"The distance {_between(missing[0])} is missing; measure every hole to every other.")
    return {(one - numbers.start, other - numbers.start): read[one, other] for one, other in wanted}


def _between(pair: Pair, shift: int = 0) -> str:
    one, other = (number + shift for number in pair)
    return f"from the shaft to hole {other}" if one == AXIS else f"from hole {one} to hole {other}"


def _refuse_open_triangles(readings: Mapping[Pair, Range], *, about_axis: bool) -> None:
    count = 1 + max(other for _, other in readings)
    for one, middle, other in permutations(range(count), 3):
        way_round = _of(readings, one, middle) + _of(readings, middle, other)
        direct = _of(readings, one, other)
        if direct.low > way_round.high + SAME_MM:
            between = _between((min(one, other), max(one, other)), 0 if about_axis else 1)
            raise ReadingError(
                f"The distance {between} ({direct.middle:.2f} mm) is longer than the way round over a third point"
                f" ({way_round.middle:.2f} mm); measure these again."
            )


def _of(readings: Mapping[Pair, Range], one: int, other: int) -> Range:
    return readings[min(one, other), max(one, other)]


def _fit(readings: Mapping[Pair, Range], holes: int, *, about_axis: bool) -> Fit:
    count = holes + 1 if about_axis else holes
    start = placed(count, {pair: reading.middle for pair, reading in readings.items()})
    if runs_clockwise(start, about_axis=about_axis):
        start = tuple((x, -y) for x, y in start)
    fit = fitted_or_none(start, readings)
    if fit is None:
        raise _flat()
    if surely_contradict(fit, readings):
        raise _contradiction(fit, readings, about_axis=about_axis)
    return fit


def _contradiction(fit: Fit, readings: Mapping[Pair, Range], *, about_axis: bool) -> ReadingError:
    worst = max(readings, key=lambda pair: abs(fit.residuals[pair]) / max(readings[pair].doubt, SAME_MM))
    between = _between(worst, 0 if about_axis else 1)
    fits = readings[worst].middle - fit.residuals[worst]
    return ReadingError(
        f"The distances contradict each other by more than their doubts, worst the one {between}: it reads"
        f" {readings[worst].middle:.2f} mm where the others want about {fits:.2f} mm; measure it and its"
        " neighbours again."
    )


def _flat() -> ReadingError:
    return ReadingError(
        "These distances cannot place the holes, for the points lie too nearly in one line, or the doubts are too"
        " large; measure finer, lay a straightedge over the holes, or measure to a further point."
    )


def _hole_points(points: Sequence[Point], *, about_axis: bool) -> tuple[Point, ...]:
    if about_axis:
        return tuple(points[1:])
    x0, y0 = (sum(values) / len(points) for values in zip(*points, strict=True))
    return tuple((x - x0, y - y0) for x, y in points)


def _worst_case(fit: Fit, readings: Mapping[Pair, Range], *, about_axis: bool) -> Matrix:
    rows = [rows_of(fit, point) for point in range(len(fit.points))]
    shown = rows[1:] if about_axis else [tuple(map(_less, row, _mean(rows))) for row in rows]
    off = worst_case_or_none(fit, readings, shown)
    if off is None:
        raise _flat()
    return off


Row = Mapping[Pair, float]


def _mean(rows: Sequence[Sequence[Row]]) -> tuple[Row, ...]:
    count = len(rows)
    pairs = {pair for row in rows for axis in row for pair in axis}
    return tuple({pair: sum(row[axis].get(pair, 0.0) for row in rows) / count for pair in pairs} for axis in (0, 1))


def _less(row: Row, other: Row) -> Row:
    return {pair: row.get(pair, 0.0) - by for pair, by in other.items()}
