"""Chains for both ports at once: they may want the same last piece."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import count

from xref_app.core.model.shelf import Part
from xref_app.core.parts.burden import Burden
from xref_app.core.parts.chains import NOTHING_TAKEN, Chain, best_chains, set_of
from xref_app.core.parts.fitting_index import FittingIndex
from xref_app.core.parts.joints import ReadEnd


@dataclass(frozen=True, slots=True)
class Port:
    """One port to bridge: the fittings that are strong enough for it, the hose's end and the port's."""

    index: FittingIndex
    ours: ReadEnd
    theirs: ReadEnd

    def chains(self, keep: int, taken: Mapping[Part, int] = NOTHING_TAKEN) -> tuple[Chain, ...]:
        """Return the best chains once ``taken`` is off the shelf."""
        return best_chains(self.index, self.ours, self.theirs, keep=keep, taken=taken)

    def best_but(self, without: Chain | None, taken: Mapping[Part, int] = NOTHING_TAKEN) -> Chain | None:
        """Return the best chain that is not of the same pieces as ``without``; None where there is no other."""
        if without is None:
            return next(iter(self.chains(1, taken)), None)
        unlike = set_of(without)
        return next((chain for chain in self.chains(2, taken) if set_of(chain) != unlike), None)


@dataclass(frozen=True, slots=True)
class Bridged:
    """The chain of one port and its runner-up; both None where nothing listed leads there."""

    chain: Chain | None = None
    runner_up: Chain | None = None


NOT_BRIDGED = Bridged()


@dataclass(frozen=True, slots=True)
class Together:
    """One chain for each of two ports, from pieces that the shelf holds at the same time."""

    first: Chain
    second: Chain

    @property
    def burden(self) -> Burden:
        """Return what both take together."""
        return self.first.burden + self.second.burden


def bridge_both(first: Port, second: Port) -> tuple[Bridged, Bridged]:
    """Return the two chains that take the least together, whatever the counts of the shelf.

    Each comes with the best other chain that the shelf still holds beside the other port's. Where the shelf does not
    hold enough for both, ``first`` is bridged alone.
    """
    alone, free = first.chains(2), second.chains(2)
    if not alone or not free:
        return _bridged(alone), _bridged(free)
    best = least_together_or_none(first, second)
    if best is None:
        return _bridged(alone), NOT_BRIDGED
    return (
        Bridged(best.first, first.best_but(best.first, set_of(best.second))),
        Bridged(best.second, second.best_but(best.second, set_of(best.first))),
    )


def bridge_one(port: Port) -> Bridged:
    """Return the best chain of one port by itself."""
    return _bridged(port.chains(2))


def _bridged(chains: tuple[Chain, ...]) -> Bridged:
    return Bridged(*chains[:2])


def together_runner_up_or_none(first: Port, second: Port, best: Together) -> Together | None:
    """Return the least pair that uses, at one port at least, other pieces than ``best``; None where there is none."""
    others = [least_together_or_none(first, second, without=best.first)]
    instead = second.best_but(best.second, set_of(best.first))
    if instead is not None:
        others.append(Together(best.first, instead))
    return min((one for one in others if one is not None), key=lambda one: one.burden, default=None)


@dataclass(frozen=True, slots=True, order=True)
class _Node:
    """Both ports bridged as if each had the shelf to itself, less what the other was granted so far."""

    burden: Burden
    order: int
    pair: Together = field(compare=False)
    off_first: Mapping[Part, int] = field(compare=False)
    off_second: Mapping[Part, int] = field(compare=False)


def least_together_or_none(first: Port, second: Port, *, without: Chain | None = None) -> Together | None:
    """Return the pair of least total burden; None where the shelf does not hold enough for both.

    Exact, by branch and bound: each port is bridged alone; where the two want more of one piece than there
    are, every way to share out that piece is a case of its own, and the case of least burden comes next.

    Args:
        first: One port.
        second: The other.
        without: A chain whose pieces ``first`` must not be bridged with.
    """
    numbers = count()
    waiting: list[_Node] = []

    def consider(off_first: Mapping[Part, int], off_second: Mapping[Part, int]) -> None:
        one, other = first.best_but(without, off_first), second.best_but(None, off_second)
        if one is not None and other is not None:
            pair = Together(one, other)
            heappush(waiting, _Node(pair.burden, next(numbers), pair, off_first, off_second))

    consider({}, {})
    while waiting:
        node = heappop(waiting)
        wanted = _wanted_twice_or_none(node.pair)
        if wanted is None:
            return node.pair
        for off_first, off_second in _shared_out(node, wanted):
            consider(off_first, off_second)
    return None


def _wanted_twice_or_none(pair: Together) -> Part | None:
    """Return a piece of which both chains together use more than there are."""
    used = set_of(pair.first) + set_of(pair.second)
    return next((part for part, many in used.items() if many > part.count), None)


def _shared_out(node: _Node, part: Part) -> Iterator[tuple[Mapping[Part, int], Mapping[Part, int]]]:
    """Yield, for every way to share out the pieces of ``part``, what is off the shelf for either port."""
    least, most = node.off_second.get(part, 0), part.count - node.off_first.get(part, 0)
    for granted in range(least, most + 1):
        yield {**node.off_first, part: part.count - granted}, {**node.off_second, part: granted}
