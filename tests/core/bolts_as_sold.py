"""What a shop gets when it buys a bolt and a washer: a second list of the limits, told in another way.

From memory: metric lengths js15 of ISO 4759-1 (half of IT15: 0.35 up to 18 mm, 0.42 up to 30, 0.5 up to 50, 0.6 up to
80, 0.7 up to 120, 0.8 up to 180); inch lengths after ASME B18.2.1; washers about ISO 7089 and ASME B18.21.1.
"""

from __future__ import annotations

_JS15_MM = {10: 0.29, 18: 0.35, 30: 0.42, 50: 0.5, 80: 0.6, 120: 0.7, 180: 0.8, 250: 0.925}


def lengths_sold_mm(length_mm: float, *, is_metric: bool, nominal_mm: float) -> tuple[float, float]:
    """Return the shortest and the longest bolt that is sold as that long, mm."""
    if is_metric:
        off = next(half for up_to, half in _JS15_MM.items() if length_mm <= up_to)
        return length_mm - off, length_mm + off
    thick = nominal_mm > 9.53
    if length_mm <= 25.4:
        short = 0.762
    elif length_mm <= 63.5:
        short = 1.524 if thick else 1.016
    elif length_mm <= 101.6:
        short = 2.032 if thick else 1.524
    else:
        short = 3.048
    return length_mm - short, length_mm


def washers_sold_mm(nominal_mm: float) -> tuple[float, float]:
    """Return the thinnest and the thickest plain washer for a bolt, mm."""
    if nominal_mm < 10:
        return (1.3, 2.1)
    return (1.3, 2.3) if nominal_mm < 11.2 else (1.8, 3.1)
