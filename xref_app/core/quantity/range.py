"""A closed interval in which the true value lies, and its arithmetic."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

# Below any caliper and above the rounding of float sums: two limits that differ by less are the same limit.
SAME_MM = 1e-9


@dataclass(frozen=True, slots=True)
class Range:
    """All values from ``low`` to ``high``, both included, in the unit of the field it belongs to.

    Raises:
        ValueError: ``low`` is above ``high``, or either is not a number.
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.high:
            raise ValueError(f"a range from {self.low} to {self.high} holds nothing")

    @classmethod
    def exactly(cls, value: float) -> Range:
        """Return the range that holds one value only."""
        return cls(value, value)

    @classmethod
    def around(cls, value: float, doubt: float) -> Range:
        """Return ``value`` give or take ``doubt`` (half-width, not negative)."""
        return cls(value - doubt, value + doubt)

    @property
    def middle(self) -> float:
        """Return the value half way between the limits."""
        return (self.low + self.high) / 2

    @property
    def doubt(self) -> float:
        """Return the half-width."""
        return (self.high - self.low) / 2

    def __add__(self, other: Range | float) -> Range:
        other = _as_range(other)
        return Range(self.low + other.low, self.high + other.high)

    def __sub__(self, other: Range | float) -> Range:
        other = _as_range(other)
        return Range(self.low - other.high, self.high - other.low)

    def __neg__(self) -> Range:
        return Range(-self.high, -self.low)

    def __mul__(self, other: Range | float) -> Range:
        other = _as_range(other)
        products = (self.low * other.low, self.low * other.high, self.high * other.low, self.high * other.high)
        return Range(min(products), max(products))

    def __truediv__(self, other: Range | float) -> Range:
        """Return the quotients; raise ZeroDivisionError where ``other`` can be zero."""
        other = _as_range(other)
        if other.low <= 0 <= other.high:
            raise ZeroDivisionError(f"cannot divide by a range that holds zero: {other.low} to {other.high}")
        return self * Range(1 / other.high, 1 / other.low)

    def meets(self, other: Range) -> bool:
        """Say whether any value lies in both."""
        return self.low <= other.high + SAME_MM and other.low <= self.high + SAME_MM

    def within(self, other: Range) -> bool:
        """Say whether every value of this one lies in ``other``."""
        return other.low - SAME_MM <= self.low and self.high <= other.high + SAME_MM

    def overlap_or_none(self, other: Range) -> Range | None:
        """Return the values both hold, or None where they share none."""
        if not self.meets(other):
            return None
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Range(min(low, high), max(low, high))

    def surely_at_least(self, limit: float) -> bool:
        """Say whether every value reaches ``limit``."""
        return self.low >= limit - SAME_MM

    def surely_at_most(self, limit: float) -> bool:
        """Say whether no value exceeds ``limit``."""
        return self.high <= limit + SAME_MM

    def surely_below(self, limit: float) -> bool:
        """Say whether every value misses ``limit`` from below."""
        return self.high < limit - SAME_MM

    def surely_above(self, limit: float) -> bool:
        """Say whether every value lies beyond ``limit``."""
        return self.low > limit + SAME_MM


def _as_range(value: Range | float) -> Range:
    return value if isinstance(value, Range) else Range.exactly(value)


def hull(ranges: Iterable[Range]) -> Range:
    """Return the smallest range that holds all of ``ranges`` (at least one)."""
    known = tuple(ranges)
    return Range(min(one.low for one in known), max(one.high for one in known))
