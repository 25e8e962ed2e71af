"""All numbers of the catalog in memory, and the entries that a typed number could mean.

The interface stays as it is when the inside is made fast for a million entries.
"""

from __future__ import annotations

import heapq
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

from xref_app.search.edits import EditMatcher
from xref_app.search.filed import FiledNumber, NumberRow
from xref_app.search.matching import Match, Matcher
from xref_app.search.pattern import NumberPattern, parse_number
from xref_app.search.ranking import RankClass, score

DEFAULT_LIMIT: Final = 20


@dataclass(frozen=True, slots=True)
class NumberHit:
    """One entry that the typed number could mean, under the number of its that matches best.

    ``matched`` and ``guessed`` are positions in ``number`` (from 0); ``score`` runs from 0 to 100.
    """

    entry_id: str
    kind: str
    number: str
    matched: tuple[int, ...]
    guessed: tuple[int, ...]
    score: float
    rank: RankClass


@dataclass(frozen=True, slots=True)
class NumberHits:
    """The best hits, best first, how many entries match in all, and what was understood."""

    hits: tuple[NumberHit, ...]
    total: int
    pattern: NumberPattern


class _Ranked(NamedTuple):
    """A number in the order of ranking; until ``match`` is known, its class and cost are the best it could reach.

    ``serial`` differs for each, so that comparing never gets as far as the match.
    """

    rank: RankClass
    cost: int
    text: str
    entry_id: str
    kind: str
    serial: int
    match: Match | None


class NumberIndex:
    """Finds entries by what can be read of their numbers."""

    def __init__(self) -> None:
        self._of_entry: dict[str, list[FiledNumber]] = {}
        self._all: list[FiledNumber] | None = None

    @classmethod
    def build(cls, rows: Iterable[NumberRow]) -> NumberIndex:
        """Return an index of ``rows``; their order does not matter."""
        index = cls()
        for row in rows:
            index.add(row)
        return index

    def __len__(self) -> int:
        return len(self._numbers())

    def add(self, row: NumberRow) -> None:
        """File one more number."""
        filed = FiledNumber.of(row)
        self._of_entry.setdefault(row.entry_id, []).append(filed)
        if self._all is not None:
            self._all.append(filed)

    def remove(self, entry_id: str) -> None:
        """Forget all numbers of ``entry_id``; one that is not there is no fault."""
        if self._of_entry.pop(entry_id, None):
            self._all = None

    def find(
        self, text: str | NumberPattern, *, limit: int = DEFAULT_LIMIT, kinds: Collection[str] | None = None
    ) -> NumberHits:
        """Return the entries that ``text`` could mean, best first.

        Only when no number holds what was typed are numbers one slip away offered (rank class ``EDIT``).

        Args:
            text: What was typed, or the pattern read from it.
            limit: At most so many hits; the total counts all.
            kinds: Only entries of these kinds; None for all.

        Raises:
            PatternError: ``text`` cannot be understood as a number.
        """
        pattern = parse_number(text) if isinstance(text, str) else text
        matcher = Matcher(pattern)
        numbers = self._numbers(kinds)
        sifted = _sifted(numbers, matcher)
        ranked = list(_outlined(sifted, matcher)) or list(_near(numbers, EditMatcher(pattern)))
        total = len({candidate.entry_id for candidate in ranked})
        return NumberHits(_best(ranked, sifted, matcher, limit), total, pattern)

    def count(self, pattern: NumberPattern, kinds: Collection[str] | None = None) -> int:
        """Return how many entries match ``pattern`` without any slip."""
        matcher = Matcher(pattern)
        sifted = _sifted(self._numbers(kinds), matcher)
        return len({candidate.entry_id for candidate in _outlined(sifted, matcher)})

    def _numbers(self, kinds: Collection[str] | None = None) -> list[FiledNumber]:
        if self._all is None:
            self._all = [filed for numbers in self._of_entry.values() for filed in numbers]
        if kinds is None:
            return self._all
        return [filed for filed in self._all if filed.row.kind in kinds]


def _sifted(numbers: list[FiledNumber], matcher: Matcher) -> list[FiledNumber]:
    """Return the numbers that hold every readable stretch of the pattern: quick, and never too few."""
    for run in matcher.literal_runs:
        numbers = [filed for filed in numbers if run in filed.worn]
    return numbers


def _outlined(sifted: list[FiledNumber], matcher: Matcher) -> Iterator[_Ranked]:
    for serial, filed in enumerate(sifted):
        outline = matcher.outline(filed)
        if outline is not None:
            row = filed.row
            yield _Ranked(outline.rank, outline.cost, row.text, row.entry_id, row.kind, serial, None)


def _near(numbers: list[FiledNumber], edits: EditMatcher) -> Iterator[_Ranked]:
    if not edits.can_help:
        return
    for serial, filed in enumerate(filter(edits.is_near, numbers)):
        match = edits.match(filed)
        if match is not None:
            row = filed.row
            yield _Ranked(match.rank, match.cost, row.text, row.entry_id, row.kind, serial, match)


def _best(ranked: list[_Ranked], sifted: list[FiledNumber], matcher: Matcher, limit: int) -> tuple[NumberHit, ...]:
    """Return the best hit of each entry, laying the pattern over no more numbers than that takes.

    An outline never promises less than the match keeps, so a number at the top whose match is known is the best left.
    """
    heapq.heapify(ranked)
    hits: dict[str, NumberHit] = {}
    while ranked and len(hits) < limit:
        top = heapq.heappop(ranked)
        if top.entry_id in hits:
            continue
        if top.match is not None:
            hits[top.entry_id] = _hit(top, top.match)
            continue
        match = matcher.match(sifted[top.serial])
        if match is not None:
            heapq.heappush(ranked, top._replace(rank=match.rank, cost=match.cost, match=match))
    return tuple(hits.values())


def _hit(ranked: _Ranked, match: Match) -> NumberHit:
    shown = score(match.rank, match.cost)
    return NumberHit(ranked.entry_id, ranked.kind, ranked.text, match.matched, match.guessed, shown, match.rank)
