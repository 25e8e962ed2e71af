"""What the rows of many entries say, field by field, as columns of numbers: each distinct saying is kept once."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.model.known import Known
from xref_app.services.sayings import Said, SaidByField, known_of_said, said_by_field

Numbers = NDArray[np.unsignedinteger[Any]]


@dataclass(frozen=True, slots=True)
class SaidTable:
    """What is said of n entries of one kind.

    ``columns`` holds, by field, n numbers: 0 where nothing is said, else one more than the place of what is said in
    ``said`` of that field.
    """

    count: int
    columns: Mapping[str, Numbers]
    said: Mapping[str, Sequence[Said]]

    def known(self, field: str) -> tuple[tuple[Known, ...], ...]:
        """Return what each number of a field means, number 0 first: one value, or several that contradict."""
        return ((), *(known_of_said(field, one) for one in self.said.get(field, ())))

    def column(self, field: str) -> Numbers:
        """Return the numbers of one field."""
        found = self.columns.get(field)
        return np.zeros(self.count, np.uint32) if found is None else found

    def picked(self, places: NDArray[np.intp]) -> SaidTable:
        """Return the table of the entries at ``places``, in that order."""
        columns = {field: column[places] for field, column in self.columns.items()}
        return SaidTable(len(places), columns, self.said)

    def changed(self, changes: Mapping[int, SaidByField], more: Sequence[SaidByField] = ()) -> SaidTable:
        """Return the table with other sayings at some places, and entries added behind; the rest is shared or copied.

        Args:
            changes: What is said now, by field, of the entries at these places.
            more: What is said of each entry that was added.
        """
        if not changes and not more:
            return self
        at = {**changes, **dict(enumerate(more, start=self.count))}
        count = self.count + len(more)
        columns: dict[str, Numbers] = {}
        said: dict[str, Sequence[Said]] = {}
        for field in {*self.columns, *(field for one in at.values() for field in one)}:
            known = list(self.said.get(field, ()))
            numbers = {saying: number for number, saying in enumerate(known, start=1)}
            column = np.zeros(count, np.uint32)
            column[: self.count] = self.column(field)
            for place, fields in at.items():
                column[place] = _number(fields.get(field), numbers, known)
            columns[field], said[field] = column, known
        return SaidTable(count, columns, said)

    @classmethod
    def of(cls, entries: Iterable[tuple[Iterable[Observation], Iterable[PortRow]]]) -> SaidTable:
        """Return the table of entries, each given by its rows."""
        writer = SaidWriter()
        for observations, ports in entries:
            writer.add(said_by_field(observations, ports))
        return writer.table()


def _number(saying: Said | None, numbers: dict[Said, int], known: list[Said]) -> int:
    if saying is None:
        return 0
    number = numbers.get(saying)
    if number is None:
        known.append(saying)
        number = numbers[saying] = len(known)
    return number


class SaidWriter:
    """Puts a table together, entry by entry."""

    def __init__(self) -> None:
        self._count = 0
        self._numbers: dict[str, dict[Said, int]] = {}
        self._said: dict[str, list[Said]] = {}
        self._places: dict[str, array[int]] = {}
        self._given: dict[str, array[int]] = {}

    def add(self, fields: SaidByField) -> None:
        """Add an entry by what is said of it."""
        for field, saying in fields.items():
            if field not in self._said:
                self._numbers[field], self._said[field] = {}, []
                self._places[field], self._given[field] = array("I"), array("I")
            self._places[field].append(self._count)
            self._given[field].append(_number(saying, self._numbers[field], self._said[field]))
        self._count += 1

    def table(self) -> SaidTable:
        """Return the table of all that was added."""
        columns: dict[str, Numbers] = {}
        for field, places in self._places.items():
            column = np.zeros(self._count, np.uint32)
            column[np.frombuffer(places, np.uint32)] = np.frombuffer(self._given[field], np.uint32)
            columns[field] = column
        return SaidTable(self._count, columns, self._said)
