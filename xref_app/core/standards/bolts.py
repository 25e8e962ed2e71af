"""How strong bolts are, how hard to tighten them, and in which lengths they are sold."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xref_app.core.quantity.range import SAME_MM
from xref_app.core.standards.errors import NotInStandardError
from xref_app.core.standards.exact import INCH_IN_MM, PSI_IN_MPA, as_fraction
from xref_app.core.standards.table_files import decides, table_rows
from xref_app.core.standards.threads import bolt_nominal_mm, bolt_pitch_mm, bolt_system

# Shares of the proof load to tighten to: joints that come apart again, and joints that never do (Shigley; from memory).
REUSED_JOINT, PERMANENT_JOINT = 0.75, 0.90
# Torque factors (Shigley; from memory): as bought, and oiled or with anti-seize.
K_DRY, K_LUBRICATED = 0.20, 0.15
_MPA = {"MPa": Fraction(1), "ksi": 1000 * PSI_IN_MPA}
_MM = {"mm": Fraction(1), "in": INCH_IN_MM}


@dataclass(frozen=True, slots=True)
class BoltGrade:
    """The proof stress, MPa, of one strength grade for nominal diameters from .. up to and including, mm."""

    standard: str
    grade: str
    from_mm: float
    to_incl_mm: float
    proof_mpa: float
    head_marking: str
    note: str
    source: str
    checked_against: str
    confidence: str


@cache
def bolt_grades() -> tuple[BoltGrade, ...]:
    """Return every grade by size range.

    Source: SAE J429 and ISO 898-1; where sources disagree the row's note says so.
    """
    return tuple(_grade(row) for row in table_rows("bolt_grades"))


def proof_stress_mpa(grade: str, nominal_mm: float) -> float:
    """Return the proof stress of a bolt of ``grade`` (``5``, ``8.8`` ..) and nominal diameter ``nominal_mm``, MPa.

    Raises:
        NotInStandardError: no row holds that grade at that diameter.
    """
    for row in bolt_grades():
        if row.grade == grade and row.from_mm - SAME_MM <= nominal_mm <= row.to_incl_mm + SAME_MM:
            return row.proof_mpa
    raise NotInStandardError(
        f"A bolt of grade {grade} and {nominal_mm:g} mm",
        "our tables of SAE J429 and ISO 898-1",
        "read the head again: no mark or 3 or 6 lines on inch bolts, 8.8, 10.9 or 12.9 on metric ones",
    )


def stress_area_inch_mm2(*, nominal_mm: float, pitch_mm: float) -> float:
    """Return the tensile stress area of an inch thread, mm²: π/4 · (D - 0.9743 p)².

    Source: ASME B1.1; FED-STD-H28.
    """
    return math.pi / 4 * (nominal_mm - 0.9743 * pitch_mm) ** 2


def stress_area_metric_mm2(*, nominal_mm: float, pitch_mm: float) -> float:
    """Return the tensile stress area of a metric thread, mm²: π/4 · (d - 0.9382 P)².

    Source: ISO 898-1.
    """
    return math.pi / 4 * (nominal_mm - 0.9382 * pitch_mm) ** 2


def stress_area_mm2(designation: str) -> float:
    """Return the tensile stress area of a bolt thread such as ``5/16-18`` or ``M8x1.25``, mm².

    Raises:
        NotInStandardError: no bolt of that thread is in the table.
    """
    nominal_mm, pitch_mm = bolt_nominal_mm(designation), bolt_pitch_mm(designation)
    if nominal_mm is None or pitch_mm is None:
        raise NotInStandardError(
            f"A bolt “{designation}”", "our table of threads", "write it like M8x1.25 or 5/16-24 UNF"
        )
    area = stress_area_inch_mm2 if bolt_system(designation) == "inch" else stress_area_metric_mm2
    return area(nominal_mm=nominal_mm, pitch_mm=pitch_mm)


def preload_n(*, proof_mpa: float, area_mm2: float, share: float = REUSED_JOINT) -> float:
    """Return the pull to tighten a bolt to, N: ``share`` of its proof load.

    Source: Shigley, Mechanical Engineering Design (0.75 where the joint comes apart again; from memory).
    """
    return share * proof_mpa * area_mm2


def torque_nm(*, k: float, d_mm: float, preload_n: float) -> float:
    """Return the tightening torque, N·m: K · D · F with the nominal diameter ``d_mm``.

    Source: Shigley, table of torque factors; the factors K are from memory.
    """
    return k * d_mm / 1000 * preload_n


@cache
def standard_lengths_mm(system: str) -> tuple[float, ...]:
    """Return the lengths that bolts are sold in, mm, ascending; those that are only remembered are left out.

    Args:
        system: ``inch`` or ``metric``.

    Source: inch: ASME B18.3; metric: ISO 888 and ISO 4017; each checked against one library's data.
    """
    rows = tuple(row for row in table_rows("bolt_lengths") if row["system"] == system and decides(row["confidence"]))
    if not rows:
        raise NotInStandardError(f"The system “{system}”", "our table of bolt lengths", "use inch or metric")
    return tuple(float(as_fraction(row["length"]) * _MM[row["unit"]]) for row in rows)


def _grade(row: Mapping[str, str]) -> BoltGrade:
    mm_per_unit = _MM[row["size_unit"]]
    return BoltGrade(
        standard=row["standard"],
        grade=row["grade"],
        from_mm=float(as_fraction(row["size_from"]) * mm_per_unit),
        to_incl_mm=float(as_fraction(row["size_to_incl"]) * mm_per_unit),
        proof_mpa=float(as_fraction(row["proof"]) * _MPA[row["proof_unit"]]),
        head_marking=row["head_marking"],
        note=row["note"],
        source=row["source"],
        checked_against=row["checked_against"],
        confidence=row["confidence"],
    )
