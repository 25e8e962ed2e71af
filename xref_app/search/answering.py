"""The best entries for a pattern: matches without a slip, best first, then those some slips away."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from xref_app.search.filed import FiledNumber, NumberRow
from xref_app.search.finding import Ordered, Question
from xref_app.search.folding import spelled
from xref_app.search.hit import NumberHit
from xref_app.search.matching import Match, Matcher
from xref_app.search.pattern import NumberPattern
from xref_app.search.pool import Pool
from xref_app.search.ranking import RankClass, score
from xref_app.search.read_back import laid_over
from xref_app.search.slip_marks import slip_marks
from xref_app.search.stores import Stores

# House rule: of the numbers too long for a store no more are laid over; nobody types what tells more of them apart.
MOST_OVERLONG: Final = 8


class Answer(NamedTuple):
    """The best entries and how many match."""

    hits: list[NumberHit]
    total: int
    total_is_least: bool


class _Ranked(NamedTuple):
    """A number in the order of ranking; ``place`` is that in the pool, -1 for one too long for a store."""

    rank: RankClass
    cost: int
    row: NumberRow
    place: int
    match: Match | None = None

    @property
    def order(self) -> tuple[int, int, str, str]:
        return self.rank, self.cost, self.row.text, self.row.entry_id


def answer(pattern: NumberPattern, stores: Stores, limit: int, kinds: Collection[str] | None) -> Answer:
    """Return the best ``limit`` entries of ``kinds`` (None: of all)."""
    question = Question(pattern, stores.all(), stores.wanted(kinds))
    outlined = question.outlined()
    overlong = _overlong(pattern, stores, kinds)
    hits = _best(pattern, outlined, overlong, already=(), limit=limit)
    total = _entries(outlined, overlong)
    for near in _slipped(question, hits) if len(hits) < limit else ():
        hits += _best(pattern, near, (), already={hit.entry_id for hit in hits}, limit=limit - len(hits))
        if hits:
            break
    return Answer(hits, total or len(hits), outlined.is_cut or len(overlong) >= MOST_OVERLONG)


def _slipped(question: Question, hits: Sequence[NumberHit]) -> Iterator[Ordered]:
    """Yield what to offer besides ``hits``: when the best is a whole number, slips are nobody's question."""
    if not hits:
        yield from question.nearest()
    elif hits[0].rank >= RankClass.PREFIX:
        near = question.near()
        if near:
            yield near


def counted(pattern: NumberPattern, stores: Stores, kinds: Collection[str] | None) -> int:
    """Return how many entries match without a slip; of very many, how many at least."""
    outlined = Question(pattern, stores.all(), stores.wanted(kinds)).outlined()
    return _entries(outlined, _overlong(pattern, stores, kinds))


def _overlong(pattern: NumberPattern, stores: Stores, kinds: Collection[str] | None) -> list[_Ranked]:
    """Return the numbers too long for a store that match."""
    if not stores.overlong:
        return []
    matcher = Matcher(pattern)
    numbers = [FiledNumber.of(row) for row in stores.overlong if kinds is None or row.kind in kinds]
    outlined = [(outline.rank, outline.cost, at) for at, one in enumerate(numbers) if (outline := matcher.outline(one))]
    matches = ((numbers[at].row, matcher.match(numbers[at])) for _, _, at in sorted(outlined)[:MOST_OVERLONG])
    return [_Ranked(match.rank, match.cost, row, -1, match) for row, match in matches if match is not None]


def _entries(outlined: Ordered, overlong: Iterable[_Ranked]) -> int:
    """Return how many entries the rows belong to."""
    pool, places = outlined.table.pool, outlined.places
    ids = {row.row.entry_id for row in overlong}
    store_at, owners = pool.store_at[places], pool.owners[places]
    if not ids and len(places) and (store_at == store_at[0]).all():
        return len(np.unique(owners))
    pairs = set(zip(store_at.tolist(), owners.tolist(), strict=True))
    return len(ids | {pool.stores[store].entry_id(owner) for store, owner in pairs})


def _best(
    pattern: NumberPattern, ordered: Ordered, besides: Sequence[_Ranked], *, already: Collection[str], limit: int
) -> list[NumberHit]:
    """Return the best ``limit`` entries that are not there ``already``."""
    seen = set(already)
    chosen: list[_Ranked] = []
    for ranked in _merged(_in_order(pattern, ordered), sorted(besides, key=lambda one: one.order)):
        if len(chosen) >= limit:
            break
        if ranked.row.entry_id not in seen:
            seen.add(ranked.row.entry_id)
            chosen.append(ranked)
    return _marked(pattern, ordered, chosen)


def _merged(ones: Iterator[_Ranked], others: Sequence[_Ranked]) -> Iterator[_Ranked]:
    """Yield both in the order of ranking."""
    waiting = list(others)
    for one in ones:
        while waiting and waiting[0].order < one.order:
            yield waiting.pop(0)
        yield one
    yield from waiting


def _in_order(pattern: NumberPattern, ordered: Ordered) -> Iterator[_Ranked]:
    """Yield the rows in the order of ranking, those of one class and cost by their texts.

    A row that only shares its codes with what was typed is left out: letters of other scripts may.
    """
    pool, matcher = ordered.table.pool, Matcher(pattern) if ordered.is_certain else None
    for rank, cost, places in ordered.chunks():
        found = _by_text(pool, places)
        if rank is RankClass.EXACT:
            found = _exact_first(pattern, found)
        for place, row in found:
            true_rank = rank
            if rank is RankClass.EXACT and spelled(row.text) != pattern.spelled:
                true_rank = RankClass.SEPARATORS
            if matcher is None or row.text.isascii() or matcher.match(FiledNumber.of(row)):
                yield _Ranked(true_rank, cost, row, place)


def _exact_first(pattern: NumberPattern, found: Iterator[tuple[int, NumberRow]]) -> Iterator[tuple[int, NumberRow]]:
    return iter(sorted(found, key=lambda one: spelled(one[1].text) != pattern.spelled))


def _by_text(pool: Pool, places: NDArray[np.int64]) -> Iterator[tuple[int, NumberRow]]:
    """Yield the rows at ``places`` in the order of their texts; no more are read than are asked for."""
    for some in pool.by_text(places):
        rows = [(place, pool.row(place)) for place in some]
        yield from sorted(rows, key=lambda one: (one[1].text, one[1].entry_id))


def _marked(pattern: NumberPattern, ordered: Ordered, chosen: Sequence[_Ranked]) -> list[NumberHit]:
    """Return the hits with what was typed and what was guessed of their numbers."""
    filed = [one.place for one in chosen if one.match is None]
    laid = iter(laid_over(pattern.tokens, ordered.table, np.array(filed, np.int64)))
    hits = []
    for one in chosen:
        matched, guessed = (one.match.matched, one.match.guessed) if one.match else slip_marks(one.row.text, next(laid))
        shown = score(one.rank, one.cost)
        hits.append(NumberHit(one.row.entry_id, one.row.kind, one.row.text, matched, guessed, shown, one.rank))
    return hits
