"""Standard shafts, bores, keys and keyways, written a second time for the oracle: no code shared with xref_app.

Sources: ASME B17.1-1967 (key by shaft range, S and T depth formulas, fit class 1 tolerances, row to 1/2 in);
ISO 773 / DIN 6885-1 (parallel keys); ISO 286-1 (IT9) and ISO 286-2 (D10).
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

INCH_MM = 25.4

# over (in), to and including (in), key width (in): ASME B17.1, square keys.
INCH_KEYS = (
    (5 / 16, 7 / 16, 3 / 32),
    (7 / 16, 9 / 16, 1 / 8),
    (9 / 16, 7 / 8, 3 / 16),
    (7 / 8, 1.25, 1 / 4),
    (1.25, 1.375, 5 / 16),
    (1.375, 1.75, 3 / 8),
    (1.75, 2.25, 1 / 2),
)

# over (mm), to and including (mm), width, height, shaft depth t1, its tolerance, hub depth t2, its tolerance: ISO 773.
METRIC_KEYS = (
    (6, 8, 2, 2, 1.2, 0.1, 1.0, 0.1),
    (8, 10, 3, 3, 1.8, 0.1, 1.4, 0.1),
    (10, 12, 4, 4, 2.5, 0.1, 1.8, 0.1),
    (12, 17, 5, 5, 3.0, 0.1, 2.3, 0.1),
    (17, 22, 6, 6, 3.5, 0.1, 2.8, 0.1),
    (22, 30, 8, 7, 4.0, 0.2, 3.3, 0.2),
    (30, 38, 10, 8, 5.0, 0.2, 3.3, 0.2),
    (38, 44, 12, 8, 5.0, 0.2, 3.3, 0.2),
    (44, 50, 14, 9, 5.5, 0.2, 3.8, 0.2),
)

# up to and including (mm): IT9 (mm), D10 upper deviation (mm). ISO 286.
GRADES = (
    (3.0, 0.025, 0.060),
    (6.0, 0.030, 0.078),
    (10.0, 0.036, 0.098),
    (18.0, 0.043, 0.120),
    (30.0, 0.052, 0.149),
    (50.0, 0.062, 0.180),
    (80.0, 0.074, 0.220),
)


class Limits(NamedTuple):
    """Lowest and highest value, mm."""

    low: float
    high: float

    def overlap(self, other: Limits) -> Limits | None:
        """Return what both hold, or None."""
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Limits(min(low, high), high) if low <= high + 1e-9 else None


class Pair(NamedTuple):
    """One standard diameter with its key: ``side`` heights are key top (shaft) or keyway floor (bore)."""

    table: str
    diameter: Limits
    width_mm: float
    key_height_mm: float
    side: Limits


def it9_mm(size_mm: float) -> float:
    """Return the IT9 grade of ISO 286 at a size, mm."""
    return next(it9 for to, it9, _ in GRADES if size_mm <= to + 1e-9)


def _d10_upper_mm(size_mm: float) -> float:
    return next(upper for to, _, upper in GRADES if size_mm <= to + 1e-9)


def _inch_diameters() -> list[float]:
    return [sixteenths / 16 for sixteenths in range(6, 33)]


def _metric_diameters() -> list[float]:
    return [float(size) for size in range(8, 51)]


def diameter_limits(nominal_mm: float, *, bore: bool) -> Limits:
    """Return H9 for a bore and h9 for a shaft, mm."""
    grade = it9_mm(nominal_mm)
    return Limits(nominal_mm, nominal_mm + grade) if bore else Limits(nominal_mm - grade, nominal_mm)


def inch_width_limits(width_mm: float, *, bore: bool) -> Limits:
    """Return the limits of an inch keyway (bore) or key (shaft), mm: ASME B17.1 class 1, the row to 1/2 in."""
    spread = 0.002 * INCH_MM
    return Limits(width_mm, width_mm + spread) if bore else Limits(width_mm - spread, width_mm)


def metric_width_limits(width_mm: float, *, bore: bool) -> Limits:
    """Return the limits of a metric keyway (to D10) or key (h9), mm."""
    return (
        Limits(width_mm, width_mm + _d10_upper_mm(width_mm)) if bore else Limits(width_mm - it9_mm(width_mm), width_mm)
    )


def _inch_pair(diameter_in: float, *, bore: bool) -> Pair | None:
    width = next((w for over, to, w in INCH_KEYS if over < diameter_in <= to), None)
    if width is None:
        return None
    chord = (diameter_in - math.sqrt(diameter_in**2 - width**2)) / 2
    floor = diameter_in + width / 2 - chord + 0.005
    top = diameter_in + width / 2 - chord
    side = (
        Limits(floor * INCH_MM, (floor + 0.010) * INCH_MM) if bore else Limits((top - 0.017) * INCH_MM, top * INCH_MM)
    )
    nominal = diameter_in * INCH_MM
    return Pair("inch", diameter_limits(nominal, bore=bore), width * INCH_MM, width * INCH_MM, side)


def _metric_pair(diameter_mm: float, *, bore: bool) -> Pair | None:
    row = next((row for row in METRIC_KEYS if row[0] < diameter_mm <= row[1]), None)
    if row is None:
        return None
    _, _, width, height, t1, t1_tolerance, t2, t2_tolerance = row
    top = diameter_mm - t1 + height
    floor = diameter_mm + t2
    side = Limits(floor, floor + t2_tolerance) if bore else Limits(top - t1_tolerance - 0.09, top)
    return Pair("metric", diameter_limits(diameter_mm, bore=bore), float(width), float(height), side)


@lru_cache(maxsize=2)
def all_pairs(bore: bool) -> tuple[Pair, ...]:
    """Return every standard pair of a side."""
    inch = [_inch_pair(size, bore=bore) for size in _inch_diameters()]
    metric = [_metric_pair(size, bore=bore) for size in _metric_diameters()]
    return tuple(pair for pair in inch + metric if pair is not None)


def _width_limits(pair: Pair, *, bore: bool) -> Limits:
    limits = inch_width_limits if pair.table == "inch" else metric_width_limits
    return limits(pair.width_mm, bore=bore)


@lru_cache(maxsize=4096)
def pairs_meeting(diameter: Limits, width: Limits, bore: bool) -> tuple[Pair, ...]:
    """Return the standard pairs that both readings meet, each with its diameter cut to the reading."""
    found = []
    for pair in all_pairs(bore):
        common = pair.diameter.overlap(diameter)
        if common is not None and _width_limits(pair, bore=bore).overlap(width) is not None:
            found.append(pair._replace(diameter=common))
    return tuple(found)


@lru_cache(maxsize=4096)
def diameters_meeting(reading: Limits, bore: bool) -> tuple[Limits, ...]:
    """Return the standard diameters that a reading meets, each cut to the reading."""
    sizes = [size * INCH_MM for size in _inch_diameters()] + _metric_diameters()
    common = [diameter_limits(size, bore=bore).overlap(reading) for size in sizes]
    return tuple(one for one in common if one is not None)


@lru_cache(maxsize=4096)
def widths_meeting(reading: Limits, bore: bool) -> tuple[float, ...]:
    """Return the standard key widths that a reading meets, mm."""
    inch = [(w * INCH_MM, inch_width_limits(w * INCH_MM, bore=bore)) for _, _, w in INCH_KEYS]
    metric = [(float(row[2]), metric_width_limits(float(row[2]), bore=bore)) for row in METRIC_KEYS]
    return tuple(width for width, limits in inch + metric if limits.overlap(reading) is not None)
