"""Holes on a bolt circle: where they lie, and how far off they may be where a caliper found them evenly spaced."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate

from xref_app.core.quantity.range import Range

# House rule: distances count as all the same where the largest and the smallest read differ by no more, mm. The same
# jaws on the same kind of edge repeat within this, whatever they are off by altogether.
SAME_WITHIN_MM = 0.1

# From so many holes on do equal distances tell that they are evenly spaced: two lie nearly as far from each other when
# they are out of line with the shaft by millimetres.
FEWEST_TOLD = 3


def holes_on_circle_mm(
    diameter_mm: float, arcs_deg: Sequence[float], *, first_deg: float = 0.0
) -> tuple[tuple[float, float], ...]:
    """Return the centre of one hole at the start of each arc, mm, counter-clockwise.

    Args:
        diameter_mm: The bolt circle.
        arcs_deg: From each hole to the next, adding up to 360.
        first_deg: Where the first hole lies, 0 to the right.
    """
    radius = diameter_mm / 2
    angles = [math.radians(angle) for angle in accumulate(arcs_deg[:-1], initial=first_deg)]
    return tuple((radius * math.cos(angle), radius * math.sin(angle)) for angle in angles)


def even_doubt_mm(circle: Range, holes: int, *, same_within_mm: float = SAME_WITHIN_MM) -> float:
    """Return how far any hole may lie from its place on the even circle, in x and in y, mm.

    Known is that the distances from hole to hole, and those from the shaft to the holes, differ by no more than
    ``same_within_mm`` among themselves, and one distance from hole to hole, which gave ``circle``. The whole pattern
    may be turned to lie as near as it can, for nobody knows where it stands before the pump is turned.

    Args:
        circle: The bolt circle from one distance, with its doubt, mm.
        holes: n ≥ 3.
        same_within_mm: What the distances may differ by, mm.

    Source: first order of c² = r² + q² - 2rq·cos θ about the even pattern. An arc strays by
    (dc - s(dr + dq)) / cos(π/n) in length, s = sin(π/n); n arcs that add up to a whole turn and differ by b among
    themselves move a hole by at most b/2 · ⌊n²/4⌋/n from the middle. The mean distance is 2s times the mean radius,
    and one of n distances that differ by t lies within t(n-1)/n of their mean.
    """
    half_deg = math.pi / holes
    stray = same_within_mm * (holes - 1) / holes
    along = (holes * holes // 4) / holes * same_within_mm * (0.5 + math.sin(half_deg)) / math.cos(half_deg)
    out = circle.doubt / 2 + stray * (1 + 1 / (2 * math.sin(half_deg)))
    return math.hypot(along, out)
