"""Compare our ISO 286 tables with two independent libraries; run by itself, exit 1 where any value differs.

The libraries are ``isofits`` 1.0 and ``pressfit`` 0.1.0. The first installs loose top-level modules with everyday
names, so both belong in a virtual environment of their own, never in the project's: install them there and run

    PYTHONPATH=. <that environment>/bin/python tests/core/standards/check_with_isofits.py
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from importlib import import_module

from xref_app.core.standards.limits import GRADES, ZONES, limits_mm, tolerance_mm

# Both ends of every band 'over .. up to and including', and sizes well inside.
SIZES_MM = (
    0.5,
    1,
    3,
    3.1,
    6,
    6.1,
    10,
    10.1,
    15,
    18,
    18.1,
    19.05,
    24,
    30,
    30.1,
    38,
    50,
    50.1,
    80,
    80.1,
    120,
    120.1,
    150,
)
LARGE_SIZES_MM = (180, 180.1, 215, 250)
SMALLEST_OF_ISOFITS_MM = 3
LEAST_COMPARISONS = 500
# pressfit knows holes H only; these holes are the shaft of the same letter and grade,
# mirrored (the general rule of ISO 286-1).
MIRRORED = ("D10", "JS9", "P9")

# One comparison: what is compared, our two numbers, theirs, micrometres.
Comparison = tuple[str, tuple[float, ...], tuple[float, ...]]


def ours_um(zone: str, size_mm: float) -> tuple[float, float]:
    limits = limits_mm(zone, size_mm)
    return round((limits.low - size_mm) * 1000, 3), round((limits.high - size_mm) * 1000, 3)


def compared_with_isofits() -> Iterator[Comparison]:
    isotol: Callable[[str, float, str, str], tuple[float, float]] = import_module("isofits").isotol
    tables = import_module("data")
    for zone in ZONES:
        body = "shaft" if zone[0].islower() else "hole"
        if zone not in (tables.shaft_data if body == "shaft" else tables.hole_data):
            print(f"isofits does not hold {zone}")  # noqa: T201 - a script that people and CI read
            continue
        for size_mm in (*SIZES_MM, *LARGE_SIZES_MM):
            if size_mm > SMALLEST_OF_ISOFITS_MM:
                upper, lower = isotol(body, size_mm, zone, "both")
                yield f"isofits {zone} at {size_mm} mm", ours_um(zone, size_mm), (lower, upper)


def compared_with_pressfit() -> Iterator[Comparison]:
    tables = import_module("pressfit.tables")
    for size_mm in (*SIZES_MM, *LARGE_SIZES_MM):
        for grade in GRADES:
            ours = (round(tolerance_mm(grade, size_mm) * 1000, 3),)
            yield f"pressfit IT{grade} at {size_mm} mm", ours, (tables.it_value(size_mm, grade),)
        yield from _zones_of_pressfit(size_mm)


def _zones_of_pressfit(size_mm: float) -> Iterator[Comparison]:
    fit = import_module("pressfit").fit
    for zone in ZONES:
        if zone[0] == "H":
            found = fit(f"{zone}/h6", size_mm)
            theirs = found.hole_ei_um, found.hole_es_um
        elif zone[0] in "hk":
            found = fit(f"H7/{zone}", size_mm)
            theirs = found.shaft_ei_um, found.shaft_es_um
        elif zone in MIRRORED:
            found = fit(f"H7/{zone.lower()}", size_mm)
            theirs = -found.shaft_es_um, -found.shaft_ei_um
        else:
            continue
        yield f"pressfit {zone} at {size_mm} mm", ours_um(zone, size_mm), theirs


def main() -> int:
    """Print what differs and return 1 if anything does or if too little could be compared."""
    compared = [*compared_with_isofits(), *compared_with_pressfit()]
    # The standard prints half micrometres of JS9 rounded down; we keep the half.
    different = [
        (what, ours, theirs)
        for what, ours, theirs in compared
        if any(abs(a - b) > (0.5 if "JS" in what else 0) for a, b in zip(ours, theirs, strict=True))
    ]
    for what, ours, theirs in different:
        print(f"{what}: ours {ours}, theirs {theirs}")  # noqa: T201 - a script that people and CI read
    print(f"{len(compared)} values compared, {len(different)} differ")  # noqa: T201
    return int(bool(different) or len(compared) < LEAST_COMPARISONS)


if __name__ == "__main__":
    sys.exit(main())
