"""Every factor against two general libraries: pint (its own table of units) and scipy.constants (CODATA and exact)."""

from __future__ import annotations

from fractions import Fraction
from math import floor, log10

import pint
import pytest
from scipy import constants

from xref_app.core.quantity import units as u
from xref_app.core.quantity.units import UNITS, Unit, unit_or_none

# The name of each unit and of its canonical unit in pint 0.25.3.
IN_PINT = {
    u.MM: ("millimeter", "millimeter"),
    u.CM: ("centimeter", "millimeter"),
    u.INCH: ("inch", "millimeter"),
    u.BAR: ("bar", "bar"),
    u.PSI: ("psi", "bar"),
    u.MPA: ("megapascal", "bar"),
    u.KPA: ("kilopascal", "bar"),
    u.LPM: ("liter/minute", "liter/minute"),
    u.GPM: ("US_liquid_gallon/minute", "liter/minute"),
    u.LPH: ("liter/hour", "liter/minute"),
    u.GPH: ("US_liquid_gallon/hour", "liter/minute"),
    u.KW: ("kilowatt", "kilowatt"),
    u.WATT: ("watt", "kilowatt"),
    u.HP: ("horsepower", "kilowatt"),
    u.METRIC_HP: ("metric_horsepower", "kilowatt"),
    u.RPM: ("revolutions_per_minute", "revolutions_per_minute"),
    u.NEWTON_METRE: ("newton*meter", "newton*meter"),
    u.POUND_FOOT: ("force_pound*foot", "newton*meter"),
    u.POUND_INCH: ("force_pound*inch", "newton*meter"),
    u.DEGREE: ("degree", "degree"),
    u.LITRE: ("liter", "liter"),
    u.MILLILITRE: ("milliliter", "liter"),
    u.US_GALLON: ("US_liquid_gallon", "liter"),
    u.SECOND: ("second", "second"),
    u.MINUTE: ("minute", "second"),
    u.HOUR: ("hour", "second"),
}

# The same factors built from scipy.constants 1.17.1, all in SI.
IN_SCIPY = {
    u.INCH: constants.inch / constants.milli,
    u.PSI: constants.psi / constants.bar,
    u.MPA: constants.mega / constants.bar,
    u.KPA: constants.kilo / constants.bar,
    u.GPM: constants.gallon / constants.liter,
    u.LPH: constants.minute / constants.hour,
    u.GPH: constants.gallon / constants.liter * constants.minute / constants.hour,
    u.HP: constants.hp / constants.kilo,
    u.METRIC_HP: 75 * constants.kilogram_force / constants.kilo,
    u.POUND_FOOT: constants.pound_force * constants.foot,
    u.POUND_INCH: constants.pound_force * constants.inch,
}

# More than the rounding of a handful of float products, far less than the last digit of any factor.
CLOSE = 1e-14


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.mark.parametrize("unit", IN_PINT, ids=lambda unit: unit.symbol)
def test_factor_agrees_with_pint(unit: Unit, registry: pint.UnitRegistry[float]) -> None:
    name, canonical = IN_PINT[unit]
    theirs = registry.Quantity(1.0, name).to(canonical).magnitude
    assert float(unit.factor) == pytest.approx(theirs, rel=CLOSE)


@pytest.mark.parametrize("unit", IN_SCIPY, ids=lambda unit: unit.symbol)
def test_factor_agrees_with_scipy(unit: Unit) -> None:
    assert float(unit.factor) == pytest.approx(IN_SCIPY[unit], rel=CLOSE)


@pytest.mark.parametrize("degrees", [-40.0, 0.0, 32.0, 140.0, 145.0, 212.0])
def test_fahrenheit_agrees_with_pint_and_scipy(degrees: float, registry: pint.UnitRegistry[float]) -> None:
    ours = float(u.FAHRENHEIT.to_canonical(Fraction(degrees)))
    assert ours == pytest.approx(registry.Quantity(degrees, "degF").to("degC").magnitude, abs=1e-9)
    assert ours == pytest.approx(constants.convert_temperature(degrees, "Fahrenheit", "Celsius"), abs=1e-9)


def test_every_unit_is_checked_against_a_library() -> None:
    elsewhere = {u.CELSIUS, u.FAHRENHEIT, u.NO_UNIT}
    assert set(UNITS) == set(IN_PINT) | elsewhere


# NIST SP 811, appendix B.8, as printed there to seven figures.
PRINTED = [
    (u.PSI, 6.894757e-2),
    (u.HP, 7.456999e-1),
    (u.METRIC_HP, 7.354988e-1),
    (u.GPM, 3.785412),
    (u.POUND_INCH, 1.129848e-1),
]


@pytest.mark.parametrize(("unit", "printed"), PRINTED, ids=lambda one: getattr(one, "symbol", ""))
def test_factor_rounds_to_the_printed_one(unit: Unit, printed: float) -> None:
    half_of_last_figure = 0.5 * 10.0 ** (floor(log10(printed)) - 6)
    assert float(unit.factor) == pytest.approx(printed, rel=0, abs=half_of_last_figure * (1 + 1e-9))


def test_no_spelling_means_two_units() -> None:
    spellings = [spelling for unit in UNITS for spelling in unit.spellings]
    assert len(spellings) == len(set(spellings))


@pytest.mark.parametrize("unit", [one for one in UNITS if one.symbol], ids=lambda unit: unit.symbol)
def test_symbol_reads_back_as_its_unit(unit: Unit) -> None:
    assert unit_or_none(unit.symbol) is unit
