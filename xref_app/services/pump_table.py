"""Every pump of a catalog by the parts it has in common with others: one number per family of checks."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from threading import Lock
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fields.fields import Side, all_fields, field_for
from xref_app.core.fit.hints import without_hints
from xref_app.core.model.assemble import built
from xref_app.core.model.known import Fact
from xref_app.core.model.pump import Pump
from xref_app.core.plan.families import FAMILIES, Family
from xref_app.services.catalog import Catalog
from xref_app.services.overlaid import Overlaid
from xref_app.services.said_table import SaidTable, said_by_field
from xref_app.services.stored_entries import StoredEntries

Numbers = NDArray[np.unsignedinteger[Any]]

_MOST_JOINED: Final = 1 << 62


@dataclass(frozen=True, slots=True)
class PumpTable:
    """Pumps in the order of their numbers, and which part each has of every family.

    ``numbers`` has one row per pump and one column per family of ``FAMILIES``; ``parts`` holds the stripped pumps those
    numbers stand for. ``several`` marks the pumps with a size in several versions: their parts hold the first.
    """

    ids: Sequence[str]
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
    ids, said = pumps_said(catalog)
    columns = [_column(said, family) for family in FAMILIES]
    numbers = np.stack([column.numbers for column in columns], axis=1)
    several = np.zeros(said.count, np.bool_)
    for column in columns:
        several |= np.array(column.several, np.bool_)[column.numbers]
    return PumpTable(ids, numbers, tuple(column.parts for column in columns), several)


def pumps_said(catalog: Catalog) -> tuple[Sequence[str], SaidTable]:
    """Return the ids of a catalog's pumps, in the order of their numbers, and what is said of each."""
    if isinstance(catalog.on_demand, StoredEntries):
        return _with_changes(catalog, *catalog.on_demand.said("pump"))
    ids = sorted(catalog.ids_of("pump"), key=lambda one: (catalog.number_of(one), one))
    return ids, SaidTable.of((catalog.observations.get(one, ()), catalog.ports.get(one, ())) for one in ids)


def _with_changes(catalog: Catalog, ids: Sequence[str], said: SaidTable) -> tuple[Sequence[str], SaidTable]:
    """Return the table with what is said otherwise in this catalog than in its store: one version of a size, say."""
    otherwise = [laid.changes for laid in (catalog.observations, catalog.ports) if isinstance(laid, Overlaid)]
    changed = {one for changes in otherwise for one in changes}
    places = {one: place for place, one in enumerate(ids) if one in changed}
    changes = {
        place: said_by_field(catalog.observations.get(one, ()), catalog.ports.get(one, ()))
        for one, place in places.items()
    }
    return ids, said.changed(changes)


@dataclass(frozen=True, slots=True)
class _Column:
    """The distinct parts of one family, the number of each pump's, and which come in several versions."""

    numbers: Numbers
    parts: tuple[Pump, ...]
    several: tuple[bool, ...]


def _column(said: SaidTable, family: Family) -> _Column:
    """Return the parts that what is said of the family's fields makes."""
    fields = [field for field in sorted(fields_of(family)) if field in said.columns]
    meant = {field: said.known(field) for field in fields}
    first, which = distinct([said.column(field) for field in fields], said.count)
    parts: list[Pump] = []
    several: list[bool] = []
    for place in first:
        known = {field: versions for field in fields if (versions := meant[field][said.columns[field][place]])}
        values = {field_for(field).case_field: versions[0] for field, versions in known.items()}
        parts.append(without_hints(built(Pump, "pump", values)))
        several.append(any(len(versions) > 1 for versions in known.values()))
    return _Column(which.astype(np.uint32), tuple(parts), tuple(several))


@cache
def fields_of(family: Family) -> frozenset[str]:
    """Return the fields of a pump that a family's checks look at: those that are left when it is stripped."""
    return frozenset(field for field, pump in _one_field_each() if family.part_of(pump) != Pump())


def _one_field_each() -> Iterator[tuple[str, Pump]]:
    for field_id, field in all_fields().items():
        if field.side is Side.PUMP:
            yield field_id, built(Pump, "pump", {field.case_field: Fact(field_id)})


def distinct(columns: Sequence[Numbers], count: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the places at which each distinct row of columns stands first, and which of them each of all rows is."""
    joined = np.zeros(count, np.int64)
    for column in columns:
        most = int(column.max(initial=0)) + 1
        if int(joined.max(initial=0)) >= _MOST_JOINED // most:
            joined = np.unique(joined, return_inverse=True)[1]
        joined = joined * most + column
    _, first, which = np.unique(joined, return_index=True, return_inverse=True)
    return first, which
