"""Lengths told no more finely than their doubt supports."""

from __future__ import annotations

from math import ceil, floor, log10

from xref_app.core.quantity.range import Range
from xref_app.core.quantity.show import plain_number, show_inch

_INCH_MM = 25.4
# Finer than a micron, or a ten-thousandth of an inch, nothing here is told (as in core.quantity.show).
_MOST_PLACES = {1.0: 3, _INCH_MM: 4}
# A limit is moved by rounding only where it lies further beyond the last decimal than float sums go astray.
_SLIP = 1e-6


def told_range(value: Range, *, inch_first: bool = False) -> str:
    """Return a range in both units, rounded outwards: ``22.02 to 22.33 mm (0.866 to 0.88 in)``.

    Of the doubt two digits count (common practice of stating doubts, JCGM 100 section 7.2.6, from memory).
    """
    mm = f"{_limits(value, 1.0)} mm"
    inch = f"{_limits(value, _INCH_MM)} in"
    return f"{inch} ({mm})" if inch_first else f"{mm} ({inch})"


def told_value(value_mm: float, doubt_mm: float, *, inch_first: bool = False) -> str:
    """Return a length in both units, rounded to the first digit of its doubt: ``202.2 mm (7.96 in)``.

    A 64th of an inch is told as the fraction that it is.
    """
    mm = f"{_rounded(value_mm, doubt_mm, 1.0)} mm"
    named = show_inch(value_mm)
    inch = named if "." not in named else f"{_rounded(value_mm, doubt_mm, _INCH_MM)} in"
    return f"{inch} ({mm})" if inch_first else f"{mm} ({inch})"


def _rounded(value_mm: float, doubt_mm: float, unit_mm: float) -> str:
    return plain_number(round(value_mm / unit_mm, _places(doubt_mm, unit_mm)))


def _limits(value: Range, unit_mm: float) -> str:
    places = _places(value.doubt / 10, unit_mm)
    low = floor(value.low / unit_mm * 10.0**places + _SLIP) / 10.0**places
    high = ceil(value.high / unit_mm * 10.0**places - _SLIP) / 10.0**places
    return f"{low:.{places}f}" if low == high else f"{low:.{places}f} to {high:.{places}f}"


def _places(doubt_mm: float, unit_mm: float) -> int:
    """Return the decimals down to the first digit of the doubt, and no more than are ever shown."""
    most = _MOST_PLACES[unit_mm]
    return most if doubt_mm <= 0 else min(max(ceil(-log10(doubt_mm / unit_mm) - _SLIP), 0), most)
