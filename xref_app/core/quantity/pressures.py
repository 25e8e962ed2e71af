"""Pressures above the air around: psi, bar, MPa, kPa."""

from __future__ import annotations

from xref_app.core.quantity.amounts import Amount, Manner, parse_amount
from xref_app.core.quantity.units import KPA, PSI, Kind, Unit

PRESSURE = Manner(Kind.PRESSURE, "2700 psi or 186 bar", point_groups_in=(PSI, KPA))


def parse_pressure_bar(text: str, *, default_unit: Unit | None = None) -> Amount:
    """Return the pressure that ``text`` names, exactly, in bar: ``2700 psi``, ``186 bar``, ``18.6 MPa``.

    Plates give whole numbers in some units, so ``3.400`` of those is refused: it may mean 3400.

    Args:
        text: As typed.
        default_unit: The unit of a bare number; None refuses one.

    Raises:
        MeasureError: the text is no pressure, or could mean two.
    """
    return parse_amount(text, PRESSURE, default_unit=default_unit)
