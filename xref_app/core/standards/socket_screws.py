"""Socket head cap screws: how large their heads are, and which clearance hole they pass."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.quantity.range import SAME_MM
from xref_app.core.standards.exact import INCH_IN_MM, as_fraction
from xref_app.core.standards.table_files import decides, table_rows
from xref_app.core.standards.threads import bolt_nominal_mm, bolt_system

_MM = {"mm": Fraction(1), "in": INCH_IN_MM}


@dataclass(frozen=True, slots=True)
class SocketScrew:
    """A screw size (``M8``, ``5/16``): largest head, and the medium (normal) clearance hole, mm."""

    system: str
    size: str
    nominal_mm: float
    head_diameter_mm: float
    head_height_mm: float
    clearance_mm: float
    source: str
    checked_against: str
    confidence: str


@cache
def socket_screws() -> tuple[SocketScrew, ...]:
    """Return every socket head cap screw size that decides, inch first.

    Source: heads ASME B18.3 and ISO 4762 (knurled head); holes ASME B18.2.8 normal and ISO 273 medium; each checked
    against one library's data. M12 is left out: that library prints another hole than ISO 273.
    """
    return tuple(_screw(row) for row in table_rows("socket_screws") if decides(row["confidence"]))


def socket_screw_or_none(designation: str) -> SocketScrew | None:
    """Return the screw of a bolt thread (``5/16-24 UNF``, ``M8x1.25``); None for a thread or size not in the tables."""
    nominal_mm, system = bolt_nominal_mm(designation), bolt_system(designation)
    if nominal_mm is None:
        return None
    for screw in socket_screws():
        if screw.system == system and abs(screw.nominal_mm - nominal_mm) <= SAME_MM:
            return screw
    return None


def _screw(row: Mapping[str, str]) -> SocketScrew:
    def mm(printed: str) -> float:
        return float(as_fraction(printed) * _MM[row["unit"]])

    return SocketScrew(
        system=row["system"],
        size=row["size"],
        nominal_mm=mm(row["size"].removeprefix("M")),
        head_diameter_mm=mm(row["head_diameter_max"]),
        head_height_mm=mm(row["head_height_max"]),
        clearance_mm=mm(row["clearance_medium"]),
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )
