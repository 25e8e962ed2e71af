"""Every unit that is read or shown, with its exact factor.

Source of all factors: NIST SP 811 (2008 edition), Guide for the Use of the SI, appendix B.8 and its exact
definitions: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lbf = 4.4482216152605 N, 1 US gallon = 231 in³ = 3.785411784 L,
1 hp = 550 ft·lbf/s, 1 metric horsepower = 75 kgf·m/s with 1 kgf = 9.80665 N, t/°C = (t/°F - 32)/1.8.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

_INCH_M = Fraction("0.0254")
_FOOT_M = Fraction("0.3048")
_POUND_FORCE_N = Fraction("4.4482216152605")
_GALLON_L = Fraction("3.785411784")
_KILOGRAM_FORCE_N = Fraction("9.80665")
_PASCAL_PER_BAR = 100_000
_MINUTES_PER_HOUR = 60


class Kind(StrEnum):
    """What is measured, in words for a sentence."""

    LENGTH = "length"
    PRESSURE = "pressure"
    FLOW = "flow"
    POWER = "power"
    SPEED = "speed"
    TEMPERATURE = "temperature"
    TORQUE = "torque"
    ANGLE = "angle"
    VOLUME = "volume"
    TIME = "time"
    COUNT = "number"


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: canonical value = (number - ``zero``) * ``factor``.

    ``symbol`` is how it is shown; ``spellings`` are all ways to write it, in small letters without the spaces, dots
    and hyphens inside.
    """

    symbol: str
    kind: Kind
    factor: Fraction
    spellings: tuple[str, ...]
    zero: Fraction = Fraction(0)

    def to_canonical(self, number: Fraction) -> Fraction:
        """Return ``number`` of this unit in the canonical unit of its kind, exactly."""
        return (number - self.zero) * self.factor

    def from_canonical(self, value: Fraction) -> Fraction:
        """Return the canonical ``value`` in this unit, exactly."""
        return value / self.factor + self.zero


MM = Unit("mm", Kind.LENGTH, Fraction(1), ("mm", "millimetre", "millimetres", "millimeter", "millimeters"))
CM = Unit("cm", Kind.LENGTH, Fraction(10), ("cm", "centimetre", "centimetres", "centimeter", "centimeters"))
INCH = Unit("in", Kind.LENGTH, _INCH_M * 1000, ("in", '"', "inch", "inches"))

BAR = Unit("bar", Kind.PRESSURE, Fraction(1), ("bar",))
PSI = Unit("psi", Kind.PRESSURE, _POUND_FORCE_N / _INCH_M**2 / _PASCAL_PER_BAR, ("psi", "lb/in2", "lbf/in2"))
MPA = Unit("MPa", Kind.PRESSURE, Fraction(10), ("mpa",))
KPA = Unit("kPa", Kind.PRESSURE, Fraction(1, 100), ("kpa",))

LPM = Unit("lpm", Kind.FLOW, Fraction(1), ("lpm", "l/min"))
GPM = Unit("gpm", Kind.FLOW, _GALLON_L, ("gpm", "usgpm", "gal/min", "usgal/min"))
LPH = Unit("l/h", Kind.FLOW, Fraction(1, _MINUTES_PER_HOUR), ("l/h", "lph"))
GPH = Unit("gph", Kind.FLOW, _GALLON_L / _MINUTES_PER_HOUR, ("gph", "gal/h", "usgph"))

KW = Unit("kW", Kind.POWER, Fraction(1), ("kw",))
WATT = Unit("W", Kind.POWER, Fraction(1, 1000), ("w", "watt", "watts"))
HP = Unit("hp", Kind.POWER, 550 * _FOOT_M * _POUND_FORCE_N / 1000, ("hp", "bhp"))
METRIC_HP = Unit("PS", Kind.POWER, 75 * _KILOGRAM_FORCE_N / 1000, ("ps", "cv", "metrichp"))

RPM = Unit("rpm", Kind.SPEED, Fraction(1), ("rpm", "1/min", "min-1", "r/min", "rev/min"))

CELSIUS = Unit("°C", Kind.TEMPERATURE, Fraction(1), ("°c", "c", "degc"))
FAHRENHEIT = Unit("°F", Kind.TEMPERATURE, Fraction(5, 9), ("°f", "f", "degf"), zero=Fraction(32))

NEWTON_METRE = Unit("N·m", Kind.TORQUE, Fraction(1), ("nm",))
POUND_FOOT = Unit("lb·ft", Kind.TORQUE, _POUND_FORCE_N * _FOOT_M, ("lbft", "ftlb", "ftlbs", "lbfft", "ftlbf", "lbsft"))
POUND_INCH = Unit("lb·in", Kind.TORQUE, _POUND_FORCE_N * _INCH_M, ("lbin", "inlb", "inlbs", "lbfin", "inlbf", "lbsin"))

DEGREE = Unit("°", Kind.ANGLE, Fraction(1), ("°", "deg", "degree", "degrees"))

LITRE = Unit("L", Kind.VOLUME, Fraction(1), ("l", "litre", "litres", "liter", "liters"))
MILLILITRE = Unit(
    "mL", Kind.VOLUME, Fraction(1, 1000), ("ml", "millilitre", "millilitres", "milliliter", "milliliters")
)
US_GALLON = Unit("gal", Kind.VOLUME, _GALLON_L, ("gal", "usgal", "gallon", "gallons", "usgallon", "usgallons"))

SECOND = Unit("s", Kind.TIME, Fraction(1), ("s", "sec", "second", "seconds"))
MINUTE = Unit("min", Kind.TIME, Fraction(60), ("min", "minute", "minutes"))
HOUR = Unit("h", Kind.TIME, Fraction(3600), ("h", "hour", "hours"))

NO_UNIT = Unit("", Kind.COUNT, Fraction(1), ())

UNITS = (
    *(MM, CM, INCH, BAR, PSI, MPA, KPA, LPM, GPM, LPH, GPH, KW, WATT, HP, METRIC_HP, RPM, CELSIUS, FAHRENHEIT),
    *(NEWTON_METRE, POUND_FOOT, POUND_INCH, DEGREE, LITRE, MILLILITRE, US_GALLON, SECOND, MINUTE, HOUR, NO_UNIT),
)
_BY_SPELLING = {spelling: unit for unit in UNITS for spelling in unit.spellings}
_JOIN = re.compile(r"(?<=[a-z°])[ .·*-]+(?=[a-z])")


def unit_or_none(written: str) -> Unit | None:
    """Return the unit ``written`` names, in any letter case, or None where no unit here is spelled so.

    ``mPa`` with that very case names thousandths of a pascal and is none of ours.
    """
    if written == "mPa":
        return None
    folded = written.casefold().removesuffix(".")
    return _BY_SPELLING.get(folded) or _BY_SPELLING.get(_JOIN.sub("", folded))
