"""The one measurement that would settle most of the pairs that are not known yet."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cache
from typing import Final

from xref_app.core.fields.fields import Side, field_for
from xref_app.core.fit.finding import Verdict
from xref_app.services.pair_matrix import PairMatrix, PairUnit

# Time for anything that takes no tool at all, so that a free look does not divide by zero (house rule).
_LEAST_MINUTES: Final = 0.25


@dataclass(frozen=True, slots=True)
class PairMeasure:
    """The one measurement worth taking next for the pairs that are not known yet.

    ``by_itself`` of the ``open`` pairs ask for nothing else, ``asking`` ask for it at all.
    """

    field: str
    title: str
    entry_id: str
    number: str
    by_itself: int
    asking: int
    open: int
    minutes: float
    how_to: str


def pair_measure(matrix: PairMatrix) -> PairMeasure | None:
    """Return the measurement that the most pairs not known yet wait for, alone first, per minute it takes."""
    asking: Counter[tuple[str, str]] = Counter()
    alone: Counter[tuple[str, str]] = Counter()
    still_open = 0
    for engine, pump, found in matrix.pairs():
        if found.verdict is not Verdict.NOT_KNOWN_YET:
            continue
        still_open += 1
        keys = [(name, engine.entry_id if _is_of_machine(name) else pump.entry_id) for name in found.asked]
        asking.update(keys)
        if len(keys) == 1:
            alone.update(keys)
    if not asking:
        return None

    def worth(key: tuple[str, str]) -> tuple[float, float, str, str]:
        minutes = max(field_for(key[0]).minutes, _LEAST_MINUTES)
        return (-alone[key] / minutes, -asking[key] / minutes, *key)

    best = min(asking, key=worth)
    unit = next(one for one in (*matrix.engines, *matrix.pumps) if one.entry_id == best[1])
    return _measure(best, unit, by_itself=alone[best], asking=asking[best], still_open=still_open)


@cache
def _is_of_machine(field_id: str) -> bool:
    return field_for(field_id).side is Side.MACHINE


def _measure(key: tuple[str, str], unit: PairUnit, *, by_itself: int, asking: int, still_open: int) -> PairMeasure:
    known = field_for(key[0])
    return PairMeasure(
        field=known.field_id,
        title=known.title,
        entry_id=unit.entry_id,
        number=unit.number,
        by_itself=by_itself,
        asking=asking,
        open=still_open,
        minutes=known.minutes,
        how_to=known.how_to_measure,
    )
