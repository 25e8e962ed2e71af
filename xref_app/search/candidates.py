"""The few rows of a compact store that a pattern may mean, found by the three-character stretches they share.

The lists say at which place of a number a stretch stands. Rarest lists first, until a budget of postings is spent.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import prod
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import END, WORN_CODES, worn_codes
from xref_app.search.compact import GRAMS, LAST_PLACE, ROW_BITS, ROW_MASK, Compact, Rows
from xref_app.search.pattern import Token, TokenKind

# House rules, measured with tests/bench/find_numbers.py: more finds hardly more and takes longer.
POSTINGS_BUDGET: Final = 60_000
MOST_SHARING: Final = 12_000
MOST_ROWS: Final = 2_500
MOST_SURE_ROWS: Final = 4_096
# A stretch that stands for more than so many is not looked for.
MOST_WAYS: Final = 36
GRAM_SIZE: Final = 3
# With so few stretches of three that can be read, those of two are looked for too.
FEW_GRAMS: Final = 4
# How far slips may move what was typed from where it belongs.
SLACK: Final = 2


class Gram(NamedTuple):
    """A stretch of up to three tokens and the range or ranges of grams that hold it.

    Attributes:
        least, most: the places where it may stand in a number that begins as the pattern does, without a slip.
        keys: the ranges of grams.
        following: the worn code that follows; ``END`` if that is not known.
    """

    least: int
    most: int
    keys: tuple[tuple[int, int], ...]
    following: int


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
    worn = [() if token.kind in (TokenKind.RUN, TokenKind.UNREADABLE) else worn_codes(token.chars) for token in tokens]
    bounds = list(_bounds(tokens))
    threes = _grams(bounds, worn, GRAM_SIZE)
    shorter = _grams(bounds, worn, 2) or _grams(bounds, worn, 1) if len(threes) < FEW_GRAMS else []
    presence = 0
    for codes in worn:
        presence |= 1 << codes[0] if len(codes) == 1 else 0
    needed = sum(map(bool, worn))
    return Sought(tuple(threes), tuple(shorter), presence, max(0, needed - slips))


def _bounds(tokens: Sequence[Token]) -> Iterator[tuple[int, int]]:
    """Yield between which places each token may stand in a number that begins as the pattern does, without a slip."""
    least = most = 0
    for token in tokens:
        yield least, most
        is_run = token.kind is TokenKind.RUN
        least += not is_run and token.kind is not TokenKind.UNREADABLE  # that may have been a separator
        most = LAST_PLACE if is_run else min(most + 1, LAST_PLACE)


def _grams(bounds: Sequence[tuple[int, int]], worn: Sequence[tuple[int, ...]], size: int) -> list[Gram]:
    """Return the stretches of ``size`` tokens that can all be read and stand for few enough characters."""
    found = []
    for place in range(len(worn) - size + 1):
        stretch = worn[place : place + size]
        if all(stretch) and prod(map(len, stretch)) <= MOST_WAYS:
            after = worn[place + size] if size == GRAM_SIZE and place + size < len(worn) else ()
            found.append(Gram(*bounds[place], _keys(stretch), after[0] if len(after) == 1 else END))
    return found


def _keys(stretch: Sequence[tuple[int, ...]]) -> tuple[tuple[int, int], ...]:
    """Return the gram ranges of a stretch; what is missing behind it may be anything, the end too."""
    width = WORN_CODES ** (GRAM_SIZE - len(stretch))
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
        ranked = sorted(((_size(spans), spans, gram.following) for gram, spans in self._everywhere(grams)), key=_first)
        if not ranked:
            return np.arange(min(len(self._store), MOST_SURE_ROWS)), True
        size, spans, following = ranked[0]
        rows = self._listed(spans, MOST_SURE_ROWS * 8, following)
        for others, spans, following in ranked[1:]:
            if len(rows) <= MOST_SURE_ROWS // 32 or others > POSTINGS_BUDGET:
                break
            rows = _both(rows, self._listed(spans, POSTINGS_BUDGET, following))
        rows = rows[rows >= self._from_row]
        is_cut = size > MOST_SURE_ROWS * 8 or len(rows) > MOST_SURE_ROWS
        return _distinct(rows[:MOST_SURE_ROWS]), is_cut

    def long_enough(self, rows: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return those of the rows (ascending) that have letters and digits enough to match."""
        return rows[np.searchsorted(rows, self._from_row) :]

    def _everywhere(self, grams: Sequence[Gram]) -> Iterator[tuple[Gram, list[tuple[int, int]]]]:
        """Yield each gram with its lists at all places where it may stand without a slip."""
        for gram in grams:
            yield gram, self._spans(gram, gram.least, LAST_PLACE)

    def near(self) -> NDArray[np.int64]:
        """Return the rows that share most with the pattern, at most ``MOST_ROWS``, ascending."""
        rows = self._shared()
        if self._from_row:
            rows = rows[rows >= self._from_row]
        if not len(rows):
            return rows.astype(np.int64)
        rows, shares = _sharing(rows)
        if len(rows) > MOST_ROWS:
            rows = self._closest(rows, shares)
        return _distinct(rows)

    def _shared(self) -> Rows:
        """Return the rows of the lists that tell most, again and again if they are in several.

        All stretches wherever they stand, if they are few; otherwise those of four wherever and those of three about
        where they were typed.
        """
        threes = [(gram, self._places(gram)) for gram in self._wanted.threes]
        wherever = [span for gram, spans in threes for span in _between(gram, spans, gram.least - SLACK, LAST_PLACE)]
        here = [span for gram, spans in threes for span in _between(gram, spans, gram.least, gram.most)]
        parts = [self._listed(sorted(here, key=_length), POSTINGS_BUDGET)]
        if _size(wherever) <= POSTINGS_BUDGET // 2:
            parts.append(self._listed(wherever, POSTINGS_BUDGET))
        else:
            for gram, spans in threes:
                first, last = (gram.least - SLACK, LAST_PLACE) if gram.following else (gram.least - 1, gram.most + 1)
                spans_there = _between(gram, spans, first, last)
                parts.append(self._listed(spans_there, POSTINGS_BUDGET, gram.following))
        left = POSTINGS_BUDGET - sum(map(len, parts))
        twos = (span for gram in self._wanted.shorter for span in self._spans(gram, gram.least - 1, gram.most + 1))
        parts.append(self._listed(sorted(twos, key=_length), max(0, left)))
        return np.concatenate(parts)

    def _places(self, gram: Gram) -> list[tuple[int, int]]:
        """Return the lists of a gram, one (or more, if it stands for several) for each place."""
        return self._spans(gram, 0, LAST_PLACE)

    def _closest(self, rows: Rows, shares: NDArray[np.int64]) -> Rows:
        """Return the rows that share most and lack fewest of the pattern's characters, if there are too many."""
        lacking = np.bitwise_count(~self._store.presence.take(rows) & np.uint32(self._wanted.presence))
        return rows[_most(shares * 2 + (32 - lacking) * 4, MOST_ROWS)]

    def _spans(self, gram: Gram, first: int, last: int) -> list[tuple[int, int]]:
        """Return where the lists of ``gram`` at the places ``first`` to ``last`` lie."""
        first, last = max(0, min(first, LAST_PLACE)), min(last, LAST_PLACE)
        ends = self._store.list_ends
        found = []
        for low, high in gram.keys:
            stop = last * GRAMS + high
            starts = ends[first * GRAMS + low : stop : GRAMS].tolist()
            found.append(zip(starts, ends[first * GRAMS + high : stop + 1 : GRAMS].tolist(), strict=True))
        return [span for spans in zip(*found, strict=True) for span in spans]

    def _listed(self, spans: Sequence[tuple[int, int]], most: int, following: int = END) -> Rows:
        """Return the rows of the first ``most`` postings of the lists; only of those that ``following`` follows."""
        postings, parts = self._store.postings, []
        for start, stop in spans:
            parts.append(postings[start : min(stop, start + most)])
            most -= len(parts[-1])
            if most <= 0:
                break
        found = np.concatenate(parts) if parts else postings[:0]
        if following:
            found = found[found >> np.uint32(ROW_BITS) == following]
        return found & ROW_MASK


def _between(gram: Gram, spans: Sequence[tuple[int, int]], first: int, last: int) -> Sequence[tuple[int, int]]:
    """Return those of the lists of a gram at all places that lie at the places ``first`` to ``last``."""
    ways = len(gram.keys)
    return spans[max(0, first) * ways : (last + 1) * ways]


def _size(spans: Sequence[tuple[int, int]]) -> int:
    return sum(stop - start for start, stop in spans)


def _first(ranked: tuple[int, list[tuple[int, int]], int]) -> int:
    return ranked[0]


def _length(span: tuple[int, int]) -> int:
    return span[1] - span[0]


def _sharing(rows: Rows) -> tuple[Rows, NDArray[np.int64]]:
    """Return the rows that come most often, each once, and how often; not in order.

    Counted by remainders in a table, which takes a fraction of the time of sorting: a row may be counted too often,
    never too rarely.
    """
    size = 1 << max(12, (4 * len(rows)).bit_length())
    places = (rows & np.uint32(size - 1)).astype(np.int64)
    shares = np.bincount(places, minlength=size).take(places)
    kept = np.flatnonzero(shares >= _threshold(shares))
    rows, places, shares = rows[kept], places[kept], shares[kept]
    latest = np.zeros(size, np.int32)
    here = np.arange(len(rows), dtype=np.int32)
    latest[places] = here
    last = latest.take(places)
    kept = np.flatnonzero((last == here) | (rows.take(last) != rows))
    return rows[kept], shares[kept]


def _threshold(shares: NDArray[np.int64]) -> int:
    """Return how often a row must come so that enough are left, and not many more than ``MOST_SHARING``."""
    having = np.bincount(shares).tolist()
    total = 0
    for share in range(len(having) - 1, 0, -1):
        before, total = total, total + having[share] // share
        if total > MOST_SHARING:
            return share if before < MOST_ROWS else share + 1
    return 1


def _most(worth: NDArray[np.integer], count: int) -> NDArray[np.int64]:
    """Return the places of the ``count`` of most worth (0 and more, small), of equal ones the first."""
    from_top = np.cumsum(np.bincount(worth)[::-1])
    least = len(from_top) - 1 - int(np.searchsorted(from_top, count, side="right"))
    above = np.flatnonzero(worth > least)
    return np.concatenate([above, np.flatnonzero(worth == least)[: count - len(above)]])


_TABLE: Final = 1 << 16


def _both(rows: Rows, others: Rows) -> Rows:
    """Return the rows that are (or, by their remainder, could be) among ``others``."""
    marked = np.zeros(_TABLE, np.bool_)
    marked[others & np.uint32(_TABLE - 1)] = True
    return rows[marked.take(rows & np.uint32(_TABLE - 1))]


def _distinct(rows: NDArray[np.integer]) -> NDArray[np.int64]:
    """Return each of the rows once, ascending."""
    ordered = np.sort(rows).astype(np.int64)
    if not len(rows):
        return ordered
    is_new = np.ones(len(ordered), np.bool_)
    np.not_equal(ordered[1:], ordered[:-1], out=is_new[1:])
    return ordered[is_new]
