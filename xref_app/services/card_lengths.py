"""The lengths that a card of many steps asks for, each with the doubt of the jaws that took it."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.quantity.lengths import parse_length_mm
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.show import show_value

# House rules of design.md section 3: outside jaws, inside jaws, hole positions.
OUTSIDE_MM = 0.05
INSIDE_MM = 0.10
POSITION_MM = 0.10


@dataclass(frozen=True, slots=True)
class Length:
    """One length as typed and read, mm."""

    as_typed: str
    value_mm: float

    @property
    def shown(self) -> str:
        """Return the length in both units."""
        return show_value(self.value_mm, "mm")

    def around(self, doubt_mm: float) -> Range:
        """Return all it may be, read with jaws good to ``doubt_mm``."""
        return Range.around(self.value_mm, doubt_mm)


def read_length(text: str, unit: str) -> Length:
    """Return the length ``text``; a bare number is in ``unit``, ``mm`` or ``in``.

    Raises:
        MeasureError: it is no length.
    """
    return Length(text, parse_length_mm(text, default_unit=unit).value_mm)
