"""A cut through solid material, built of bands: hatching inside, and the edges that follow from where it ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from xref_app.sheets.shapes import Hatching, Line, Segment, Shape

Stretch = tuple[float, float]
# Ends that differ by less are one edge, mm.
_SAME_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Band:
    """Material between two heights above the axis, mm, from where to where along the axis."""

    low_mm: float
    high_mm: float
    solid: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True)
class Cut:
    """How a cut is drawn: its line, its hatching, and where the material goes on unseen.

    No edge is drawn at ``open_x`` and ``open_y``, mm. ``up`` is 1 above the axis and -1 for its mirror image below.
    """

    line: Line
    towards_deg: float
    open_x: tuple[float, ...] = ()
    open_y: tuple[float, ...] = ()
    up: int = 1


def section(bands: Sequence[Band], cut: Cut) -> Iterator[Shape]:
    """Yield hatching and edges of ``bands``, which follow one another upward without gaps."""
    bands = [band for band in bands if band.high_mm - band.low_mm > _SAME_MM]
    for band in bands:
        low, high = cut.up * band.low_mm, cut.up * band.high_mm
        for begins, ends in band.solid:
            yield Hatching(((begins, low), (ends, low), (ends, high), (begins, high)), cut.line, cut.towards_deg)
            for x in (begins, ends):
                if not _is_among(x, cut.open_x):
                    yield Segment(x, low, x, high, cut.line)
    for height, below, above in _borders(bands):
        if not _is_among(height, cut.open_y):
            for begins, ends in in_one_only(below, above):
                yield Segment(begins, cut.up * height, ends, cut.up * height, cut.line)


def _borders(bands: Sequence[Band]) -> Iterator[tuple[float, tuple[Stretch, ...], tuple[Stretch, ...]]]:
    """Yield every height where bands meet, with what is solid below and above it."""
    if not bands:
        return
    yield bands[0].low_mm, (), bands[0].solid
    for lower, upper in pairwise(bands):
        yield lower.high_mm, lower.solid, upper.solid
    yield bands[-1].high_mm, bands[-1].solid, ()


def in_one_only(first: Sequence[Stretch], second: Sequence[Stretch]) -> Iterator[Stretch]:
    """Yield the stretches that one of the two has and the other has not, touching ones joined."""
    ends = sorted({x for stretch in (*first, *second) for x in stretch})
    open_from: float | None = None
    for begins, stops in pairwise(ends):
        middle = (begins + stops) / 2
        if _holds(first, middle) != _holds(second, middle):
            open_from = begins if open_from is None else open_from
        elif open_from is not None:
            yield open_from, begins
            open_from = None
    if open_from is not None:
        yield open_from, ends[-1]


def without(stretch: Stretch, hole: Stretch) -> tuple[Stretch, ...]:
    """Return what is left of ``stretch`` outside ``hole``."""
    low, high = max(stretch[0], hole[0]), min(stretch[1], hole[1])
    if high - low <= _SAME_MM:
        return (stretch,)
    return tuple((begins, ends) for begins, ends in ((stretch[0], low), (high, stretch[1])) if ends - begins > _SAME_MM)


def _holds(stretches: Sequence[Stretch], x: float) -> bool:
    return any(begins < x < ends for begins, ends in stretches)


def _is_among(value: float, others: Sequence[float]) -> bool:
    return any(abs(value - other) <= _SAME_MM for other in others)
