"""Webs and edges of a plate, measured on sampled points of the rims: no formula of the program is used."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import numpy.typing as npt

from tests.core.plan.pairs import BOLTS_MM
from xref_app.core.plan.plate import Plate

Points = npt.NDArray[np.float64]
# A circle about (x, y) of some radius, mm.
Circle = tuple[float, float, float]


def rim(circle: Circle) -> Points:
    x, y, radius = circle
    bearings = np.linspace(0, 2 * math.pi, 120 + 16 * int(radius), endpoint=False)
    return np.column_stack((x + radius * np.cos(bearings), y + radius * np.sin(bearings)))


def holes_of(plate: Plate) -> tuple[list[Circle], list[Circle]]:
    """Return the counterbores and the tapped holes."""
    heads = [(hole.x_mm, hole.y_mm, hole.counterbore_mm / 2) for hole in plate.engine_holes]
    taps = [(hole.x_mm, hole.y_mm, BOLTS_MM[hole.thread] / 2) for hole in plate.pump_holes]
    return heads, taps


def round_the_centre(plate: Plate) -> list[Circle]:
    recesses = [recess for recess in (plate.engine_recess, plate.pump_recess) if recess]
    return [(0.0, 0.0, plate.centre_bore_mm / 2), *((0.0, 0.0, recess.diameter_mm / 2) for recess in recesses)]


def least_web(plate: Plate, heads: list[Circle], taps: list[Circle]) -> float:
    """Return the shortest way between any two cavities, mm; below 0 where two run into each other."""
    rims = [(circle, rim(circle)) for circle in [*heads, *taps]]
    centre = [(circle, rim(circle)) for circle in round_the_centre(plate)]
    webs = [apart(one, other) for one, other in combinations(rims, 2)]
    engine_wall = plate.engine_recess.diameter_mm / 2 if plate.engine_recess else None
    for index, hole in enumerate(rims):
        for middle in centre:
            inside = middle[0][2] == engine_wall and index >= len(heads) and bool(within(hole, middle).all())
            webs.append(distance(hole[1], middle[1]) if inside else apart(hole, middle))
    return min(webs)


def apart(one: tuple[Circle, Points], other: tuple[Circle, Points]) -> float:
    meet = bool(within(one, other).any()) or bool(within(other, one).any())
    return -1.0 if meet else distance(one[1], other[1])


def within(one: tuple[Circle, Points], other: tuple[Circle, Points]) -> npt.NDArray[np.bool_]:
    x, y, radius = other[0]
    inside: npt.NDArray[np.bool_] = np.hypot(one[1][:, 0] - x, one[1][:, 1] - y) <= radius
    return inside


def distance(one: Points, other: Points) -> float:
    return float(np.hypot(one[:, None, 0] - other[None, :, 0], one[:, None, 1] - other[None, :, 1]).min())


def edge(outline_mm: float, circle: Circle) -> float:
    points = rim(circle)
    return outline_mm / 2 - float(np.hypot(points[:, 0], points[:, 1]).max())
