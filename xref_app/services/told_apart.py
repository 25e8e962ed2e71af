"""How many of the entries still possible a measurement is expected to rule out."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fields.fields import Field, Kind, field_for
from xref_app.core.quantity.range import SAME_MM
from xref_app.services.catalog import Catalog
from xref_app.services.held_against import HeldAgainst, not_excluded
from xref_app.services.size_match import CHANGEABLE, Match, Readings, match_of
from xref_app.services.size_spans import spans_with_limits
from xref_app.services.value_table import NOTHING_KNOWN, Column, Distinct, ValueTable

# House rule: of words, threads and hole patterns so many different ones are compared each with each.
_MOST_COMPARED = 64
# Fields of the three kinds of entry, each with its columns before and after a save.
_KEPT_COLUMNS = 256
_KEPT_PAIRS = 65536


@dataclass(frozen=True, slots=True)
class StillPossible:
    """The entries that no reading excludes: each is taken to be as likely as any other to be the one on the bench."""

    table: ValueTable
    places: NDArray[np.intp]

    @classmethod
    def of(cls, catalog: Catalog, table: ValueTable, readings: Readings) -> StillPossible:
        """Return the entries of ``table`` that ``readings`` leave; it is a table of ``catalog``."""
        return cls(table, np.flatnonzero(not_excluded(catalog, HeldAgainst.of(table, readings))))

    @property
    def count(self) -> int:
        """Return how many they are."""
        return len(self.places)

    def ruled_out(self, field: Field) -> float:
        """Return how many of them a reading of ``field`` is expected to exclude.

        The reading is as one of the entries says, each as likely; those that say nothing exclude nobody and stay.
        """
        if self.count < 2 or field.field_id in CHANGEABLE:
            return 0.0
        column = self.table.column(field.field_id)
        if field.kind is Kind.NUMBER:
            return self._apart_by_size(field, column) / self.count
        return self._apart_by_pairs(field, column) / self.count

    def _said(self, column: Column) -> tuple[NDArray[np.unsignedinteger], NDArray[np.intp]]:
        """Return what each of the entries says by number, and how many say each."""
        numbers = column.numbers if self.count == len(self.table) else column.numbers[self.places]
        counts = np.bincount(numbers, minlength=len(column.distinct))
        counts[NOTHING_KNOWN] = 0
        return numbers, counts

    def _apart_by_size(self, field: Field, column: Column) -> float:
        """Return how many ordered pairs of entries lie so far apart that a reading of one excludes the other."""
        counts = self._said(column)[1][NOTHING_KNOWN + 1 :]
        ends = _ends(field.field_id, column.distinct)
        below = _summed(counts[ends.by_high])[ends.below]
        above = counts.sum() - _summed(counts[ends.by_low])[ends.not_above]
        return float(counts @ (below + above))

    def _apart_by_pairs(self, field: Field, column: Column) -> float:
        """Return the same for words, threads and patterns; beyond the most compared, as if the rest were like those."""
        numbers, counts = self._said(column)
        compared = _most_said(numbers, counts)
        pairs = 0
        for place, ours in enumerate(compared):
            for theirs in compared[place + 1 :]:
                if _is_apart(field.field_id, column.distinct, ours, theirs):
                    pairs += 2 * int(counts[ours]) * int(counts[theirs])
        share = int(counts.sum()) / max(1, int(counts[compared].sum()))
        return pairs * share * share


def _summed(counts: NDArray[np.intp]) -> NDArray[np.intp]:
    """Return m + 1 sums of m counts: of none of them, of the first, of the first two."""
    return np.concatenate((np.zeros(1, np.intp), np.cumsum(counts)))


def _most_said(numbers: NDArray[np.unsignedinteger], counts: NDArray[np.intp]) -> list[int]:
    """Return the numbers of what most entries say; of what as many say, what the first of them says comes first."""
    said = np.flatnonzero(counts)
    if len(said) > _MOST_COMPARED:
        first = np.zeros(len(counts), np.intp)
        first[numbers[::-1]] = np.arange(len(numbers) - 1, -1, -1)
        said = said[np.lexsort((first[said], -counts[said]))][:_MOST_COMPARED]
    return [int(number) for number in said]


@lru_cache(maxsize=_KEPT_PAIRS)
def _is_apart(field_id: str, distinct: Distinct, ours: int, theirs: int) -> bool:
    """Say whether a reading of what some entries say excludes those that say something else."""
    field, other = field_for(field_id), distinct.versions[theirs]
    return all(match_of(field, one, other) is Match.CONTRADICTS for one in distinct.versions[ours])


class _Ends(NamedTuple):
    """The k known sizes of one field, each from the least to the most that a reading of it can be.

    ``by_low`` and ``by_high`` are the sizes in the order of either end; ``below`` says for each size how many of those
    ``by_high`` end below it, ``not_above`` how many of those ``by_low`` do not begin above it.
    """

    by_low: NDArray[np.intp]
    by_high: NDArray[np.intp]
    below: NDArray[np.intp]
    not_above: NDArray[np.intp]


@lru_cache(maxsize=_KEPT_COLUMNS)
def _ends(field_id: str, distinct: Distinct) -> _Ends:
    field = field_for(field_id)
    lows, highs = spans_with_limits(field, distinct, least_doubt=field.default_doubt)
    by_low, by_high = np.argsort(lows, kind="stable"), np.argsort(highs, kind="stable")
    return _Ends(
        by_low=by_low,
        by_high=by_high,
        below=np.searchsorted(highs[by_high], lows - SAME_MM, side="left"),
        not_above=np.searchsorted(lows[by_low], highs + SAME_MM, side="right"),
    )
