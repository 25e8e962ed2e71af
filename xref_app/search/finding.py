"""One question put to the stores: which rows match, which are a few slips away, and which are the best."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alignment import Reach
from xref_app.search.alphabet import code_of
from xref_app.search.candidates import Picker, sought
from xref_app.search.compact import Compact
from xref_app.search.filed import FiledNumber
from xref_app.search.matching import Matcher
from xref_app.search.pattern import NumberPattern, TokenKind
from xref_app.search.pool import Pool, pooled
from xref_app.search.ranking import (
    EITHER_COST,
    GOES_ON_BEFORE_COST,
    GOES_ON_BEHIND_COST,
    LEFT_OVER_COST,
    LOOK_ALIKE_COST,
    RUN_COST,
    UNREADABLE_COST,
    WRONG_COST,
    RankClass,
)
from xref_app.search.row_automaton import MOST_TOKENS, Reached, RowAutomaton
from xref_app.search.slips import SLIP, SlipTable, slips_allowed

# House rule, measured: the slips of so many rows are weighed; more finds hardly more.
MOST_WEIGHED: Final = 192
# So many rows are judged one by one for how far the pattern reaches.
MOST_JUDGED: Final = 400
# A store with fewer rows is looked through whole.
FEW_ROWS: Final = 1_500


class Outlined(NamedTuple):
    """Rows that match without a slip, best first; class and cost are the best they could reach."""

    pool: Pool
    ranks: NDArray[np.int64]
    costs: NDArray[np.int64]
    is_cut: bool


class Near(NamedTuple):
    """Rows some slips away, best first, with what they cost."""

    pool: Pool
    table: SlipTable
    places: NDArray[np.int64]
    costs: NDArray[np.int64]


class Question:
    """One pattern put to some stores; ``wanted`` says per store which of its entries count, None for all."""

    def __init__(
        self, pattern: NumberPattern, stores: Sequence[Compact], wanted: Sequence[NDArray[np.bool_] | None]
    ) -> None:
        self._pattern, self._stores, self._wanted = pattern, stores, wanted
        self._matcher = Matcher(pattern)
        self._slips = slips_allowed(pattern)
        self._unreadable = pattern.count(TokenKind.UNREADABLE)
        self._pickers = [Picker(store, sought(pattern.tokens, self._slips)) for store in stores]
        self._automaton = RowAutomaton(pattern.tokens) if len(pattern.tokens) <= MOST_TOKENS else None

    def outlined(self) -> Outlined:
        """Return the rows that match without a slip."""
        picked = [self._sure(store, picker) for store, picker in zip(self._stores, self._pickers, strict=True)]
        pool = self._pooled([rows for rows, _ in picked])
        is_cut = any(cut for _, cut in picked)
        reached, is_sure = self._reached(pool)
        is_cut = is_cut or not is_sure
        matching = np.flatnonzero(reached.middle)
        pool, reached = pool.only(matching), Reached(*(flags[matching] for flags in reached))
        ranks, costs = self._bounds(pool, reached)
        order = np.lexsort((costs, ranks))
        return Outlined(pool.only(order), ranks[order], costs[order], is_cut)

    def _reached(self, pool: Pool) -> tuple[Reached, bool]:
        """Return how far the pattern reaches in each row, and whether that is sure for all."""
        if self._automaton is None:
            return self._judged(pool, Reached(*np.zeros((3, len(pool)), np.bool_)), np.arange(len(pool)))
        nowhere = np.zeros_like(pool.separated)
        (reached,) = self._automaton.reached(pool.codes, pool.lengths, nowhere, 0)
        if not self._unreadable or not pool.separated.any():
            return reached, True
        (perhaps,) = self._automaton.reached(pool.codes, pool.lengths, pool.separated, 0)
        unsure = (
            (perhaps.whole != reached.whole) | (perhaps.prefix != reached.prefix) | (perhaps.middle != reached.middle)
        )
        return self._judged(pool, reached, np.flatnonzero(unsure))

    def _judged(self, pool: Pool, reached: Reached, unsure: NDArray[np.int64]) -> tuple[Reached, bool]:
        """Return ``reached`` with the first of the ``unsure`` judged one by one, and whether those were all."""
        for place in unsure[:MOST_JUDGED].tolist():
            outline = self._matcher.outline(FiledNumber.of(pool.row(place)))
            if outline:
                reached.whole[place] = outline.reach is Reach.WHOLE
                reached.prefix[place] = outline.reach is not Reach.MIDDLE
                reached.middle[place] = True
        return reached, len(unsure) <= MOST_JUDGED

    def near(self) -> Near | None:
        """Return the rows up to the slips allowed away, without those that match; None if no slip is allowed."""
        if not self._slips:
            return None
        picked = [self._near(store, picker) for store, picker in zip(self._stores, self._pickers, strict=True)]
        pool = self._pooled(picked)
        if self._automaton is not None:
            levels = self._automaton.reached(pool.codes, pool.lengths, pool.separated, self._slips)
            pool = pool.only(self._closest(pool, levels))
        separators = pool.separators() if self._unreadable else None
        table = SlipTable(self._pattern.tokens, pool.codes, pool.lengths, separators)
        slips, costs = table.totals // SLIP, (table.totals % SLIP).astype(np.int64)
        places = np.flatnonzero((slips > 0) & (slips <= self._slips))
        places = places[np.argsort(costs[places], kind="stable")]
        return Near(pool, table, places, costs[places])

    def _sure(self, store: Compact, picker: Picker) -> tuple[NDArray[np.int64], bool]:
        return (np.arange(len(store)), False) if len(store) <= FEW_ROWS else picker.sure()

    def _near(self, store: Compact, picker: Picker) -> NDArray[np.int64]:
        return np.arange(len(store)) if len(store) <= FEW_ROWS else picker.near()

    def _pooled(self, rows_of: Sequence[NDArray[np.int64]]) -> Pool:
        kept = [
            rows if wanted is None else rows[wanted[store.owners[rows]]]
            for rows, store, wanted in zip(rows_of, self._stores, self._wanted, strict=True)
        ]
        return pooled(self._stores, kept)

    def _bounds(self, pool: Pool, reached: Reached) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return the class and cost that each row cannot beat."""
        pattern = self._pattern
        whole = RankClass.EXACT if pattern.is_plain else RankClass.UNREADABLE
        ranks = np.where(reached.prefix, RANK_OF_PREFIX, RANK_OF_MIDDLE)
        ranks[reached.whole] = whole
        left = np.maximum(0, pool.lengths - len(pattern.tokens) + pattern.count(TokenKind.RUN))
        costs = left * np.where(reached.whole, RUN_COST, LEFT_OVER_COST)
        costs += pattern.count(TokenKind.UNREADABLE) * UNREADABLE_COST + pattern.count(TokenKind.EITHER) * EITHER_COST
        if pattern.is_plain and len(pool):
            typed = np.array([code_of(token.chars) for token in pattern.tokens], np.uint8)
            looks = (pool.codes[:, : len(typed)] != typed[: pool.codes.shape[1]]).sum(axis=1)
            costs += np.where(reached.prefix, looks * LOOK_ALIKE_COST, 0)
            ranks[reached.whole & (looks > 0)] = RankClass.LOOK_ALIKE
        return ranks, costs

    def _closest(self, pool: Pool, levels: list[Reached]) -> NDArray[np.int64]:
        """Return the rows whose slips are worth weighing: none without a slip, fewest slips first."""
        left = np.maximum(0, pool.lengths - len(self._pattern.tokens)) * LEFT_OVER_COST
        costs = np.full(len(pool), 1 << 20, np.int64)
        for slips in range(len(levels) - 1, 0, -1):
            level = levels[slips]
            costs[level.middle] = slips * WRONG_COST + GOES_ON_BEFORE_COST + left[level.middle]
            costs[level.prefix] = slips * WRONG_COST + GOES_ON_BEHIND_COST + left[level.prefix]
            costs[level.whole] = slips * WRONG_COST
        if not self._unreadable:
            costs[levels[0].middle] = 1 << 20
        worth = np.flatnonzero(costs < 1 << 20)
        if len(worth) > MOST_WEIGHED:
            worth = worth[np.argpartition(costs[worth], MOST_WEIGHED)[:MOST_WEIGHED]]
        return np.sort(worth)


RANK_OF_PREFIX: Final = int(RankClass.PREFIX)
RANK_OF_MIDDLE: Final = int(RankClass.MIDDLE)


def chunks(costs: NDArray[np.int64], least: int) -> Iterator[slice]:
    """Yield the places of ``costs`` (ascending) in pieces of at least ``least``, none ending between equals."""
    start = 0
    while start < len(costs):
        stop = int(np.searchsorted(costs, costs[min(start + least, len(costs)) - 1], side="right"))
        yield slice(start, stop)
        start = stop
