"""With its plate on, every engine passes the checks of the face and the shaft for the pump it was made for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.core.fit.cases import finding_of
from tests.core.plan.designs import plates
from tests.core.plan.pairs import Pair
from xref_app.core.fit.face_turns import face_turns_or_none
from xref_app.core.fit.finding import Outcome
from xref_app.core.fit.spacing import reach_or_none
from xref_app.core.model.case import Case
from xref_app.core.model.known import Dimension, How
from xref_app.core.model.words import PilotKind
from xref_app.core.plan.plate import Plate, plate_or_why_not
from xref_app.core.plan.plated import machine_with_plate


def plated(one: Pair, plate: Plate) -> Case:
    """Return the case with the plate on, and a bore so deep and a mouth so far in that the window is the one asked."""
    shaft = one.case.machine.shaft
    assert shaft.projection_mm is not None
    assert shaft.diameter_mm is not None
    projection, across = shaft.projection_mm.range, shaft.diameter_mm.range
    depth = projection.high - one.window_mm.low + 1.6
    recess = projection.low - across.high - one.window_mm.high
    bore = replace(one.case.pump.bore, depth_mm=Dimension(depth, 0.0), recess_mm=Dimension(recess, 0.0))
    pump = replace(one.case.pump, bore=bore)
    reach = reach_or_none(one.case.machine, pump)
    assert reach is not None
    assert (reach.least_mm, reach.most_apart_mm) == pytest.approx((one.window_mm.low, one.window_mm.high))
    return replace(one.case, machine=machine_with_plate(one.case.machine, plate), pump=pump)


@pytest.mark.parametrize("check", ["pattern", "pilot", "seat", "reach", "bolts"])
def test_the_pump_passes_on_every_plate_with_no_part_but_new_bolts(check: str) -> None:
    allowed = {Outcome.PASS, Outcome.BY_PARTS} if check == "bolts" else {Outcome.PASS}
    for one, plate in plates():
        finding = finding_of(check, plated(one, plate))
        assert finding.outcome in allowed, (str(finding.reason), plate)
        for need in finding.needs:
            assert f"x {plate.pump_bolt_length_mm:.1f} mm" in str(need.what)
            assert need.quantity == len(plate.pump_holes)


def test_the_plates_turn_is_one_at_which_the_holes_surely_meet() -> None:
    for one, plate in plates():
        case = plated(one, plate)
        turns = face_turns_or_none(case.machine, case.pump)
        assert turns is not None
        assert any(
            abs((turn.degrees - plate.turn_deg + 180) % 360 - 180) <= (turn.high - turn.low) * 60 for turn in turns.sure
        ), plate


def test_the_shaft_stands_out_less_and_its_keyseat_stays() -> None:
    one, plate = plates()[0]
    bare, shaft = one.case.machine.shaft, machine_with_plate(one.case.machine, plate).shaft
    assert shaft.projection_mm is not None
    assert shaft.projection_mm.value == pytest.approx(75.0 - plate.thickness_mm)
    assert shaft.projection_mm.doubt == pytest.approx(0.15)
    assert replace(shaft, projection_mm=bare.projection_mm) == bare
    room = machine_with_plate(one.case.machine, plate).room.length_mm
    assert room is not None
    assert room.value == pytest.approx(250 - plate.thickness_mm)


def test_a_boss_of_the_pump_finds_a_recess_and_no_boss_finds_a_flat_face() -> None:
    for one, plate in plates():
        kind = one.case.pump.flange.pilot_kind
        found = machine_with_plate(one.case.machine, plate).face.pilot_kind
        assert kind is not None
        assert found is not None
        wanted = PilotKind.RECESS if kind.value is PilotKind.BOSS else PilotKind.NONE
        assert found.value is wanted


def test_the_plate_is_known_no_better_than_what_it_was_designed_from() -> None:
    one = plates()[0][0]
    flange = one.case.pump.flange
    assert flange.holes_xy_mm is not None
    claimed = replace(flange, holes_xy_mm=replace(flange.holes_xy_mm, how=How.CLAIMED))
    pump = replace(one.case.pump, flange=claimed)
    plate = plate_or_why_not(one.case.machine, pump, window_mm=one.window_mm, material=one.material)
    assert isinstance(plate, Plate)
    machine = machine_with_plate(one.case.machine, plate)
    hows = [machine.face.holes_xy_mm, machine.face.bolt, machine.face.tapped_depth_mm, machine.shaft.projection_mm]
    assert {known.how for known in hows if known is not None} == {How.CLAIMED}
