"""Chains for both ports at once: they may want the same last piece."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from xref_app.core.model.shelf import Part
from xref_app.core.parts.burden import Burden
from xref_app.core.parts.chains import NOTHING_TAKEN, Chain, best_chains
from xref_app.core.parts.fitting_index import FittingIndex
from xref_app.core.parts.joints import ReadEnd

# Chains of one port looked at first; as many more each time as the other port's wants demand.
_FIRST, _TIMES = 2, 4


@dataclass(frozen=True, slots=True)
class Port:
    """One port to bridge: the fittings that are strong enough for it, the hose's end and the port's."""

    index: FittingIndex
    ours: ReadEnd
    theirs: ReadEnd

    def chains(self, keep: int, taken: Mapping[Part, int] = NOTHING_TAKEN) -> tuple[Chain, ...]:
        """Return the best chains once ``taken`` is off the shelf."""
        return best_chains(self.index, self.ours, self.theirs, keep=keep, taken=taken)


@dataclass(frozen=True, slots=True)
class Bridged:
    """The chain of one port and its runner-up; both None where nothing listed leads there."""

    chain: Chain | None = None
    runner_up: Chain | None = None


NOT_BRIDGED = Bridged()


def bridge_both(first: Port, second: Port) -> tuple[Bridged, Bridged]:
    """Return the two chains that take the least together, whatever the counts of the shelf.

    Where the shelf does not hold enough for both, ``first`` is bridged alone.
    """
    alone, free = first.chains(2), second.chains(2)
    if not alone or not free:
        return _bridged(alone), _bridged(free)
    best = _together_or_none(first, second, free[0].burden)
    if best is None:
        return _bridged(alone), NOT_BRIDGED
    one, other = best
    return _with_runner_up(first, one, other), _with_runner_up(second, other, one)


def bridge_one(port: Port) -> Bridged:
    """Return the best chain of one port by itself."""
    return _bridged(port.chains(2))


def _bridged(chains: tuple[Chain, ...]) -> Bridged:
    return Bridged(*chains[:2])


def _together_or_none(first: Port, second: Port, least_of_second: Burden) -> tuple[Chain, Chain] | None:
    """Return the pair of least total burden, trying the chains of ``first`` in order as far as one may still win."""
    best: tuple[Burden, Chain, Chain] | None = None
    keep, tried = _FIRST, 0
    while True:
        chains = first.chains(keep)
        for chain in chains[tried:]:
            if best is not None and chain.burden + least_of_second >= best[0]:
                return best[1], best[2]
            for other in second.chains(1, Counter(chain.pieces)):
                total = chain.burden + other.burden
                best = (total, chain, other) if best is None or total < best[0] else best
        if len(chains) < keep:
            return None if best is None else (best[1], best[2])
        tried, keep = keep, keep * _TIMES


def _with_runner_up(port: Port, chosen: Chain, other: Chain) -> Bridged:
    """Return a port's chain with the best other one that the shelf still holds beside the other port's chain."""
    left = port.chains(2, Counter(other.pieces))
    return Bridged(chosen, next((chain for chain in left if Counter(chain.pieces) != Counter(chosen.pieces)), None))
