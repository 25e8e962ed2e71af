"""How long something takes: seconds, minutes, hours."""

from __future__ import annotations

from xref_app.core.quantity.amounts import Amount, Manner, parse_amount
from xref_app.core.quantity.units import Kind, Unit

TIME = Manner(Kind.TIME, "45 s or 2 min")


def parse_time_s(text: str, *, default_unit: Unit | None = None) -> Amount:
    """Return the time that ``text`` names, exactly, in seconds: ``45 s``, ``2 min``, ``1.5 h``.

    Args:
        text: As typed.
        default_unit: The unit of a bare number; None refuses one.

    Raises:
        MeasureError: the text is no time, or could mean two.
    """
    return parse_amount(text, TIME, default_unit=default_unit)
