"""Turns at which holes meet bolts: exact intervals against a dense scan of our own, slots, unequal counts, 0°."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.core.fit.cases import case_with, found, said
from xref_app.core.fit.face_turns import allowed_offset_mm, face_turns_or_none
from xref_app.core.fit.geometry import Turn, distance_mm, turns_that_meet
from xref_app.core.fit.pattern import worded_turns
from xref_app.core.model.known import Hole
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump

STEP_DEG = 0.5
# A scan sees the outline within this; nearer than that it does not say which side it is on, mm.
BLUR_MM = 1e-6


def ring(radius: float, *angles: float) -> tuple[Hole, ...]:
    return tuple(
        Hole(radius * math.cos(math.radians(angle)), radius * math.sin(math.radians(angle))) for angle in angles
    )


def away_mm(bolt: Hole, hole: Hole, turn: float) -> float:
    """The oracle's distance: the slot's two ends turned forward, the bolt left where it is."""
    half = hole.slot_mm / 2
    along = math.radians(hole.slot_deg)
    ends = [
        complex(hole.x_mm + sign * half * math.cos(along), hole.y_mm + sign * half * math.sin(along))
        * complex(math.cos(turn), math.sin(turn))
        for sign in (-1, 1)
    ]
    point, line = complex(bolt.x_mm, bolt.y_mm), ends[1] - ends[0]
    if abs(line) < 1e-12:
        return abs(point - ends[0])
    share = ((point - ends[0]) * line.conjugate()).real / abs(line) ** 2
    return abs(point - (ends[0] + min(1.0, max(0.0, share)) * line))


def meets_at(bolts: tuple[Hole, ...], holes: tuple[Hole, ...], reach: float, turn: float) -> bool:
    """The oracle: try every pairing."""
    if len(bolts) <= len(holes):
        return any(
            all(away_mm(bolt, hole, turn) <= reach for bolt, hole in zip(bolts, chosen, strict=True))
            for chosen in permutations(holes, len(bolts))
        )
    return any(
        all(away_mm(bolt, hole, turn) <= reach for bolt, hole in zip(chosen, holes, strict=True))
        for chosen in permutations(bolts, len(holes))
    )


def holds(turns: tuple[Turn, ...], angle: float) -> bool:
    return any(turn.low <= angle + lap <= turn.high for turn in turns for lap in (-2 * math.pi, 0.0, 2 * math.pi))


def check_by_scan(bolts: tuple[Hole, ...], holes: tuple[Hole, ...], reach: float) -> None:
    turns = turns_that_meet(bolts, holes, reach_mm=reach)
    for step in range(int(360 / STEP_DEG)):
        angle = math.radians(step * STEP_DEG)
        if meets_at(bolts, holes, reach - BLUR_MM, angle):
            assert holds(turns, angle), f"missed at {step * STEP_DEG}°"
        elif not meets_at(bolts, holes, reach + BLUR_MM, angle):
            assert not holds(turns, angle), f"wrongly allowed at {step * STEP_DEG}°"
    for turn in turns:
        assert meets_at(bolts, holes, reach + BLUR_MM, turn.middle)
        assert all(away_mm(bolts[i], holes[j], turn.middle) <= reach + BLUR_MM for i, j in turn.pairs)
        assert len(turn.pairs) == min(len(bolts), len(holes))


places = st.tuples(st.sampled_from([0.0, 20.0, 40.0, 40.3]), st.integers(0, 23)).map(
    lambda one: ring(one[0], one[1] * 15.0)[0]
)
slots = st.tuples(places, st.sampled_from([0.0, 3.0, 12.0]), st.sampled_from([0.0, 45.0, 90.0])).map(
    lambda one: Hole(one[0].x_mm, one[0].y_mm, one[1], one[2])
)


@settings(max_examples=150, deadline=None)
@given(
    bolts=st.lists(places, min_size=1, max_size=4),
    holes=st.lists(slots, min_size=1, max_size=4),
    reach=st.sampled_from([0.2, 0.5, 2.0, 9.0]),
)
def test_turns_are_those_of_a_dense_scan(bolts: list[Hole], holes: list[Hole], reach: float) -> None:
    check_by_scan(tuple(bolts), tuple(holes), reach)


@settings(max_examples=60, deadline=None)
@given(first=st.integers(0, 359), reach=st.sampled_from([0.1, 0.4, 3.0]), slot=st.sampled_from([0.0, 6.0]))
def test_a_pattern_turned_by_any_angle_meets_at_that_turn(first: int, reach: float, slot: float) -> None:
    bolts = ring(46, 0, 100, 190)
    holes = tuple(
        Hole(hole.x_mm, hole.y_mm, slot, angle - first)
        for hole, angle in zip(ring(46, -first, 100 - first, 190 - first), (0, 100, 190), strict=True)
    )
    turns = turns_that_meet(bolts, holes, reach_mm=reach)
    assert holds(turns, math.radians(first))
    check_by_scan(bolts, holes, reach)


def test_four_holes_at_right_angles_meet_at_every_quarter_turn() -> None:
    turns = turns_that_meet(ring(46, 0, 90, 180, 270), ring(46, 0, 90, 180, 270), reach_mm=0.3)
    assert sorted(round(turn.degrees, 6) % 360 for turn in turns) == [0, 90, 180, 270]
    # a chord of 0.3 mm on a radius of 46 mm: 2 asin(0.15 / 46) to each side
    assert turns[0].high - turns[0].low == pytest.approx(4 * math.asin(0.15 / 46), rel=1e-6)
    assert all(turn.only_pairing for turn in turns)


def test_the_turn_across_zero_is_one_turn_not_two() -> None:
    (turn,) = turns_that_meet(ring(46, 0, 100, 190), ring(46, 0, 100, 190), reach_mm=0.3)
    assert any(turn.low < lap < turn.high for lap in (0.0, 2 * math.pi))
    assert turn.degrees in (pytest.approx(0.0, abs=1e-6), pytest.approx(360.0, abs=1e-6))


def test_patterns_that_meet_exactly_meet_without_any_room() -> None:
    turns = turns_that_meet(ring(46, 0, 100, 190), ring(46, 10, 110, 200), reach_mm=0.0)
    assert [round(turn.degrees, 6) for turn in turns] == [350.0]


def test_nothing_meets_where_the_bolt_is_thicker_than_the_hole() -> None:
    assert turns_that_meet(ring(46, 0), ring(46, 0), reach_mm=-0.01) == ()


def test_holes_at_the_centre_meet_at_every_turn() -> None:
    (turn,) = turns_that_meet((Hole(0, 0),), (Hole(0, 0),), reach_mm=0.1)
    assert [turn.low, turn.high] == pytest.approx([0.0, 2 * math.pi])


def test_a_bolt_at_the_centre_lies_in_a_slot_across_it_at_every_turn() -> None:
    (turn,) = turns_that_meet((Hole(0, 0),), (Hole(3, 0, 8.0, 0.0),), reach_mm=0.1)
    assert turn.high - turn.low == pytest.approx(2 * math.pi)


def test_a_slot_lets_the_pump_turn_as_far_as_it_is_long() -> None:
    # straight slot of 6 mm across the radius, reach 0.01 mm: the bolt keeps to the line, so it hardly turns
    tangent = turns_that_meet(ring(46, 0), (Hole(46, 0, 6.0, 90.0),), reach_mm=0.2)
    check_by_scan(ring(46, 0), (Hole(46, 0, 6.0, 90.0),), 0.2)
    round_hole = turns_that_meet(ring(46, 0), ring(46, 0), reach_mm=0.2)
    assert sum(turn.high - turn.low for turn in tangent) > 5 * sum(turn.high - turn.low for turn in round_hole)
    # along the radius a slot lets a bolt of another circle in
    assert turns_that_meet(ring(48, 0), (Hole(46, 0, 6.0, 0.0),), reach_mm=0.2)
    assert not turns_that_meet(ring(50, 0), (Hole(46, 0, 6.0, 0.0),), reach_mm=0.2)


def test_three_holes_use_three_of_four_bolts() -> None:
    turns = turns_that_meet(ring(46, 0, 90, 180, 270), ring(46, 0, 90, 180), reach_mm=0.3)
    assert {len(turn.pairs) for turn in turns} == {3}
    assert len(turns) == 4


def test_two_holes_that_share_a_bolt_are_no_pairing() -> None:
    assert not turns_that_meet(ring(46, 0, 180), (*ring(46, 0), *ring(46, 0.1)), reach_mm=0.5)


def test_a_bolt_that_could_go_into_either_of_two_holes_is_no_only_pairing() -> None:
    turns = turns_that_meet(ring(46, 0), ring(46, 0, 0.4), reach_mm=0.5)
    assert not all(turn.only_pairing for turn in turns)


def test_a_bolt_taken_by_another_hole_is_moved_on() -> None:
    # the first bolt reaches both holes, the second only the one the first took
    bolts, holes = ring(46, 0, 0.4), ring(46, 0.4, -0.5)
    (turn,) = [one for one in turns_that_meet(bolts, holes, reach_mm=0.45) if one.low <= 0 <= one.high]
    assert turn.pairs == ((0, 1), (1, 0))


def test_distance_to_a_slot_is_to_its_centre_line() -> None:
    slot = Hole(10, 0, 4.0, 0.0)
    assert distance_mm(Hole(11.5, 3), slot, 0.0) == pytest.approx(3.0)
    assert distance_mm(Hole(15, 4), slot, 0.0) == pytest.approx(5.0)  # 3-4-5 from the end at x = 12
    assert distance_mm(Hole(0, 11), slot, math.pi / 2) == pytest.approx(0.0, abs=1e-12)


def test_turns_are_worded_in_whole_degrees_in_order() -> None:
    turns = tuple(Turn(math.radians(low), math.radians(high), (), True) for low, high in ((269, 271), (-1, 1)))
    assert worded_turns(turns) == "0°, 270°"


def test_a_floating_fastener_is_free_by_hole_minus_bolt_on_each_side_it_passes() -> None:
    # ASME Y14.5 floating fastener: H - F on the diameter, half of it on the radius, of each part with a clearance hole.
    # What is surely free is free of the thickest bolt: no M8 is thicker than 8.0 mm.
    tapped = allowed_offset_mm(*_sides({"machine.face.bolt": "M8", "pump.flange.hole_mm": exact(8.8)}))
    through = {"machine.face.hole_kind": "through", "machine.face.hole_mm": exact(9.0)}
    passed = allowed_offset_mm(*_sides({"machine.face.bolt": "M8", "pump.flange.hole_mm": exact(8.8), **through}))
    assert tapped is not None
    assert passed is not None
    assert tapped.low == pytest.approx((8.8 - 8.0) / 2)
    assert passed.low == pytest.approx((8.8 - 8.0) / 2 + (9.0 - 8.0) / 2)
    lacking = allowed_offset_mm(*_sides({"machine.face.hole_kind": "through"}))
    assert lacking is None


@pytest.mark.parametrize(
    "change",
    [{"machine.face.holes_xy_mm": None}, {"pump.flange.holes_xy_mm": None}, {"pump.flange.hole_mm": None}],
    ids=str,
)
def test_no_turn_is_known_while_a_pattern_or_hole_is_not(change: dict[str, None]) -> None:
    lacking = dict(change)
    if "machine.face.holes_xy_mm" in change:
        lacking["machine.face.seat_heights_mm"] = None
    assert face_turns_or_none(*_sides(lacking)) is None


def test_two_bolts_do_not_hold_where_the_faces_differ_in_holes() -> None:
    finding = found("pattern", {"pump.flange.holes_xy_mm": [[46, 0], [-46, 0]], "pump.flange.seat_heights_mm": [0, 0]})
    assert said(finding) == (
        "fail",
        "Only 2 bolts would hold the pump; faces with different numbers of holes need at least 3.",
    )


def test_a_pattern_reading_that_lacks_is_named() -> None:
    finding = found("pattern", {"machine.face.hole_kind": "through"})
    assert said(finding) == ("unknown", "Not known yet: through hole of the face.")


def exact(value: float) -> dict[str, float]:
    return {"value": value, "doubt": 0}


def _sides(changes: Mapping[str, object]) -> tuple[Machine, Pump]:
    case = case_with(changes)
    return case.machine, case.pump
