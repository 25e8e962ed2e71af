"""What the rows of many entries say, field by field, as columns of numbers: each distinct saying is kept once."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fields.fields import all_fields
from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.model.known import Known
from xref_app.core.model.observed import PORT_VALUES, values_by_field

Numbers = NDArray[np.unsignedinteger[Any]]

# One row: value, text, doubt and how it is known of an observation; what a port's row says, and how it is known.
Row = tuple[float | None, str, float | None, str] | tuple[float | str, str]
Said = tuple[Row, ...]

_OF_A_PORT: Final = 2


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

    def changed(self, changes: Mapping[int, Said_by_field], more: Sequence[Said_by_field] = ()) -> SaidTable:
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


Said_by_field = Mapping[str, Said]


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

    def add(self, fields: Said_by_field) -> None:
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


def said_by_field(observations: Iterable[Observation], ports: Iterable[PortRow]) -> Said_by_field:
    """Return what rows say, in their order, by field; fields the program does not know are left out."""
    fields = all_fields()
    rows: dict[str, list[Row]] = {}
    for one in observations:
        if one.field in fields:
            rows.setdefault(one.field, []).append((one.value, one.text, one.doubt, one.how))
    for port in ports:
        for ending in PORT_VALUES:
            value, field = getattr(port, ending), f"{port.port}_{ending}"
            if value is not None and value != "" and field in fields:
                rows.setdefault(field, []).append((value, port.how))
    return {field: tuple(said) for field, said in rows.items()}


@lru_cache(maxsize=1 << 16)
def known_of_said(field: str, said: Said) -> tuple[Known, ...]:
    """Return what a saying means: nothing, one value, or several that contradict."""
    observations = [
        Observation(0, "", field, "", one[0], one[1], one[2], one[3]) for one in said if len(one) != _OF_A_PORT
    ]
    ports = [_port(field, one[0], one[1]) for one in said if len(one) == _OF_A_PORT]
    return values_by_field(observations, ports).get(field, ())


def _port(field: str, value: float | str, how: str) -> PortRow:
    port, _, ending = field.partition("_")
    given = {"thread": "", "gender": "", ending: value}
    return PortRow("", port, how=how, **given)  # type: ignore[arg-type]  # the column takes what it once held
