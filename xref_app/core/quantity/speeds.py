"""Speeds of turning."""

from __future__ import annotations

from xref_app.core.quantity.amounts import Amount, Manner, parse_amount
from xref_app.core.quantity.units import RPM, Kind, Unit

SPEED = Manner(Kind.SPEED, "3400 rpm or 3400 1/min", point_groups_in=(RPM,))


def parse_speed_rpm(text: str, *, default_unit: Unit | None = None) -> Amount:
    """Return the speed that ``text`` names, exactly, in rpm: ``3400 rpm``, ``1450 1/min``.

    Plates give whole numbers, so ``3.400`` is refused: it may mean 3400.

    Args:
        text: As typed.
        default_unit: The unit of a bare number; None refuses one.

    Raises:
        MeasureError: the text is no speed, or could mean two.
    """
    return parse_amount(text, SPEED, default_unit=default_unit)
