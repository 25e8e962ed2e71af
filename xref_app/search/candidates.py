"""The few rows of a compact store that a pattern may mean, found by the three-character stretches they share.

Rarest lists first, until a budget of postings is spent. How many lists a row is in is counted in a table of remainders:
a row may be counted too often, never too rarely, and no sorting is needed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import WORN_CODES, worn_codes
from xref_app.search.compact import Compact, Rows
from xref_app.search.pattern import Token, TokenKind

# House rules, measured with tests/bench/find_numbers.py: more finds hardly more and takes longer.
POSTINGS_BUDGET: Final = 60_000
MOST_ROWS: Final = 1_500
MOST_SURE_ROWS: Final = 4_096
_TABLE: Final = 1 << 16


@dataclass(frozen=True, slots=True)
class Gram:
    """A stretch of up to three characters: the range or ranges of keys of the lists that hold it.

    ``is_sure``: every number that matches without a slip, wherever, is in one of the lists.
    """

    keys: tuple[tuple[int, int], ...]
    is_sure: bool


@dataclass(frozen=True, slots=True)
class Sought:
    """What a pattern looks for in the lists."""

    grams: tuple[Gram, ...]
    start: Gram | None
    presence: int
    shortest: int
    """Fewer letters and digits cannot match, not even with the slips allowed."""


def sought(tokens: Sequence[Token], slips: int) -> Sought:
    """Return what ``tokens`` look for, up to ``slips`` slips."""
    worn = [_worn_codes(token) for token in tokens]
    grams = [_gram(stretch, tokens[place : place + 3]) for place, stretch in _stretches(worn, 3)]
    if not any(gram.is_sure for gram in grams):
        grams += [_gram(stretch, tokens[place : place + 2]) for place, stretch in _stretches(worn, 2)]
    if not grams:
        grams = [_gram(stretch, tokens[place : place + 1]) for place, stretch in _stretches(worn, 1) if stretch[0]]
    presence = sum({1 << codes[0] for codes in worn if codes is not None and len(codes) == 1})
    needed = sum(token.kind in (TokenKind.LITERAL, TokenKind.EITHER) for token in tokens)
    return Sought(tuple(grams), _start(worn), presence, max(0, needed - slips))


def _worn_codes(token: Token) -> tuple[int, ...] | None:
    """Return the worn codes a token may stand for: none for unreadable, None for a run."""
    if token.kind is TokenKind.RUN:
        return None
    return worn_codes(token.chars)


def _stretches(worn: Sequence[tuple[int, ...] | None], size: int) -> list[tuple[int, list[tuple[int, ...]]]]:
    """Return the stretches of ``size`` tokens without a run, with at least two (or one of one) that can be read."""
    found = []
    for place in range(len(worn) - size + 1):
        stretch = [codes for codes in worn[place : place + size] if codes is not None]
        if len(stretch) == size and sum(map(bool, stretch)) >= min(size, 2):
            found.append((place, stretch))
    return found


def _gram(stretch: Sequence[tuple[int, ...]], tokens: Sequence[Token]) -> Gram:
    is_sure = all(token.kind is not TokenKind.UNREADABLE for token in tokens)
    return Gram(_keys(stretch), is_sure)


def _keys(stretch: Sequence[tuple[int, ...]]) -> tuple[tuple[int, int], ...]:
    """Return the key ranges of a stretch; what is missing behind it may be anything, the end too."""
    width = WORN_CODES ** (3 - len(stretch))
    ways = product(*(codes or tuple(range(1, WORN_CODES)) for codes in stretch))
    firsts = (_key(way) * width for way in ways)
    return tuple((first, first + width) for first in firsts)


def _key(way: Sequence[int]) -> int:
    key = 0
    for code in way:
        key = key * WORN_CODES + code
    return key


def _start(worn: Sequence[tuple[int, ...] | None]) -> Gram | None:
    """Return the gram of numbers that begin as the pattern does; None if its first character cannot be read."""
    if not worn or not worn[0]:
        return None
    second = worn[1] if len(worn) > 1 else ()
    if second:
        keys = tuple((one * WORN_CODES + two, one * WORN_CODES + two + 1) for one in worn[0] for two in second)
        return Gram(keys, is_sure=False)
    return Gram(tuple((one * WORN_CODES, (one + 1) * WORN_CODES) for one in worn[0]), is_sure=False)


class Picker:
    """Picks rows of one store for one pattern."""

    def __init__(self, store: Compact, wanted: Sought) -> None:
        self._store, self._wanted = store, wanted
        self._from_row = int(store.first_of_length[min(wanted.shortest, len(store.first_of_length) - 1)])

    def sure(self) -> tuple[NDArray[np.int64], bool]:
        """Return rows among which are those that match without a slip, ascending, and whether some are missing.

        Numbers that begin as the pattern does come first when there are too many: they match better.
        """
        grams = sorted((gram for gram in self._wanted.grams if gram.is_sure), key=self._size)
        if not grams:
            return self._hinted()
        rows = self._listed(grams[0], MOST_SURE_ROWS * 8)
        is_cut = len(rows) < self._size(grams[0])
        for gram in grams[1:]:
            if len(rows) <= MOST_SURE_ROWS // 8:
                break
            rows = _both(rows, self._listed(gram, POSTINGS_BUDGET))
        return self._cut(rows, is_cut=is_cut)

    def _hinted(self) -> tuple[NDArray[np.int64], bool]:
        rows = [self._listed(gram, MOST_SURE_ROWS) for gram in self._wanted.grams]
        return self._cut(
            np.concatenate(rows) if rows else np.arange(min(len(self._store), MOST_SURE_ROWS)), is_cut=True
        )

    def _cut(self, rows: NDArray[np.integer], *, is_cut: bool) -> tuple[NDArray[np.int64], bool]:
        start = self._wanted.start
        if len(rows) <= MOST_SURE_ROWS and not is_cut:
            return _distinct(rows), False
        begins = self._listed(start, MOST_SURE_ROWS) if start else rows[:0]
        kept = [np.sort(rows)[:MOST_SURE_ROWS], begins]
        return _distinct(np.concatenate(kept)), True

    def near(self) -> NDArray[np.int64]:
        """Return the rows that share most with the pattern, at most ``MOST_ROWS``, ascending."""
        grams = sorted((*self._wanted.grams, *([self._wanted.start] if self._wanted.start else ())), key=self._size)
        lists, left = [], POSTINGS_BUDGET
        for gram in grams:
            lists.append(self._listed(gram, max(left, 0)))
            left -= len(lists[-1])
        if not lists:
            return np.zeros(0, np.int64)
        rows = np.concatenate(lists)
        places = rows & np.uint32(_TABLE - 1)
        shares = np.bincount(places, minlength=_TABLE).take(places)
        return self._closest(_distinct(rows[shares >= self._threshold(shares)]))

    def _threshold(self, shares: NDArray[np.int64]) -> int:
        """Return how many lists a row must share so that not too many are left."""
        having = np.bincount(shares)
        most = len(having) - 1
        total = 0
        for share in range(most, 0, -1):
            total += int(having[share]) // max(1, share)
            if total > MOST_ROWS * 4:
                return min(share + 1, most)
        return 1

    def _closest(self, rows: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return the rows that hold most of the pattern's characters, if there are too many."""
        if len(rows) <= MOST_ROWS:
            return rows
        lacking = np.bitwise_count(~self._store.presence[rows] & np.uint32(self._wanted.presence))
        return np.sort(rows[np.argsort(lacking, kind="stable")[:MOST_ROWS]])

    def _size(self, gram: Gram) -> int:
        ends = self._store.gram_ends
        return sum(int(ends[stop]) - int(ends[first]) for first, stop in gram.keys)

    def _listed(self, gram: Gram, most: int) -> Rows:
        """Return at most ``most`` rows of each list of a gram, none too short to match."""
        ends, postings = self._store.gram_ends, self._store.postings
        spans = []
        for first, stop in gram.keys:
            bounds = ends[first : stop + 1].tolist()
            if stop - first > 1 and bounds[-1] - bounds[0] > most:
                share = most // len(gram.keys) // 4 + 1
                spans += [postings[a : min(b, a + share)] for a, b in pairwise(bounds) if b > a]
            else:
                span = postings[bounds[0] : bounds[-1]]
                start = int(np.searchsorted(span, self._from_row)) if stop - first == 1 else 0
                spans.append(span[start : start + most])
        rows = spans[0] if len(spans) == 1 else np.concatenate(spans) if spans else postings[:0]
        return rows[rows >= self._from_row] if self._from_row else rows


def _both(rows: Rows, others: Rows) -> Rows:
    """Return the rows that are (or, by their remainder, could be) among ``others``."""
    marked = np.zeros(_TABLE, np.bool_)
    marked[others & np.uint32(_TABLE - 1)] = True
    return rows[marked.take(rows & np.uint32(_TABLE - 1))]


def _distinct(rows: NDArray[np.integer]) -> NDArray[np.int64]:
    if not len(rows):
        return np.zeros(0, np.int64)
    ordered = np.sort(rows).astype(np.int64)
    is_new = np.ones(len(ordered), np.bool_)
    np.not_equal(ordered[1:], ordered[:-1], out=is_new[1:])
    return ordered[is_new]
