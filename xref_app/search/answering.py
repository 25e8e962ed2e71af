"""The best entries for a pattern: matches without a slip judged exactly, best first, then those some slips away."""

from __future__ import annotations

import heapq
from collections.abc import Collection, Iterable, Iterator
from itertools import islice
from typing import NamedTuple

import numpy as np

from xref_app.search.filed import FiledNumber, NumberRow
from xref_app.search.finding import Near, Outlined, Question, chunks
from xref_app.search.hit import NumberHit
from xref_app.search.matching import Match, Matcher
from xref_app.search.pattern import NumberPattern
from xref_app.search.ranking import RankClass, score
from xref_app.search.read_back import laid_over
from xref_app.search.slip_marks import slip_marks
from xref_app.search.stores import Stores

_CLASS = 1 << 20  # above any cost


class Answer(NamedTuple):
    """The best entries and how many match."""

    hits: list[NumberHit]
    total: int
    total_is_least: bool


class _Ranked(NamedTuple):
    """A row in the order of ranking; until ``match`` is known, its key is the best it could reach."""

    key: int
    text: str
    entry_id: str
    place: int
    match: Match | None


def answer(pattern: NumberPattern, stores: Stores, limit: int, kinds: Collection[str] | None) -> Answer:
    """Return the best ``limit`` entries of ``kinds`` (None: of all)."""
    question = Question(pattern, stores.all(), stores.wanted(kinds))
    outlined = question.outlined()
    overlong = _overlong(Matcher(pattern), stores, kinds)
    hits: dict[str, NumberHit] = {}
    for found in islice(_judged(pattern, outlined, overlong), limit):
        hits[found.entry_id] = found
    total = _entries(outlined, overlong)
    if len(hits) < limit and not _is_whole(hits.values()):
        near = question.near(most_slips=1 if hits else 2)
        for found in _slipped(pattern, near, hits, limit) if near else ():
            hits[found.entry_id] = found
    return Answer(list(hits.values()), total or len(hits), outlined.is_cut)


def _is_whole(hits: Iterable[NumberHit]) -> bool:
    """Return whether the best hit is a whole number: then the slips of others are nobody's question."""
    return any(found.rank < RankClass.PREFIX for found in islice(hits, 1))


def counted(pattern: NumberPattern, stores: Stores, kinds: Collection[str] | None) -> int:
    """Return how many entries match without a slip; of very many, how many at least."""
    outlined = Question(pattern, stores.all(), stores.wanted(kinds)).outlined()
    return _entries(outlined, _overlong(Matcher(pattern), stores, kinds))


def _overlong(matcher: Matcher, stores: Stores, kinds: Collection[str] | None) -> list[tuple[NumberRow, Match]]:
    """Return the numbers too long for a store that match."""
    rows = (row for row in stores.overlong if kinds is None or row.kind in kinds)
    matches = ((row, matcher.match(FiledNumber.of(row))) for row in rows)
    return [(row, match) for row, match in matches if match is not None]


def _entries(outlined: Outlined, overlong: list[tuple[NumberRow, Match]]) -> int:
    """Return how many entries the rows belong to."""
    pool = outlined.pool
    if not overlong and len(pool) and (pool.store_at == pool.store_at[0]).all():
        return len(np.unique(pool.owners))
    pairs = set(zip(pool.store_at.tolist(), pool.owners.tolist(), strict=True))
    ids = {pool.stores[store].entry_id(owner) for store, owner in pairs}
    return len(ids | {row.entry_id for row, _ in overlong})


def _judged(pattern: NumberPattern, outlined: Outlined, overlong: list[tuple[NumberRow, Match]]) -> Iterator[NumberHit]:
    """Yield the matches without a slip, best first, each entry once; no more is laid out than that takes."""
    matcher, pool = Matcher(pattern), outlined.pool
    keys = outlined.ranks * _CLASS + outlined.costs
    heap = [
        _Ranked(match.rank * _CLASS + match.cost, row.text, row.entry_id, -1 - place, match)
        for place, (row, match) in enumerate(overlong)
    ]
    heapq.heapify(heap)
    waiting = list(chunks(keys, 24))[::-1]
    seen: set[str] = set()
    while heap or waiting:
        while waiting and (not heap or heap[0].key >= keys[waiting[-1].start]):
            for place in range(*waiting.pop().indices(len(pool))):
                row = pool.row(place)
                heapq.heappush(heap, _Ranked(int(keys[place]), row.text, row.entry_id, place, None))
        top = heapq.heappop(heap)
        if top.entry_id in seen:
            continue
        if top.match is None:
            match = matcher.match(FiledNumber.of(pool.row(top.place)))
            if match:
                heapq.heappush(heap, top._replace(key=match.rank * _CLASS + match.cost, match=match))
            continue
        seen.add(top.entry_id)
        row = overlong[-1 - top.place][0] if top.place < 0 else pool.row(top.place)
        yield _found(row, top.match)


def _found(row: NumberRow, match: Match) -> NumberHit:
    shown = score(match.rank, match.cost)
    return NumberHit(row.entry_id, row.kind, row.text, match.matched, match.guessed, shown, match.rank)


def _slipped(pattern: NumberPattern, near: Near, already: Collection[str], limit: int) -> list[NumberHit]:
    """Return entries some slips away, best first, so that there are ``limit`` with those there already."""
    chosen = _closest(near, already, limit)
    laid = laid_over(pattern.tokens, near.table, np.array([place for place, _, _ in chosen], np.int64))
    return [
        _found(row, Match(RankClass.EDIT, cost, *slip_marks(row.text, one)))
        for (_, cost, row), one in zip(chosen, laid, strict=True)
    ]


def _closest(near: Near, already: Collection[str], limit: int) -> list[tuple[int, int, NumberRow]]:
    """Return place, cost and number of the best entries, each once."""
    seen = set(already)
    chosen: list[tuple[int, int, NumberRow]] = []
    for chunk in chunks(near.costs, limit):
        rows = [
            (int(near.costs[at]), near.pool.row(place), place)
            for at, place in enumerate(near.places[chunk].tolist(), chunk.start)
        ]
        for cost, row, place in sorted(rows, key=lambda one: (one[0], one[1].text, one[1].entry_id)):
            if len(seen) >= limit:
                return chosen
            if row.entry_id not in seen:
                seen.add(row.entry_id)
                chosen.append((place, cost, row))
    return chosen
