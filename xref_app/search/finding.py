"""One question put to the stores: which rows match, which are a few slips away, and which are the best."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import code_of
from xref_app.search.candidates import Picker, sought
from xref_app.search.compact import FEWEST_LISTED, Compact
from xref_app.search.pattern import NumberPattern, TokenKind
from xref_app.search.pool import Pool, pooled
from xref_app.search.ranking import LOOK_ALIKE_COST, RankClass
from xref_app.search.slips import (
    GOES_ON_BEFORE,
    GOES_ON_BEHIND,
    NEVER,
    SLIP,
    CostTable,
    Lines,
    slips_allowed,
)

# A store with no more rows is looked through whole.
FEW_ROWS: Final = FEWEST_LISTED


class Outlined(NamedTuple):
    """Rows that match without a slip, best first."""

    pool: Pool
    ranks: NDArray[np.int64]
    costs: NDArray[np.int64]
    is_cut: bool


class Near(NamedTuple):
    """Rows some slips away: the places in the pool, best first, with what they cost."""

    pool: Pool
    table: CostTable
    places: NDArray[np.int64]
    costs: NDArray[np.int64]


class Question:
    """One pattern put to some stores; ``wanted`` says per store which of its entries count, None for all."""

    def __init__(
        self, pattern: NumberPattern, stores: Sequence[Compact], wanted: Sequence[NDArray[np.bool_] | None]
    ) -> None:
        self._pattern, self._stores, self._wanted = pattern, stores, wanted
        self._slips = slips_allowed(pattern)
        self._needs_separators = bool(pattern.parted) or pattern.count(TokenKind.UNREADABLE) > 0
        self._pickers = [Picker(store, sought(pattern.tokens, self._slips)) for store in stores]

    def outlined(self) -> Outlined:
        """Return the rows that match without a slip."""
        picked = [self._sure(store, picker) for store, picker in zip(self._stores, self._pickers, strict=True)]
        pool = self._pooled([rows for rows, _ in picked])
        totals = CostTable(self._pattern, self._lines(pool), 0).totals
        matching = np.flatnonzero(totals < NEVER)
        pool, totals = pool.only(matching), totals[matching].astype(np.int64)
        ranks, costs = self._ranked(pool, totals)
        order = np.lexsort((costs, ranks))
        return Outlined(pool.only(order), ranks[order], costs[order], any(cut for _, cut in picked))

    def near(self, *, most_slips: int) -> Near | None:
        """Return the rows up to ``most_slips`` away, without those that match; None if no slip is allowed.

        When a row is one slip away, those that are two away are nobody's question.
        """
        slips = min(self._slips, most_slips)
        if not slips:
            return None
        picked = [self._near(store, picker) for store, picker in zip(self._stores, self._pickers, strict=True)]
        pool = self._pooled(picked)
        table = CostTable(self._pattern, self._lines(pool), slips)
        made = table.totals // SLIP
        least = int(made.min(initial=slips, where=made > 0))
        places = np.flatnonzero((made > 0) & (made <= min(least + 1, slips)))
        costs = (table.totals[places] % SLIP).astype(np.int64)
        order = np.argsort(costs, kind="stable")
        return Near(pool, table, places[order], costs[order])

    def _lines(self, pool: Pool) -> Lines:
        return Lines(pool.codes, pool.lengths, pool.separated() if self._needs_separators else None)

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

    def _ranked(self, pool: Pool, totals: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return the class and the cost of each row; a whole one without a doubt is taken for exact."""
        pattern = self._pattern
        ranks = np.where(totals >= GOES_ON_BEFORE, int(RankClass.MIDDLE), int(RankClass.PREFIX))
        costs = totals % GOES_ON_BEHIND
        whole = totals < GOES_ON_BEHIND
        ranks[whole] = RankClass.EXACT if pattern.is_plain else RankClass.UNREADABLE
        if pattern.is_plain and whole.any():
            typed = np.array([code_of(token.chars) for token in pattern.tokens], np.uint8)[:, None]
            costs[whole] = (pool.codes[: len(typed), whole] != typed).sum(axis=0) * LOOK_ALIKE_COST
            ranks[whole & (costs > 0)] = RankClass.LOOK_ALIKE
        return ranks, costs


def chunks(costs: NDArray[np.int64], least: int) -> Iterator[slice]:
    """Yield the places of ``costs`` (ascending) in pieces of at least ``least``, none ending between equals."""
    start = 0
    while start < len(costs):
        stop = int(np.searchsorted(costs, costs[min(start + least, len(costs)) - 1], side="right"))
        yield slice(start, stop)
        start = stop
