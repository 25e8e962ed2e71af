"""Rows of several stores side by side, ready to be compared at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from xref_app.search.compact import NOTED_PLACES, Compact, separator_bits
from xref_app.search.filed import NumberRow

FEW_PLACES = 40


@dataclass(frozen=True, slots=True)
class Pool:
    """Rows in ascending order of length, and within a length and store of text.

    Attributes:
        stores: where the rows come from.
        store_at: the place in ``stores``, per row.
        rows: the row there.
        owners: the place of the entry there.
        lengths: how many letters and digits.
        codes: shape (width, rows), ``END`` behind each.
        separators: bit p set if a separator stands before the place p.
        is_cut: there were more, longer ones.
    """

    stores: Sequence[Compact]
    store_at: NDArray[np.int64]
    rows: NDArray[np.int64]
    owners: NDArray[np.int64]
    lengths: NDArray[np.int64]
    codes: NDArray[np.uint8]
    separators: NDArray[np.uint32]
    is_cut: bool = False

    def __len__(self) -> int:
        return len(self.rows)

    def only(self, which: NDArray[np.integer] | NDArray[np.bool_]) -> Pool:
        """Return the pool of these rows."""
        return Pool(
            self.stores, self.store_at[which], self.rows[which], self.owners[which], self.lengths[which],
            self.codes[:, which], self.separators[which],
        )  # fmt: skip

    def begin(self, count: int) -> Pool:
        """Return the pool of the first ``count`` rows, the shortest."""
        pool = self.only(np.arange(count))
        return replace(pool, codes=pool.codes[: int(pool.lengths.max(initial=0))], is_cut=True)

    def text(self, place: int) -> str:
        """Return the number as written."""
        return self.stores[int(self.store_at[place])].text(int(self.rows[place]))

    def row(self, place: int) -> NumberRow:
        """Return the number with its entry."""
        return self.stores[int(self.store_at[place])].row(int(self.rows[place]))

    def by_text(self, places: NDArray[np.int64]) -> Iterator[list[int]]:
        """Yield ``places`` in pieces, the texts of one before those of the next, though not in order within."""
        if len(places) <= FEW_PLACES:
            yield places.tolist()
            return
        begins = np.concatenate(
            [store.begins(self.rows[places[self.store_at[places] == at]]) for at, store in enumerate(self.stores)]
        )
        places = np.concatenate([places[self.store_at[places] == at] for at in range(len(self.stores))])
        order = np.argsort(begins, kind="stable")
        begins, places = begins[order], places[order]
        start = 0
        while start < len(places):
            last = begins[min(start + FEW_PLACES, len(places)) - 1]
            stop = int(np.searchsorted(begins, last, side="right"))
            yield places[start:stop].tolist()
            start = stop

    def separated(self) -> NDArray[np.bool_]:
        """Return whether a separator stands before each place, or behind the last; shape (width + 1, rows)."""
        places = np.arange(len(self.codes) + 1, dtype=np.uint32)[:, None]
        found: NDArray[np.bool_] = (self.separators >> np.minimum(places, NOTED_PLACES - 1)) & np.uint32(1) != 0
        found[NOTED_PLACES:] = False
        for place in np.flatnonzero(self.lengths >= NOTED_PLACES).tolist():
            bits = separator_bits(self.text(place))
            found[:, place] = [bits >> at & 1 for at in range(len(found))]
        return found


def pooled(stores: Sequence[Compact], rows_of: Sequence[NDArray[np.int64]]) -> Pool:
    """Return the pool of ``rows_of[i]`` (ascending) of ``stores[i]``."""
    parts = [(at, store, rows) for at, (store, rows) in enumerate(zip(stores, rows_of, strict=True)) if len(rows)]
    pools = [_of_one(stores, *part) for part in parts]
    if len(pools) == 1:
        return pools[0]
    width = max((len(pool.codes) for pool in pools), default=0)
    pool = Pool(
        stores,
        np.concatenate([_NOTHING, *(pool.store_at for pool in pools)]),
        np.concatenate([_NOTHING, *(pool.rows for pool in pools)]),
        np.concatenate([_NOTHING, *(pool.owners for pool in pools)]),
        np.concatenate([_NOTHING, *(pool.lengths for pool in pools)]),
        np.concatenate([np.zeros((width, 0), np.uint8), *(_widened(pool.codes, width) for pool in pools)], axis=1),
        np.concatenate([np.zeros(0, np.uint32), *(pool.separators for pool in pools)]),
    )
    return pool.only(np.argsort(pool.lengths, kind="stable"))


def _widened(codes: NDArray[np.uint8], width: int) -> NDArray[np.uint8]:
    return np.pad(codes, ((0, width - len(codes)), (0, 0)))


def _of_one(stores: Sequence[Compact], at: int, store: Compact, rows: NDArray[np.int64]) -> Pool:
    lengths = store.lengths_of(rows)
    codes = store.codes_at(rows, lengths, int(lengths[-1]))
    owners, separators = store.owners[rows].astype(np.int64), store.separators[rows]
    return Pool(stores, np.full(len(rows), at), rows, owners, lengths, codes, separators)


_NOTHING = np.zeros(0, np.int64)
