"""Every pump of a catalog by the parts it has in common with others: one number per family of checks."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from threading import Lock
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fields.fields import Side, all_fields, field_for
from xref_app.core.fit.hints import without_hints
from xref_app.core.model.assemble import built
from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.model.known import Fact, Known
from xref_app.core.model.observed import PORT_VALUES, values_by_field
from xref_app.core.model.pump import Pump
from xref_app.core.plan.families import FAMILIES, Family
from xref_app.services.catalog import Catalog

Numbers = NDArray[np.uint32]

# What one row of a family says; rows in the same words and order make the same part.
_Key = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class PumpTable:
    """Pumps in the order of their numbers, and which part each has of every family.

    ``numbers`` has one row per pump and one column per family of ``FAMILIES``; ``parts`` holds the stripped pumps those
    numbers stand for. ``several`` marks the pumps with a size in several versions: their parts hold the first.
    """

    ids: tuple[str, ...]
    numbers: Numbers
    parts: tuple[tuple[Pump, ...], ...]
    several: NDArray[np.bool_]

    def parts_of(self, place: int) -> tuple[Pump, ...]:
        """Return the parts of the pump at ``place``, one per family."""
        return tuple(parts[number] for parts, number in zip(self.parts, self.numbers[place], strict=True))


# The last few tables with the rows they were made of: a catalog never changes, and both versions of a value are judged
# on copies of it.
_KEPT_TABLES: Final = 4
_kept: OrderedDict[tuple[int, int, int], tuple[Catalog, PumpTable]] = OrderedDict()
_keeping = Lock()


def pump_table(catalog: Catalog) -> PumpTable:
    """Return the table of a catalog's pumps; put together once for the same rows."""
    # The catalog is kept beside its table, so no other rows can come to have the same identity.
    key = (id(catalog.entries), id(catalog.observations), id(catalog.ports))
    with _keeping:
        kept = _kept.get(key)
        if kept is None:
            kept = _kept[key] = (catalog, _table(catalog))
            while len(_kept) > _KEPT_TABLES:
                _kept.popitem(last=False)
        _kept.move_to_end(key)
    return kept[1]


def _table(catalog: Catalog) -> PumpTable:
    ids = sorted((entry.entry_id for entry in catalog.pumps()), key=lambda one: (catalog.number_of(one), one))
    columns = [_Column(family) for family in FAMILIES]
    numbers = np.empty((len(ids), len(columns)), np.uint32)
    for place, pump_id in enumerate(ids):
        observations, ports = catalog.observations.get(pump_id, ()), catalog.ports.get(pump_id, ())
        numbers[place] = [column.number_of(observations, ports) for column in columns]
    several = np.zeros(len(ids), np.bool_)
    for at, column in enumerate(columns):
        several |= np.array(column.several, np.bool_)[numbers[:, at]]
    return PumpTable(tuple(ids), numbers, tuple(tuple(column.parts) for column in columns), several)


class _Column:
    """The distinct parts of one family, in the order they were met."""

    def __init__(self, family: Family) -> None:
        self._fields = fields_of(family)
        self._numbers: dict[_Key, int] = {}
        self.parts: list[Pump] = []
        self.several: list[bool] = []

    def number_of(self, observations: Iterable[Observation], ports: Iterable[PortRow]) -> int:
        """Return the number of the part these rows describe."""
        rows = [one for one in observations if one.field in self._fields]
        key = (
            *((one.field, one.value, one.text, one.doubt, one.how) for one in rows),
            *(said for one in ports for said in self._said(one)),
        )
        number = self._numbers.get(key)
        if number is None:
            number = self._numbers[key] = len(self.parts)
            known = values_by_field(rows, ports)
            self._file({field: versions for field, versions in known.items() if field in self._fields})
        return number

    def _said(self, port: PortRow) -> Iterator[tuple[object, ...]]:
        for ending in PORT_VALUES:
            if f"{port.port}_{ending}" in self._fields:
                yield port.port, ending, getattr(port, ending), port.how

    def _file(self, known: dict[str, tuple[Known, ...]]) -> None:
        values = {field_for(field).case_field: versions[0] for field, versions in known.items()}
        self.parts.append(without_hints(built(Pump, "pump", values)))
        self.several.append(any(len(versions) > 1 for versions in known.values()))


@cache
def fields_of(family: Family) -> frozenset[str]:
    """Return the fields of a pump that a family's checks look at: those that are left when it is stripped."""
    return frozenset(field for field, pump in _one_field_each() if family.part_of(pump) != Pump())


def _one_field_each() -> Iterator[tuple[str, Pump]]:
    for field_id, field in all_fields().items():
        if field.side is Side.PUMP:
            yield field_id, built(Pump, "pump", {field.case_field: Fact(field_id)})


def distinct(columns: Sequence[Numbers]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the places at which each distinct row of columns stands first, and which of them each row is."""
    joined = np.zeros(len(columns[0]), np.int64)
    for column in columns:
        joined = joined * (int(column.max(initial=0)) + 1) + column
    _, first, which = np.unique(joined, return_index=True, return_inverse=True)
    return first, which
