"""One question put to the stores: which rows match, which are a few slips away, and which are the best."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import code_of
from xref_app.search.candidates import Picker, sought
from xref_app.search.compact import FEWEST_LISTED, Compact
from xref_app.search.pattern import NumberPattern
from xref_app.search.pool import Pool, pooled
from xref_app.search.ranking import LOOK_ALIKE_COST, RankClass
from xref_app.search.slips import (
    GOES_ON_BEFORE,
    GOES_ON_BEHIND,
    NEVER,
    SLIP,
    CostTable,
    slips_allowed,
)

# A store with no more rows is looked through whole.
FEW_ROWS: Final = FEWEST_LISTED
# House rule: among so many numbers chance alone puts some near whatever is typed. What costs so much more than the
# nearest is then not offered.
MANY_NUMBERS: Final = 10_000
SPREAD_COST: Final = 5
# House rule: numbers with more letters and digits than any plate are compared only as far as this many cells go.
LONG: Final = 32
MOST_CELLS: Final = 2_000_000


class Ordered(NamedTuple):
    """Rows in the order of ranking: their places in the pool of ``table``, their classes and costs.

    Of whole numbers without a doubt (class ``EXACT``) some may be written with other separators. ``is_certain``: all
    match without a slip; ``is_cut``: there are more.
    """

    table: CostTable
    places: NDArray[np.int64]
    ranks: NDArray[np.int64]
    costs: NDArray[np.int64]
    is_certain: bool
    is_cut: bool

    def chunks(self) -> Iterator[tuple[RankClass, int, NDArray[np.int64]]]:
        """Yield each class and cost with the places of the rows that have it."""
        keys = self.ranks * GOES_ON_BEHIND + self.costs
        start = 0
        while start < len(keys):
            stop = int(np.searchsorted(keys, keys[start], side="right"))
            yield RankClass(int(self.ranks[start])), int(self.costs[start]), self.places[start:stop]
            start = stop


class Question:
    """One pattern put to some stores; ``wanted`` says per store which of its entries count, None for all."""

    def __init__(
        self, pattern: NumberPattern, stores: Sequence[Compact], wanted: Sequence[NDArray[np.bool_] | None]
    ) -> None:
        self._pattern, self._stores, self._wanted = pattern, stores, wanted
        self._are_many = sum(map(len, stores)) >= MANY_NUMBERS
        self._slips = slips_allowed(pattern, are_many=self._are_many)
        self._most_slips = slips_allowed(pattern, are_many=False)
        self._pickers = [Picker(store, sought(pattern.tokens, self._most_slips)) for store in stores]

    def outlined(self) -> Ordered:
        """Return the rows that match without a slip."""
        picked = [self._sure(store, picker) for store, picker in zip(self._stores, self._pickers, strict=True)]
        table = CostTable(self._pattern, self._pooled([rows for rows, _ in picked]), 0)
        places = np.flatnonzero(table.totals < NEVER)
        ranks, costs = self._ranked(table.pool, places, table.totals[places].astype(np.int64))
        order = np.lexsort((costs, ranks))
        is_cut = any(cut for _, cut in picked) or table.pool.is_cut
        return Ordered(table, places[order], ranks[order], costs[order], is_certain=True, is_cut=is_cut)

    def near(self) -> Ordered | None:
        """Return the rows one slip away, to follow those that match; None if no slip is allowed."""
        return self._slipped(1) if self._slips else None

    def nearest(self) -> Iterator[Ordered]:
        """Yield the rows some slips away when none matches; further away only when asked for more."""
        if self._slips:
            yield self._slipped(self._slips)
        if self._most_slips > self._slips:
            yield self._slipped(self._most_slips)

    def _slipped(self, slips: int) -> Ordered:
        """Return the rows one to ``slips`` slips away."""
        picked = [self._near(store, picker) for store, picker in zip(self._stores, self._pickers, strict=True)]
        table = CostTable(self._pattern, self._pooled(picked), slips)
        places = np.flatnonzero((table.totals >= SLIP) & (table.totals < (slips + 1) * SLIP))
        costs = (table.totals[places] % SLIP).astype(np.int64)
        if self._are_many and len(costs):
            worth = costs <= costs.min() + SPREAD_COST
            places, costs = places[worth], costs[worth]
        order = np.argsort(costs, kind="stable")
        ranks = np.full(len(places), int(RankClass.EDIT))
        return Ordered(table, places[order], ranks, costs[order], is_certain=False, is_cut=False)

    def _sure(self, store: Compact, picker: Picker) -> tuple[NDArray[np.int64], bool]:
        return (np.arange(len(store)), False) if len(store) <= FEW_ROWS else picker.sure()

    def _near(self, store: Compact, picker: Picker) -> NDArray[np.int64]:
        return picker.long_enough(np.arange(len(store))) if len(store) <= FEW_ROWS else picker.near()

    def _pooled(self, rows_of: Sequence[NDArray[np.int64]]) -> Pool:
        kept = [
            rows if wanted is None else rows[wanted[store.owners[rows]]]
            for rows, store, wanted in zip(rows_of, self._stores, self._wanted, strict=True)
        ]
        pool = pooled(self._stores, kept)
        cells = np.arange(1, len(pool) + 1) * (pool.lengths + 1) * (len(self._pattern.tokens) + 1)
        is_kept = (cells <= MOST_CELLS) | (pool.lengths <= LONG)
        return pool if is_kept.all() else pool.begin(int(is_kept.sum()))

    def _ranked(
        self, pool: Pool, places: NDArray[np.int64], totals: NDArray[np.int64]
    ) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return the class and the cost of each row; a whole one without a doubt is taken for exact."""
        pattern = self._pattern
        ranks = np.where(totals >= GOES_ON_BEFORE, int(RankClass.MIDDLE), int(RankClass.PREFIX))
        costs = totals % GOES_ON_BEHIND
        whole = totals < GOES_ON_BEHIND
        ranks[whole] = RankClass.EXACT if pattern.is_plain else RankClass.UNREADABLE
        if pattern.is_plain and whole.any():
            typed = np.array([code_of(token.chars) for token in pattern.tokens], np.uint8)[:, None]
            costs[whole] = (pool.codes[: len(typed), places[whole]] != typed).sum(axis=0) * LOOK_ALIKE_COST
            ranks[whole & (costs > 0)] = RankClass.LOOK_ALIKE
        return ranks, costs
