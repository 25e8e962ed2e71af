"""Published worked examples; the source of each stands in its row of data/worked_examples.csv.

Inputs and answers are in the example's own units; scipy.constants converts them, so our conversions are tested too.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from scipy import constants

from xref_app.core.standards import bolts, fits, hydraulics
from xref_app.core.standards.exact import inch_mm

PSI_BAR = constants.psi / 1e5
GPM_LPM = constants.gallon * 1000
HP_KW = constants.hp / 1000
INCH_MM = constants.inch * 1000
LBF_IN_NM = constants.pound_force * constants.inch
PSI_MPA = constants.psi / 1e6

Inputs = Mapping[str, float]

FORMULAS: dict[str, Callable[[Inputs], float]] = {
    "F01": lambda i: _power_kw(i) / HP_KW,
    "F02": lambda i: hydraulics.hydraulic_power_kw(pressure_bar=i["bar"], flow_lpm=i["lpm"]),
    "F03": lambda i: hydraulics.petrol_rule_kw(pressure_bar=i["psi"] * PSI_BAR, flow_lpm=i["gpm"] * GPM_LPM) / HP_KW,
    "F04": lambda i: hydraulics.electric_rule_kw(pressure_bar=i["psi"] * PSI_BAR, flow_lpm=i["gpm"] * GPM_LPM) / HP_KW,
    "F05": lambda i: hydraulics.nozzle_flow_lpm(nozzle_number=i["N"], pressure_bar=i["psi"] * PSI_BAR) / GPM_LPM,
    "F07": lambda i: hydraulics.nozzle_pressure_bar(nozzle_number=i["N"], flow_lpm=i["q"] * GPM_LPM) / PSI_BAR,
    "F09": lambda i: hydraulics.flow_at_speed_lpm(flow_lpm=i["q1"], at_rpm=i["n1"], to_rpm=i["n2"]),
    "F11": lambda i: hydraulics.torque_nm(power_kw=i["hp"] * HP_KW, speed_rpm=i["rpm"]) / LBF_IN_NM,
    "F12": lambda i: hydraulics.torque_nm(power_kw=i["kW"], speed_rpm=i["rpm"]),
    "F13": lambda i: (
        hydraulics.key_shear_mpa(
            torque_nm=i["T"] * LBF_IN_NM,
            diameter_mm=i["D"] * INCH_MM,
            width_mm=i["W"] * INCH_MM,
            length_mm=i["L"] * INCH_MM,
        )
        / PSI_MPA
    ),
    "F14": lambda i: (
        hydraulics.key_bearing_mpa(
            torque_nm=i["T"] * LBF_IN_NM,
            diameter_mm=i["D"] * INCH_MM,
            height_mm=i["H"] * INCH_MM,
            length_mm=i["L"] * INCH_MM,
        )
        / PSI_MPA
    ),
    "F21": lambda i: fits.floating_fastener_hole_mm(bolt_mm=i["F"] * INCH_MM, zone_mm=i["T"] * INCH_MM) / INCH_MM,
    "F22": lambda i: fits.fixed_fastener_zone_mm(hole_mm=i["H"] * INCH_MM, bolt_mm=i["F"] * INCH_MM) / INCH_MM,
}
# Belts, orifices and thread stripping are no question of fit; bolt circles and stack-ups have tests of their own.
NO_FUNCTION = {"F08", "F10", "F20", "F23", "F25", "F26", "F27"}
# Formulas that have no worked example but a test of their own; and those that no question of fit needs.
TESTED_ELSEWHERE = {
    "F06": "core/standards/test_worked_examples.py",
    "F17": "core/standards/test_bolt_torques.py",
    "F18": "core/standards/test_bolt_torques.py",
    "F19": "core/standards/test_bolts.py",
    "F24": "core/identify/test_circle.py",
}
NO_EXAMPLE = {"F28", "F29"}


def _power_kw(inputs: Inputs) -> float:
    return hydraulics.hydraulic_power_kw(pressure_bar=inputs["psi"] * PSI_BAR, flow_lpm=inputs["gpm"] * GPM_LPM)


def examples(*formulas: str) -> list[dict[str, str]]:
    text = (Path(__file__).parent / "data" / "worked_examples.csv").read_text(encoding="utf-8")
    return [row for row in csv.DictReader(text.splitlines()) if row["formula_id"] in formulas]


def inputs_of(row: Mapping[str, str]) -> Inputs:
    return {name: float(value) for name, value in re.findall(r"(\w+)=([\d.]+)", row["inputs"])}


def tolerance_of(row: Mapping[str, str]) -> float:
    printed = row["tolerance"].removeprefix("+/-")
    if printed.endswith("%"):
        return float(printed[:-1]) / 100 * float(row["answer"])
    return float(printed)


def named(row: Mapping[str, str]) -> str:
    return f"{row['example_id']}-{row['formula_id']}"


@pytest.mark.parametrize("row", examples(*FORMULAS), ids=named)
def test_formula_gives_the_published_answer(row: dict[str, str]) -> None:
    answer = FORMULAS[row["formula_id"]](inputs_of(row))
    assert answer == pytest.approx(float(row["answer"]), abs=tolerance_of(row)), row["source"]


@pytest.mark.parametrize("row", examples("F16"), ids=named)
def test_bolt_torque_gives_the_published_answer(row: dict[str, str]) -> None:
    bolt, grade = re.findall(r"bolt=(\S+); SAE J429 grade (\d)", row["inputs"])[0]
    diameter_mm = INCH_MM * {"5/16-18": 5 / 16, "5/16-24": 5 / 16, "3/8-16": 3 / 8}[bolt]
    preload_n = bolts.preload_n(
        proof_mpa=bolts.proof_stress_mpa(grade, diameter_mm), area_mm2=bolts.stress_area_mm2(bolt), share=0.75
    )
    torque = bolts.torque_nm(k=0.20, d_mm=diameter_mm, preload_n=preload_n) / LBF_IN_NM
    assert torque == pytest.approx(float(row["answer"]), abs=tolerance_of(row)), row["source"]


def test_key_as_long_as_the_textbook_says_is_stressed_to_the_allowed_limit() -> None:
    # W36, W37: Shigley's key example (recalled): 40 hp at 600 rpm, 1-7/16 in shaft, 3/8 in key, Sy 65 ksi, factor 2.80.
    shear_row, crush_row = examples("F15")
    torque_nm = hydraulics.torque_nm(power_kw=40 * HP_KW, speed_rpm=600)
    allowed_mpa = 65000 * PSI_MPA / 2.80
    shear_mpa = hydraulics.key_shear_mpa(
        torque_nm=torque_nm,
        diameter_mm=1.4375 * INCH_MM,
        width_mm=0.375 * INCH_MM,
        length_mm=float(shear_row["answer"]) * INCH_MM,
    )
    bearing_mpa = hydraulics.key_bearing_mpa(
        torque_nm=torque_nm,
        diameter_mm=1.4375 * INCH_MM,
        height_mm=0.375 * INCH_MM,
        length_mm=float(crush_row["answer"]) * INCH_MM,
    )
    assert shear_mpa == pytest.approx(0.577 * allowed_mpa, rel=0.01 / 1.1638)
    assert bearing_mpa == pytest.approx(allowed_mpa, rel=0.01 / 1.343)


@pytest.mark.parametrize("row", examples("inch fractions"), ids=named)
def test_inch_fraction_in_mm(row: dict[str, str]) -> None:
    fraction = re.findall(r"fraction (\S+) in", row["inputs"])[0]
    assert inch_mm(fraction) == pytest.approx(float(row["answer"]), abs=tolerance_of(row)), row["source"]


def ids_in(table: str) -> set[str]:
    text = (Path(__file__).parent / "data" / f"{table}.csv").read_text(encoding="utf-8")
    return {row["formula_id"] for row in csv.DictReader(text.splitlines())}


def test_every_example_is_tested_here_or_left_out_on_purpose() -> None:
    assert ids_in("worked_examples") == {*FORMULAS, "F15", "F16", "inch fractions", *NO_FUNCTION}


def test_every_formula_is_tested_or_left_out_on_purpose() -> None:
    assert ids_in("formulas") == {*FORMULAS, "F15", "F16", *NO_FUNCTION, *TESTED_ELSEWHERE, *NO_EXAMPLE}
    assert all((Path(__file__).parents[2] / test).is_file() for test in TESTED_ELSEWHERE.values())


def test_nozzle_number_flow_and_pressure_are_inverse_to_each_other() -> None:
    flow_lpm = hydraulics.nozzle_flow_lpm(nozzle_number=3.5, pressure_bar=180)
    assert hydraulics.nozzle_pressure_bar(nozzle_number=3.5, flow_lpm=flow_lpm) == pytest.approx(180)
    assert hydraulics.nozzle_number_for(flow_lpm=flow_lpm, pressure_bar=180) == pytest.approx(3.5)


def test_nozzle_numbers_are_counted_at_4000_psi_and_not_at_a_round_276_bar() -> None:
    assert pytest.approx(4000 * PSI_BAR) == hydraulics.NOZZLE_REFERENCE_BAR


def test_hole_lets_the_bolt_stand_off_half_their_difference() -> None:
    # Source: ASME Y14.5 appendix B; W47 turned round: H = F + T leaves the bolt T/2 on every side.
    assert fits.floating_fastener_offset_mm(8.73, 7.94) == pytest.approx(0.395)
    assert fits.floating_fastener_offset_mm(7.9, 7.94) < 0
