"""What a person says about a size, and the exact canonical number it means; independent of the program's parsers.

Factors: 1 in = 25.4 mm, 1 lbf = 4.4482216152605 N, 1 US gallon = 231 in³, 1 hp = 550 ft·lbf/s with 1 ft = 0.3048 m
(NIST SP 811, 2008, appendix B.8; exact by definition).
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from fractions import Fraction
from typing import TypeVar

T = TypeVar("T")

_INCH_MM = Fraction("25.4")
_POUND_FORCE_N = Fraction("4.4482216152605")
_PSI_BAR = _POUND_FORCE_N / (_INCH_MM / 1000) ** 2 / 100_000
_GALLON_L = 231 * (_INCH_MM / 100) ** 3
_HORSEPOWER_KW = 550 * Fraction("0.3048") * _POUND_FORCE_N / 1000
FACTORS = {
    "mm": Fraction(1),
    "in": _INCH_MM,
    "bar": Fraction(1),
    "psi": _PSI_BAR,
    "l/min": Fraction(1),
    "gpm": _GALLON_L,
    "kW": Fraction(1),
    "hp": _HORSEPOWER_KW,
    "rpm": Fraction(1),
    "C": Fraction(1),
    "deg": Fraction(1),
    "": Fraction(1),
}


def canonical(said: str) -> float:
    """Return the number that ``said`` (``7/8 in``, ``1 1/2 in``, ``22.2 mm``, ``2700 psi``, ``90``) means."""
    words = said.split()
    unit = words.pop() if words[-1] in FACTORS else ""
    return float(sum(Fraction(word) for word in words) * FACTORS[unit])


def half_last_digit(said: str) -> float | None:
    """Return half of the last decimal given in mm, the doubt of a value out of a sheet; None for other units.

    Source: design, "plate and sheet values: half of the last digit given" (house rule).
    """
    amount, _, unit = said.partition(" ")
    if unit != "mm":
        return None
    decimals = len(amount.partition(".")[2])
    return float(Fraction(1, 2 * 10**decimals))


def inch_key_mm(shaft: Fraction, key: Fraction) -> tuple[str, str]:
    """Return height over key and keyway floor for a square key, both from the far side, as said in mm.

    Source: ASME B17.1, y = (D - sqrt(D² - W²))/2, S = D - H/2 - y, T = D + H/2 - y + 0.005 in.
    """
    chord = (shaft - Fraction(math.sqrt(shaft**2 - key**2))) / 2
    top = shaft + key / 2 - chord
    floor = top + Fraction("0.005")
    return f"{float(top * _INCH_MM):.2f} mm", f"{float(floor * _INCH_MM):.2f} mm"


def holes(radius_mm: float, *angles_deg: float) -> str:
    """Return hole centres on one circle as a holes text; two decimals, no minus before a zero."""
    turned = [math.radians(angle) for angle in angles_deg]
    return "; ".join(f"{_two(radius_mm * math.cos(one))} {_two(radius_mm * math.sin(one))}" for one in turned)


def _two(value: float) -> str:
    return f"{round(value, 2) + 0.0:.2f}".removesuffix(".00")


class Dice:
    """Seeded chance; drawn from ``random()`` alone, whose sequence Python promises never to change."""

    def __init__(self, seed: int) -> None:
        self._random = random.Random(seed)

    def chance(self, share: float) -> bool:
        """Return True in ``share`` of all calls."""
        return self._random.random() < share

    def pick(self, choices: Sequence[T]) -> T:
        """Return one of ``choices``, each equally likely."""
        return choices[int(self._random.random() * len(choices))]

    def whole(self, low: int, high: int) -> int:
        """Return a whole number from ``low`` to ``high``, both included."""
        return low + int(self._random.random() * (high - low + 1))

    def day(self, first_year: int, last_year: int) -> str:
        """Return a day as an ISO text."""
        return f"{self.whole(first_year, last_year)}-{self.whole(1, 12):02d}-{self.whole(1, 28):02d}"
