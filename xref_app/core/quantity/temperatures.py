"""Temperatures in °C or °F."""

from __future__ import annotations

from fractions import Fraction

from xref_app.core.quantity.amounts import Amount, Manner, parse_amount
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.units import Kind, Unit

TEMPERATURE = Manner(Kind.TEMPERATURE, "60 °C or 140 °F", below_zero=True)
# NIST SP 811, appendix B.8: 0 K is -273.15 °C exactly.
ABSOLUTE_ZERO_C = Fraction("-273.15")


def parse_temperature_c(text: str, *, default_unit: Unit | None = None) -> Amount:
    """Return the temperature that ``text`` names, exactly, in °C: ``60 °C``, ``140 °F``, ``-5 C``.

    Args:
        text: As typed.
        default_unit: The unit of a bare number; None refuses one.

    Raises:
        MeasureError: the text is no temperature, could mean two, or lies below absolute zero.
    """
    amount = parse_amount(text, TEMPERATURE, default_unit=default_unit)
    if amount.exact < ABSOLUTE_ZERO_C:
        raise MeasureError(text, "is below absolute zero", TEMPERATURE.instead)
    return amount
