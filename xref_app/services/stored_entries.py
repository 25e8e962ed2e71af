"""The entries of a large store, read when they are asked for and held against the outline: no lost row goes unseen."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import chain
from threading import RLock
from typing import Final, Generic, TypeVar

import numpy as np

from xref_app.core.model.catalog import BlamedSize, Entry, number_to_call
from xref_app.search.index import NumberIndex
from xref_app.search.pattern import NumberPattern
from xref_app.services.doubts import Doubt, counted, doubting
from xref_app.services.outline import KINDS, Outline, hashed
from xref_app.services.said_table import SaidTable
from xref_app.services.sayings import SaidByField, said_by_field
from xref_app.store.entry_rows import DIGESTS, NO_ROWS, EntryReader, EntryRows, Moment, batched
from xref_app.store.errors import StoreError

V = TypeVar("V")

# A model is built in no more ways, and no more entries share one number (house rule).
_MOST_LIKE: Final = 100

# So many entries are kept in memory once they were read: a few lists of the most that are shown (house rule).
_MOST_KEPT: Final = 4_000


@dataclass(frozen=True)
class _Kept:
    """What was read so far; any thread may use it."""

    rows: OrderedDict[str, EntryRows] = field(default_factory=OrderedDict)
    damaged: set[str] = field(default_factory=set)
    using: RLock = field(default_factory=RLock)


class StoredEntries:
    """Every entry that is not withdrawn, by id.

    ``outline`` is that of the moment it was made at, and ``changes`` hold what was changed since. What the store gives
    is compared with the outline: an entry that has other rows than the outline was made of is damaged, unless the
    history says that somebody changed it since.
    """

    def __init__(
        self,
        reader: EntryReader,
        outline: Outline,
        moment: Moment,
        index: NumberIndex,
        changes: Mapping[str, EntryRows] | None = None,
    ) -> None:
        self._reader, self._moment, self._index = reader, moment, index
        self.outline = outline
        self.changes: Mapping[str, EntryRows] = changes or {}
        self.doubts: Mapping[str, tuple[Doubt, ...]] = {}
        self._kept = _Kept()

    def after(self, entry_ids: Collection[str], blamed: Iterable[BlamedSize] = ()) -> StoredEntries:
        """Return the entries as they are now that ``entry_ids`` were changed, added or withdrawn.

        What is damaged stays so: to read it again heals nothing. An entry with sizes in doubt counts as changed, for
        what the outline says of it holds no more; ``blamed`` are all sizes that are blamed now.
        """
        suspect = doubting(blamed)
        read = self._reader.read({*entry_ids, *self.doubts, *suspect})
        rows, doubts = dict(read), {}
        for one in suspect:
            count = counted(read[one].observations, read[one].ports, suspect[one])
            rows[one] = replace(read[one], observations=count.observations, ports=count.ports)
            if count.doubts:
                doubts[one] = count.doubts
        changes = {**self.changes, **rows}
        fresh = StoredEntries(self._reader, self.outline, self._moment, self._index, changes)
        fresh.doubts = doubts
        fresh._kept.damaged.update(self._kept.damaged, self._really_damaged(read))
        return fresh

    # -- one entry

    def __contains__(self, entry_id: object) -> bool:
        if not isinstance(entry_id, str):
            return False
        changed = self.changes.get(entry_id)
        if changed is not None:
            return changed.entry is not None or entry_id in self._kept.damaged
        return self.outline.ids.place(entry_id) is not None

    def rows(self, entry_id: str) -> EntryRows:
        """Return what is known of an entry; nothing where there is none."""
        return self.read([entry_id])[entry_id]

    def entry(self, entry_id: str) -> Entry | None:
        """Return an entry; of one whose own row is damaged no more than its kind is told."""
        found = self.rows(entry_id).entry
        if found is None and entry_id in self:
            return Entry(entry_id, self.kind(entry_id), "", "")
        return found

    def kind(self, entry_id: str) -> str:
        """Return the kind of an entry; empty where that cannot be told."""
        changed = self.changes.get(entry_id)
        if changed is not None:
            return changed.entry.kind if changed.entry else ""
        place = self.outline.ids.place(entry_id)
        return "" if place is None else KINDS[self.outline.kinds[place]]

    def read(self, entry_ids: Iterable[str]) -> Mapping[str, EntryRows]:
        """Return what is known of each of ``entry_ids``; reading many at once is faster than one by one."""
        found: dict[str, EntryRows] = {}
        kept = self._kept
        with kept.using:
            for one in dict.fromkeys(entry_ids):
                changed = self.changes.get(one)
                if changed is not None:
                    found[one] = changed
                elif one in kept.rows:
                    kept.rows.move_to_end(one)
                    found[one] = kept.rows[one]
                elif one not in self:
                    found[one] = NO_ROWS
                else:
                    found[one] = _WANTED
            wanted = [one for one, rows in found.items() if rows is _WANTED]
            if wanted:
                found.update(self._read_now(wanted))
        return found

    def _read_now(self, entry_ids: Collection[str]) -> Mapping[str, EntryRows]:
        read = self._reader.read(entry_ids)
        self._kept.damaged.update(self._really_damaged(read))
        self._kept.rows.update(read)
        while len(self._kept.rows) > max(_MOST_KEPT, len(read)):
            self._kept.rows.popitem(last=False)
        return read

    def _really_damaged(self, read: Mapping[str, EntryRows]) -> list[str]:
        """Return the entries whose rows are not those that the outline, and the history since then, make."""
        outlined = {one: self.outline.digest(one) for one in read}
        doubtful = [one for one, rows in read.items() if rows.damaged or rows.digest != outlined[one]]
        if not doubtful:
            return []
        try:
            since = self._reader.digests_since(self._moment)
        except StoreError:
            since = None
        if since is None:  # nothing that can be read explains it
            return doubtful
        return [
            one
            for one in doubtful
            if read[one].damaged or read[one].digest != (outlined[one] + since.get(one, 0)) % DIGESTS
        ]

    # -- all of them

    def ids(self) -> Iterator[str]:
        """Yield the id of every entry."""
        there = (one for one in self.outline.ids if one not in self.changes)
        return chain(there, (one for one in self.changes if one in self))

    def ids_of(self, kind: str) -> Iterator[str]:
        """Yield the ids of the entries of one kind in the order of their numbers, changed ones behind the others."""
        places = self.outline.places_of(kind)
        there = (one for place in places if (one := self.outline.ids[int(place)]) not in self.changes)
        return chain(there, (one for one in self.changes if one in self and self.kind(one) == kind))

    def said(self, kind: str) -> tuple[tuple[str, ...], SaidTable]:
        """Return the ids of the entries of a kind, and what is said of each; changed ones stand behind the others."""
        places = self.outline.places_of(kind)
        ids = [self.outline.ids[int(place)] for place in places]
        table = self.outline.said[kind]
        if not self.changes:
            return tuple(ids), table
        kept = np.array([at for at, one in enumerate(ids) if one not in self.changes], np.intp)
        more = [(one, rows) for one, rows in self.changes.items() if rows.entry is not None and rows.entry.kind == kind]
        more.sort(key=lambda one: (number_to_call(one[0], one[1].numbers), one[0]))
        added: list[SaidByField] = [said_by_field(rows.observations, rows.ports) for _, rows in more]
        return (*(ids[at] for at in kept), *(one for one, _ in more)), table.picked(kept).changed({}, added)

    def builds_of(self, model: str) -> list[str]:
        """Return the ids of the machines of this model."""
        return self._machines(self.outline.models, model, lambda rows: rows.machine.model if rows.machine else "")

    def may_lack_builds(self, model: str) -> bool:
        """Say whether a machine of this model may be there whose own row cannot be read."""
        places = np.flatnonzero(self.outline.models == np.uint64(hashed(model)))
        ids = [self.outline.ids[int(place)] for place in places]
        return any(rows.machine is None and one in self._kept.damaged for one, rows in self.read(ids).items())

    def machines_with(self, pump_id: str) -> list[str]:
        """Return the ids of the machines that came with this pump."""
        return self._machines(self.outline.pumps, pump_id, lambda rows: rows.machine.pump_id if rows.machine else "")

    def machines_driven_by(self, driver_id: str) -> list[str]:
        """Return the ids of the machines that this engine or motor drives."""
        told = self.outline.drivers
        return self._machines(told, driver_id, lambda rows: rows.machine.driver_id if rows.machine else "")

    def numbered_like(self, pattern: NumberPattern) -> list[str]:
        """Return the ids of entries that have nearly this number, those most like it first."""
        if not pattern.tokens:
            return []
        return [hit.entry_id for hit in self._index.find(pattern, limit=_MOST_LIKE).hits if hit.entry_id in self]

    def _machines(
        self, column: np.ndarray[tuple[int], np.dtype[np.uint64]], text: str, told: Callable[[EntryRows], str]
    ) -> list[str]:
        places = np.flatnonzero(column == np.uint64(hashed(text)))
        ids = [self.outline.ids[int(place)] for place in places] + list(self.changes)
        return sorted(one for one, rows in self.read(ids).items() if told(rows) == text)

    # -- damage

    def damaged(self, entry_ids: Iterable[str]) -> bool:
        """Say whether something known of one of ``entry_ids`` may be missing."""
        asked = list(entry_ids)
        self.read(asked)
        return not self._kept.damaged.isdisjoint(asked)

    def known_damaged(self) -> frozenset[str]:
        """Return the entries found damaged so far."""
        return frozenset(self._kept.damaged)

    def __len__(self) -> int:
        gone = sum(1 for one in self.changes if self.outline.ids.place(one) is not None)
        return len(self.outline.ids) - gone + sum(1 for one in self.changes if one in self)


_WANTED: Final = EntryRows(digest=-1)


class StoredView(Mapping[str, V], Generic[V]):
    """One kind of row by entry, out of the store; with ``kind`` only of the entries of that kind."""

    def __init__(self, entries: StoredEntries, pick: Callable[[str, EntryRows], V | None], *, kind: str = "") -> None:
        self.entries, self._pick, self._kind = entries, pick, kind

    def __getitem__(self, entry_id: str) -> V:
        found = self._pick(entry_id, self.entries.rows(entry_id)) if self._may_have(entry_id) else None
        if found is None:
            raise KeyError(entry_id)
        return found

    def __contains__(self, entry_id: object) -> bool:
        # Whether an entry is there is known without reading it; whether a machine has the row of one is not.
        return self._may_have(entry_id) and (not self._kind or self.get(str(entry_id)) is not None)

    def _may_have(self, entry_id: object) -> bool:
        return entry_id in self.entries and self._kind in ("", self.entries.kind(str(entry_id)))

    def __iter__(self) -> Iterator[str]:
        all_ids = self.entries.ids_of(self._kind) if self._kind else self.entries.ids()
        for ids in batched(tuple(all_ids)):
            read = self.entries.read(ids)
            yield from (one for one in ids if self._pick(one, read[one]) is not None)

    def __len__(self) -> int:
        return sum(1 for _ in self) if self._kind else len(self.entries)
