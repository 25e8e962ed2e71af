"""The stores of an index: one large, a few small ones of what was added since, and what is struck out of them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.search.compact import LONGEST_FILED, Compact, all_rows, compact
from xref_app.search.filed import NumberRow

# House rules: so many added numbers are put into a new store at each question; a full one is kept.
_FULL: Final = 512
# A store is put together with the one before it if that is not so many times larger.
_TIMES_LARGER: Final = 4


@dataclass(frozen=True, slots=True)
class Snapshot:
    """Stores at one moment, and what was struck out of them."""

    stores: tuple[Compact, ...]
    struck: tuple[NDArray[np.bool_] | None, ...]

    def put_together(self) -> Compact:
        """Return one store of all. Takes seconds for a million entries: work for the background."""
        if len(self.stores) == 1 and self.struck[0] is None:
            return self.stores[0]
        return compact([row for pair in zip(self.stores, self.struck, strict=True) for row in _left(*pair)])


class Stores:
    """Numbers that can be added and struck out."""

    def __init__(
        self, rows: Sequence[NumberRow] = (), *, opened: Compact | None = None, overlong: Iterable[NumberRow] = ()
    ) -> None:
        self._kept: list[Compact] = []
        self._struck: list[NDArray[np.bool_] | None] = []
        self._added: list[NumberRow] = []
        self._latest: Compact | None = None
        self._is_taken = False
        self.overlong: list[NumberRow] = [*overlong, *(row for row in rows if len(row.text) > LONGEST_FILED)]
        if opened is not None:
            self._keep(opened)
        elif rows:
            self._keep(compact([row for row in rows if len(row.text) <= LONGEST_FILED] if self.overlong else rows))

    def __len__(self) -> int:
        filed = sum(
            len(store) if struck is None else int((~struck)[store.owners].sum())
            for store, struck in zip(self._kept, self._struck, strict=True)
        )
        return filed + len(self._added) + len(self.overlong)

    def add(self, row: NumberRow) -> None:
        """File one more number."""
        if len(row.text) > LONGEST_FILED:
            self.overlong.append(row)
            return
        self._added.append(row)
        self._latest = None
        if len(self._added) >= _FULL:
            self._keep(compact(self._added))
            self._added = []
            if not self._is_taken:
                self._put_together()

    def remove(self, entry_id: str) -> None:
        """Strike out all numbers of ``entry_id``; one that is not there is no fault."""
        for place, store in enumerate(self._kept):
            owner = store.owner_of(entry_id)
            if owner is not None:
                struck = self._struck[place]
                if struck is None:
                    struck = self._struck[place] = np.zeros(store.entries, np.bool_)
                struck[owner] = True
        if any(row.entry_id == entry_id for row in self._added):
            self._added = [row for row in self._added if row.entry_id != entry_id]
            self._latest = None
        self.overlong = [row for row in self.overlong if row.entry_id != entry_id]

    def all(self) -> list[Compact]:
        """Return the stores to be searched."""
        if self._added and self._latest is None:
            self._latest = compact(self._added)
        return [*self._kept, *([self._latest] if self._added and self._latest else ())]

    def wanted(self, kinds: Collection[str] | None) -> list[NDArray[np.bool_] | None]:
        """Return per store which of its entries count; None for all."""
        struck = [*self._struck, *([None] if self._added else ())]
        return [_wanted(store, out, kinds) for store, out in zip(self.all(), struck, strict=True)]

    def rows(self) -> Iterator[NumberRow]:
        """Yield every number that is not struck out."""
        for store, struck in zip(self._kept, self._struck, strict=True):
            yield from _left(store, struck)
        yield from self._added
        yield from self.overlong

    def snapshot(self) -> Snapshot:
        """Return what is filed now, to be put together elsewhere while this goes on changing."""
        if self._added:
            self._keep(compact(self._added))
            self._added = []
        self._is_taken = True
        return Snapshot(tuple(self._kept), tuple(None if one is None else one.copy() for one in self._struck))

    def replace(self, taken: Snapshot, fresh: Compact) -> None:
        """Put ``fresh``, made of ``taken``, in the place of its stores; what changed since stays changed."""
        self._is_taken = False
        gone = set(map(id, taken.stores))
        since = [(store, now) for store, now in zip(self._kept, self._struck, strict=True) if id(store) in gone]
        later = [(store, now) for store, now in zip(self._kept, self._struck, strict=True) if id(store) not in gone]
        struck: NDArray[np.bool_] | None = None
        for (store, now), before in zip(since, taken.struck, strict=True):
            for owner in () if now is None else np.flatnonzero(now if before is None else now & ~before).tolist():
                place = fresh.owner_of(store.entry_id(owner))
                if place is not None:
                    struck = np.zeros(fresh.entries, np.bool_) if struck is None else struck
                    struck[place] = True
        self._kept = [fresh, *(store for store, _ in later)]
        self._struck = [struck, *(now for _, now in later)]

    def _keep(self, store: Compact) -> None:
        self._kept.append(store)
        self._struck.append(None)

    def _put_together(self) -> None:
        """Put the last stores together while they are of like size, so that there are never many."""
        while len(self._kept) > 2 and len(self._kept[-2]) < _TIMES_LARGER * len(self._kept[-1]):
            rows = [row for place in (-2, -1) for row in _left(self._kept[place], self._struck[place])]
            del self._kept[-2:], self._struck[-2:]
            self._keep(compact(rows))


def _left(store: Compact, struck: NDArray[np.bool_] | None) -> Iterator[NumberRow]:
    if struck is None or not struck.any():
        yield from all_rows(store)
        return
    kept = (~struck)[store.owners].tolist()
    for row, is_kept in zip(all_rows(store), kept, strict=True):
        if is_kept:
            yield row


def _wanted(
    store: Compact, struck: NDArray[np.bool_] | None, kinds: Collection[str] | None
) -> NDArray[np.bool_] | None:
    if kinds is None:
        return None if struck is None else ~struck
    places = [place for place, kind in enumerate(store.kinds) if kind in kinds]
    wanted = np.isin(store.kind_of, places)
    return wanted if struck is None else wanted & ~struck
