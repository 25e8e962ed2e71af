"""What is known of very many entries, as columns of small numbers: every distinct value is written down once."""

from __future__ import annotations

from array import array
from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.core.model.known import Known

Versions = tuple[Known, ...]

# What entries are sorted by: the same for the same entry, and for no two.
Order = Callable[[str], tuple[str, ...]]

NOTHING_KNOWN: Final = 0
"""The number of an entry of which nothing is known in a field, or nothing that decides."""


@dataclass(frozen=True, slots=True, eq=False)
class Distinct:
    """The k different things known in one field, each as its versions; the first is that nothing is known.

    Two of them are the same only if they are one object, so what was worked out of one can be kept beside it.
    ``hashes`` are those of the versions: a value is found by them in one pass, without a dict of all.
    """

    versions: tuple[Versions, ...]
    hashes: NDArray[np.int64]

    @classmethod
    def of(cls, versions: Iterable[Versions]) -> Distinct:
        """Return the values as they come; each must come once, and first that nothing is known."""
        kept = tuple(versions)
        return cls(kept, _hashes(kept))

    def __len__(self) -> int:
        return len(self.versions)

    def number_of(self, versions: Versions) -> int | None:
        """Return the number of a value, or None where it is not among them."""
        if not versions:
            return NOTHING_KNOWN
        alike = np.flatnonzero(self.hashes == hash(versions)).tolist()
        return next((number for number in alike if self.versions[number] == versions), None)

    def with_more(self, more: Sequence[Versions]) -> Distinct:
        """Return the values with others after them that are not among them yet; itself where there are none."""
        return Distinct((*self.versions, *more), np.append(self.hashes, _hashes(more))) if more else self


def _hashes(versions: Sequence[Versions]) -> NDArray[np.int64]:
    return np.fromiter(map(hash, versions), np.int64, len(versions))


_NOTHING: Final = Distinct.of([()])


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """One field of n entries: ``numbers`` are n places in ``distinct``, in the least unsigned integers that do."""

    numbers: NDArray[np.unsignedinteger]
    distinct: Distinct

    def written(self, places: NDArray[np.intp], said: Iterable[Versions]) -> Column:
        """Return the column with the entries at ``places`` saying something else; itself where nothing changes."""
        added: dict[Versions, int] = {}
        numbers = np.array([self._number_of(one, added) for one in said], np.intp)
        if np.array_equal(self.numbers[places], numbers):
            return self
        distinct = self.distinct.with_more(tuple(added))
        written = self.numbers.astype(_least_type(len(distinct)))
        written[places] = numbers
        return Column(written, distinct)

    def _number_of(self, versions: Versions, added: dict[Versions, int]) -> int:
        """Return the number of a value; one that is new is put into ``added``."""
        number = self.distinct.number_of(versions)
        return added.setdefault(versions, len(self.distinct) + len(added)) if number is None else number


@dataclass(frozen=True, slots=True, eq=False)
class ValueTable:
    """What is known of n entries, by field: only what decides, a habit is left out.

    ``ids`` are the entries, ``columns`` every field in which something is known of one of them.
    """

    ids: tuple[str, ...]
    columns: Mapping[str, Column]

    @classmethod
    def of(cls, rows: Iterable[tuple[str, Mapping[str, Versions]]]) -> ValueTable:
        """Return the table of ``rows``: entries, and what is known of each by field. They are gone through once."""
        ids: list[str] = []
        growing: dict[str, _Growing] = {}
        for place, (entry_id, values) in enumerate(rows):
            ids.append(entry_id)
            for field_id, versions in _deciding(values):
                if field_id not in growing:
                    growing[field_id] = _Growing()
                growing[field_id].put(place, versions)
        return cls(tuple(ids), {field_id: one.column(len(ids)) for field_id, one in growing.items()})

    def __len__(self) -> int:
        return len(self.ids)

    def column(self, field_id: str) -> Column:
        """Return one field of every entry, known of one of them or not."""
        column = self.columns.get(field_id)
        return column or Column(np.zeros(len(self.ids), np.uint8), _NOTHING)

    def contradicting(self) -> NDArray[np.intp]:
        """Return the places of the entries of which some field comes in several versions."""
        found = np.zeros(len(self.ids), np.bool_)
        for column in self.columns.values():
            several = np.array([len(versions) > 1 for versions in column.distinct.versions])
            found |= several[column.numbers]
        return np.flatnonzero(found)

    def in_order(self, by: Order) -> ValueTable:
        """Return the table with its entries sorted."""
        places = sorted(range(len(self.ids)), key=lambda place: by(self.ids[place]))
        return self._of_places(np.array(places, np.intp))

    def replaced(self, changed: Mapping[str, Mapping[str, Versions] | None], by: Order) -> ValueTable:
        """Return the table in which some entries say something else, are new or are gone; it shares all the rest.

        Args:
            changed: What is known now of these entries by field; None of one that is gone.
            by: What the entries of this table are sorted by; of those that are changed it may have changed, too.
        """
        said = {entry_id: dict(_deciding(values)) for entry_id, values in changed.items() if values is not None}
        places = {entry_id: place for place, entry_id in enumerate(self.ids) if entry_id in changed}
        if places.keys() == said.keys() and all(self._is_sorted_at(place, by) for place in places.values()):
            return self._written(places, said)
        kept = self._of_places(np.array([at for at, one in enumerate(self.ids) if one not in changed], np.intp))
        return kept._inserted(said, by)  # noqa: SLF001 - of the same class

    def _inserted(self, said: Mapping[str, Mapping[str, Versions]], by: Order) -> ValueTable:
        new = sorted(said, key=by)
        at = [bisect_left(self.ids, by(entry_id), key=by) for entry_id in new]
        places = {entry_id: place + number for number, (entry_id, place) in enumerate(zip(new, at, strict=True))}
        return _with_room(self, new, at)._written(places, said)  # noqa: SLF001 - of the same class

    def _of_places(self, places: NDArray[np.intp]) -> ValueTable:
        return ValueTable(
            ids=tuple(self.ids[place] for place in places.tolist()),
            columns={field_id: replace(one, numbers=one.numbers[places]) for field_id, one in self.columns.items()},
        )

    def _is_sorted_at(self, place: int, by: Order) -> bool:
        keys = [by(entry_id) for entry_id in self.ids[max(0, place - 1) : place + 2]]
        return keys == sorted(keys)

    def _written(self, places: Mapping[str, int], said: Mapping[str, Mapping[str, Versions]]) -> ValueTable:
        """Return the table in which the entries at ``places`` say something else."""
        fields = dict.fromkeys([*self.columns, *(field_id for values in said.values() for field_id in values)])
        where = np.array([places[entry_id] for entry_id in said], np.intp)
        columns = {
            field_id: self.column(field_id).written(where, [values.get(field_id, ()) for values in said.values()])
            for field_id in fields
        }
        return ValueTable(self.ids, columns)


def _with_room(table: ValueTable, new: Sequence[str], at: Sequence[int]) -> ValueTable:
    """Return the table with entries of which nothing is known, each before the one that stood at its place."""
    ids = list(table.ids)
    for entry_id, place in zip(reversed(new), reversed(at), strict=True):
        ids.insert(place, entry_id)
    columns = table.columns.items()
    return ValueTable(tuple(ids), {one: replace(old, numbers=np.insert(old.numbers, at, 0)) for one, old in columns})


def _deciding(values: Mapping[str, Versions]) -> Iterator[tuple[str, Versions]]:
    """Yield the fields of which something decides, with what does."""
    for field_id, versions in values.items():
        if kept := tuple(one for one in versions if one.how.decides):
            yield field_id, kept


def _least_type(count: int) -> np.dtype[np.unsignedinteger]:
    """Return the smallest unsigned integers that tell ``count`` things apart."""
    return np.min_scalar_type(count - 1)


class _Growing:
    """One column while the entries are gone through."""

    def __init__(self) -> None:
        self._numbers = array("I")
        self._by_versions: dict[Versions, int] = {(): NOTHING_KNOWN}

    def put(self, place: int, versions: Versions) -> None:
        self._fill_up(place)
        self._numbers.append(self._by_versions.setdefault(versions, len(self._by_versions)))

    def _fill_up(self, place: int) -> None:
        self._numbers.extend([NOTHING_KNOWN] * (place - len(self._numbers)))

    def column(self, entries: int) -> Column:
        self._fill_up(entries)
        numbers = np.frombuffer(self._numbers, np.uintc).astype(_least_type(len(self._by_versions)))
        return Column(numbers, Distinct.of(self._by_versions))
