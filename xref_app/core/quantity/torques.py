"""Torques of bolts and shafts."""

from __future__ import annotations

from xref_app.core.quantity.amounts import Amount, Manner, parse_amount
from xref_app.core.quantity.units import Kind, Unit

TORQUE = Manner(Kind.TORQUE, "25 N·m or 18 lb·ft")


def parse_torque_nm(text: str, *, default_unit: Unit | None = None) -> Amount:
    """Return the torque that ``text`` names, exactly, in N·m: ``25 N·m``, ``18 lb·ft``, ``220 lb·in``.

    Args:
        text: As typed.
        default_unit: The unit of a bare number; None refuses one.

    Raises:
        MeasureError: the text is no torque, or could mean two.
    """
    return parse_amount(text, TORQUE, default_unit=default_unit)
