"""Flows of water: US gallons or litres, by minute or hour."""

from __future__ import annotations

from xref_app.core.quantity.amounts import Amount, Manner, parse_amount
from xref_app.core.quantity.units import LPH, Kind, Unit

FLOW = Manner(Kind.FLOW, "2.5 gpm or 9.5 l/min", point_groups_in=(LPH,))


def parse_flow_lpm(text: str, *, default_unit: Unit | None = None) -> Amount:
    """Return the flow that ``text`` names, exactly, in lpm: ``2.5 gpm`` (US gallons), ``9.5 l/min``, ``600 l/h``.

    Plates give whole numbers in some units, so ``3.400`` of those is refused: it may mean 3400.

    Args:
        text: As typed.
        default_unit: The unit of a bare number; None refuses one.

    Raises:
        MeasureError: the text is no flow, or could mean two.
    """
    return parse_amount(text, FLOW, default_unit=default_unit)
