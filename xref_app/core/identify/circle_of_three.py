"""The circle through three holes, from the three distances between them and their doubts."""

from __future__ import annotations

import math
from itertools import product

from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import ReadingError


def circle_through_three_mm(first: Range, second: Range, third: Range) -> Range:
    """Return the diameter of the circle through three points, mm, for everything that the doubts allow.

    Two sides held, the diameter has one lowest point over the third side and rises from there both ways: so the largest
    diameter lies in a corner of the doubts. The smallest does too, unless the triangle can be right-angled inside the
    doubts; then the longest side is the diameter itself, and never is it less than any side.

    Raises:
        ReadingError: the sides are, or within their doubts can be, those of no triangle.

    Source: D = a b c / (2 K), K by Heron's formula.
    """
    sides = (first, second, third)
    _refuse_flat(sides)
    corners = [diameter_mm(*corner) for corner in product(*((side.low, side.high) for side in sides))]
    longest = max(side.low for side in sides)
    return Range(longest if _can_be_right_angled(sides) else min(corners), max(corners))


def diameter_mm(a: float, b: float, c: float) -> float:
    """Return the diameter of the circle through the corners of a triangle with sides a, b, c, mm.

    Source: D = a b c / (2 K) with 16 K² = (a + b + c)(a + b - c)(a - b + c)(-a + b + c).
    """
    return 2 * a * b * c / math.sqrt((a + b + c) * (a + b - c) * (a - b + c) * (-a + b + c))


def arcs_deg(a: float, b: float, c: float) -> tuple[float, float, float]:
    """Return the arcs of the circumscribed circle over the sides a, b, c, degrees; they add up to 360.

    Source: an arc is twice the angle that faces it; law of cosines.
    """
    return _arc(a, b, c), _arc(b, c, a), _arc(c, a, b)


def _arc(facing: float, one: float, other: float) -> float:
    return 2 * math.degrees(math.acos((one**2 + other**2 - facing**2) / (2 * one * other)))


def _refuse_flat(sides: tuple[Range, Range, Range]) -> None:
    turned = (sides, sides[1:] + sides[:1], sides[2:] + sides[:2])
    for longest, one, other in turned:
        if longest.high >= one.low + other.low:
            raise ReadingError(
                f"Three holes {sides[0].middle:.2f}, {sides[1].middle:.2f} and {sides[2].middle:.2f} mm apart can lie"
                " in one line, and no circle goes through those; measure the three distances again, finer."
            )


def _can_be_right_angled(sides: tuple[Range, Range, Range]) -> bool:
    squares = [Range(side.low**2, side.high**2) for side in sides]
    total = squares[0] + squares[1] + squares[2]
    return any((square * 2.0).meets(total) for square in squares)
