"""Every refusal is true by another route, and what it asks to measure would help."""

from __future__ import annotations

import random
from dataclasses import fields, replace
from typing import Any, TypeVar

import pytest

from tests.core.fit.cases import case_with
from tests.core.plan.designs import designed, plates, refusals
from tests.core.plan.naive import SCREWS, Naive
from tests.core.plan.pairs import Pair, nema_to_small_pump
from xref_app.core.fit.finding import Verdict
from xref_app.core.fit.question import NOT_KNOWN
from xref_app.core.model.known import Dimension, Fact, Pattern, Seats
from xref_app.core.model.machine import Face, Shaft
from xref_app.core.model.pump import Flange
from xref_app.core.model.words import HoleKind, PilotKind
from xref_app.core.plan import plate_refusals as why
from xref_app.core.plan.judge import judge
from xref_app.core.plan.plate import PlateRefused
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence

Side = TypeVar("Side", Face, Flange, Shaft)

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
    every = {
        NOT_KNOWN,
        why.TOO_FEW,
        why.NO_SCREW,
        why.ENGINE_SEATS,
        why.PUMP_SEATS,
        why.SCREWS_TIGHT,
        why.NO_PUMP_BOLT,
        why.NO_WEB,
    }
    assert every <= seen
    assert {why.THROUGH_HOLES, why.TOO_FEW, why.HEAD_FLOOR, why.NO_SCREW_LENGTH, why.NO_BOLT_LENGTH} <= seen


@pytest.mark.parametrize(
    ("height_mm", "reason"), [(8.0, why.THREAD_SHORT), (13.0, why.RECESS_FLOOR), (17.0, why.BOSSES_HIGH)]
)
def test_a_boss_too_high_for_the_plate_is_refused_with_what_it_takes(height_mm: float, reason: str) -> None:
    one = nema_to_small_pump(height_mm=height_mm, most_mm=16.5)
    found = designed(one)
    assert isinstance(found, PlateRefused)
    assert found.reason.template == reason
    assert is_true(one, found)
    assert found.measure == ()


def test_a_window_between_two_stock_sizes_is_refused() -> None:
    one = replace(nema_to_small_pump(), window_mm=Range(12.1, 12.7))
    found = designed(one)
    assert isinstance(found, PlateRefused)
    assert str(found.reason) == (
        "No stock plate is right for the shaft: it must be between 12.10 and 12.70 mm thick as made."
    )
    assert is_true(one, found)


@pytest.mark.parametrize(("height_mm", "flange_doubt_mm", "asks"), [(7.0, 0.4, True), (7.5, 0.05, False)])
def test_sizes_are_asked_for_again_where_only_their_doubt_leaves_no_bolt(
    height_mm: float, flange_doubt_mm: float, *, asks: bool
) -> None:
    one = nema_to_small_pump(height_mm=height_mm, most_mm=20.5)
    flange = replace(one.case.pump.flange, thickness_mm=Dimension(12.0, flange_doubt_mm))
    found = designed(replace(one, case=replace(one.case, pump=replace(one.case.pump, flange=flange))))
    assert isinstance(found, PlateRefused)
    assert found.reason.template == why.NO_BOLT_LENGTH
    assert found.measure == (("flange_thickness_mm", "face_pilot_depth_mm") if asks else ())


def exact(side: Side, rng: random.Random) -> Side:
    """Return one side as it may truly be: every size somewhere inside its doubt, its holes where they were read."""
    changed: dict[str, Any] = {}  # fields of any kind
    for field in fields(side):
        known = getattr(side, field.name)
        if isinstance(known, Dimension):
            changed[field.name] = Dimension(known.value + known.doubt * rng.choice([-1, 0, 1]), 0.0)
        elif isinstance(known, Pattern):
            changed[field.name] = replace(known, doubt_mm=0.0)
        elif isinstance(known, Seats):
            highest = max(known.heights_mm)
            heights = [
                one if one == highest else one + known.doubt_mm * rng.choice([-1, 1]) for one in known.heights_mm
            ]
            changed[field.name] = Seats(tuple(min(highest, one) for one in heights), 0.0)
    return replace(side, **changed)


def test_where_nothing_is_asked_for_no_true_size_within_the_doubts_would_allow_a_plate() -> None:
    rng = random.Random(5)
    final = [one for one, found in refusals() if not found.measure]
    assert len(final) >= 200
    for one in final:
        machine, pump = one.case.machine, one.case.pump
        truly = replace(
            one.case,
            machine=replace(machine, face=exact(machine.face, rng), shaft=exact(machine.shaft, rng)),
            pump=replace(pump, flange=exact(pump.flange, rng)),
        )
        assert isinstance(designed(replace(one, case=truly)), PlateRefused), one


def test_every_refusal_is_true_by_another_route() -> None:
    for one, found in refusals():
        assert is_true(one, found), (str(found.reason), one)


def test_a_plate_never_hides_that_two_bolts_would_hold_the_pump() -> None:
    square = [[46, 0], [0, 46], [-46, 0], [0, -46]]
    # Two of four bolts meet, but two are too few (house rule); the plate's four would hang on the engine's two.
    for ours, theirs in ((square[::2], square), (square, square[::2])):
        case = case_with(
            {
                "machine.face.holes_xy_mm": ours,
                "machine.face.seat_heights_mm": [0] * len(ours),
                "pump.flange.holes_xy_mm": theirs,
                "pump.flange.seat_heights_mm": [0] * len(theirs),
                "machine.shaft.projection_mm": 75,
                "machine.shaft.keyseat_length_mm": 60,
                "pump.bore.depth_mm": 80,
            }
        )
        judged = judge(case)
        assert judged.verdict is Verdict.DOES_NOT_FIT
        pattern = next(one for one in judged.findings if one.check == "pattern")
        assert str(pattern.reason) == (
            "Only 2 bolts would hold the pump; faces with different numbers of holes need at least 3."
        )


def test_three_holes_and_as_many_holes_as_the_other_side_are_enough() -> None:
    counts = {(len(plate.engine_holes), len(plate.pump_holes)) for _, plate in plates()}
    assert {(2, 2), (3, 4), (4, 3)} <= counts
    assert all(ours == theirs or min(ours, theirs) >= 3 for ours, theirs in counts)


def is_true(one: Pair, found: PlateRefused) -> bool:
    naive, reason = Naive(one), found.reason.template
    if reason == NOT_KNOWN:
        return bool(found.measure)
    if reason == why.THROUGH_HOLES:
        return naive.through
    if reason == why.TOO_FEW:
        return naive.too_few()
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
        kind = one.case.machine.face.pilot_kind
        has_boss = kind is not None and kind.value is PilotKind.BOSS
        assert found.reason.template == NOT_KNOWN or "face_pilot_depth_mm" not in found.measure or has_boss
        if found.reason.template in {why.THROUGH_HOLES, why.TOO_FEW, why.NO_SCREW, why.NO_STOCK, why.HEAD_FLOOR}:
            assert found.measure == ()


FACE = ["holes_xy_mm", "bolt", "tapped_depth_mm", "pilot_kind"]
FLANGE = ["holes_xy_mm", "hole_mm", "thickness_mm", "pilot_kind"]


@pytest.mark.parametrize("field", FACE)
def test_an_unknown_size_of_the_face_is_asked_for(field: str) -> None:
    one = next(one for one, _ in plates() if one.case.machine.face.seat_heights_mm is None)
    machine = replace(one.case.machine, face=replace(one.case.machine.face, **{field: None}))
    found = designed(replace(one, case=replace(one.case, machine=machine)))
    assert isinstance(found, PlateRefused)
    assert found.measure == (f"face_{field}",)


@pytest.mark.parametrize("known", [True, False])
def test_an_engine_with_through_holes_gets_no_plate_whatever_else_is_known(*, known: bool) -> None:
    one = next(one for one, _ in plates() if one.case.machine.face.seat_heights_mm is None)
    thickness = Dimension(10.0, 0.1) if known else None
    face = replace(
        one.case.machine.face, hole_kind=Fact(HoleKind.THROUGH), hole_mm=Dimension(14.0, 0.1), thickness_mm=thickness
    )
    found = designed(replace(one, case=replace(one.case, machine=replace(one.case.machine, face=face))))
    assert found == PlateRefused(Sentence(why.THROUGH_HOLES), ())


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


def test_a_verdict_with_a_plate_tells_every_claim_the_plate_rests_on() -> None:
    # 1 diameter of thread is enough in iron, 1.5 are needed in aluminium: only the claimed iron lets the screws hold.
    shallow = {"pump.flange.holes_xy_mm": [[50, 0], [0, 50], [-50, 0], [0, -50]], "machine.face.tapped_depth_mm": 11.5}
    measured = judge(case_with({**shallow, "machine.face.material": "iron"}))
    claimed = judge(case_with({**shallow, "machine.face.material": {"value": "iron", "how": "claimed"}}))
    assert (measured.verdict, claimed.verdict) == (Verdict.FITS_WITH_PARTS, Verdict.FITS_WITH_PARTS)
    assert not measured.claims
    assert "face_material" in claimed.claims
    assert judge(case_with({**shallow, "machine.face.material": "aluminium"})).verdict is Verdict.DOES_NOT_FIT
