"""Every refusal is true by another route, and what it asks to measure would help."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.core.plan.designs import designed, plates, refusals
from tests.core.plan.naive import SCREWS, Naive
from tests.core.plan.pairs import Pair
from xref_app.core.fit.question import NOT_KNOWN
from xref_app.core.plan import plate_refusals as why
from xref_app.core.plan.plate import PlateRefused
from xref_app.core.plan.plate_readings import is_through

# The rule of the naive route that each reason says is broken.
AXIAL = {
    why.HEAD_FLOOR: "floor",
    why.BOSSES_HIGH: "bosses",
    why.RECESS_FLOOR: "recess",
    why.THREAD_SHORT: "thread",
    why.NO_SCREW_LENGTH: "screw",
    why.NO_BOLT_LENGTH: "bolt",
}


def test_the_refusals_are_of_every_kind() -> None:
    seen = {found.reason.template for _, found in refusals()}
    every = {NOT_KNOWN, why.NO_SCREW, why.ENGINE_SEATS, why.PUMP_SEATS, why.SCREWS_TIGHT, why.NO_PUMP_BOLT, why.NO_WEB}
    assert every <= seen
    assert {why.HEAD_FLOOR, why.BOSSES_HIGH, why.NO_SCREW_LENGTH, why.NO_BOLT_LENGTH, why.THREAD_SHORT} <= seen


def test_every_refusal_is_true_by_another_route() -> None:
    for one, found in refusals():
        assert is_true(one, found), (str(found.reason), one)


def is_true(one: Pair, found: PlateRefused) -> bool:
    naive, reason = Naive(one), found.reason.template
    if reason == NOT_KNOWN:
        return bool(found.measure)
    if reason == why.NO_SCREW:
        return naive.nominal not in SCREWS
    plain = {
        why.ENGINE_SEATS: lambda: not naive.seats_flat("engine"),
        why.PUMP_SEATS: lambda: not naive.seats_flat("pump"),
        why.SCREWS_TIGHT: lambda: not naive.screws_pass(),
        why.NO_PUMP_BOLT: lambda: not naive.pump_thread,
        why.NO_WEB: lambda: not naive.good_middles(),
        why.NO_STOCK: lambda: not naive.in_window(),
    }
    if reason in plain:
        return plain[reason]()
    thickest = naive.in_window()[-1]
    broken = [naive.broken(thickest, middle) for middle in naive.good_middles()]
    return any(AXIAL[reason] in rules for rules in broken) and naive.thicknesses() == []


def test_a_reason_shows_the_figures_it_rests_on() -> None:
    for _, found in refusals():
        text = str(found.reason)
        assert "{" not in text
        assert text.endswith(".")


def test_only_fields_that_were_read_and_would_help_are_asked_for() -> None:
    for one, found in refusals():
        if found.reason.template == NOT_KNOWN:
            continue
        through = is_through(one.case.machine)
        assert "face_thickness_mm" not in found.measure or through
        assert "face_tapped_depth_mm" not in found.measure or not through
        if found.reason.template in {why.NO_SCREW, why.NO_STOCK, why.HEAD_FLOOR}:
            assert found.measure == ()


FACE = ["holes_xy_mm", "bolt", "tapped_depth_mm", "pilot_kind"]
FLANGE = ["holes_xy_mm", "hole_mm", "thickness_mm", "pilot_kind"]


@pytest.mark.parametrize("field", FACE)
def test_an_unknown_size_of_the_face_is_asked_for(field: str) -> None:
    one = next(one for one, plate in plates() if not plate.nuts and one.case.machine.face.seat_heights_mm is None)
    machine = replace(one.case.machine, face=replace(one.case.machine.face, **{field: None}))
    found = designed(replace(one, case=replace(one.case, machine=machine)))
    assert isinstance(found, PlateRefused)
    assert found.measure == (f"face_{field}",)


@pytest.mark.parametrize("field", ["hole_mm", "thickness_mm"])
def test_an_unknown_size_of_a_face_with_through_holes_is_asked_for(field: str) -> None:
    one = next(one for one, plate in plates() if plate.nuts)
    machine = replace(one.case.machine, face=replace(one.case.machine.face, **{field: None}))
    found = designed(replace(one, case=replace(one.case, machine=machine)))
    assert isinstance(found, PlateRefused)
    assert found.measure == (f"face_{field}",)


@pytest.mark.parametrize("field", FLANGE)
def test_an_unknown_size_of_the_flange_is_asked_for(field: str) -> None:
    one = next(one for one, _ in plates() if one.case.pump.flange.seat_heights_mm is None)
    pump = replace(one.case.pump, flange=replace(one.case.pump.flange, **{field: None}))
    found = designed(replace(one, case=replace(one.case, pump=pump)))
    assert isinstance(found, PlateRefused)
    assert found.measure == (f"flange_{field}",)


@pytest.mark.parametrize("field", ["diameter_mm", "key_top_mm"])
def test_an_unknown_size_of_the_shaft_is_asked_for(field: str) -> None:
    one = plates()[0][0]
    machine = replace(one.case.machine, shaft=replace(one.case.machine.shaft, **{field: None}))
    found = designed(replace(one, case=replace(one.case, machine=machine)))
    assert isinstance(found, PlateRefused)
    assert found.measure == (f"shaft_{field}",)


def test_unknown_seats_of_legs_are_asked_for() -> None:
    one = next(one for one, _ in plates() if one.case.machine.face.seat_heights_mm is None)
    machine = replace(one.case.machine, face=replace(one.case.machine.face, seat_kind=None))
    pump = replace(one.case.pump, flange=replace(one.case.pump.flange, seat_kind=None, seat_heights_mm=None))
    found = designed(replace(one, case=replace(one.case, machine=machine, pump=pump)))
    assert isinstance(found, PlateRefused)
    assert found.measure == ("face_seat_heights_mm", "flange_seat_heights_mm")
