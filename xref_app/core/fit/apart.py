"""How far apart the two mounting faces end up, with whatever lies between them."""

from __future__ import annotations

from collections.abc import Sequence

from xref_app.core.fit.face_parts import NOTHING_BETWEEN, FaceParts
from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.seats import SeatHeights, seat_heights_or_none, seat_sums_mm
from xref_app.core.fit.stack import Stack
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.quantity.range import Range, hull


def faces_apart_mm(machine: Machine, pump: Pump, parts: FaceParts) -> Range:
    """Return the distance from the engine's mounting face to the pump's, mm; negative: closer than face to face.

    A mounting face is the plane of its highest seats. The pump comes to rest where seats and stacks reach toward each
    other most: where the high seats of one side meet low ones of the other, the faces come closer by that.
    """
    heights = seat_heights_or_none(machine, pump)
    if heights is None:
        return parts.stack_under(0).thickness_mm
    if parts.turn is None or not parts.turn.only_pairing:
        return _any_pairing(heights) + parts.stack_under(0).thickness_mm
    return _furthest(
        [sums + parts.stack_under(place).thickness_mm for place, sums in enumerate(seat_sums_mm(heights, parts.turn))]
    )


def bare_apart_mm(machine: Machine, pump: Pump, parts: FaceParts) -> Range:
    """Return the same distance at the same turn with nothing put in."""
    return faces_apart_mm(machine, pump, FaceParts(turn=parts.turn) if parts.turn else NOTHING_BETWEEN)


def gaps_with_stacks_mm(heights: SeatHeights, turn: Turn, parts: FaceParts) -> tuple[Range, ...]:
    """Return the gap left under each bolt used once the stacks are in, mm, in the order of the turn's pairs."""
    sums = seat_sums_mm(heights, turn)
    return gaps_left_mm(sums, [parts.stack_under(place) for place in range(len(sums))])


def gaps_left_mm(sums: Sequence[Range], stacks: Sequence[Stack]) -> tuple[Range, ...]:
    """Return how far each seat with its stack stays below the one that reaches furthest, mm.

    Args:
        sums: n ≥ 1, how far both seats of a bolt reach toward each other, mm.
        stacks: As many, what lies under each bolt.
    """
    both = list(zip(sums, stacks, strict=True))
    return tuple(_gap(place, both) for place in range(len(both)))


def _gap(place: int, both: Sequence[tuple[Range, Stack]]) -> Range:
    seat, stack = both[place]
    above = [
        other_seat - seat + other_stack.over_mm(stack)
        for at, (other_seat, other_stack) in enumerate(both)
        if at != place
    ]
    low = max((one.low for one in above), default=0.0)
    high = max((one.high for one in above), default=0.0)
    return Range(max(0.0, low), max(0.0, high))


def _furthest(reaches: Sequence[Range]) -> Range:
    return Range(max(one.low for one in reaches), max(one.high for one in reaches))


def _any_pairing(heights: SeatHeights) -> Range:
    """Return how far the seats can reach toward each other where it is not known which meets which, mm."""
    return hull(one + other for one in heights.ours for other in heights.theirs)
