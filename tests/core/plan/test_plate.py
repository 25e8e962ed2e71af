"""Plates for hundreds of random engines and pumps, measured again by sampled points and by corners of all doubts."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest

from tests.core.plan import sampled
from tests.core.plan.designs import designed, designs, plates
from tests.core.plan.naive import Naive
from tests.core.plan.pairs import BOLTS_MM, Pair, nema_to_small_pump, pair
from xref_app.core.model.known import Fact, Hole, How
from xref_app.core.model.words import Material
from xref_app.core.plan.plate import Plate, PlateRefused, Recess, plate_or_why_not


def test_there_are_pairs_and_plates_enough_of_every_kind() -> None:
    made = [plate for _, plate in plates()]
    assert len(designs()) >= 500
    assert len(made) >= 200
    assert sum(plate.engine_recess is not None for plate in made) >= 10
    assert sum(plate.pump_recess is not None for plate in made) >= 10
    assert sum(plate.pump_boss_room is not None and plate.pump_recess is None for plate in made) >= 5
    assert {plate.material for plate in made} == {Material.STEEL, Material.ALUMINIUM}
    assert sum(any(hole.slot_mm for hole in slots_of(one)) for one, _ in plates()) >= 20


def slots_of(one: Pair) -> tuple[Hole, ...]:
    pattern = one.case.pump.flange.holes_xy_mm
    return pattern.holes if pattern else ()


def test_every_web_is_the_one_said_and_thick_enough() -> None:
    for _, plate in plates():
        web = sampled.least_web(plate, *sampled.holes_of(plate))
        assert web == pytest.approx(plate.least_web_mm, abs=0.05), plate
        assert web >= 3.0, plate


def test_every_edge_is_the_one_said_and_wide_enough() -> None:
    for _, plate in plates():
        heads, taps = sampled.holes_of(plate)
        edges = [sampled.edge(plate.outline_mm, circle) for circle in (*heads, *taps)]
        assert min(edges) == pytest.approx(plate.least_edge_mm, abs=0.01)
        screws = [(hole.x_mm, hole.y_mm, hole.clearance_mm / 2) for hole in plate.engine_holes]
        assert min(edges) >= 5.0
        for circle in (*screws, *taps):
            assert sampled.edge(plate.outline_mm, circle) >= 2 * circle[2]
        for circle in sampled.round_the_centre(plate):
            assert sampled.edge(plate.outline_mm, circle) >= 5.0


def test_webs_and_edges_stay_thick_enough_however_the_plate_comes_out() -> None:
    rng = random.Random(11)
    for _, plate in plates()[:60]:
        heads, taps = (
            [(x + rng.choice([-0.05, 0.05]), y + rng.choice([-0.05, 0.05]), radius + 0.1) for x, y, radius in circles]
            for circles in sampled.holes_of(plate)
        )
        assert sampled.least_web(plate, heads, taps) >= 3.0, plate
        assert min(sampled.edge(plate.outline_mm - 0.5, circle) for circle in (*heads, *taps)) >= 5.0, plate


def test_the_tapped_holes_are_the_pumps_turned_and_the_others_lie_over_the_engines() -> None:
    for one, plate in plates():
        face, flange = one.case.machine.face.holes_xy_mm, one.case.pump.flange.holes_xy_mm
        assert face is not None
        assert flange is not None
        assert [(hole.x_mm, hole.y_mm) for hole in plate.engine_holes] == [
            (hole.x_mm, hole.y_mm) for hole in face.holes
        ]
        spin = complex(math.cos(math.radians(plate.turn_deg)), math.sin(math.radians(plate.turn_deg)))
        for tapped, hole in zip(plate.pump_holes, flange.holes, strict=True):
            assert complex(tapped.x_mm, tapped.y_mm) == pytest.approx(complex(hole.x_mm, hole.y_mm) * spin)


def test_no_turn_leaves_a_larger_web_and_none_nearer_to_0_the_same() -> None:
    for one, plate in plates()[:80]:
        naive = Naive(one)
        recesses = [(recess.diameter_mm, recess.depth_mm) if recess else (0.0, 0.0) for recess in both(plate)]
        middle = (plate.centre_bore_mm, *recesses[0], *recesses[1])
        webs = {turn: naive.web(middle, turn) for turn in range(-180, 181)}
        most = max(webs.values())
        assert webs[plate.turn_deg if plate.turn_deg <= 180 else plate.turn_deg - 360] == pytest.approx(most, abs=1e-5)
        nearest = min(abs(turn) for turn, web in webs.items() if web > most - 1e-7)
        assert min(plate.turn_deg, 360 - plate.turn_deg) <= nearest


def both(plate: Plate) -> tuple[Recess | None, Recess | None]:
    return plate.engine_recess, plate.pump_recess


def test_no_thinner_stock_thickness_keeps_every_rule() -> None:
    for one, found in plates():
        naive = Naive(one)
        assert naive.thicknesses()[0] == pytest.approx(found.thickness_mm), found
        assert naive.screws_pass()
        assert naive.seats_flat("engine")
        assert naive.seats_flat("pump")
        assert naive.pump_thread == found.pump_bolt_thread


def test_heads_lie_below_and_the_plate_as_made_stays_in_the_window() -> None:
    for one, plate in plates():
        assert one.window_mm.low <= plate.thickness_mm - 0.05 + 1e-9
        assert plate.thickness_mm + 0.05 <= one.window_mm.high + 1e-9
        deep, across = Naive(one).sunk[1], Naive(one).sunk[0]
        assert {(hole.counterbore_mm, hole.counterbore_depth_mm) for hole in plate.engine_holes} == {(across, deep)}


def test_a_pump_bolt_never_stands_out_behind_the_plate() -> None:
    for one, plate in plates():
        flange = one.case.pump.flange.thickness_mm
        assert flange is not None
        furthest = plate.pump_bolt_length_mm - (flange.value - flange.doubt) - 1.3
        recess = plate.engine_recess
        opens = recess is not None and any(
            math.hypot(hole.x_mm, hole.y_mm) < recess.diameter_mm / 2 for hole in plate.pump_holes
        )
        left = plate.thickness_mm - 0.05 - (recess.depth_mm + 0.05 if recess and opens else 0.0)
        assert furthest <= left + 1e-9, plate


def test_a_pump_hole_that_opens_into_the_engines_recess_has_only_the_thread_that_is_left() -> None:
    plate = designed(nema_to_small_pump())
    assert isinstance(plate, Plate)
    assert plate.engine_recess is not None
    # 4.16 + 0.5 + 0.05 mm, up to the next tenth; 92 mm circle inside a 115 mm recess.
    assert plate.engine_recess.depth_mm == pytest.approx(4.8)
    assert plate.engine_recess.diameter_mm == pytest.approx(115.0)
    assert plate.thread_depth_mm == pytest.approx(plate.thickness_mm - 4.8)
    assert plate.thread_depth_mm - plate.thread_depth_doubt_mm >= BOLTS_MM[plate.pump_bolt_thread]


def test_a_turn_with_the_outlet_free_goes_before_a_larger_web() -> None:
    one = next(one for one, plate in plates() if plate.turn_deg not in {0, 180})
    free = designed(one)
    assert isinstance(free, Plate)
    direction = one.case.pump.ports.outlet.direction_deg
    assert direction is not None
    shut = (direction.value + free.turn_deg + 30) % 360
    room = replace(one.case.machine.room, outlet_free_deg=Fact(((shut, shut + 300),)))
    machine = replace(one.case.machine, room=room)
    plate = plate_or_why_not(machine, one.case.pump, window_mm=one.window_mm, material=one.material)
    assert isinstance(plate, Plate)
    points = (direction.value + plate.turn_deg - shut) % 360
    assert plate.turn_deg != free.turn_deg
    assert direction.doubt <= points <= 300 - direction.doubt


def test_what_is_only_typical_counts_as_not_known() -> None:
    one = plates()[0][0]
    assert one.case.machine.face.bolt is not None
    face = replace(one.case.machine.face, bolt=replace(one.case.machine.face.bolt, how=How.TYPICAL))
    found = plate_or_why_not(replace(one.case.machine, face=face), one.case.pump, window_mm=one.window_mm)
    assert isinstance(found, PlateRefused)
    assert found.measure == ("face_bolt",)


def test_one_seed_gives_one_plate() -> None:
    assert designed(pair(3)) == designed(pair(3))
