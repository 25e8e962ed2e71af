"""Faces that are turned or mirrored together get the plate turned or mirrored with them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from tests.core.plan.designs import designed
from tests.core.plan.pairs import Pair, pair
from xref_app.core.model.known import Hole, Pattern
from xref_app.core.plan.plate import Plate, PlateRefused

Change = Callable[[Hole], Hole]
Place = tuple[float, float]
SEEDS = range(2000, 2100)
# Not a symmetry of any pattern, and whole: the turns of the pump are.
TURN_DEG = 37


def mirrored(hole: Hole) -> Hole:
    return replace(hole, x_mm=-hole.x_mm, slot_deg=180 - hole.slot_deg)


def turned(hole: Hole) -> Hole:
    place = complex(hole.x_mm, hole.y_mm) * complex(math.cos(math.radians(TURN_DEG)), math.sin(math.radians(TURN_DEG)))
    return replace(hole, x_mm=place.real, y_mm=place.imag, slot_deg=hole.slot_deg + TURN_DEG)


def same(hole: Hole) -> Hole:
    return hole


@cache
def as_read() -> tuple[tuple[Pair, Plate | PlateRefused], ...]:
    return tuple((one, designed(one)) for one in map(pair, SEEDS))


def changed(one: Pair, face: Change, flange: Change) -> Pair:
    machine, pump = one.case.machine, one.case.pump
    assert machine.face.holes_xy_mm is not None
    assert pump.flange.holes_xy_mm is not None
    ours = replace(machine.face, holes_xy_mm=moved(machine.face.holes_xy_mm, face))
    theirs = replace(pump.flange, holes_xy_mm=moved(pump.flange.holes_xy_mm, flange))
    case = replace(one.case, machine=replace(machine, face=ours), pump=replace(pump, flange=theirs))
    return replace(one, case=case)


def moved(pattern: Pattern, change: Change) -> Pattern:
    return replace(pattern, holes=tuple(change(hole) for hole in pattern.holes))


def in_order(places: list[Place]) -> list[Place]:
    return sorted((round(x, 4) + 0.0, round(y, 4) + 0.0) for x, y in places)


def moved_places(holes: list[Place], change: Change) -> list[Place]:
    return in_order([(hole.x_mm, hole.y_mm) for hole in (change(Hole(x, y)) for x, y in holes)])


@pytest.mark.parametrize(
    ("face", "flange"), [(mirrored, mirrored), (turned, turned), (same, turned)], ids=["mirrored", "both", "pump alone"]
)
def test_the_sizes_and_the_least_web_stay(face: Change, flange: Change) -> None:
    plates = 0
    for one, found in as_read():
        again = designed(changed(one, face, flange))
        assert type(again) is type(found), one
        if isinstance(found, Plate) and isinstance(again, Plate):
            plates += 1
            assert again.least_web_mm == pytest.approx(found.least_web_mm, abs=1e-5)
            assert again.least_edge_mm == pytest.approx(found.least_edge_mm, abs=1e-5)
            assert replace(again, **places_of(found)) == found, one
    assert plates >= 20


def places_of(plate: Plate) -> dict[str, Any]:
    """Return what moves with the holes, and the webs that were compared already."""
    names = ("engine_holes", "pump_holes", "turn_deg", "least_web_mm", "least_edge_mm")
    return {name: getattr(plate, name) for name in names}


def test_a_mirrored_pair_has_the_mirrored_holes_at_the_opposite_turn() -> None:
    # Of two turns as good as each other the one above 0 is taken, in a mirror too: there the turn may stay.
    opposite = 0
    for one, found in as_read():
        again = designed(changed(one, mirrored, mirrored))
        if not isinstance(found, Plate) or not isinstance(again, Plate):
            continue
        engine = [(hole.x_mm, hole.y_mm) for hole in found.engine_holes]
        assert in_order([(hole.x_mm, hole.y_mm) for hole in again.engine_holes]) == moved_places(engine, mirrored)
        if (again.turn_deg + found.turn_deg) % 360 == 0:
            opposite += 1
            pump = [(hole.x_mm, hole.y_mm) for hole in found.pump_holes]
            assert in_order([(hole.x_mm, hole.y_mm) for hole in again.pump_holes]) == moved_places(pump, mirrored)
        else:
            assert again.turn_deg == found.turn_deg, one
    assert opposite >= 15
