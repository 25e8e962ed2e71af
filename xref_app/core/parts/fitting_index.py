"""The fittings of a shelf as a graph: kinds of ends as small integers, and the best pieces from one to another."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations

from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import PartKind
from xref_app.core.parts.burden import Burden, burden_of_all
from xref_app.core.parts.house_rules import MOST_FITTINGS, UNLISTED_MAX_C
from xref_app.core.parts.joints import ReadEnd, mates, read_part_end_or_none

# Steps without plugs kept between two kinds of ends: so many that the pieces of two other chains cannot use them up.
_KEPT = 3 * MOST_FITTINGS
# One number for a burden, to leave out early what cannot be better; what is close is compared exactly.
_ORDERED, _PIECE = 1e10, 1e7


@dataclass(frozen=True, slots=True)
class Step:
    """One fitting gone through: in at one end, out at the other, its further ends closed with ``plugs``.

    ``into`` and ``out`` are the numbers of those kinds of ends in the index.
    """

    part: Part
    into: int
    out: int
    into_end: ReadEnd
    out_end: ReadEnd
    plugs: tuple[Part, ...]
    burden: Burden
    rough: float

    @property
    def pieces(self) -> tuple[Part, ...]:
        """Return the fitting and its plugs."""
        return (self.part, *self.plugs)


@dataclass(frozen=True, slots=True)
class FittingIndex:
    """All steps of a shelf that stand one pressure and temperature.

    ``ends`` are the kinds of ends by number; ``mating`` the kinds that each goes together with; ``steps`` the best
    steps by the kind they are entered at and the kind they leave, least burden first; ``entered`` the same the other
    way round; ``least`` the least rough burden of any step.
    """

    ends: tuple[ReadEnd, ...]
    mating: tuple[tuple[int, ...], ...]
    steps: Mapping[int, Mapping[int, tuple[Step, ...]]]
    entered: Mapping[int, Mapping[int, tuple[Step, ...]]]
    numbers: Mapping[ReadEnd, int]
    least: float

    def mating_with(self, end: ReadEnd) -> tuple[int, ...]:
        """Return the kinds of ends that surely make a joint with ``end``."""
        number = self.numbers.get(end)
        if number is not None:
            return self.mating[number]
        return tuple(number for number, kind in enumerate(self.ends) if mates(end, kind))


def rough(burden: Burden) -> float:
    """Return one number that is lower for a lesser burden, to the rounding of a float; money below ten million."""
    return burden.ordered * _ORDERED + burden.pieces * _PIECE + burden.money


def fitting_index(shelf: Shelf, *, least_bar: float | None, hottest_c: float) -> FittingIndex:
    """Return the steps of every listed fitting that is strong enough.

    Args:
        shelf: What is listed; pieces with an end that cannot be read, or whose seal or profile is open, are left out.
        least_bar: What every piece must be rated, bar; None where pressure does not matter (the supply side).
        hottest_c: What every piece must stand, °C.
    """
    numbers: dict[ReadEnd, int] = {}
    usable = [
        (part, ends)
        for part in shelf
        if part.kind is PartKind.FITTING and part.count > 0 and _stands(part, least_bar, hottest_c)
        for ends in [_numbered(part, numbers)]
        if ends
    ]
    kinds = tuple(numbers)
    mating = tuple(tuple(at for at, kind in enumerate(kinds) if mates(end, kind)) for end in kinds)
    plugs = [(part, ends[0]) for part, ends in usable if len(ends) == 1]
    steps: dict[int, dict[int, list[Step]]] = {}
    for part, ends in usable:
        for step in _steps_of(part, ends, plugs, _Kinds(kinds, mating)):
            steps.setdefault(step.into, {}).setdefault(step.out, []).append(step)
    kept = {into: {out: _best(some) for out, some in by_out.items()} for into, by_out in steps.items()}
    entered: dict[int, dict[int, tuple[Step, ...]]] = {}
    for into, by_out in kept.items():
        for out, some in by_out.items():
            entered.setdefault(out, {})[into] = some
    least = min((some[0].rough for by_out in kept.values() for some in by_out.values()), default=0.0)
    return FittingIndex(kinds, mating, kept, entered, numbers, least)


@dataclass(frozen=True, slots=True)
class _Kinds:
    """The kinds of ends by number, and which go together."""

    ends: tuple[ReadEnd, ...]
    mating: tuple[tuple[int, ...], ...]


def _stands(part: Part, least_bar: float | None, hottest_c: float) -> bool:
    cool = hottest_c <= (UNLISTED_MAX_C if part.max_c is None else part.max_c)
    return cool and (least_bar is None or (part.rating_bar is not None and part.rating_bar >= least_bar))


def _numbered(part: Part, numbers: dict[ReadEnd, int]) -> tuple[int, ...]:
    """Return the kinds of the part's ends by number; empty where one cannot be told."""
    ends = [read_part_end_or_none(end) for end in part.ends]
    if any(end is None or end.is_open for end in ends):
        return ()
    return tuple(numbers.setdefault(end, len(numbers)) for end in ends if end is not None)


def _steps_of(part: Part, ends: tuple[int, ...], plugs: Sequence[tuple[Part, int]], kinds: _Kinds) -> list[Step]:
    """Return the ways through one fitting; with more than two ends each further one must be closed."""
    found = []
    for into, out in permutations(range(len(ends)), 2):
        further = [end for place, end in enumerate(ends) if place not in {into, out}]
        for closing in _closings(further, plugs, kinds.mating):
            pieces = (part, *closing)
            if len(pieces) <= MOST_FITTINGS and all(pieces.count(one) <= one.count for one in pieces):
                burden, way = burden_of_all(pieces), (ends[into], ends[out])
                found.append(Step(part, *way, kinds.ends[way[0]], kinds.ends[way[1]], closing, burden, rough(burden)))
    return found


def _closings(
    further: Sequence[int], plugs: Sequence[tuple[Part, int]], mating: Sequence[tuple[int, ...]]
) -> list[tuple[Part, ...]]:
    ways: list[tuple[Part, ...]] = [()]
    for end in further:
        ways = [(*way, plug) for way in ways for plug, kind in plugs if kind in mating[end]]
    return ways


def _best(steps: list[Step]) -> tuple[Step, ...]:
    """Return the least burdensome steps, no two of the same pieces; all of those that need plugs, which share them."""
    by_pieces: dict[tuple[Part, ...], Step] = {}
    for step in sorted(steps, key=lambda one: one.burden):
        by_pieces.setdefault(step.pieces, step)
    plain = [step for step in by_pieces.values() if not step.plugs][:_KEPT]
    plugged = [step for step in by_pieces.values() if step.plugs]
    return tuple(sorted([*plain, *plugged], key=lambda one: one.burden))
