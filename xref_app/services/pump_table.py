"""Every pump of a catalog by the parts it has in common with others: one number per family of checks."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import islice, product
from threading import Lock
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fields.fields import Side, all_fields, field_for
from xref_app.core.fit.hints import without_hints
from xref_app.core.model.assemble import MOST_COMBINATIONS, built
from xref_app.core.model.known import Fact, Known
from xref_app.core.model.pump import Pump
from xref_app.core.plan.families import FAMILIES, Family, PartVersions
from xref_app.services.catalog import Catalog
from xref_app.services.overlaid import Overlaid
from xref_app.services.said_table import SaidTable
from xref_app.services.sayings import said_by_field
from xref_app.services.stored_entries import StoredEntries

Numbers = NDArray[np.unsignedinteger[Any]]

_MOST_JOINED: Final = 1 << 62


@dataclass(frozen=True, slots=True)
class PumpTable:
    """Pumps in the order of their numbers, and which part each has of every family.

    ``numbers`` has one row per pump and one column per family of ``FAMILIES``; ``parts`` holds the stripped pumps those
    numbers stand for. ``apart`` marks the pumps that cannot be put together from parts: their sizes contradict in too
    many ways, or in ways that hang together.
    """

    ids: Sequence[str]
    numbers: Numbers
    parts: tuple[tuple[PartVersions, ...], ...]
    apart: NDArray[np.bool_]

    def parts_of(self, place: int) -> tuple[PartVersions, ...]:
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
            kept = _kept[key] = (catalog, _table(*pumps_said(catalog)))
            while len(_kept) > _KEPT_TABLES:
                _kept.popitem(last=False)
        _kept.move_to_end(key)
    return kept[1]


def table_of(catalog: Catalog, pump_ids: Sequence[str]) -> PumpTable:
    """Return the table of these pumps alone, in the order given."""
    catalog.read_ahead(pump_ids)
    said = SaidTable.of((catalog.observations.get(one, ()), catalog.ports.get(one, ())) for one in pump_ids)
    return _table(pump_ids, said)


def _table(ids: Sequence[str], said: SaidTable) -> PumpTable:
    columns = [_column(said, family) for family in FAMILIES]
    numbers = np.stack([numbers for numbers, _ in columns], axis=1)
    parts = tuple(parts for _, parts in columns)
    return PumpTable(ids, numbers, parts, _apart(numbers, parts))


def _apart(numbers: Numbers, parts: Sequence[Sequence[PartVersions]]) -> NDArray[np.bool_]:
    """Return which pumps are judged by themselves."""
    counts = versions_counted(numbers, parts)
    many = [np.array([_has_too_many(part) for part in of_family])[numbers[:, at]] for at, of_family in enumerate(parts)]
    # The room hangs on the faces: where both contradict, so do their versions with each other.
    found: NDArray[np.bool_] = np.logical_or.reduce([*many, (counts[0] > 1) & (counts[-1] > 1)])
    return found


def versions_counted(numbers: Numbers, parts: Sequence[Sequence[PartVersions]]) -> NDArray[np.int64]:
    """Return for each family (rows) and pump (columns) in how many versions its part comes."""
    return np.stack([
        np.array([len(part.versions) for part in of_family], np.int64)[numbers[:, at]]
        for at, of_family in enumerate(parts)
    ])  # fmt: skip


def _has_too_many(part: PartVersions) -> bool:
    return bool(part.contradicted) and len(part.versions) == 1


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


def _column(said: SaidTable, family: Family) -> tuple[Numbers, tuple[PartVersions, ...]]:
    """Return the number of each pump's part, and the parts that what is said of the family's fields makes."""
    fields = [field for field in all_fields() if field in fields_of(family) and field in said.columns]
    meant = {field: said.known(field) for field in fields}
    first, which = distinct([said.column(field) for field in fields], said.count)
    parts = tuple(_part({field: meant[field][said.columns[field][place]] for field in fields}) for place in first)
    return which.astype(np.uint32), parts


def _part(known: Mapping[str, tuple[Known, ...]]) -> PartVersions:
    """Return the part that these values make, once per combination of their versions, or just once of too many."""
    there = {field_for(field).case_field: versions for field, versions in known.items() if versions}
    choices = list(islice(product(*there.values()), MOST_COMBINATIONS + 1))
    if len(choices) > MOST_COMBINATIONS:
        choices = choices[:1]
    pumps = tuple(without_hints(built(Pump, "pump", dict(zip(there, choice, strict=True)))) for choice in choices)
    return PartVersions(pumps, tuple(field for field, versions in known.items() if len(versions) > 1))


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
