"""How long the best chain of fittings takes beside Dijkstra's algorithm of scipy on the same graph, in one run.

Run: ``python -m tests.bench.fitting_chains``. Prints medians and their ratio; nothing is asserted.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections.abc import Callable

import numpy as np
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import dijkstra

from xref_app.core.model.shelf import Part, PartEnd
from xref_app.core.model.words import Gender, PartKind
from xref_app.core.parts.chains import best_chains
from xref_app.core.parts.fitting_index import FittingIndex, fitting_index
from xref_app.core.parts.joints import ReadEnd, read_part_end_or_none
from xref_app.core.quantity.thread_table import Family, thread_rows

FITTINGS, END_TYPES, QUERIES, ROUNDS = 1_000, 60, 300, 5


def shelf_and_ends(rng: random.Random) -> tuple[tuple[Part, ...], tuple[ReadEnd, ...]]:
    """Return 1,000 fittings over 60 kinds of ends, both halves of 30 threads."""
    families = {Family.NPT, Family.G, Family.NPSM, Family.UNF}
    rows = [row for row in thread_rows() if row.family in families][: END_TYPES // 2]
    threads = [f"{row.designation} O-ring" if row.family is Family.UNF else row.designation for row in rows]
    kinds = [PartEnd(thread, gender) for thread in threads for gender in (Gender.MALE, Gender.FEMALE)]
    shelf = tuple(
        Part(
            PartKind.FITTING,
            count=rng.choice((1, 2, 5)),
            cost=round(rng.uniform(1, 20), 2),
            part_id=f"T-{place:04}",
            ends=(rng.choice(kinds), rng.choice(kinds)),
            rating_bar=400.0,
            to_order=rng.random() < 0.5,
        )
        for place in range(FITTINGS)
    )
    ends = tuple(end for kind in kinds if (end := read_part_end_or_none(kind)) is not None)
    return shelf, ends


def matrix_of(index: FittingIndex) -> csr_matrix:
    """Return the cheapest step between any two kinds of ends, as scipy takes a graph: out of one, into its partner."""
    size = len(index.ends)
    costs = np.zeros((size, size))
    for into, by_out in index.steps.items():
        for out, steps in by_out.items():
            for partner in index.mating[out]:
                costs[into, partner] = min(costs[into, partner] or np.inf, steps[0].rough)
    return csr_matrix(costs)


def median_ms(work: Callable[[int], object], queries: int) -> float:
    """Return the median time of one query over all rounds, ms."""
    times = []
    for _ in range(ROUNDS):
        for place in range(queries):
            begin = time.perf_counter()
            work(place)
            times.append((time.perf_counter() - begin) * 1000)
    return statistics.median(times)


def main() -> None:
    """Print the table."""
    rng = random.Random(1)
    shelf, ends = shelf_and_ends(rng)
    begin = time.perf_counter()
    index = fitting_index(shelf, least_bar=200.0, hottest_c=20.0)
    built_ms = (time.perf_counter() - begin) * 1000
    matrix = matrix_of(index)
    pairs = [(rng.choice(ends), rng.choice(ends)) for _ in range(QUERIES)]
    starts = [index.mating_with(ours)[0] for ours, _ in pairs]
    theirs = median_ms(lambda place: dijkstra(matrix, indices=starts[place]), QUERIES)
    one = median_ms(lambda place: best_chains(index, *pairs[place], keep=1), QUERIES)
    two = median_ms(lambda place: best_chains(index, *pairs[place]), QUERIES)
    lengths = [len(chains[0].pieces) if (chains := best_chains(index, *pair, keep=1)) else 0 for pair in pairs]
    sys.stdout.write(
        f"{FITTINGS} fittings, {END_TYPES} kinds of ends; index built in {built_ms:.1f} ms; lengths {lengths[:20]} .."
    )
    sys.stdout.write(f"\n{'':28}{'median ms':>10}{'x dijkstra':>12}\n")
    for name, took in (("scipy dijkstra, one source", theirs), ("best chain", one), ("best and runner-up", two)):
        sys.stdout.write(f"{name:28}{took:10.4f}{took / theirs:12.2f}\n")


if __name__ == "__main__":
    main()
