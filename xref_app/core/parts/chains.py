"""The best chains of fittings between a hose and a port."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from operator import itemgetter

from xref_app.core.model.shelf import Part
from xref_app.core.parts.burden import Burden
from xref_app.core.parts.fitting_index import FittingIndex, Step, rough
from xref_app.core.parts.house_rules import MOST_FITTINGS
from xref_app.core.parts.joints import ReadEnd

# Far above the rounding of a rough burden and far below a piece.
_ROUNDING = 1.0
NOTHING_TAKEN: Mapping[Part, int] = {}


@dataclass(frozen=True, slots=True)
class Chain:
    """Fittings one after the other, from the hose to the port, and what they take together."""

    steps: tuple[Step, ...]
    burden: Burden

    @property
    def pieces(self) -> tuple[Part, ...]:
        """Return every piece, plugs after the fitting they close."""
        return tuple(piece for step in self.steps for piece in step.pieces)


@dataclass(slots=True)
class _Best:
    """The best chains found so far, at most ``keep`` and no two of the same pieces."""

    keep: int
    taken: Mapping[Part, int]
    chains: list[Chain] = field(default_factory=list)
    worst: float = float("inf")

    def bound(self) -> Burden | None:
        """Return what a chain must stay below to be kept; None while there is room."""
        return self.chains[-1].burden if len(self.chains) >= self.keep else None

    def rules_out(self, rough_burden: float) -> bool:
        """Say whether a chain that takes so much at least is surely worse than all that are kept."""
        return rough_burden > self.worst + _ROUNDING

    def offer(self, steps: Sequence[Sequence[Step]]) -> None:
        """Try every choice of one step per place, cheapest first, as far as it may still be kept."""
        if self.taken:
            steps = [[step for step in some if self._is_left(step)] for some in steps]
            if not all(steps):
                return
        least = [some[0].burden for some in steps]
        total = least[0]
        for one in least[1:]:
            total = total + one
        bound = self.bound()
        if bound is not None and total >= bound:
            return
        for chosen in _choices(steps):
            self._add(chosen)

    def _add(self, steps: tuple[Step, ...]) -> None:
        burden = steps[0].burden
        for step in steps[1:]:
            burden = burden + step.burden
        bound = self.bound()
        if burden.pieces > MOST_FITTINGS or (bound is not None and burden >= bound):
            return
        chain = Chain(steps, burden)
        if not self._is_there(chain) or any(set_of(chain) == set_of(known) for known in self.chains):
            return
        self.chains = sorted([*self.chains, chain], key=lambda one: one.burden)[: self.keep]
        if len(self.chains) == self.keep:
            self.worst = rough(self.chains[-1].burden)

    def _is_left(self, step: Step) -> bool:
        return all(self.taken.get(part, 0) < part.count for part in step.pieces)

    def _is_there(self, chain: Chain) -> bool:
        """Say whether the shelf holds every piece once what is taken elsewhere is off it."""
        return all(many + self.taken.get(part, 0) <= part.count for part, many in Counter(chain.pieces).items())


def set_of(chain: Chain) -> Counter[Part]:
    """Return the pieces of a chain, in no order."""
    return Counter(chain.pieces)


def best_chains(
    index: FittingIndex, ours: ReadEnd, theirs: ReadEnd, *, keep: int = 2, taken: Mapping[Part, int] = NOTHING_TAKEN
) -> tuple[Chain, ...]:
    """Return the chains of least burden from ``ours`` (the hose) to ``theirs`` (the port), best first.

    Exact: of all chains of up to three listed pieces these are the least, whatever the shelf's counts. No chain is
    returned for two ends that go together by themselves: ask that first.

    Args:
        index: The fittings that are strong enough.
        ours: The hose's end; its seal must be known.
        theirs: The port.
        keep: How many at most (1 up to 3), no two of the same pieces.
        taken: Pieces already used elsewhere.
    """
    best = _Best(keep, taken)
    starts, goals = index.mating_with(ours), frozenset(index.mating_with(theirs))
    before = _offer_one(index, starts, goals, best)
    _offer_two(index, before, goals, best)
    _offer_three(index, before, goals, best)
    return tuple(best.chains)


# The steps to choose from at one place, and many such with the least rough burden among them.
_Steps = Sequence[Step]
_Half = tuple[float, list[_Steps]]


def _offer_one(index: FittingIndex, starts: Sequence[int], goals: frozenset[int], best: _Best) -> dict[int, _Half]:
    """Try every chain of one fitting, and return the first fittings by the kind of end that goes on them."""
    before: dict[int, _Half] = {}
    for start in starts:
        for out, steps in index.steps.get(start, {}).items():
            if out in goals:
                best.offer((steps,))
            for into in index.mating[out]:
                _file(before, into, steps)
    return before


def _last_ones(index: FittingIndex, goals: frozenset[int]) -> dict[int, _Half]:
    """Return the last fittings before the port by the kind of end they go on."""
    after: dict[int, _Half] = {}
    for goal in goals:
        for into, steps in index.entered.get(goal, {}).items():
            for out in index.mating[into]:
                _file(after, out, steps)
    return after


def _file(halves: dict[int, _Half], kind: int, steps: _Steps) -> None:
    known = halves.get(kind)
    if known is None:
        halves[kind] = (steps[0].rough, [steps])
    else:
        known[1].append(steps)
        if steps[0].rough < known[0]:
            halves[kind] = (steps[0].rough, known[1])


def _offer_two(index: FittingIndex, before: Mapping[int, _Half], goals: frozenset[int], best: _Best) -> None:
    """Try every chain of two fittings, the least ones first."""
    pairs = [
        (least + steps[0].rough, firsts, steps)
        for into, (least, firsts) in before.items()
        if not best.rules_out(least + index.least)
        for outs in (index.steps.get(into, {}),)
        for goal in goals
        if (steps := outs.get(goal)) is not None
    ]
    pairs.sort(key=itemgetter(0))
    for least, firsts, steps in pairs:
        if best.rules_out(least):
            return
        for first in firsts:
            best.offer((first, steps))


def _offer_three(index: FittingIndex, before: Mapping[int, _Half], goals: frozenset[int], best: _Best) -> None:
    """Try every chain of three fittings."""
    if best.rules_out(3 * index.least):
        return
    after = _last_ones(index, goals)
    least_after = min((least for least, _ in after.values()), default=0.0)
    for into, (least, firsts) in before.items():
        if best.rules_out(least + index.least + least_after):
            continue
        firsts.sort(key=lambda steps: steps[0].rough)
        for out, steps in index.steps.get(into, {}).items():
            end = after.get(out)
            if end is not None and not best.rules_out(least + steps[0].rough + end[0]):
                _offer_between(firsts, steps, end[1], best)


def _offer_between(
    before: Sequence[Sequence[Step]], steps: Sequence[Step], after: Sequence[Sequence[Step]], best: _Best
) -> None:
    for last in after:
        rest = steps[0].rough + last[0].rough
        for first in before:
            if best.rules_out(first[0].rough + rest):
                break
            best.offer((first, steps, last))


def _choices(steps: Sequence[Sequence[Step]]) -> Iterator[tuple[Step, ...]]:
    """Yield every choice of one step per place."""
    if len(steps) == 1:
        yield from ((one,) for one in steps[0])
        return
    for one in steps[0]:
        for rest in _choices(steps[1:]):
            yield (one, *rest)
