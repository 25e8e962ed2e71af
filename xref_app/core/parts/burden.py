"""What bridging a gap takes, so that two ways of doing it can be compared."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from xref_app.core.model.shelf import Part


@dataclass(frozen=True, slots=True, order=True)
class Burden:
    """What a way to bridge a gap takes; of two, the lesser one is the better way.

    Compared in this order (house rule): pieces to make, pieces to order, pieces in all, money. The shelf comes first
    because somebody waits; a piece fewer is a joint or a stack fewer; money parts what is alike in both.
    """

    made: int = 0
    ordered: int = 0
    pieces: int = 0
    money: float = 0.0

    def __add__(self, other: Burden) -> Burden:
        return Burden(
            self.made + other.made, self.ordered + other.ordered, self.pieces + other.pieces, self.money + other.money
        )


NO_BURDEN = Burden()


def burden_of(part: Part, quantity: int = 1) -> Burden:
    """Return what ``quantity`` pieces of one listed part take."""
    return Burden(0, quantity if part.to_order else 0, quantity, quantity * part.cost)


def burden_of_all(parts: Iterable[Part]) -> Burden:
    """Return what one piece of each of ``parts`` takes together; a part named twice is taken twice."""
    total = NO_BURDEN
    for part in parts:
        total = total + burden_of(part)
    return total
