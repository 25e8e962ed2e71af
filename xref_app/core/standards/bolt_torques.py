"""Tightening torques by bolt and grade, as computed once by hand: hints, because the torque factors are from memory."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.standards.exact import INCH_IN_MM, POUND_FORCE_IN_N, as_fraction
from xref_app.core.standards.table_files import FROM_MEMORY, table_rows

_MM2 = {"mm2": Fraction(1), "in2": INCH_IN_MM**2}
_N = {"N": Fraction(1), "lbf": POUND_FORCE_IN_N}
_NM = {"N m": Fraction(1), "lbf in": POUND_FORCE_IN_N * INCH_IN_MM / 1000}


@dataclass(frozen=True, slots=True)
class BoltTorque:
    """One bolt of one grade: stress area in mm², proof load and preload (75 % of it) in N, torques in N·m.

    ``torque_decides`` is False: K 0.20 (dry) and K 0.15 (lubricated) are from memory. The maker's figure goes first.
    """

    bolt: str
    grade: str
    stress_area_mm2: float
    proof_load_n: float
    preload_n: float
    torque_dry_nm: float
    torque_lubricated_nm: float
    torque_decides: bool
    note: str
    source: str
    checked_against: str
    confidence: str


@cache
def bolt_torques() -> tuple[BoltTorque, ...]:
    """Return the inch bolts by grade, then the metric ones.

    Source: SAE J429 and ISO 898-1 (proof); ASME B1.1 and ISO 898-1 (areas); torque factors from memory.
    """
    return tuple(_torque(row) for row in table_rows("bolt_torques"))


def _torque(row: Mapping[str, str]) -> BoltTorque:
    newtons, newton_metres = _N[row["force_unit"]], _NM[row["torque_unit"]]
    return BoltTorque(
        bolt=row["bolt"],
        grade=row["grade"],
        stress_area_mm2=float(as_fraction(row["stress_area"]) * _MM2[row["area_unit"]]),
        proof_load_n=float(as_fraction(row["proof_load"]) * newtons),
        preload_n=float(as_fraction(row["preload_75_percent"]) * newtons),
        torque_dry_nm=float(as_fraction(row["torque_dry"]) * newton_metres),
        torque_lubricated_nm=float(as_fraction(row["torque_lubricated"]) * newton_metres),
        torque_decides=f"{FROM_MEMORY} for K" not in row["confidence"],
        note=row["note"],
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )
