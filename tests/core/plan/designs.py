"""Every random pair with what was designed for it, worked out once."""

from __future__ import annotations

from functools import cache

from tests.core.plan.pairs import COUNT, Pair, pair
from xref_app.core.plan.plate import Plate, PlateRefused, plate_or_why_not


@cache
def designs() -> tuple[tuple[Pair, Plate | PlateRefused], ...]:
    return tuple((one, designed(one)) for one in map(pair, range(COUNT)))


def designed(one: Pair) -> Plate | PlateRefused:
    return plate_or_why_not(one.case.machine, one.case.pump, window_mm=one.window_mm, material=one.material)


def plates() -> tuple[tuple[Pair, Plate], ...]:
    return tuple((one, found) for one, found in designs() if isinstance(found, Plate))


def refusals() -> tuple[tuple[Pair, PlateRefused], ...]:
    return tuple((one, found) for one, found in designs() if isinstance(found, PlateRefused))
