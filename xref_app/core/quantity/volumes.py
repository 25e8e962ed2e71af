"""Volumes of water: litres or US gallons."""

from __future__ import annotations

from xref_app.core.quantity.amounts import Amount, Manner, parse_amount
from xref_app.core.quantity.units import Kind, Unit

VOLUME = Manner(Kind.VOLUME, "10 L or 5 gal")


def parse_volume_l(text: str, *, default_unit: Unit | None = None) -> Amount:
    """Return the volume that ``text`` names, exactly, in L: ``10 L``, ``5 gal`` (US gallons), ``800 mL``.

    Args:
        text: As typed.
        default_unit: The unit of a bare number; None refuses one.

    Raises:
        MeasureError: the text is no volume, or could mean two.
    """
    return parse_amount(text, VOLUME, default_unit=default_unit)
