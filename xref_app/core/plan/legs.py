"""The bolts of one turn in groups that get the same stack, and every set of stacks that brings all legs to sit."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from xref_app.core.fit.apart import gaps_left_mm
from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.house_rules import SEAT_GAP_MM
from xref_app.core.fit.seats import SeatHeights, seat_sums_mm
from xref_app.core.fit.stack import NO_STACK, Stack
from xref_app.core.plan.stacks import made_near, made_stack_or_none
from xref_app.core.quantity.range import Range

SAME_LEG_MM = 0.05
"""Legs whose heights differ by no more get the same stack. House rule."""


@dataclass(frozen=True, slots=True)
class Legs:
    """The bolts used at one turn: how far the seats of each reach toward each other (mm), and who shares a stack.

    ``groups`` hold places of ``sums``, the group that reaches furthest first.
    """

    sums: tuple[Range, ...]
    groups: tuple[tuple[int, ...], ...]


def legs_at(turn: Turn | None, heights: SeatHeights | None, bolts: int) -> Legs:
    """Return the legs at ``turn``; where heights or pairing are not known all bolts are one group on flat seats."""
    if turn is None or heights is None or not turn.only_pairing:
        places = len(turn.pairs) if turn else max(bolts, 1)
        return Legs((Range.exactly(0.0),) * places, (tuple(range(places)),))
    sums = seat_sums_mm(heights, turn)
    groups: list[list[int]] = []
    for place in sorted(range(len(sums)), key=lambda at: -sums[at].middle):
        if groups and sums[groups[-1][0]].middle - sums[place].middle <= SAME_LEG_MM:
            groups[-1].append(place)
        else:
            groups.append([place])
    return Legs(sums, tuple(tuple(sorted(group)) for group in groups))


def stack_sets(
    legs: Legs, offered: Sequence[Stack], window: Range | None, *, is_surely_needed: bool
) -> Iterator[tuple[Stack, ...]]:
    """Yield every set of stacks, one per group, at which all legs surely sit and the faces are apart as they may be.

    Args:
        legs: The bolts in groups.
        offered: The stacks of the shelf, thinnest first, no stack among them.
        window: How far apart the faces may be, mm; None: not known, so nothing lies under the group that reaches
            furthest.
        is_surely_needed: Whether the faces surely cannot stay together: only then is a piece made to part them.
    """
    for stack in _under_first(legs, offered, window, is_surely_needed=is_surely_needed):
        others = [list(_levelling(legs, stack, group, offered)) for group in legs.groups[1:]]
        for rest in product(*others):
            chosen = (stack, *rest)
            if len(legs.groups) == 1 or _all_sit(legs, chosen):
                yield chosen


def _under_first(
    legs: Legs, offered: Sequence[Stack], window: Range | None, *, is_surely_needed: bool
) -> Iterator[Stack]:
    yield NO_STACK
    if window is None:
        return
    sums = [legs.sums[place] for place in legs.groups[0]]
    low, high = max(one.low for one in sums), max(one.high for one in sums)
    for stack in offered:
        thickness = stack.thickness_mm
        if stack.pieces and (thickness + Range(low, high)).within(window):
            yield stack
    room_low, room_high = window.low - low, window.high - high
    if is_surely_needed and room_low <= room_high:
        made = made_stack_or_none(Range(room_low, room_high))
        if made is not None:
            yield made


def _levelling(legs: Legs, reference: Stack, group: tuple[int, ...], offered: Sequence[Stack]) -> Iterator[Stack]:
    """Yield the stacks that bring a lower group level with the first one on its stack."""
    apart = legs.sums[legs.groups[0][0]] - legs.sums[group[0]]
    wanted, spare = apart.middle + reference.nominal_mm, SEAT_GAP_MM - apart.doubt
    if spare < 0:
        return
    low = bisect_left(offered, wanted - spare, key=lambda stack: stack.nominal_mm)
    high = bisect_right(offered, wanted + spare, key=lambda stack: stack.nominal_mm)
    yield from offered[low:high]
    if wanted - reference.nominal_mm > SEAT_GAP_MM:
        yield from made_near(wanted)


def _all_sit(legs: Legs, chosen: Sequence[Stack]) -> bool:
    return all(gap.surely_at_most(SEAT_GAP_MM) for gap in gaps_left_mm(legs.sums, per_place(legs, chosen)))


def per_place(legs: Legs, chosen: Sequence[Stack]) -> tuple[Stack, ...]:
    """Return the stack of each place, in the order of the turn's pairs."""
    of_place = {place: stack for group, stack in zip(legs.groups, chosen, strict=True) for place in group}
    return tuple(of_place[place] for place in range(len(legs.sums)))
