"""Seeded random engines and pumps whose holes need not meet: circles, irregular patterns, slots, bosses, recesses."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, replace
from functools import cache

from tests.core.fit.cases import case_with
from xref_app.core.model.case import Case
from xref_app.core.model.known import Dimension, Fact, Hole, Pattern, Seats
from xref_app.core.model.machine import Face
from xref_app.core.model.pump import Flange
from xref_app.core.model.words import HoleKind, Material, PilotKind, SeatKind
from xref_app.core.quantity.range import Range

BOLTS_MM = {
    "1/4-20 UNC": 6.35,
    "5/16-18 UNC": 7.9375,
    "5/16-24 UNF": 7.9375,
    "3/8-16 UNC": 9.525,
    "1/2-13 UNC": 12.7,
    "M6x1": 6.0,
    "M8x1.25": 8.0,
    "M10x1.5": 10.0,
    "M12x1.75": 12.0,
}
COUNT = 1200


@dataclass(frozen=True)
class Pair:
    case: Case
    window_mm: Range
    material: Material


def pair(seed: int) -> Pair:
    """Return the engine and pump of one seed, the window of thickness and the plate's material."""
    rng = random.Random(seed)
    case = _example()
    face, flange = _face(rng), _flange(rng)
    shaft = replace(case.machine.shaft, projection_mm=Dimension(75.0, 0.1))
    case = replace(
        case,
        machine=replace(case.machine, face=face, shaft=shaft),
        pump=replace(case.pump, flange=flange),
        shelf=(),
    )
    window = Range(rng.choice([4.0, 4.0, 7.9, 9.9]), rng.choice([10.1, 13.0, 16.5, 20.5, 20.5, 30.0, 30.0]))
    return Pair(case, window, rng.choice([Material.STEEL, Material.STEEL, Material.ALUMINIUM]))


@cache
def _example() -> Case:
    """Return the example case, read once: a thousand readings of it take seconds."""
    return case_with({})


def _holes(rng: random.Random, *, slots: bool) -> Pattern:
    count, radius, start = rng.randint(2, 6), rng.uniform(28, 75), rng.choice([0.0, 45.0, rng.uniform(0, 360)])
    even = rng.random() < 0.6
    holes = []
    for index in range(count):
        bearing = math.radians(start + 360 * index / count + (0 if even else rng.uniform(-20, 20)))
        away = radius if even else radius * rng.uniform(0.85, 1.15)
        slot = rng.choice([0.0, 0.0, 3.0]) if slots else 0.0
        holes.append(Hole(away * math.cos(bearing), away * math.sin(bearing), slot, rng.uniform(0, 180)))
    return Pattern(tuple(holes), rng.choice([0.0, 0.02, 0.05, 0.1, 0.1, 0.2]))


def _pilot(rng: random.Random) -> tuple[Fact[PilotKind], Dimension | None, Dimension | None]:
    kind = rng.choice([PilotKind.NONE, PilotKind.NONE, PilotKind.BOSS, PilotKind.RECESS])
    if kind is PilotKind.NONE:
        return Fact(kind), None, None
    size = rng.choice([rng.uniform(22, 40), rng.uniform(40, 70), rng.uniform(80, 115)])
    return Fact(kind), Dimension(size, 0.05), Dimension(rng.uniform(1.5, 8), 0.1)


def _seats(rng: random.Random, count: int) -> Seats | None:
    if rng.random() < 0.7:
        return None
    uneven = rng.choice([0.02, 0.1, 0.1, 0.2])
    return Seats(tuple(-rng.uniform(0, uneven) for _ in range(count)), 0.05)


def _face(rng: random.Random) -> Face:
    thread = rng.choice([*BOLTS_MM, "5/16-24 UNF", "M8x1.25", "5/16-24 UNF"])
    through = rng.random() < 0.1
    holes = _holes(rng, slots=through)
    kind, size, depth = _pilot(rng)
    if rng.random() < 0.03:
        kind, size = Fact(PilotKind.BOSS), None
    material = rng.choice([None, Material.ALUMINIUM, Material.IRON, Material.STEEL])
    return Face(
        holes_xy_mm=holes,
        hole_kind=Fact(HoleKind.THROUGH if through else HoleKind.TAPPED),
        hole_mm=Dimension(BOLTS_MM[thread] + rng.uniform(0.3, 1.2), 0.1) if through else None,
        thickness_mm=Dimension(rng.uniform(5, 15), 0.1) if through else None,
        bolt=Fact(thread),
        tapped_depth_mm=None if through else Dimension(rng.uniform(12, 26), 0.1),
        material=Fact(material) if material else None,
        pilot_kind=kind,
        pilot_mm=size,
        pilot_depth_mm=depth,
        seat_kind=Fact(SeatKind.FLAT),
        seat_heights_mm=_seats(rng, len(holes.holes)),
    )


def _flange(rng: random.Random) -> Flange:
    holes = _holes(rng, slots=True)
    kind, size, depth = _pilot(rng)
    return Flange(
        holes_xy_mm=holes,
        hole_mm=Dimension(rng.choice([6.6, 8.7, 9.0, 9.5, 10.5, 11.0]), rng.choice([0.02, 0.05, 0.1])),
        thickness_mm=None if rng.random() < 0.03 else Dimension(rng.uniform(6, 18), 0.1),
        pilot_kind=kind,
        pilot_mm=size,
        pilot_depth_mm=depth,
        seat_kind=Fact(SeatKind.FLAT),
        seat_heights_mm=_seats(rng, len(holes.holes)),
    )


def nema_to_small_pump(*, height_mm: float = 4.06, most_mm: float = 20.5) -> Pair:
    """Return a large boss on the engine and a pump whose holes lie inside it."""
    case = case_with({})
    face = replace(
        case.machine.face,
        holes_xy_mm=Pattern(tuple(Hole(x, y) for x, y in ((74.6, 0), (0, 74.6), (-74.6, 0), (0, -74.6))), 0.1),
        bolt=Fact("3/8-16 UNC"),
        pilot_kind=Fact(PilotKind.BOSS),
        pilot_mm=Dimension(114.26, 0.05),
        pilot_depth_mm=Dimension(height_mm, 0.1),
    )
    machine = replace(case.machine, face=face)
    return Pair(replace(case, machine=machine), Range(4.0, most_mm), Material.STEEL)
