"""The least pair of chains for two ports and its runner-up: against every pair there is, written out plainly."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.core.parts.fitting_graphs import (
    THREADS,
    all_chains,
    burden_by_hand,
    fitting,
    held_at_once,
    pieces_of,
    random_end,
)
from xref_app.core.model.shelf import Part
from xref_app.core.parts.burden import Burden
from xref_app.core.parts.fitting_index import fitting_index
from xref_app.core.parts.water import Port, Together, bridge_both, least_together_or_none, together_runner_up_or_none

Pieces = tuple[tuple[str, int], ...]


def stands_against(least_bar: float | None, hottest_c: float) -> Callable[[Part], bool]:
    def stands(part: Part) -> bool:
        strong = least_bar is None or (part.rating_bar is not None and part.rating_bar >= least_bar)
        return strong and hottest_c <= (60.0 if part.max_c is None else part.max_c)

    return stands


def every_pair(
    shelf: tuple[Part, ...], ports: list[Port], stand: list[Callable[[Part], bool]]
) -> dict[tuple[Pieces, Pieces], Burden]:
    """Return what every two chains take that the shelf holds at the same time, by their pieces."""
    chains = [
        {pieces_of(parts): parts for parts in all_chains(shelf, port.ours, port.theirs, one)}
        for port, one in zip(ports, stand, strict=True)
    ]
    burdens = {pieces: burden_by_hand(parts) for some in chains for pieces, parts in some.items()}
    return {
        (one, other): burdens[one] + burdens[other]
        for one, first in chains[0].items()
        for other, second in chains[1].items()
        if held_at_once(first, second)
    }


def named(pair: Together) -> tuple[Pieces, Pieces]:
    return pieces_of(pair.first.pieces), pieces_of(pair.second.pieces)


def random_shelf(rng: random.Random, threads: list[str]) -> tuple[Part, ...]:
    """Return a few pieces of several counts, or a dozen single ones that are much alike."""
    if rng.random() < 0.6:
        return tuple(fitting(rng, place, threads) for place in range(rng.randrange(1, 7)))
    return tuple(replace(fitting(rng, place, threads), count=1) for place in range(rng.randrange(9, 13)))


@pytest.mark.parametrize("start", range(0, 1_000, 100))
def test_the_least_pair_and_its_runner_up_are_those_of_all_pairs(start: int) -> None:
    pairs_with_runner_up = 0
    for seed in range(start, start + 100):
        rng = random.Random(seed)
        threads = rng.sample(THREADS, rng.randrange(1, 3))
        shelf = random_shelf(rng, threads)
        demands = [(rng.choice((None, 200.0)), rng.choice((20.0, 60.0))) for _ in range(2)]
        ports = [
            Port(
                fitting_index(shelf, least_bar=bar, hottest_c=hot),
                random_end(rng, threads),
                random_end(rng, threads),
            )
            for bar, hot in demands
        ]
        every = every_pair(shelf, ports, [stands_against(*demand) for demand in demands])
        best = least_together_or_none(*ports)
        if best is None:
            assert not every, seed
            continue
        assert every[named(best)] == best.burden == min(every.values()), seed
        runner_up = together_runner_up_or_none(ports[0], ports[1], best)
        if runner_up is None:
            assert len(every) == 1, seed
            continue
        pairs_with_runner_up += 1
        assert named(runner_up) != named(best), seed
        assert every[named(runner_up)] == runner_up.burden == sorted(every.values())[1], seed
    assert pairs_with_runner_up >= 10


def test_where_the_shelf_holds_no_two_the_first_port_is_bridged_alone() -> None:
    rng = random.Random(2)
    alone = 0
    for _ in range(300):
        threads = rng.sample(THREADS, 1)
        shelf = tuple(replace(fitting(rng, place, threads), count=1) for place in range(3))
        index = fitting_index(shelf, least_bar=None, hottest_c=20.0)
        ports = [Port(index, random_end(rng, threads), random_end(rng, threads)) for _ in range(2)]
        if least_together_or_none(*ports) is None and all(port.chains(1) for port in ports):
            alone += 1
            first, second = bridge_both(*ports)
            assert first.chain == ports[0].chains(1)[0]
            assert second.chain is None
    assert alone >= 5
