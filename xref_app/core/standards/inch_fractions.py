"""The fractions of an inch from 1/64 to 1, with their decimals and millimetres as tables print them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.standards.exact import as_fraction, inch_mm
from xref_app.core.standards.table_files import decides, table_rows


@dataclass(frozen=True, slots=True)
class InchFraction:
    """One fraction: ``inches`` and ``mm`` are exact, ``printed_mm`` is what a table prints, to four places."""

    label: str
    inches: Fraction
    mm: float
    printed_mm: float
    decides: bool
    source: str
    checked_against: str
    confidence: str


@cache
def inch_fractions() -> tuple[InchFraction, ...]:
    """Return 1/64 to 1 in by 1/64, each in its lowest terms.

    Source: 1 in = 25.4 mm exactly (NIST SP 811).
    """
    return tuple(_fraction(row) for row in table_rows("inch_fractions"))


def _fraction(row: Mapping[str, str]) -> InchFraction:
    return InchFraction(
        label=row["fraction_in"],
        inches=as_fraction(row["fraction_in"]),
        mm=inch_mm(row["fraction_in"]),
        printed_mm=float(row["mm"]),
        decides=decides(row["confidence"]),
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )
