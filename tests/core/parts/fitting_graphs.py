"""Random shelves of fittings, and the plainest search that could be written over them."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from itertools import permutations

from xref_app.core.model.shelf import Part, PartEnd
from xref_app.core.model.words import Gender, PartKind
from xref_app.core.parts.burden import Burden
from xref_app.core.parts.joints import ReadEnd, mates, read_part_end_or_none

THREADS = ("3/8-18 NPT", "1/4-18 NPT", "G3/8 cone 60", "G1/2 flat end", "R3/8", "Rp3/8", "M22x1.5", "3/4-11.5 NH")


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
        if read is not None and not read.is_open:
            return read


def all_chains(
    shelf: Sequence[Part], ours: ReadEnd, theirs: ReadEnd, stands: Callable[[Part], bool]
) -> Iterator[tuple[Part, ...]]:
    """Yield every chain of up to three pieces, plugs counted: every order, every end, every plug tried.

    Of equal pieces one comes first, so that no order comes twice.
    """
    ours, theirs = _the_one(ours), _the_one(theirs)
    ends = {part.part_id: _read_or_none(part) for part in shelf if stands(part)}
    pieces = [part for part in shelf for _ in range(min(part.count, 3)) if ends.get(part.part_id) is not None]
    for count in (1, 2, 3):
        for parts in dict.fromkeys(permutations([part.part_id for part in pieces], count)):
            known = [ends[one] or [] for one in parts]
            if any(_leads(known[:cut], known[cut:], ours, theirs, []) for cut in range(1, count + 1)):
                yield tuple(next(part for part in pieces if part.part_id == one) for one in parts)


def _read_or_none(part: Part) -> list[ReadEnd] | None:
    """Return the ends of a piece; None where one of them cannot be told."""
    ends = [read_part_end_or_none(end) for end in part.ends]
    known = [_the_one(end) for end in ends if end is not None and not end.is_open]
    return known if len(known) == len(ends) else None


# Equal ends as one object each, and what mates by those: comparing threads takes most of the time of the search.
_ONES: dict[ReadEnd, ReadEnd] = {}
_MATING: dict[tuple[int, int], bool] = {}


def _the_one(end: ReadEnd) -> ReadEnd:
    return _ONES.setdefault(end, end)


def _mates(one: ReadEnd, other: ReadEnd) -> bool:
    pair = (id(one), id(other))
    if pair not in _MATING:
        _MATING[pair] = bool(mates(one, other))
    return _MATING[pair]


def _leads(
    through: list[list[ReadEnd]], plugs: list[list[ReadEnd]], here: ReadEnd, goal: ReadEnd, open_ends: list[ReadEnd]
) -> bool:
    """Say whether the first pieces lead from the hose to the port in this order and the others plug what is open."""
    if not through:
        return _mates(here, goal) and _closed(open_ends, plugs)
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


def held_at_once(*chains: Sequence[Part]) -> bool:
    """Say whether the shelf holds the pieces of all these chains at the same time."""
    ids = [part.part_id for parts in chains for part in parts]
    return all(ids.count(part.part_id) <= part.count for parts in chains for part in parts)
