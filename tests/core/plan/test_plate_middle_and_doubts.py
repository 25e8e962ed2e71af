"""Bore, recesses and sunk heads of every random plate, and every doubt the judged machine gets of it, reckoned anew.

The figures are written out here: 0.05 mm on each place, diameter, depth and thickness as made, and on the centre as
set; 1 mm round the shaft, 0.5 mm over a boss, 0.2 mm over a head, 3 mm of floor (house rules of the plate).
"""

from __future__ import annotations

import math

import pytest

from tests.core.plan.designs import designed, plates
from tests.core.plan.naive import SCREWS, ends
from tests.core.plan.pairs import BOLTS_MM, Pair, nema_to_small_pump
from xref_app.core.model.known import Dimension
from xref_app.core.model.machine import Face
from xref_app.core.model.pump import Flange
from xref_app.core.model.words import HoleKind, PilotKind, SeatKind
from xref_app.core.plan.plate import Plate, Recess
from xref_app.core.plan.plated import machine_with_plate
from xref_app.core.standards.threads import bolt_major_mm

# 0.05 as made and 0.05 as set on x and on y: the middle lies so far aside at worst.
ASIDE_MM = math.hypot(0.1, 0.1)
NEARLY = 1e-6


def boss_or_none(side: Face | Flange) -> tuple[float, float] | None:
    """Return how wide and how high a side's boss may be at most, mm."""
    if side.pilot_kind is None or side.pilot_kind.value is not PilotKind.BOSS:
        return None
    assert side.pilot_mm is not None
    assert side.pilot_depth_mm is not None
    return side.pilot_mm.value + side.pilot_mm.doubt, side.pilot_depth_mm.value + side.pilot_depth_mm.doubt


def sides(one: Pair, plate: Plate) -> tuple[tuple[tuple[float, float] | None, Recess | None], ...]:
    machine, pump = one.case.machine, one.case.pump
    return (boss_or_none(machine.face), plate.engine_recess), (boss_or_none(pump.flange), plate.pump_recess)


def least_bore_mm(one: Pair) -> float:
    """Return the narrowest bore that stays 1 mm from the turning shaft and its key, mm."""
    shaft = one.case.machine.shaft
    assert shaft.diameter_mm is not None
    assert shaft.key_top_mm is not None
    low, high = ends(shaft.diameter_mm)
    # The key's top is read from the shaft's far side: it reaches furthest where the shaft is thinnest.
    reach = max(high / 2, ends(shaft.key_top_mm)[1] - low / 2)
    return 2 * (reach + 1.0 + ASIDE_MM) + 0.05


def across_for_boss_mm(widest: float) -> float:
    return widest + 2 * ASIDE_MM + 0.05


def test_the_bore_clears_the_shaft_and_its_key_and_is_no_wider_than_that_or_a_boss_asks() -> None:
    for one, plate in plates():
        bore, least = plate.centre_bore_mm, least_bore_mm(one)
        assert bore >= least - NEARLY, plate
        wanted = [least, *(across_for_boss_mm(boss[0]) for boss, _ in sides(one, plate) if boss)]
        assert any(0.0 <= bore - across + NEARLY < 0.5 + 2 * NEARLY for across in wanted), plate
        assert bore / 0.5 == pytest.approx(round(bore / 0.5))


def test_every_boss_finds_a_recess_or_a_bore_wide_and_deep_enough_and_nothing_else_does() -> None:
    recesses = 0
    for one, plate in plates():
        for boss, recess in sides(one, plate):
            if boss is None:
                assert recess is None
                continue
            across, deep = across_for_boss_mm(boss[0]), boss[1] + 0.5 + 0.05
            if recess is None:
                assert plate.centre_bore_mm >= across - NEARLY
                continue
            recesses += 1
            assert 0.0 <= recess.diameter_mm - across + NEARLY < 0.5 + 2 * NEARLY
            assert 0.0 <= recess.depth_mm - deep + NEARLY < 0.1 + 2 * NEARLY
            assert recess.diameter_mm > plate.centre_bore_mm
    assert recesses >= 20


def test_recesses_leave_3_mm_of_floor_and_bosses_never_meet() -> None:
    for one, plate in plates():
        cut = [recess.depth_mm + 0.05 for _, recess in sides(one, plate) if recess]
        assert not cut or plate.thickness_mm - 0.05 - sum(cut) >= 3.0 - NEARLY, plate
        high = [boss[1] for boss, _ in sides(one, plate) if boss]
        assert not high or plate.thickness_mm - 0.05 >= sum(high) + 0.5 - NEARLY, plate


def test_every_head_has_room_wherever_its_screw_stands_lies_below_and_keeps_its_floor() -> None:
    for one, plate in plates():
        bolt = one.case.machine.face.bolt
        assert bolt is not None
        nominal, major = BOLTS_MM[str(bolt.value)], bolt_major_mm(str(bolt.value))
        assert major is not None
        head, height, clearance = SCREWS[nominal]
        # Thinnest screw in the widest hole, and the counterbore 0.05 mm aside on x and on y.
        room = head + (clearance + 0.2 - major.low) + 2 * math.hypot(0.05, 0.05)
        for hole in plate.engine_holes:
            assert hole.clearance_mm == pytest.approx(clearance, abs=0.001)
            assert 0.0 <= hole.counterbore_mm - room + NEARLY < 0.5 + 2 * NEARLY
            assert 0.0 <= hole.counterbore_depth_mm - (height + 0.2 + 0.05) + NEARLY < 0.1 + 2 * NEARLY
            assert plate.thickness_mm - 0.05 - (hole.counterbore_depth_mm + 0.05) >= nominal / 2 - NEARLY


def test_every_doubt_of_the_judged_face_is_the_sum_of_what_can_be_off() -> None:
    for one, plate in plates():
        face = machine_with_plate(one.case.machine, plate).face
        opens = plate.engine_recess is not None and any(
            math.hypot(hole.x_mm, hole.y_mm) < plate.engine_recess.diameter_mm / 2 for hole in plate.pump_holes
        )
        assert face.holes_xy_mm is not None
        # Made within 0.05 and set within 0.05 on each axis.
        assert face.holes_xy_mm.doubt_mm == pytest.approx(0.10)
        assert [(hole.x_mm, hole.y_mm, hole.slot_mm) for hole in face.holes_xy_mm.holes] == [
            (hole.x_mm, hole.y_mm, 0.0) for hole in plate.pump_holes
        ]
        deep = plate.engine_recess.depth_mm if plate.engine_recess and opens else 0.0
        # The thickness may be off, and so may the recess that takes some of it.
        assert face.tapped_depth_mm is not None
        assert face.tapped_depth_mm.value == pytest.approx(plate.thickness_mm - deep)
        assert face.tapped_depth_mm.doubt == pytest.approx(0.10 if opens else 0.05)
        assert face.seat_heights_mm is not None
        assert face.seat_heights_mm.heights_mm == (0.0,) * len(plate.pump_holes)
        assert (face.seat_heights_mm.doubt_mm, face.seat_kind and face.seat_kind.value) == (0.0, SeatKind.FLAT)
        assert face.hole_kind is not None
        assert face.hole_kind.value is HoleKind.TAPPED
        assert face.bolt is not None
        assert face.bolt.value == plate.pump_bolt_thread
        assert face.material is not None
        assert face.material.value is plate.material
        # What only the engine's own holes had is gone with them.
        assert (face.hole_mm, face.thickness_mm, face.bolt_length_mm) == (None, None, None)


def test_the_room_for_the_pumps_boss_is_as_wide_and_deep_as_it_surely_is() -> None:
    kinds = set()
    for one, plate in plates():
        face = machine_with_plate(one.case.machine, plate).face
        (engine, _), (pump, recess) = sides(one, plate)
        if pump is None:
            assert (face.pilot_mm, face.pilot_depth_mm) == (None, None)
            continue
        kinds.add(recess is None)
        across = recess.diameter_mm if recess else plate.centre_bore_mm
        # In the bore the pump's boss has what the engine's boss, at its highest, leaves of the thickness.
        deep = recess.depth_mm if recess else plate.thickness_mm - (engine[1] if engine else 0.0)
        for found, value in ((face.pilot_mm, across), (face.pilot_depth_mm, deep)):
            assert found is not None
            assert found.value == pytest.approx(value)
            assert found.doubt == pytest.approx(0.05)
    assert kinds == {True, False}


def test_shaft_and_room_lose_the_thickness_and_gain_its_doubt() -> None:
    for one, plate in plates():
        bare, machine = one.case.machine, machine_with_plate(one.case.machine, plate)
        for before, after in (
            (bare.shaft.projection_mm, machine.shaft.projection_mm),
            (bare.room.length_mm, machine.room.length_mm),
        ):
            assert_less(before, after, plate.thickness_mm)


def assert_less(before: Dimension | None, after: Dimension | None, thickness_mm: float) -> None:
    assert before is not None
    assert after is not None
    assert after.value == pytest.approx(before.value - thickness_mm)
    assert after.doubt == pytest.approx(before.doubt + 0.05)


def test_a_hole_that_opens_into_the_engines_recess_is_among_the_plates() -> None:
    plate = designed(nema_to_small_pump())
    assert isinstance(plate, Plate)
    machine = machine_with_plate(nema_to_small_pump().case.machine, plate)
    assert machine.face.tapped_depth_mm is not None
    assert machine.face.tapped_depth_mm.doubt == pytest.approx(0.10)
