"""The diameters that straight shafts and bores are made in, without regard to keys."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from xref_app.core.quantity.range import Range
from xref_app.core.standards.keys import keyed_pairs

SOURCE = "house rule: sixteenths of an inch and whole millimetres, h9 and H9 of ISO 286"


@dataclass(frozen=True, slots=True)
class StandardSize:
    """One nominal diameter, mm, with the limits of a shaft (h9) and of a bore (H9) of that size."""

    label: str
    system: str
    diameter_mm: float
    shaft_mm: Range
    bore_mm: Range
    source: str


@cache
def standard_sizes() -> tuple[StandardSize, ...]:
    """Return 3/8 to 2 in by 1/16, then 8 to 50 mm by 1 mm: the diameters of the keyed pairs."""
    return tuple(
        StandardSize(pair.label, pair.system, pair.diameter_mm, pair.shaft_mm, pair.bore_mm, SOURCE)
        for pair in keyed_pairs()
    )


def sizes_meeting_shaft(reading_mm: Range) -> tuple[StandardSize, ...]:
    """Return the sizes whose shaft limits meet ``reading_mm``."""
    return tuple(size for size in standard_sizes() if size.shaft_mm.meets(reading_mm))


def sizes_meeting_bore(reading_mm: Range) -> tuple[StandardSize, ...]:
    """Return the sizes whose bore limits meet ``reading_mm``."""
    return tuple(size for size in standard_sizes() if size.bore_mm.meets(reading_mm))
