"""How far each leg stands off its seat, turn by turn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.house_rules import SEAT_GAP_MM
from xref_app.core.model.known import Fact, Seats
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import SeatKind
from xref_app.core.quantity.range import Range


@dataclass(frozen=True, slots=True)
class SeatHeights:
    """Height of each seat of both sides toward the other, mm, highest 0."""

    ours: tuple[Range, ...]
    theirs: tuple[Range, ...]


def seat_heights_or_none(machine: Machine, pump: Pump) -> SeatHeights | None:
    """Return the seats of both sides; None while the heights of a side with legs are not known.

    A machined flat face whose heights nobody listed counts as flat.
    """
    face, flange = machine.face, pump.flange
    if face.holes_xy_mm is None or flange.holes_xy_mm is None:
        return None
    ours = _heights(face.seat_heights_mm, face.seat_kind, len(face.holes_xy_mm.holes))
    theirs = _heights(flange.seat_heights_mm, flange.seat_kind, len(flange.holes_xy_mm.holes))
    if ours is None or theirs is None:
        return None
    return SeatHeights(ours, theirs)


def _heights(seats: Seats | None, kind: Fact[SeatKind] | None, count: int) -> tuple[Range, ...] | None:
    if seats is None:
        flat = kind is not None and kind.value is SeatKind.FLAT
        return (Range.exactly(0.0),) * count if flat else None
    if len(seats.heights_mm) != count:
        return None
    highest = max(seats.heights_mm)
    return tuple(_below_straightedge(height - highest, seats.doubt_mm) for height in seats.heights_mm)


def _below_straightedge(height: float, doubt: float) -> Range:
    """Return where a seat may truly stand: never above the straightedge that lies on the highest seats."""
    return Range(height - doubt, min(0.0, height + doubt))


def gaps_mm(heights: SeatHeights, turn: Turn) -> tuple[Range, ...]:
    """Return the gap under each bolt used, mm, in the order of the turn's pairs.

    The shaft keeps the pump square, so it comes to rest on the highest pair of seats.
    """
    return gaps_between(seat_sums_mm(heights, turn))


def seat_sums_mm(heights: SeatHeights, turn: Turn) -> tuple[Range, ...]:
    """Return how far both seats of each bolt used reach toward each other, mm, in the order of the turn's pairs."""
    return tuple(heights.ours[bolt] + heights.theirs[hole] for bolt, hole in turn.pairs)


def gaps_between(sums: Sequence[Range]) -> tuple[Range, ...]:
    """Return how far each of ``sums`` lies below the highest of all, mm."""
    return tuple(_gap(one, [other for other in sums if other is not one]) for one in sums)


def _gap(seat: Range, others: Sequence[Range]) -> Range:
    low = max((other.low for other in others), default=seat.high) - seat.high
    high = max((other.high for other in others), default=seat.low) - seat.low
    return Range(max(0.0, low), max(0.0, high))


def all_flush(heights: SeatHeights, turn: Turn) -> bool | None:
    """Say whether every leg sits at this turn within 0.15 mm; None where the doubt leaves it open."""
    if not turn.only_pairing:
        every = [one + other for one in heights.ours for other in heights.theirs]
        spread = max(one.high for one in every) - min(one.low for one in every)
        return True if spread <= SEAT_GAP_MM else None
    gaps = gaps_mm(heights, turn)
    if all(gap.surely_at_most(SEAT_GAP_MM) for gap in gaps):
        return True
    if any(gap.surely_above(SEAT_GAP_MM) for gap in gaps):
        return False
    return None
