"""What an outline says of the entries of one kind as a table of values, without a row of the store being read."""

from __future__ import annotations

import weakref

import numpy as np
from numpy.typing import NDArray

from xref_app.core.model.known import Known
from xref_app.services.outline import Outline, hashed
from xref_app.services.said_table import SaidTable
from xref_app.services.sayings import Said, said_together
from xref_app.services.value_table import Column, Distinct, ValueTable

_made: weakref.WeakKeyDictionary[Outline, dict[str, ValueTable]] = weakref.WeakKeyDictionary()


def outlined_table(outline: Outline, kind: str) -> ValueTable:
    """Return what an outline says of every entry of ``kind``, by number: of a machine, with what drives it."""
    tables = _made.setdefault(outline, {})
    if kind not in tables:
        said = _driven(outline) if kind == "machine" else outline.said[kind]
        ids = tuple(outline.ids[place] for place in outline.places_of(kind).tolist())
        tables[kind] = ValueTable(ids, {field: _column(said, field) for field in said.columns})
    return tables[kind]


def _column(said: SaidTable, field: str) -> Column:
    """Return one field as what its sayings mean: different words may mean the same."""
    meant: dict[tuple[Known, ...], int] = {(): 0}
    versions = (tuple(one for one in known if one.how.decides) for known in said.known(field))
    numbers = np.array([meant.setdefault(one, len(meant)) for one in versions])
    return Column(numbers.astype(np.min_scalar_type(len(meant) - 1))[said.column(field)], Distinct.of(meant))


def _driven(outline: Outline) -> SaidTable:
    """Return what is said of every machine and of what drives it, together."""
    machines, drivers = outline.said["machine"], outline.said["driver"]
    driver = _driver_of_each(outline)
    fields = dict.fromkeys([*drivers.columns, *machines.columns])
    columns: dict[str, NDArray[np.uint32]] = {}
    said: dict[str, list[Said]] = {}
    for field in fields:
        # Nothing is said of a driver that is not there: 0 stands behind the last.
        of_driver = np.append(drivers.column(field), 0)[driver].astype(np.int64)
        different, which = np.unique(of_driver << 32 | machines.column(field), return_inverse=True)
        said[field], numbers = [], []
        for pair in different.tolist():
            together = said_together(_saying(drivers, field, pair >> 32), _saying(machines, field, pair & 0xFFFFFFFF))
            if together:
                said[field].append(together)
            numbers.append(len(said[field]) if together else 0)
        columns[field] = np.array(numbers, np.uint32)[which]
    return SaidTable(machines.count, columns, said)


def _driver_of_each(outline: Outline) -> NDArray[np.intp]:
    """Return for each machine the place of what drives it among the drivers; one more than the last where it is not."""
    hashes = np.array([hashed(outline.ids[place]) for place in outline.places_of("driver").tolist()], np.uint64)
    wanted = outline.drivers[outline.places_of("machine")]
    if not len(hashes):
        return np.zeros(len(wanted), np.intp)
    order = np.argsort(hashes)
    at = order[np.minimum(np.searchsorted(hashes[order], wanted), len(hashes) - 1)]
    return np.where(hashes[at] == wanted, at, len(hashes))


def _saying(table: SaidTable, field: str, number: int) -> Said:
    return table.said[field][number - 1] if number else ()
