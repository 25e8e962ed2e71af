"""Rows of several stores side by side, ready to be compared at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from xref_app.search.compact import Compact
from xref_app.search.filed import NumberRow
from xref_app.search.folding import SEPARATOR, glyphs


@dataclass(frozen=True, slots=True)
class Pool:
    """Rows in ascending order of length, and within a length and store of text.

    Attributes:
        stores: where the rows come from.
        store_at: the place in ``stores``, per row.
        rows: the row there.
        owners: the place of the entry there.
        lengths: how many letters and digits.
        codes: shape (rows, width), ``END`` behind each.
        separated: whether the text may hold separators.
    """

    stores: Sequence[Compact]
    store_at: NDArray[np.int64]
    rows: NDArray[np.int64]
    owners: NDArray[np.int64]
    lengths: NDArray[np.int64]
    codes: NDArray[np.uint8]
    separated: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.rows)

    def only(self, which: NDArray[np.integer] | NDArray[np.bool_]) -> Pool:
        """Return the pool of these rows."""
        return Pool(
            self.stores, self.store_at[which], self.rows[which], self.owners[which], self.lengths[which],
            self.codes[which], self.separated[which],
        )  # fmt: skip

    def text(self, place: int) -> str:
        """Return the number as written."""
        return self.stores[int(self.store_at[place])].text(int(self.rows[place]))

    def row(self, place: int) -> NumberRow:
        """Return the number with its entry."""
        return self.stores[int(self.store_at[place])].row(int(self.rows[place]))

    def separators(self) -> NDArray[np.bool_]:
        """Return whether a separator stands before each place, or behind the last; shape (rows, width + 1)."""
        found = np.zeros((len(self), self.codes.shape[1] + 1), np.bool_)
        for place in np.flatnonzero(self.separated).tolist():
            count = 0
            for glyph in glyphs(self.text(place)):
                if glyph.plain == SEPARATOR:
                    found[place, count] = True
                else:
                    count += 1
        return found


def pooled(stores: Sequence[Compact], rows_of: Sequence[NDArray[np.int64]]) -> Pool:
    """Return the pool of ``rows_of[i]`` (ascending) of ``stores[i]``."""
    lengths = [store.lengths_of(rows) for store, rows in zip(stores, rows_of, strict=True)]
    width = max((int(one[-1]) for one in lengths if len(one)), default=0)
    parts = list(zip(stores, rows_of, lengths, strict=True))
    pool = Pool(
        stores,
        np.repeat(np.arange(len(stores)), [len(rows) for rows in rows_of]),
        np.concatenate([*rows_of, np.zeros(0, np.int64)]),
        np.concatenate([*(store.owners[rows].astype(np.int64) for store, rows, _ in parts), np.zeros(0, np.int64)]),
        np.concatenate([*lengths, np.zeros(0, np.int64)]),
        np.concatenate(
            [*(store.codes_at(rows, one, width) for store, rows, one in parts), np.zeros((0, width), np.uint8)]
        ),
        np.concatenate([*(store.has_separators(rows, one) for store, rows, one in parts), np.zeros(0, np.bool_)]),
    )
    return pool if len(stores) < 2 else pool.only(np.argsort(pool.lengths, kind="stable"))
