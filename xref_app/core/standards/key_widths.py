"""The widths that keys and hub keyways are made in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.quantity.range import Range
from xref_app.core.standards.exact import as_fraction, inch_mm
from xref_app.core.standards.limits import limits_mm
from xref_app.core.standards.table_files import inch_limits_mm, table_rows

_LARGEST_INCH_WIDTH = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class StandardWidth:
    """One nominal key width, mm, with the limits of the key and of the hub keyway made for it.

    Inch keyways are class 1 of B17.1; metric ones run from the normal fit (JS9) to the free one (D10) of ISO 773.
    """

    label: str
    system: str
    width_mm: float
    key_mm: Range
    keyway_mm: Range
    source: str
    confidence: str


@cache
def standard_widths() -> tuple[StandardWidth, ...]:
    """Return 3/32 to 1/2 in, then 2 to 16 mm.

    Source: ASME B17.1 and ISO 773; one source for the tolerances.
    """
    ranges = table_rows("keys_inch_ranges")
    inch = tuple(_inch_width(row) for row in ranges if as_fraction(row["key_width_in"]) <= _LARGEST_INCH_WIDTH)
    return inch + tuple(_metric_width(row) for row in table_rows("keys_metric"))


def widths_meeting_key(reading_mm: Range) -> tuple[StandardWidth, ...]:
    """Return the widths whose key limits meet ``reading_mm``."""
    return tuple(width for width in standard_widths() if width.key_mm.meets(reading_mm))


def widths_meeting_keyway(reading_mm: Range) -> tuple[StandardWidth, ...]:
    """Return the widths whose hub keyway limits meet ``reading_mm``."""
    return tuple(width for width in standard_widths() if width.keyway_mm.meets(reading_mm))


def key_width_label(reading_mm: Range) -> tuple[StandardWidth, ...]:
    """Return the widths that ``reading_mm``, taken of a key or of a keyway, can stand for."""
    return tuple(
        width for width in standard_widths() if width.key_mm.meets(reading_mm) or width.keyway_mm.meets(reading_mm)
    )


def _inch_width(row: Mapping[str, str]) -> StandardWidth:
    width_in = as_fraction(row["key_width_in"])
    fit = next(
        fit for fit in table_rows("keys_inch_tolerances") if width_in <= as_fraction(fit["key_width_to_incl_in"])
    )
    return StandardWidth(
        label=f"{row['key_width_in']} in",
        system="inch",
        width_mm=inch_mm(width_in),
        key_mm=inch_limits_mm(width_in, fit["key_width_tol_in"]),
        keyway_mm=inch_limits_mm(width_in, fit["keyway_width_tol_in"]),
        source=row["source"],
        confidence=f"{row['confidence']} for sizes; {fit['confidence']} for tolerances",
    )


def _metric_width(row: Mapping[str, str]) -> StandardWidth:
    width_mm = float(row["key_width_mm"])
    free, normal = limits_mm(row["free_hub_zone"], width_mm), limits_mm(row["normal_hub_zone"], width_mm)
    return StandardWidth(
        label=f"{row['key_width_mm']} mm",
        system="metric",
        width_mm=width_mm,
        key_mm=limits_mm(row["key_width_zone"], width_mm),
        keyway_mm=Range(normal.low, free.high),
        source=row["source"],
        confidence=row["confidence"],
    )
