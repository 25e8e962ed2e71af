"""Chains of fittings are the least there are: against the plainest search, and against networkx."""

from __future__ import annotations

import random
from collections import Counter
from typing import Any

import networkx as nx
import pytest

from tests.core.parts.fitting_graphs import THREADS, all_chains, burden_by_hand, fitting, pieces_of, random_end
from xref_app.core.model.shelf import Part
from xref_app.core.parts.chains import best_chains
from xref_app.core.parts.fitting_index import fitting_index
from xref_app.core.parts.joints import ReadEnd, mates, read_part_end_or_none

GRAPHS, CHUNK = 1_200, 100


@pytest.mark.parametrize("start", range(0, GRAPHS, CHUNK))
def test_the_two_best_chains_are_those_of_the_plainest_search(start: int) -> None:
    for seed in range(start, start + CHUNK):
        rng = random.Random(seed)
        threads = rng.sample(THREADS, rng.randrange(1, 4))
        shelf = tuple(fitting(rng, place, threads) for place in range(rng.randrange(3, 8)))
        ours, theirs = random_end(rng, threads), random_end(rng, threads)
        least_bar, hottest = rng.choice((None, 200.0, 250.0)), rng.choice((20.0, 60.0, 80.0))

        def stands(part: Part, least: float | None = least_bar, hot: float = hottest) -> bool:
            strong = least is None or (part.rating_bar is not None and part.rating_bar >= least)
            return strong and hot <= (part.max_c if part.max_c is not None else 60.0)

        every = {pieces_of(parts): burden_by_hand(parts) for parts in all_chains(shelf, ours, theirs, stands)}
        found = best_chains(fitting_index(shelf, least_bar=least_bar, hottest_c=hottest), ours, theirs)
        assert [chain.burden for chain in found] == sorted(every.values())[:2], seed
        for chain in found:
            assert every[pieces_of(chain.pieces)] == chain.burden, seed
            assert all(stands(piece) for piece in chain.pieces), seed


def graph_of(shelf: tuple[Part, ...], ours: ReadEnd, theirs: ReadEnd) -> Any:  # networkx has no types
    """Return hose, port and both ways through every fitting; going through one costs 1, a joint nothing."""
    graph = nx.DiGraph()
    graph.add_nodes_from(("hose", "port"))
    ways = []
    for part in shelf:
        ends = [read_part_end_or_none(end) for end in part.ends]
        known = [end for end in ends if end is not None and not end.is_open]
        ways += [(part.part_id, known[0], known[1]), (part.part_id, known[1], known[0])] if len(known) == 2 else []
    for place, (_, into, out) in enumerate(ways):
        graph.add_edge((place, "in"), (place, "out"), weight=1)
        if mates(ours, into):
            graph.add_edge("hose", (place, "in"), weight=0)
        if mates(out, theirs):
            graph.add_edge((place, "out"), "port", weight=0)
        for other, (_, after, _) in enumerate(ways):
            if mates(out, after):
                graph.add_edge((place, "out"), (other, "in"), weight=0)
    return graph


def test_the_graphs_hold_chains_of_every_length_and_with_plugs() -> None:
    lengths, plugged = Counter[int](), 0
    for seed in range(1_000):
        rng = random.Random(seed)
        threads = rng.sample(THREADS, rng.randrange(1, 4))
        shelf = tuple(fitting(rng, place, threads) for place in range(rng.randrange(3, 8)))
        found = best_chains(
            fitting_index(shelf, least_bar=None, hottest_c=20.0), random_end(rng, threads), random_end(rng, threads)
        )
        lengths[len(found[0].pieces) if found else 0] += 1
        plugged += any(step.plugs for chain in found for step in chain.steps)
    assert min(lengths[count] for count in (0, 1, 2, 3)) >= 10, lengths
    assert plugged >= 5


@pytest.mark.parametrize("start", range(0, GRAPHS, CHUNK))
def test_the_fewest_pieces_are_those_of_networkx(start: int) -> None:
    # networkx.shortest_path_length, an outside implementation: nodes are kinds of ends, edges fittings of two ends.
    for seed in range(start, start + CHUNK):
        rng = random.Random(seed)
        shelf = tuple(
            Part(one.kind, 9, 1.0, one.part_id, ends=one.ends)
            for one in (fitting(rng, place) for place in range(14))
            if len(one.ends) == 2
        )
        ours, theirs = random_end(rng), random_end(rng)
        graph = graph_of(shelf, ours, theirs)
        found = best_chains(fitting_index(shelf, least_bar=None, hottest_c=20.0), ours, theirs, keep=1)
        length = nx.shortest_path_length(graph, "hose", "port", "weight") if nx.has_path(graph, "hose", "port") else 9
        assert (len(found[0].pieces) if found else None) == (length if length <= 3 else None), seed
