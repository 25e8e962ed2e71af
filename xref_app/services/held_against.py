"""The readings of one unit held against very many entries at once: each distinct value is judged once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fields.fields import Field, Kind, field_for
from xref_app.core.model.known import Dimension, Known
from xref_app.core.quantity.range import hull
from xref_app.services.catalog import Catalog
from xref_app.services.kept_tables import bench_ids
from xref_app.services.size_match import CHANGEABLE, Match, Readings, limits_met, match_of, widened
from xref_app.services.size_spans import spans
from xref_app.services.value_table import NOTHING_KNOWN, Distinct, ValueTable

# House rule: a sheet has not half as many lines; the readings of the one in hand and of the one before stay judged.
_KEPT_READINGS = 128

# More than SAME_MM: what lies so far apart is apart however its sums are rounded.
_MORE_THAN_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class HeldAgainst:
    """What m readings say of the n entries of ``table``; ``said`` holds by field a ``Match`` per distinct value."""

    table: ValueTable
    said: dict[str, NDArray[np.uint8]]

    @classmethod
    def of(cls, table: ValueTable, readings: Readings) -> HeldAgainst:
        """Hold ``readings`` against ``table``.

        Raises:
            UnknownFieldError: a reading is of no field there is.
        """
        return cls(table, {one: _judged(one, reading, table.column(one).distinct) for one, reading in readings.items()})

    def contradicted(self) -> NDArray[np.bool_]:
        """Return for each entry whether any reading contradicts it."""
        found = np.zeros(len(self.table), np.bool_)
        for field_id, said in self.said.items():
            found |= (said == Match.CONTRADICTS.value)[self.table.column(field_id).numbers]
        return found

    def agreeing(self, fields: Iterable[str] | None = None) -> NDArray[np.uint8]:
        """Return for each entry how many readings agree with it; of ``fields`` only, where they are given."""
        found = np.zeros(len(self.table), np.uint8)
        for field_id in self.said if fields is None else self.said.keys() & set(fields):
            agrees = (self.said[field_id] == Match.AGREES.value).astype(np.uint8)
            found += agrees[self.table.column(field_id).numbers]
        return found

    def best(self, among: NDArray[np.bool_], most: int) -> list[int]:
        """Return the places of the ``most`` of those ``among`` that agree in most fields, in the order of the table."""
        places = np.flatnonzero(among)
        agreeing = self.agreeing()[places]
        # Of unsigned bytes the complement is the other way round, and sorting them takes no comparing.
        best: list[int] = places[np.argsort(~agreeing, kind="stable")[:most]].tolist()
        return best

    def of_entry(self, place: int) -> dict[Match, list[str]]:
        """Return the fields of the readings by what they say of the entry at ``place``, in the readings' order."""
        found: dict[Match, list[str]] = {match: [] for match in Match}
        for field_id, said in self.said.items():
            found[Match(said[self.table.column(field_id).numbers[place]])].append(field_id)
        return found


def not_excluded(catalog: Catalog, held: HeldAgainst) -> NDArray[np.bool_]:
    """Return for each entry whether it can be the one on the bench: nothing contradicts it, or rows of it are damaged.

    Args:
        catalog: Which entries are damaged; its entries are those of the table.
        held: The readings against them.
    """
    found = ~held.contradicted()
    damaged = catalog.damaged.known()
    if damaged.anywhere:
        found[:] = True
    elif damaged.entries:
        for place in np.flatnonzero(~found):
            found[place] = damaged.touches(*bench_ids(catalog, held.table.ids[place]))
    return found


@lru_cache(maxsize=_KEPT_READINGS)
def _judged(field_id: str, reading: Known, distinct: Distinct) -> NDArray[np.uint8]:
    field = field_for(field_id)
    far = Match.OPEN if field_id in CHANGEABLE else Match.CONTRADICTS
    said = np.full(len(distinct), far.value, np.uint8)
    for number in _near(field, reading, distinct):
        said[number] = match_of(field, reading, distinct.versions[number]).value
    return said


def _near(field: Field, reading: Known, distinct: Distinct) -> Iterable[int]:
    """Return the values to look at one by one; all others are known sizes and lie surely apart from the reading."""
    if field.kind is not Kind.NUMBER or not isinstance(reading, Dimension) or not reading.how.decides:
        return range(len(distinct))
    reach = hull([widened(field, reading.range), *limits_met(field, reading.range)])
    known = spans(field, distinct)
    near = (known.low <= reach.high + _MORE_THAN_SAME) & (known.high >= reach.low - _MORE_THAN_SAME)
    return [NOTHING_KNOWN, *(np.flatnonzero(near) + NOTHING_KNOWN + 1).tolist()]
