"""What whole steps and stock sizes hide: each rule of bore, recess and head at sizes a hundredth of a mm apart."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.core.plan.designs import designed
from tests.core.plan.pairs import nema_to_small_pump
from xref_app.core.fit.bolt_size import bolt_of_or_none
from xref_app.core.model.known import Dimension, Fact
from xref_app.core.model.words import PilotKind
from xref_app.core.plan.plate import Plate
from xref_app.core.plan.plate_bolts import sunk_hole
from xref_app.core.plan.plate_centre import Centre, bosses_take_mm, centres
from xref_app.core.plan.plate_parts import Recess
from xref_app.core.plan.plate_readings import Boss, PlateReadings, plate_readings_or_none
from xref_app.core.quantity.range import Range
from xref_app.core.standards.socket_screws import socket_screw_or_none

HUNDREDTHS = [step / 100 for step in range(100)]
ASIDE_MM = math.hypot(0.1, 0.1)


def readings() -> PlateReadings:
    case = nema_to_small_pump().case
    found = plate_readings_or_none(case.machine, case.pump)
    assert found is not None
    return replace(found, engine_boss=None, pump_boss=None)


def steps(least_mm: float, step_mm: float) -> float:
    return math.ceil(round(least_mm / step_mm, 9)) * step_mm


def test_the_bore_is_the_least_half_millimetre_that_clears_the_shaft_at_every_size() -> None:
    for more in HUNDREDTHS:
        radius = 9.5 + more
        (centre,) = centres(replace(readings(), shaft_radius_mm=Range(radius - 0.1, radius)))
        assert centre.bore_mm == pytest.approx(steps(2 * (radius + 1.0 + ASIDE_MM) + 0.05, 0.5)), radius


def test_the_key_reaches_furthest_where_the_shaft_is_thinnest() -> None:
    case = nema_to_small_pump().case
    shaft = replace(case.machine.shaft, diameter_mm=Dimension(19.0, 0.2), key_top_mm=Dimension(21.0, 0.1))
    found = plate_readings_or_none(replace(case.machine, shaft=shaft), case.pump)
    assert found is not None
    # 21.1 from the far side of a shaft of 18.8 mm: 11.7 from the axis.
    assert found.shaft_radius_mm.high == pytest.approx(11.7)


def test_recess_and_bosses_follow_the_boss_at_every_size() -> None:
    for more in HUNDREDTHS:
        boss = Boss(Range(60.0 + more - 0.1, 60.0 + more), Range(3.0 + more - 0.2, 3.0 + more))
        bare = replace(readings(), engine_boss=boss)
        recess = centres(bare)[0].engine_recess
        assert recess is not None
        assert recess.diameter_mm == pytest.approx(steps(60.0 + more + 2 * ASIDE_MM + 0.05, 0.5))
        assert recess.depth_mm == pytest.approx(steps(3.0 + more + 0.5 + 0.05, 0.1))
        assert bosses_take_mm(bare) == pytest.approx(3.0 + more + 0.5)
        assert bosses_take_mm(replace(bare, pump_boss=boss)) == pytest.approx(2 * (3.0 + more) + 0.5)
    assert bosses_take_mm(readings()) == 0.0


@pytest.mark.parametrize("both", [False, True])
def test_a_floor_of_3_mm_is_left_as_made_and_not_a_hundredth_less(both: bool) -> None:
    cut = Recess(60.0, 4.0)
    centre = Centre(30.0, cut, cut if both else None)
    # Thickness and every depth may be 0.05 mm off.
    needed = 3.0 + 0.05 + (4.0 + 0.05) * (2 if both else 1)
    assert centre.depth_taken_mm() == pytest.approx(needed - 3.05)
    assert centre.leaves_floor(needed)
    assert not centre.leaves_floor(needed - 0.01)
    assert Centre(30.0).leaves_floor(1.0)


def test_a_head_has_room_sideways_at_every_size() -> None:
    bolt, screw = bolt_of_or_none("5/16-18 UNC"), socket_screw_or_none("5/16-18 UNC")
    assert bolt is not None
    assert screw is not None
    for more in HUNDREDTHS:
        head = 11.0 + more
        sunk = sunk_hole(replace(screw, head_diameter_mm=head, head_height_mm=7.0 + more), bolt)
        play = screw.clearance_mm + 0.2 - bolt.major_mm.low
        assert sunk.counterbore_mm == pytest.approx(steps(head + play + 2 * math.hypot(0.05, 0.05), 0.5)), head
        assert sunk.depth_mm == pytest.approx(steps(7.0 + more + 0.2 + 0.05, 0.1))


@pytest.mark.parametrize(("height_mm", "is_made"), [(19.45, True), (19.46, False)])
def test_a_boss_in_the_bore_never_comes_out_of_a_plate_made_thin(height_mm: float, is_made: bool) -> None:
    # A stock plate of 20 mm may come out 19.95, and 0.5 mm of room stay over the boss.
    one = replace(nema_to_small_pump(), window_mm=Range(19.5, 20.5))
    face = replace(
        one.case.machine.face,
        pilot_kind=Fact(PilotKind.BOSS),
        pilot_mm=Dimension(22.0, 0.0),
        pilot_depth_mm=Dimension(height_mm, 0.0),
    )
    machine = replace(one.case.machine, face=face)
    found = designed(replace(one, case=replace(one.case, machine=machine)))
    assert isinstance(found, Plate) is is_made
