"""Values back to text: exactly, for a file or a field; rounded and in both units, for people."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from xref_app.core.quantity.quantities import FIELD_UNITS
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.units import (
    BAR,
    CELSIUS,
    DEGREE,
    FAHRENHEIT,
    GPM,
    HP,
    INCH,
    KW,
    LPM,
    MM,
    NEWTON_METRE,
    NO_UNIT,
    POUND_FOOT,
    PSI,
    RPM,
    Unit,
)

# House rule: a size this near a 64th of an inch is shown as one; a tenth of what a cheap caliper can tell apart.
SAME_FRACTION_MM = 0.005
_INCH_PARTS = 64
_THOUSANDS_DIGITS = 3


@dataclass(frozen=True, slots=True)
class _Style:
    """How many decimals a unit is shown with (house rule), and the unit shown beside it, if any."""

    places: int
    beside: Unit | None = None


_STYLES = {
    MM: _Style(3, INCH),
    INCH: _Style(4),
    BAR: _Style(2, PSI),
    PSI: _Style(0),
    LPM: _Style(2, GPM),
    GPM: _Style(2),
    KW: _Style(3, HP),
    HP: _Style(2),
    NEWTON_METRE: _Style(2, POUND_FOOT),
    POUND_FOOT: _Style(1),
    CELSIUS: _Style(1, FAHRENHEIT),
    FAHRENHEIT: _Style(0),
    RPM: _Style(1),
    DEGREE: _Style(1),
    NO_UNIT: _Style(3),
}


def plain_number(value: float) -> str:
    """Return the shortest decimal number that reads back as exactly ``value``, never with an exponent."""
    text = format(Decimal(repr(value)), "f")
    if "." in text:
        text = text.rstrip("0").removesuffix(".")
    return "0" if text == "-0" else text


def exact_text(value: float, field_unit: str) -> str:
    """Return ``value`` with its unit so that it reads back as the very same float.

    A speed with three decimals gets a fourth, for 3.125 rpm could be meant for 3125.

    Args:
        value: In the canonical unit.
        field_unit: The unit as in the names of fields: ``"mm"``, ``"bar"`` ... or ``""``.
    """
    unit, number = FIELD_UNITS[field_unit], plain_number(value)
    if unit is RPM and len(number.partition(".")[2]) == _THOUSANDS_DIGITS:
        number += "0"
    return _with_unit(number, unit)


def show_mm(mm: float, doubt: float | None = None) -> str:
    """Return a length like ``19.05 mm``, or ``19.05 ± 0.02 mm`` where ``doubt`` (mm) is given."""
    give_or_take = "" if doubt is None else f" ± {_rounded(doubt, MM)}"
    return _with_unit(_rounded(mm, MM) + give_or_take, MM)


def show_inch(mm: float) -> str:
    """Return a length in inches: ``3/4 in`` within ``SAME_FRACTION_MM`` of a 64th, else decimal like ``0.7492 in``."""
    return _with_unit(_inch_number(mm), INCH)


def show_value(value: float, field_unit: str) -> str:
    """Return a value as people read it, in both units where there are two: ``19.05 mm (3/4 in)``.

    Args:
        value: In the canonical unit.
        field_unit: The unit as in the names of fields.
    """
    return show_range(Range.exactly(value), field_unit)


def show_range(values: Range, field_unit: str) -> str:
    """Return a range as people read it, in both units: ``19 to 19.1 mm (0.748 to 0.752 in)``.

    Args:
        values: In the canonical unit.
        field_unit: The unit as in the names of fields.
    """
    unit = FIELD_UNITS[field_unit]
    beside = _STYLES[unit].beside
    shown = _with_unit(_span(values, unit), unit)
    return shown if beside is None else f"{shown} ({_with_unit(_span(values, beside), beside)})"


def _span(values: Range, unit: Unit) -> str:
    low, high = _number(values.low, unit), _number(values.high, unit)
    return low if low == high else f"{low} to {high}"


def _number(value: float, unit: Unit) -> str:
    return _inch_number(value) if unit is INCH else _rounded(float(unit.from_canonical(Fraction(value))), unit)


def _inch_number(mm: float) -> str:
    parts = round(abs(mm) / float(INCH.factor) * _INCH_PARTS)
    if parts == 0 or abs(abs(mm) - parts * float(INCH.factor) / _INCH_PARTS) > SAME_FRACTION_MM:
        return _rounded(mm / float(INCH.factor), INCH)
    whole, rest = divmod(parts, _INCH_PARTS)
    pieces = [str(whole)] if whole else []
    if rest:
        fraction = Fraction(rest, _INCH_PARTS)
        pieces.append(f"{fraction.numerator}/{fraction.denominator}")
    return ("-" if mm < 0 else "") + "-".join(pieces)


def _rounded(value: float, unit: Unit) -> str:
    return plain_number(round(value, _STYLES[unit].places))


def _with_unit(number: str, unit: Unit) -> str:
    gap = "" if unit in {DEGREE, NO_UNIT} else " "
    return f"{number}{gap}{unit.symbol}"
