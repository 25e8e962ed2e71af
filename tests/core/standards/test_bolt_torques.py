"""Torques, stress areas and lengths of bolts against formulas and the data of two libraries (see data/README.md)."""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import pytest
from scipy import constants

from xref_app.core.standards.bolt_torques import BoltTorque, bolt_torques
from xref_app.core.standards.bolts import (
    K_DRY,
    K_LUBRICATED,
    REUSED_JOINT,
    preload_n,
    proof_stress_mpa,
    standard_lengths_mm,
    stress_area_inch_mm2,
    stress_area_mm2,
    torque_nm,
)
from xref_app.core.standards.exact import inch_mm
from xref_app.core.standards.table_files import table_rows
from xref_app.core.standards.threads import bolt_nominal_mm, bolt_system

MM2_PER_IN2 = constants.inch**2 * 1e6
# What the table rounds to, in its own units: lbf and lbf·in of inch bolts, N and N·m of metric ones.
AREA_ROUNDING_MM2 = {"inch": 0.00005 * MM2_PER_IN2, "metric": 0.05}
FORCE_ROUNDING_N = {"inch": 0.5 * constants.pound_force, "metric": 0.5}
TORQUE_ROUNDING_NM = {"inch": 0.05 * constants.pound_force * constants.inch, "metric": 0.05}
SLACK = 1e-6


def rows_of(name: str) -> list[dict[str, str]]:
    text = (Path(__file__).parent / "data" / f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def named(row: BoltTorque) -> str:
    return f"{row.bolt} grade {row.grade}"


def system_of(row: BoltTorque) -> str:
    return bolt_system(row.bolt) or ""


def diameter_mm(row: BoltTorque) -> float:
    return bolt_nominal_mm(row.bolt) or 0.0


@pytest.mark.parametrize("row", bolt_torques(), ids=named)
def test_stress_area_is_that_of_the_formula(row: BoltTorque) -> None:
    # Source: ASME B1.1 and ISO 898-1.
    within = AREA_ROUNDING_MM2[system_of(row)] + SLACK
    assert row.stress_area_mm2 == pytest.approx(stress_area_mm2(row.bolt), abs=within)


@pytest.mark.parametrize("row", bolt_torques(), ids=named)
def test_proof_load_is_the_grade_times_the_area_and_preload_three_quarters_of_it(row: BoltTorque) -> None:
    # Source: SAE J429, ISO 898-1; Shigley for the share (F17).
    within = FORCE_ROUNDING_N[system_of(row)] + SLACK
    proof = {"proof_mpa": proof_stress_mpa(row.grade, diameter_mm(row)), "area_mm2": stress_area_mm2(row.bolt)}
    assert row.proof_load_n == pytest.approx(preload_n(**proof, share=1), abs=within, rel=2e-5)
    assert row.preload_n == pytest.approx(preload_n(**proof, share=REUSED_JOINT), abs=within, rel=2e-5)


@pytest.mark.parametrize("row", bolt_torques(), ids=named)
def test_torque_is_k_times_diameter_times_preload(row: BoltTorque) -> None:
    # Source: Shigley, T = K D F.
    within = TORQUE_ROUNDING_NM[system_of(row)] + SLACK
    dry = torque_nm(k=K_DRY, d_mm=diameter_mm(row), preload_n=row.preload_n)
    lubricated = torque_nm(k=K_LUBRICATED, d_mm=diameter_mm(row), preload_n=row.preload_n)
    assert row.torque_dry_nm == pytest.approx(dry, abs=within, rel=4e-4)
    assert row.torque_lubricated_nm == pytest.approx(lubricated, abs=within, rel=4e-4)


def test_each_bolt_stands_once_in_each_grade_of_its_system() -> None:
    found = {(row.bolt, row.grade) for row in bolt_torques()}
    assert len(found) == len(bolt_torques()) == 40
    inch, metric = ({bolt for bolt, _ in found if bolt_system(bolt) == system} for system in ("inch", "metric"))
    assert found == {(bolt, grade) for bolt in inch for grade in ("2", "5", "8")} | {
        (bolt, grade) for bolt in metric for grade in ("8.8", "10.9")
    }


def test_no_torque_decides() -> None:
    assert not any(row.torque_decides for row in bolt_torques())


@pytest.mark.parametrize("row", rows_of("stress_areas"), ids=lambda row: row["bolt"])
def test_stress_area_is_that_of_an_independent_library(row: Mapping[str, str]) -> None:
    # Source: screw_thread_lib 0.0.6 (MIT), FED-STD-H28 formula 1b, which keeps the root where B1.1 prints 0.9743 (F18).
    diameter, threads = row["bolt"].split("-")
    nominal_in = 0.19 if diameter == "10" else float(Fraction(diameter))
    area = stress_area_inch_mm2(nominal_mm=nominal_in * 25.4, pitch_mm=25.4 / int(threads))
    assert area / MM2_PER_IN2 == pytest.approx(float(row["stress_area_in2"]), abs=5e-6)
    assert area < math.pi / 4 * (nominal_in * 25.4) ** 2


def library_lengths(system: str) -> list[float]:
    (row,) = [row for row in rows_of("screw_lengths") if row["system"] == system]
    return [float(length) for length in row["lengths"].split()]


def test_metric_lengths_are_those_of_iso_4017() -> None:
    # Source: bd-warehouse 0.4.0 (Apache-2.0), ISO 4017; up to the longest that we offer, without a gap.
    ours = standard_lengths_mm("metric")
    assert list(ours) == [length for length in library_lengths("metric") if ours[0] <= length <= ours[-1]]


def test_inch_lengths_are_those_of_asme_b18_3() -> None:
    # Source: bd-warehouse 0.4.0 (Apache-2.0), ASME B18.3; it prints 7/8 as 0.88.
    ours = standard_lengths_mm("inch")
    theirs = [length for length in library_lengths("inch") if length <= 3]
    assert [length / 25.4 for length in ours] == pytest.approx(theirs, abs=0.00501)


def test_lengths_that_are_only_remembered_are_not_offered() -> None:
    remembered = [row for row in table_rows("bolt_lengths") if row["confidence"] == "from memory"]
    assert {row["length"] for row in remembered} == {"1/2", "5/8"}
    assert not {inch_mm(row["length"]) for row in remembered} & set(standard_lengths_mm("inch"))
