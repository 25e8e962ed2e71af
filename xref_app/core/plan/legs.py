"""The bolts of one turn in groups that get the same stack, and every set of stacks that brings all legs to sit."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import permutations

from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.house_rules import SEAT_GAP_MM
from xref_app.core.fit.seats import SeatHeights, seat_sums_mm
from xref_app.core.fit.stack import NO_STACK, Stack
from xref_app.core.plan.stacks import made_near, made_stack_or_none
from xref_app.core.quantity.range import SAME_MM, Range

# Places of a turn's pairs.
Places = tuple[int, ...]

SAME_LEG_MM = 0.05
"""Legs whose heights differ by no more get the same stack. House rule."""


@dataclass(frozen=True, slots=True)
class Legs:
    """The bolts used at one turn: how far the seats of each reach toward each other (mm), and who shares a stack.

    ``groups`` hold places of ``sums``, the group that reaches furthest first.
    """

    sums: tuple[Range, ...]
    groups: tuple[Places, ...]
    reach: tuple[Range, ...] = field(init=False, compare=False)
    """From the least to the most that a seat of each group may reach, mm."""

    def __post_init__(self) -> None:
        sums = [[self.sums[place] for place in group] for group in self.groups]
        reach = tuple(Range(min(one.low for one in group), max(one.high for one in group)) for group in sums)
        object.__setattr__(self, "reach", reach)


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
    if len(legs.groups) > 1 and not all(_sit_alike(legs, group) for group in legs.groups):
        return
    for stack in _under_first(legs, offered, window, is_surely_needed=is_surely_needed):
        others = [tuple(_levelling(legs, stack, group, offered)) for group in legs.groups[1:]]
        if all(others):
            yield from _sitting(legs, (stack,), others)


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


def _levelling(legs: Legs, reference: Stack, group: Places, offered: Sequence[Stack]) -> Iterator[Stack]:
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


def _sitting(legs: Legs, chosen: tuple[Stack, ...], left: Sequence[Sequence[Stack]]) -> Iterator[tuple[Stack, ...]]:
    """Yield ``chosen`` with one of each of ``left`` after it, where each sits with every one before it."""
    if not left:
        yield chosen
        return
    before = list(zip(legs.reach, chosen, strict=False))
    reach = legs.reach[len(chosen)]
    for stack in left[0]:
        if all(_sit(one, (reach, stack)) for one in before):
            yield from _sitting(legs, (*chosen, stack), left[1:])


def _sit_alike(legs: Legs, places: Places) -> bool:
    """Say whether the legs of one group all sit on the same stack."""
    sums = [legs.sums[place] for place in places]
    return all(one.high - other.low <= SEAT_GAP_MM + SAME_MM for one, other in permutations(sums, 2))


def _sit(one: tuple[Range, Stack], other: tuple[Range, Stack]) -> bool:
    """Say whether no seat of two groups surely stays too far below one of the other, each on its stack.

    The gap under a seat is what the highest of all others reaches above it, so legs that sit in pairs all sit.
    """
    (ours, stack), (theirs, other_stack) = one, other
    over = stack.over_mm(other_stack)
    above, below = ours.high - theirs.low + over.high, theirs.high - ours.low - over.low
    return max(above, below) <= SEAT_GAP_MM + SAME_MM


def per_place(legs: Legs, chosen: Sequence[Stack]) -> tuple[Stack, ...]:
    """Return the stack of each place, in the order of the turn's pairs."""
    of_place = {place: stack for group, stack in zip(legs.groups, chosen, strict=True) for place in group}
    return tuple(of_place[place] for place in range(len(legs.sums)))
