"""Exact conversions: fractions all the way, one rounding to a float at the end.

Source: 1 in = 25.4 mm, 1 lb = 0.45359237 kg and 1 US gal = 231 in3 by definition; standard gravity 9.80665 m/s2
(NIST SP 811, Guide for the Use of the SI).
"""

from __future__ import annotations

import re
from fractions import Fraction

INCH_IN_MM = Fraction(254, 10)
GALLON_IN_LITRES = 231 * INCH_IN_MM**3 / 10**6
POUND_FORCE_IN_N = Fraction("0.45359237") * Fraction("9.80665")
PSI_IN_MPA = POUND_FORCE_IN_N / INCH_IN_MM**2
PSI_IN_BAR = PSI_IN_MPA * 10
HORSEPOWER_IN_KW = 550 * POUND_FORCE_IN_N * 12 * INCH_IN_MM / 10**6

_MIXED = re.compile(r"(\d+)-(\d+/\d+)")


def as_fraction(printed: str) -> Fraction:
    """Return a number as a table prints it (``7/8``, ``1-1/4``, ``0.1875``) exactly.

    Raises:
        ValueError: ``printed`` is none of these.
    """
    mixed = _MIXED.fullmatch(printed)
    if mixed:
        return int(mixed[1]) + Fraction(mixed[2])
    return Fraction(printed)


def as_printed(value: Fraction) -> str:
    """Return ``value`` as a table prints it: ``1-1/4`` for five quarters, ``2`` for two."""
    whole, rest = divmod(value.numerator, value.denominator)
    if not rest:
        return str(whole)
    part = f"{rest}/{value.denominator}"
    return f"{whole}-{part}" if whole else part


def inch_mm(inches: Fraction | str) -> float:
    """Return ``inches`` (a fraction, or a number as a table prints it) in mm, rounded once."""
    value = as_fraction(inches) if isinstance(inches, str) else inches
    return float(value * INCH_IN_MM)
