"""Limits of size after ISO 286: standard tolerance grades, and the zones that shafts, bores and keys are made to."""

from __future__ import annotations

import math
from collections.abc import Mapping

from xref_app.core.quantity.range import Range
from xref_app.core.standards.errors import NotInStandardError
from xref_app.core.standards.table_files import table_rows

GRADES = (5, 6, 7, 8, 9, 10, 11)
_UM_PER_MM = 1000

# Zones whose upper deviation (es of a shaft, ES of a hole) the table prints, and the grade that sets their width.
_TABLED_ZONES = {"j6": 6, "k6": 6, "D10": 10, "N9": 9, "P9": 9}
# h hangs below the nominal size, H stands on it, JS lies evenly about it.
_HANGING_ZONES = {"h6": 6, "h7": 7, "h8": 8, "h9": 9, "h11": 11}
_STANDING_ZONES = {"H7": 7, "H8": 8, "H9": 9, "H11": 11}
_EVEN_ZONES = {"JS9": 9}
ZONES = (*_HANGING_ZONES, "j6", "k6", *_STANDING_ZONES, "D10", "N9", "JS9", "P9")


def tolerance_mm(grade: int, size_mm: float) -> float:
    """Return the width of standard tolerance grade IT ``grade`` at ``size_mm``, mm.

    Args:
        grade: One of GRADES.
        size_mm: Nominal size, over 0 and up to and including 250 mm; bands are 'over .. up to and including'.

    Raises:
        NotInStandardError: the grade or the size is outside the table.

    Source: ISO 286-1, table 1; from memory, checked against two independent libraries by check_with_isofits.py.
    """
    return _grade_um(grade, size_mm) / _UM_PER_MM


def limits_mm(zone: str, size_mm: float) -> Range:
    """Return the smallest and largest size that ``zone`` (``h9``, ``H7``, ``JS9`` ..) allows at ``size_mm``, mm.

    Raises:
        NotInStandardError: the zone or the size is outside the tables.

    Source: ISO 286-2; from memory, checked against two independent libraries by check_with_isofits.py.
    """
    low_um, high_um = _deviations_um(zone, size_mm)
    return Range(size_mm + low_um / _UM_PER_MM, size_mm + high_um / _UM_PER_MM)


def _deviations_um(zone: str, size_mm: float) -> tuple[float, float]:
    if zone in _HANGING_ZONES:
        return -_grade_um(_HANGING_ZONES[zone], size_mm), 0
    if zone in _STANDING_ZONES:
        return 0, _grade_um(_STANDING_ZONES[zone], size_mm)
    if zone in _EVEN_ZONES:
        half_um = _grade_um(_EVEN_ZONES[zone], size_mm) / 2
        return -half_um, half_um
    if zone not in _TABLED_ZONES:
        raise NotInStandardError(f"The tolerance zone {zone}", "our table of ISO 286", f"use one of {', '.join(ZONES)}")
    upper_um = int(_band("iso286_upper_deviations", size_mm)[f"{zone}_um"])
    return upper_um - _grade_um(_TABLED_ZONES[zone], size_mm), upper_um


def _grade_um(grade: int, size_mm: float) -> int:
    if grade not in GRADES:
        raise NotInStandardError(f"The tolerance grade IT{grade}", "our table of ISO 286-1", "use IT5 to IT11")
    return int(_band("iso286_grades", size_mm)[f"it{grade}_um"])


def _band(table: str, size_mm: float) -> Mapping[str, str]:
    if math.isfinite(size_mm) and size_mm > 0:
        for row in table_rows(table):
            if size_mm <= float(row["to_incl_mm"]):
                return row
    raise NotInStandardError(f"The size {size_mm:g} mm", "our table of ISO 286", "give a size above 0 and up to 250 mm")
