"""Lengths: inches in fractions or decimals, millimetres with point or comma, never guessed."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from xref_app.core.quantity.amounts import Manner, parse_amount
from xref_app.core.quantity.units import CM, INCH, MM, Kind, Unit

LENGTH = Manner(Kind.LENGTH, "22.2 mm or 7/8 in")
SIGNED_LENGTH = Manner(Kind.LENGTH, "22.2 mm or -2 mm", below_zero=True)
_DEFAULTS = {unit.symbol: unit for unit in (MM, CM, INCH)}


@dataclass(frozen=True, slots=True)
class Length:
    """One length: exact millimetres, the unit it was read in, and half of the last digit given, mm."""

    mm: Fraction
    unit: Unit
    last_digit_mm: Fraction

    @property
    def value_mm(self) -> float:
        """Return the length as a float, mm."""
        return float(self.mm)


def parse_length_mm(text: str, *, default_unit: str | None = None) -> Length:
    """Return the length that ``text`` names, exactly.

    Args:
        text: Like ``7/8 in``, ``1 1/4"``, ``1-1/4 in``, ``22,2 mm``, ``.750``.
        default_unit: ``"mm"``, ``"cm"`` or ``"in"`` for a bare number; None refuses one. A bare fraction is in
            inches whatever the default.

    Raises:
        MeasureError: the text is no length, or could mean two.
        KeyError: ``default_unit`` is no unit of length.
    """
    default = None if default_unit is None else _DEFAULTS[default_unit]
    amount = parse_amount(text, LENGTH, default_unit=default)
    return Length(amount.exact, amount.unit, amount.last_digit)
