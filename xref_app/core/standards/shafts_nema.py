"""Shafts of foot-mounted NEMA motors, and the tolerances NEMA MG 1 gives to shafts and faces."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.quantity.range import Range
from xref_app.core.standards.errors import NotInStandardError
from xref_app.core.standards.exact import INCH_IN_MM, as_fraction, inch_mm
from xref_app.core.standards.table_files import FROM_MEMORY, decides, inch_limits_mm, spread_of, table_rows


@dataclass(frozen=True, slots=True)
class NemaShaft:
    """The shaft of a foot-mounted motor; lengths in mm, None where the table prints none.

    ``centre_height_mm`` (D) runs from the feet to the axis; ``projection_mm`` is N-W, ``usable_mm`` the least of it
    that a hub may use (V); ``keyseat_floor_mm`` (R) runs from the far side to the keyseat's floor, on frame 48 to its
    flat. The length of a key is a habit: ``key_length_decides`` is False where it is from memory.
    """

    frame: str
    centre_height_mm: float
    shaft_diameter_mm: float
    projection_mm: float
    usable_mm: float | None
    keyseat_floor_mm: float
    keyseat_length_mm: float | None
    key_width_mm: float | None
    key_length_mm: float | None
    decides: bool
    key_length_decides: bool
    note: str
    source: str
    checked_against: str
    confidence: str


@dataclass(frozen=True, slots=True)
class NemaTolerance:
    """One tolerance, lower and upper deviation in mm, for sizes over .. up to and including, mm (None: all sizes)."""

    what: str
    over_mm: float | None
    to_incl_mm: float | None
    lower_mm: float
    upper_mm: float
    decides: bool
    note: str
    source: str
    checked_against: str
    confidence: str


@cache
def nema_shafts() -> tuple[NemaShaft, ...]:
    """Return the foot-mounted frames 48 to 256T.

    Source: NEMA MG 1, clause 4.4.1.
    """
    return tuple(_shaft(row) for row in table_rows("shafts_nema"))


@cache
def nema_tolerances() -> tuple[NemaTolerance, ...]:
    """Return the tolerances of shafts and faces. Those of the shaft are from memory: hints.

    Source: NEMA MG 1, clauses 4.4.4, 4.9 and 4.12.
    """
    return tuple(_tolerance(row) for row in table_rows("tolerances_nema"))


def hinted_nema_shaft_mm(nominal_in: Fraction) -> Range:
    """Return the limits that a NEMA shaft of ``nominal_in`` is remembered to have, mm: a hint, never to decide with.

    Raises:
        NotInStandardError: no row covers that diameter.

    Source: NEMA MG 1, clause 4.9, from memory.
    """
    for row in table_rows("tolerances_nema"):
        if row["what"] != "shaft diameter":
            continue
        if as_fraction(row["size_over_in"]) < nominal_in <= as_fraction(row["size_to_incl_in"]):
            return inch_limits_mm(nominal_in, row["tolerance_in"])
    raise NotInStandardError(
        f"A shaft of {float(nominal_in):g} in",
        "our table of NEMA MG 1",
        "give a diameter above 3/16 and up to 6-1/2 in",
    )


def _shaft(row: Mapping[str, str]) -> NemaShaft:
    def mm_or_none(column: str) -> float | None:
        return inch_mm(row[column]) if row[column] else None

    return NemaShaft(
        frame=row["frame"],
        centre_height_mm=inch_mm(row["shaft_height_d_in"]),
        shaft_diameter_mm=inch_mm(row["shaft_u_in"]),
        projection_mm=inch_mm(row["shaft_length_nw_in"]),
        usable_mm=mm_or_none("usable_length_v_in"),
        keyseat_floor_mm=inch_mm(row["shaft_floor_r_in"]),
        keyseat_length_mm=mm_or_none("keyseat_length_es_in"),
        key_width_mm=mm_or_none("key_width_in"),
        key_length_mm=mm_or_none("key_length_in"),
        decides=decides(row["confidence"]),
        key_length_decides=f"{FROM_MEMORY} for the key length" not in row["confidence"],
        note=row["note"],
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )


def _tolerance(row: Mapping[str, str]) -> NemaTolerance:
    def mm_or_none(column: str) -> float | None:
        return inch_mm(row[column]) if row[column] else None

    lower, upper = spread_of(row["tolerance_in"])
    return NemaTolerance(
        what=row["what"],
        over_mm=mm_or_none("size_over_in"),
        to_incl_mm=mm_or_none("size_to_incl_in"),
        lower_mm=float(lower * INCH_IN_MM),
        upper_mm=float(upper * INCH_IN_MM),
        decides=decides(row["confidence"]),
        note=row["note"],
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )
