"""Shaft ends of small engines as far as they are remembered: hints, all of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from xref_app.core.quantity.range import Range
from xref_app.core.standards.exact import inch_mm
from xref_app.core.standards.table_files import decides, table_rows


@dataclass(frozen=True, slots=True)
class EngineShaft:
    """One shaft end; lengths in mm. ``shaft_mm`` are the limits it usually keeps, None where none are remembered.

    ``axis`` is horizontal, vertical or both. ``decides`` says that diameter, length and key have a source: a model of
    one such shaft, so the length is no more than typical. ``limits_decide`` is about ``shaft_mm`` and ``end_hole``.
    """

    label: str
    axis: str
    diameter_mm: float
    shaft_mm: Range | None
    length_mm: float
    key_width_mm: float
    end_hole: str
    decides: bool
    limits_decide: bool
    note: str
    source: str
    checked_against: str
    confidence: str


@cache
def engine_shafts() -> tuple[EngineShaft, ...]:
    """Return the remembered shaft ends, thinnest first.

    Source: SAE J609, whose text was not read; key widths follow ASME B17.1.
    """
    return tuple(_shaft(row) for row in table_rows("shafts_engine"))


def _shaft(row: Mapping[str, str]) -> EngineShaft:
    low, high = row["shaft_min_in"], row["shaft_max_in"]
    return EngineShaft(
        label=f"{row['shaft_in']} in",
        axis=row["axis"],
        diameter_mm=inch_mm(row["shaft_in"]),
        shaft_mm=Range(inch_mm(low), inch_mm(high)) if low and high else None,
        length_mm=inch_mm(row["length_in"]),
        key_width_mm=inch_mm(row["key_width_in"]),
        end_hole=row["end_hole"],
        decides=decides(row["confidence"]),
        limits_decide=False,
        note=row["note"],
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )
