"""A range of exact decimal figures, both ends in it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Span:
    """All figures from ``low`` to ``high``; money, minutes or anything else that is counted exactly."""

    low: Decimal
    high: Decimal

    def __post_init__(self) -> None:
        if not self.low <= self.high:
            raise ValueError(f"{self.low} to {self.high} runs down")

    @property
    def is_exact(self) -> bool:
        """Say whether it is one figure."""
        return self.low == self.high

    def __add__(self, other: Span) -> Span:
        return Span(self.low + other.low, self.high + other.high)

    def __sub__(self, other: Span) -> Span:
        return Span(self.low - other.high, self.high - other.low)

    def times(self, factor: Decimal | int) -> Span:
        """Return the range times ``factor``, which is not below zero."""
        return Span(self.low * factor, self.high * factor)

    def holds(self, other: Span) -> bool:
        """Say whether every figure of ``other`` is in this range."""
        return self.low <= other.low and other.high <= self.high

    def meets(self, other: Span) -> bool:
        """Say whether any figure is in both."""
        return self.low <= other.high and other.low <= self.high


NOTHING = Span(Decimal(0), Decimal(0))


def exactly(figure: Decimal | int | str) -> Span:
    """Return the range of one figure."""
    return Span(Decimal(figure), Decimal(figure))


def sum_of(spans: list[Span]) -> Span:
    """Return the sum of n ranges; nothing for n = 0."""
    return sum(spans, NOTHING)
