"""Inch fractions and unit constants against pint, scipy and our own exact conversions."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from fractions import Fraction
from math import gcd
from pathlib import Path

import pint
import pytest
from scipy import constants

from xref_app.core.standards.exact import (
    GALLON_IN_LITRES,
    HORSEPOWER_IN_KW,
    INCH_IN_MM,
    POUND_FORCE_IN_N,
    PSI_IN_BAR,
    PSI_IN_MPA,
    as_printed,
)
from xref_app.core.standards.inch_fractions import InchFraction, inch_fractions
from xref_app.core.standards.table_files import table_rows

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()

# What scipy, pint and our own constants make of each row; None where our code has no such conversion.
CONVERSIONS: dict[str, tuple[float, str, str, Fraction | None]] = {
    "psi to Pa": (constants.psi, "psi", "Pa", PSI_IN_MPA * 10**6),
    "bar to psi": (constants.bar / constants.psi, "bar", "psi", 1 / PSI_IN_BAR),
    "MPa to psi": (1e6 / constants.psi, "MPa", "psi", 1 / PSI_IN_MPA),
    "psi to bar": (constants.psi / constants.bar, "psi", "bar", PSI_IN_BAR),
    "US gal to L": (constants.gallon * 1000, "gallon", "L", GALLON_IN_LITRES),
    "L/min to US gal/min": (0.001 / constants.gallon, "L/min", "gallon/min", 1 / GALLON_IN_LITRES),
    "hp (550 ft-lbf/s) to kW": (constants.hp / 1000, "hp", "kW", HORSEPOWER_IN_KW),
    "inch to mm": (constants.inch * 1000, "inch", "mm", INCH_IN_MM),
    "ft-lbf to N*m": (
        constants.foot * constants.pound_force,
        "foot*lbf",
        "N*m",
        POUND_FORCE_IN_N * INCH_IN_MM * 12 / 1000,
    ),
    "lbf to N": (constants.pound_force, "lbf", "N", POUND_FORCE_IN_N),
    "lbf*in to N*m": (constants.inch * constants.pound_force, "lbf*inch", "N*m", POUND_FORCE_IN_N * INCH_IN_MM / 1000),
    "lb to kg": (constants.lb, "lb", "kg", POUND_FORCE_IN_N / Fraction("9.80665")),
    "rev/min to rad/s": (2 * constants.pi / 60, "rpm", "rad/s", None),
}


def constant_rows() -> list[dict[str, str]]:
    text = (Path(__file__).parent / "data" / "unit_constants.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@pytest.mark.parametrize("row", [row for row in constant_rows() if row["value"]], ids=lambda row: row["quantity"])
def test_unit_constant_is_that_of_two_libraries_and_ours(row: Mapping[str, str]) -> None:
    # Source: NIST SP 811; scipy.constants; pint.
    by_scipy, unit, into, ours = CONVERSIONS[row["quantity"]]
    published = float(row["value"])
    assert published == pytest.approx(by_scipy, rel=1e-14)
    assert published == pytest.approx(UNITS.Quantity(1.0, unit).to(into).magnitude, rel=1e-14)
    assert ours is None or float(ours) == pytest.approx(published, rel=1e-15)


def test_every_constant_is_compared_but_the_one_that_is_no_factor() -> None:
    assert {row["quantity"] for row in constant_rows()} == {*CONVERSIONS, "deg F to deg C"}


@pytest.mark.parametrize("fraction", inch_fractions(), ids=lambda fraction: fraction.label)
def test_fraction_is_exact_and_printed_to_four_places(fraction: InchFraction) -> None:
    # Source: 1 in = 25.4 mm exactly (NIST SP 811); pint.
    assert fraction.mm == pytest.approx(UNITS.Quantity(float(fraction.inches), "inch").to("mm").magnitude, rel=1e-15)
    assert fraction.printed_mm == pytest.approx(fraction.mm, abs=0.00005 + 1e-12)
    assert as_printed(fraction.inches) == fraction.label


def test_fractions_are_every_sixty_fourth_in_lowest_terms() -> None:
    assert [fraction.inches for fraction in inch_fractions()] == [Fraction(part, 64) for part in range(1, 65)]
    for fraction in inch_fractions():
        over, _, under = fraction.label.partition("/")
        assert gcd(int(over), int(under or 1)) == 1


def test_decimals_of_the_table_are_exact() -> None:
    for row, fraction in zip(table_rows("inch_fractions"), inch_fractions(), strict=True):
        assert Fraction(row["decimal_in"]) == fraction.inches
