"""Powers: hp is the mechanical horsepower; the metric one, 1.4 % less, is called PS."""

from __future__ import annotations

from xref_app.core.quantity.amounts import Amount, Manner, parse_amount
from xref_app.core.quantity.units import WATT, Kind, Unit

POWER = Manner(Kind.POWER, "6.5 hp or 4.8 kW", point_groups_in=(WATT,))


def parse_power_kw(text: str, *, default_unit: Unit | None = None) -> Amount:
    """Return the power that ``text`` names, exactly, in kW: ``6.5 hp`` (550 ft·lbf/s), ``6.5 PS`` (metric), ``4.8 kW``.

    Plates give whole numbers in some units, so ``3.400`` of those is refused: it may mean 3400.

    Args:
        text: As typed.
        default_unit: The unit of a bare number; None refuses one.

    Raises:
        MeasureError: the text is no power, or could mean two.
    """
    return parse_amount(text, POWER, default_unit=default_unit)
