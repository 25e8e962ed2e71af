"""The few rows of a compact store that a pattern may mean, found by the three-character stretches they share.

The lists say at which place of a number a stretch stands. Rarest lists first, until a budget of postings is spent.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import prod
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import WORN_CODES, worn_codes
from xref_app.search.compact import GRAMS, LAST_PLACE, Compact, Rows
from xref_app.search.pattern import Token, TokenKind

# House rules, measured with tests/bench/find_numbers.py: more finds hardly more and takes longer.
POSTINGS_BUDGET: Final = 60_000
MOST_SHARING: Final = 12_000
MOST_ROWS: Final = 2_500
MOST_SURE_ROWS: Final = 4_096
# A stretch that stands for more than so many is not looked for.
MOST_WAYS: Final = 36
# With so few stretches of three that can be read, those of two are looked for too.
FEW_GRAMS: Final = 4
# How far slips may move what was typed from where it belongs.
SLACK: Final = 2


@dataclass(frozen=True, slots=True)
class Gram:
    """A stretch of up to three tokens and the range or ranges of grams that hold it.

    Attributes:
        least, most: the places where it may stand in a number that begins as the pattern does, without a slip.
        keys: the ranges of grams.
    """

    least: int
    most: int
    keys: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Sought:
    """What a pattern looks for in the lists."""

    threes: tuple[Gram, ...]
    shorter: tuple[Gram, ...]
    presence: int
    shortest: int
    """Fewer letters and digits cannot match, not even with the slips allowed."""


def sought(tokens: Sequence[Token], slips: int) -> Sought:
    """Return what ``tokens`` look for, up to ``slips`` slips."""
    worn = [None if token.kind is TokenKind.RUN else worn_codes(token.chars) for token in tokens]
    threes, twos, ones = (_grams(tokens, worn, size) for size in (3, 2, 1))
    presence = sum({1 << codes[0] for codes in worn if codes is not None and len(codes) == 1})
    needed = sum(token.kind in (TokenKind.LITERAL, TokenKind.EITHER) for token in tokens)
    return Sought(tuple(threes), tuple(twos or ones), presence, max(0, needed - slips))


def _grams(tokens: Sequence[Token], worn: Sequence[tuple[int, ...] | None], size: int) -> list[Gram]:
    """Return the stretches of ``size`` tokens that can all be read and stand for few enough characters."""
    found = []
    least, most = 0, 0
    for place, token in enumerate(tokens):
        stretch = [codes for codes in worn[place : place + size] if codes]
        if len(stretch) == size and prod(map(len, stretch)) <= MOST_WAYS:
            found.append(Gram(least, most, _keys(stretch)))
        is_run = token.kind is TokenKind.RUN
        least += not is_run and token.kind is not TokenKind.UNREADABLE  # that may have been a separator
        most = LAST_PLACE if is_run else min(most + 1, LAST_PLACE)
    return found


def _keys(stretch: Sequence[tuple[int, ...]]) -> tuple[tuple[int, int], ...]:
    """Return the gram ranges of a stretch; what is missing behind it may be anything, the end too."""
    width = WORN_CODES ** (3 - len(stretch))
    firsts = (_key(way) * width for way in product(*stretch))
    return tuple((first, first + width) for first in firsts)


def _key(way: Sequence[int]) -> int:
    key = 0
    for code in way:
        key = key * WORN_CODES + code
    return key


class Picker:
    """Picks rows of one store for one pattern."""

    def __init__(self, store: Compact, wanted: Sought) -> None:
        self._store, self._wanted = store, wanted
        self._from_row = int(store.first_of_length[min(wanted.shortest, len(store.first_of_length) - 1)])

    def sure(self) -> tuple[NDArray[np.int64], bool]:
        """Return rows among which are those that match without a slip, ascending, and whether some are missing.

        Numbers that begin as the pattern does come first when there are too many: they match better.
        """
        grams = self._wanted.threes or self._wanted.shorter
        spans = sorted((self._spans(gram, gram.least, LAST_PLACE) for gram in grams), key=_size)
        if not spans:
            return np.arange(min(len(self._store), MOST_SURE_ROWS)), True
        rows = self._listed(spans[0], MOST_SURE_ROWS * 8)
        is_cut = len(rows) < _size(spans[0])
        for others in spans[1:]:
            if len(rows) <= MOST_SURE_ROWS // 32 or _size(others) > POSTINGS_BUDGET:
                break
            rows = _both(rows, self._listed(others, POSTINGS_BUDGET))
        return self._long_enough(_distinct(rows), is_cut=is_cut)

    def _long_enough(self, rows: NDArray[np.int64], *, is_cut: bool) -> tuple[NDArray[np.int64], bool]:
        rows = rows[np.searchsorted(rows, self._from_row) :]
        return rows[:MOST_SURE_ROWS], is_cut or len(rows) > MOST_SURE_ROWS

    def near(self) -> NDArray[np.int64]:
        """Return the rows that share most with the pattern, at most ``MOST_ROWS``, ascending."""
        spans = [span for gram in self._wanted.threes for span in self._spans(gram, gram.least - SLACK, LAST_PLACE)]
        if len(self._wanted.threes) < FEW_GRAMS:
            for gram in self._wanted.shorter:
                spans += self._spans(gram, gram.least - SLACK, gram.most + SLACK)
        rows = np.sort(self._listed(sorted(spans, key=_length), POSTINGS_BUDGET))
        rows = rows[np.searchsorted(rows, self._from_row) :]
        if not len(rows):
            return rows.astype(np.int64)
        firsts = np.flatnonzero(np.concatenate([_TRUE, rows[1:] != rows[:-1]]))
        shares = np.diff(firsts, append=len(rows))
        rows = rows[firsts].astype(np.int64)
        if len(rows) <= MOST_ROWS:
            return rows
        return self._closest(*_most(rows, shares, MOST_SHARING))

    def _closest(self, rows: NDArray[np.int64], shares: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return the rows that share most and lack fewest of the pattern's characters, if there are too many."""
        lacking = np.bitwise_count(~self._store.presence[rows] & np.uint32(self._wanted.presence))
        return _most(rows, shares * 2 - lacking.astype(np.int64) * 4, MOST_ROWS)[0]

    def _spans(self, gram: Gram, first: int, last: int) -> list[tuple[int, int]]:
        """Return where the lists of ``gram`` at the places ``first`` to ``last`` lie."""
        ends = self._store.list_ends
        found = []
        for at in range(max(0, min(first, LAST_PLACE)), min(last, LAST_PLACE) + 1):
            for low, high in gram.keys:
                start, stop = int(ends[at * GRAMS + low]), int(ends[at * GRAMS + high])
                if stop > start:
                    found.append((start, stop))
        return found

    def _listed(self, spans: Sequence[tuple[int, int]], most: int) -> Rows:
        """Return the first ``most`` rows of the lists."""
        postings, parts = self._store.postings, []
        for start, stop in spans:
            parts.append(postings[start : min(stop, start + most)])
            most -= len(parts[-1])
            if not most:
                break
        return np.concatenate(parts) if parts else postings[:0]


def _size(spans: Sequence[tuple[int, int]]) -> int:
    return sum(stop - start for start, stop in spans)


def _length(span: tuple[int, int]) -> int:
    return span[1] - span[0]


def _most(rows: NDArray[np.int64], worth: NDArray[np.int64], count: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the ``count`` rows of most worth, still ascending, of equal ones the first; and their worth."""
    if len(rows) <= count:
        return rows, worth
    lowest = int(worth.min())
    from_top = np.cumsum(np.bincount(worth - lowest)[::-1])
    above = int(np.searchsorted(from_top, count, side="right"))
    least = lowest + len(from_top) - 1 - above
    kept = worth > least
    equal = np.flatnonzero(worth == least)[: count - int(kept.sum())]
    kept[equal] = True
    return rows[kept], worth[kept]


_TABLE: Final = 1 << 16
_TRUE: Final = np.ones(1, np.bool_)


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
