"""What a running machine made of a salvaged engine and a salvaged pump is worth to the shop, after parts and time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from xref_app.core.fit.finding import Need
from xref_app.core.fit.from_shelf import pieces_from_shelf
from xref_app.core.model.shelf import Part

SWAP_MINUTES: Final = 45.0
"""Putting a pump on an engine that is on the bench, and the first run. House rule."""

PIECE_MINUTES: Final = 3.0
"""Looking out and fitting one more piece. House rule."""

MADE_PIECE_MINUTES: Final = 60.0
"""Making one piece, a spacer or a plate. House rule."""

UNLISTED_PIECE: Final = 2.0
"""Price of a piece that nobody lists (a standard bolt, the stock for a made one), in the shop's money. House rule."""

_MINUTES_PER_HOUR: Final = 60.0


@dataclass(frozen=True, slots=True)
class PairFigures:
    """The shop's own figures, in its own money: what any running machine sells for, and an hour of its time."""

    sells_for: float
    rate_per_hour: float


@dataclass(frozen=True, slots=True)
class ShelfTake:
    """So many pieces of a part out of the bins, in which ``lying`` are free."""

    part_id: str
    name: str
    pieces: int
    lying: int


@dataclass(frozen=True, slots=True)
class PairParts:
    """What it takes to join two units: ``cost`` in the shop's money, ``minutes`` in all, and where the pieces are.

    ``lacking`` pieces are not in a bin (to order or to make), ``to_make`` of them; ``unlisted`` have no price of their
    own and count at the house rule's. ``takes`` are the pieces that lie in bins.
    """

    cost: float
    minutes: float
    pieces: int
    lacking: int
    to_make: int
    unlisted: int
    takes: tuple[ShelfTake, ...] = ()

    @property
    def all_on_shelf(self) -> bool:
        """Say whether every piece lies in a bin."""
        return self.lacking == 0


@dataclass(frozen=True, slots=True)
class PairSum:
    """The sum of one pair, in the shop's money; ``value`` is what is left. ``unpriced`` units count as 0."""

    sells_for: float
    parts: float
    time: float
    own: float
    unpriced: int

    @property
    def value(self) -> float:
        """Return what is left, to the hundredth."""
        return round(self.sells_for - self.parts - self.time - self.own, 2)


def pair_parts(needs: Sequence[Need]) -> PairParts:
    """Return what the needs of one verdict come to."""
    lying = pieces_from_shelf(needs)
    pieces = sum(one.quantity for one in needs)
    made = sum(one.quantity for one in needs if one.to_make)
    unlisted = sum(one.quantity for one in needs if one.listed is None)
    listed = sum((one.quantity * one.listed.cost for one in needs if one.listed is not None), 0.0)
    return PairParts(
        cost=round(listed + unlisted * UNLISTED_PIECE, 2),
        minutes=SWAP_MINUTES + PIECE_MINUTES * pieces + MADE_PIECE_MINUTES * made,
        pieces=pieces,
        lacking=pieces - sum(lying),
        to_make=made,
        unlisted=unlisted,
        takes=tuple(_takes(needs, lying)),
    )


def _takes(needs: Sequence[Need], lying: Sequence[int]) -> Iterator[ShelfTake]:
    """Yield what is taken of each part; two needs may rest on one part, in a bin and to order."""
    pieces: dict[str, int] = {}
    parts: dict[str, Part] = {}
    for need, taken in zip(needs, lying, strict=True):
        if need.listed is not None and taken:
            pieces[need.listed.part_id] = pieces.get(need.listed.part_id, 0) + taken
            parts.setdefault(need.listed.part_id, need.listed)
    for part_id, taken in pieces.items():
        part = parts[part_id]
        yield ShelfTake(part_id, part.name, taken, part.lying if part.to_order else part.count)


def pair_sum(
    parts: PairParts, figures: PairFigures, prices: Sequence[float | None], *, sells_for: float | None = None
) -> PairSum:
    """Return the sum of one pair.

    Args:
        parts: What joining them takes.
        figures: The shop's.
        prices: The units' own prices; None where a unit has none.
        sells_for: What a machine with this very engine sells for; without it the shop's figure.
    """
    return PairSum(
        sells_for=figures.sells_for if sells_for is None else sells_for,
        parts=parts.cost,
        time=round(parts.minutes / _MINUTES_PER_HOUR * figures.rate_per_hour, 2),
        own=round(sum((one for one in prices if one is not None), 0.0), 2),
        unpriced=sum(one is None for one in prices),
    )
