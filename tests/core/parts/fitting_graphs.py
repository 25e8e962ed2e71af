"""Random shelves of fittings, and the plainest search that could be written over them."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import permutations

from xref_app.core.model.shelf import Part, PartEnd
from xref_app.core.model.words import Gender, PartKind
from xref_app.core.parts.burden import Burden
from xref_app.core.parts.joints import ReadEnd, mates, read_part_end_or_none

THREADS = ("3/8-18 NPT", "1/4-18 NPT", "G3/8", "G1/2", "R3/8", "Rp3/8", "M22x1.5", "3/4-11.5 NH")


def ends_of(rng: random.Random, threads: Sequence[str], count: int) -> tuple[PartEnd, ...]:
    """Return some ends; R is an outside thread and Rp an inside one, M22 has one of its two seals or none known."""
    found = []
    for _ in range(count):
        thread = rng.choice(threads)
        gender = rng.choice((Gender.MALE, Gender.FEMALE))
        if thread.startswith("R"):
            gender = Gender.FEMALE if thread.startswith("Rp") else Gender.MALE
        seal = rng.choice((14.0, 14.0, 15.0, None)) if thread == "M22x1.5" else None
        found.append(PartEnd(thread, gender, seal))
    return tuple(found)


def fitting(rng: random.Random, place: int, threads: Sequence[str] = THREADS) -> Part:
    """Return one fitting with one end up to three."""
    return Part(
        PartKind.FITTING,
        count=rng.choice((1, 1, 2, 3)),
        cost=rng.choice((1.0, 2.0, 2.5, 4.0)),
        part_id=f"T-{place:03}",
        ends=ends_of(rng, threads, rng.choices((1, 2, 3), (2, 10, 3))[0]),
        rating_bar=rng.choice((None, 200.0, 280.0, 400.0)),
        max_c=rng.choice((None, 60.0, 90.0)),
        to_order=rng.random() < 0.3,
    )


def random_end(rng: random.Random, threads: Sequence[str] = THREADS) -> ReadEnd:
    """Return the end of a hose or a port whose seal is known."""
    while True:
        (end,) = ends_of(rng, threads, 1)
        read = read_part_end_or_none(end)
        if read is not None and not read.is_seal_open:
            return read


def all_chains(
    shelf: Sequence[Part], ours: ReadEnd, theirs: ReadEnd, stands: Callable[[Part], bool]
) -> Iterator[tuple[Part, ...]]:
    """Yield the pieces of every chain of up to three, plugs counted: every order, every end, every plug tried."""
    pieces = [part for part in shelf for _ in range(min(part.count, 3)) if stands(part)]
    numbered = list(enumerate(pieces))
    for count in (1, 2, 3):
        for chosen in permutations(numbered, count):
            parts = [part for _, part in chosen]
            if _joins(parts, ours, theirs):
                yield tuple(parts)


# Reading a thread takes most of the time of the plain search.
_read = cache(read_part_end_or_none)
_mates = cache(mates)


def _joins(parts: Sequence[Part], ours: ReadEnd, theirs: ReadEnd) -> bool:
    """Say whether the first pieces lead from the hose to the port in this order and the others plug what is open."""
    reads = [[_read(end) for end in part.ends] for part in parts]
    if any(end is None or end.is_seal_open for ends in reads for end in ends):
        return False
    known = [[end for end in ends if end is not None] for ends in reads]
    return any(_leads(known[:cut], known[cut:], ours, theirs, []) for cut in range(1, len(parts) + 1))


def _leads(
    through: list[list[ReadEnd]], plugs: list[list[ReadEnd]], here: ReadEnd, goal: ReadEnd, open_ends: list[ReadEnd]
) -> bool:
    if not through:
        return bool(_mates(here, goal)) and _closed(open_ends, plugs)
    ends = through[0]
    for into, out in permutations(range(len(ends)), 2):
        further = [end for place, end in enumerate(ends) if place not in {into, out}]
        if _mates(here, ends[into]) and _leads(through[1:], plugs, ends[out], goal, open_ends + further):
            return True
    return False


def _closed(open_ends: list[ReadEnd], plugs: list[list[ReadEnd]]) -> bool:
    if len(open_ends) != len(plugs) or any(len(ends) != 1 for ends in plugs):
        return False
    return any(
        all(_mates(end, plug[0]) for end, plug in zip(open_ends, order, strict=True)) for order in permutations(plugs)
    )


def burden_by_hand(parts: Sequence[Part]) -> Burden:
    """Return what the pieces take."""
    return Burden(0, sum(part.to_order for part in parts), len(parts), sum(part.cost for part in parts))


def pieces_of(parts: Sequence[Part]) -> tuple[tuple[str, int], ...]:
    """Return which pieces, in no order."""
    return tuple(sorted(Counter(part.part_id for part in parts).items()))
