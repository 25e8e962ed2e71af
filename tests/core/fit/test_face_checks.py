"""Pilot, reach, spacers, seats and bolts: the branches a single change of the example does not reach.

Sums are worked out beside each case, from the readings and the rules of DEVELOPERS.md.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from tests.core.fit.cases import case_with, finding_of, found, said
from xref_app.core.fit.face_turns import face_turns_or_none
from xref_app.core.fit.finding import Outcome
from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.seat import seated_turns
from xref_app.core.fit.seats import SeatHeights, all_flush, gaps_mm, seat_heights_or_none
from xref_app.core.fit.spacing import bolts_used, window_mm
from xref_app.core.model.case import Case
from xref_app.core.model.known import Seats
from xref_app.core.plan.face_plan import face_plan
from xref_app.core.quantity.range import Range

BOSS: dict[str, Any] = {
    "machine.face.pilot_kind": "boss",
    "machine.face.pilot_mm": 50,
    "machine.face.pilot_depth_mm": 3,
    "pump.flange.pilot_kind": "recess",
    "pump.flange.pilot_mm": 50.1,
    "pump.flange.pilot_depth_mm": 4,
}
ON_FLAT = {**BOSS, "pump.flange.pilot_kind": "none", "pump.flange.pilot_mm": None, "pump.flange.pilot_depth_mm": None}
THROUGH: dict[str, Any] = {
    "machine.face.hole_kind": "through",
    "machine.face.hole_mm": 8.7,
    "machine.face.thickness_mm": 8,
}
BOLT: dict[str, Any] = {"kind": "bolt", "thread": "5/16-24 UNF", "length_mm": 30.0, "count": 4, "cost": 1}
FOUR_ZEROS = (Range.exactly(0.0),) * 4


def exact(value: float) -> dict[str, float]:
    return {"value": value, "doubt": 0}


def spacers(*given: tuple[float, int]) -> list[dict[str, Any]]:
    return [{"kind": "spacer", "thickness_mm": thickness, "count": count} for thickness, count in given]


# --- pilot


def test_a_boss_close_in_its_recess_centres_the_pump() -> None:
    changes = {**BOSS, "machine.face.pilot_mm": exact(50), "pump.flange.pilot_mm": exact(50.15)}
    assert said(found("pilot", changes)) == ("pass", "The boss centres in the recess with 0.15 mm of play.")


def test_a_boss_a_hundredth_looser_does_not_centre_but_does_no_harm() -> None:
    changes = {**BOSS, "machine.face.pilot_mm": exact(50), "pump.flange.pilot_mm": exact(50.16)}
    assert said(found("pilot", changes)) == (
        "pass",
        "The boss has 0.16 mm of play in the recess: shaft and bolts centre the pump, not the boss.",
    )


def test_a_boss_on_the_pump_goes_into_the_recess_of_the_face() -> None:
    changes = {
        "machine.face.pilot_kind": "recess",
        "machine.face.pilot_mm": exact(50.1),
        "machine.face.pilot_depth_mm": 4,
        "pump.flange.pilot_kind": "boss",
        "pump.flange.pilot_mm": exact(50),
        "pump.flange.pilot_depth_mm": 3,
    }
    assert said(found("pilot", changes)) == ("pass", "The boss centres in the recess with 0.10 mm of play.")


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({**BOSS, "machine.face.pilot_kind": None}, "Not known yet: pilot of the face."),
        ({**BOSS, "pump.flange.pilot_mm": None}, "Not known yet: pilot diameter of the pump."),
        ({**ON_FLAT, "machine.face.pilot_depth_mm": None}, "Not known yet: pilot depth of the face."),
    ],
)
def test_a_pilot_size_nobody_measured_is_named(changes: dict[str, Any], reason: str) -> None:
    assert said(found("pilot", changes)) == ("unknown", reason)


def test_a_spacer_nobody_lists_is_made_for_a_boss_on_a_flat_face() -> None:
    finding = found("pilot", {**ON_FLAT, "shelf": []})
    # 3.1 high at most, the seats let the faces 0.1 closer, ±0.05: 3.25 mm is the thinnest that surely clears it
    assert said(finding) == (
        "by parts",
        (
            "A boss 2.90 to 3.10 mm high meets a flat face; 3.20 mm under every bolt clear it. Shaft and bolts then "
            "centre the pump."
        ),
    )
    assert [(str(need.what), need.quantity, need.to_make) for need in finding.needs] == [
        ("Spacer 3.25 mm, one under every bolt: to make, ±0.05 mm, hole 8.5 mm, 16.5 mm outside", 4, True)
    ]


def test_a_boss_fails_where_the_shaft_is_too_short_for_what_would_clear_it() -> None:
    assert said(found("pilot", {**ON_FLAT, "pump.bore.recess_mm": 41.0})) == (
        "fail",
        (
            "A boss 2.90 to 3.10 mm high meets a flat face and holds it off, and the shaft is too short for a spacer "
            "that thick."
        ),
    )


def test_a_boss_of_no_height_holds_nothing_off() -> None:
    assert said(found("pilot", {**ON_FLAT, "machine.face.pilot_depth_mm": exact(0.0)}))[0] == "pass"


def test_a_spacer_for_the_shaft_lifts_a_boss_out_of_its_recess() -> None:
    # 67.9 asks for 4.7 mm at least; 6.0 ± 0.05 is more than the boss's 3.1
    changes = {**BOSS, "machine.shaft.projection_mm": 67.9, "shelf": spacers((6.0, 4))}
    assert said(found("pilot", changes)) == (
        "by parts",
        "The spacer lifts the boss out of its recess: shaft and bolts centre the pump, not the boss.",
    )


def test_a_spacer_adds_to_what_is_left_under_a_high_boss() -> None:
    # 0.5 ± 0.1 deep + 6.0 ± 0.05 - 7 ± 0.1 = -0.75 to -0.25, and the seats may let the faces 0.1 closer
    changes = {
        **BOSS,
        "machine.shaft.projection_mm": 67.9,
        "machine.face.pilot_depth_mm": 7,
        "pump.flange.pilot_depth_mm": 0.5,
        "shelf": spacers((6.0, 4)),
    }
    assert said(found("pilot", changes)) == (
        "fail",
        "The boss is 0.25 to 0.85 mm higher than the recess is deep: the faces never meet.",
    )


# --- reach and spacers


def test_shaft_and_boss_share_the_thinnest_spacer_both_accept() -> None:
    # shaft: 5.1 - 3.5 = 1.6 too long by 4.7; boss: 5.2 ± 0.1 + 0.05 = 5.35, seats 0.1 low at most: 5.5 serves both
    changes = {
        **ON_FLAT,
        "machine.face.pilot_depth_mm": 5.2,
        "machine.shaft.projection_mm": 67.9,
        "shelf": spacers((7.0, 4), (5.0, 4), (5.5, 4)),
    }
    case = case_with(changes)
    window = window_mm(case.machine, case.pump)
    assert window is not None
    assert window.low == pytest.approx(5.3)  # the spacer's own doubt of 0.05 is carried by the stack
    (stack,) = face_plan(case).parts.stacks
    assert [piece.thickness_mm for piece in stack.pieces] == [5.5]
    needs = [need for check in ("reach", "pilot") for need in finding_of(check, case).needs]
    assert [(str(need.what), need.quantity) for need in needs] == [("Spacer 5.50 mm, one under every bolt", 4)] * 2


def test_a_boss_alone_is_given_no_spacer_while_the_reach_is_not_known() -> None:
    changes = {**ON_FLAT, "machine.shaft.projection_mm": None}
    assert said(found("pilot", changes))[0] != "by parts"


def test_a_spacer_thick_enough_for_the_bottom_may_leave_too_little_shaft_inside() -> None:
    # 65 - 67.9: 4.7 too long; inside 67.9 - 48 = 19.7 at least, 19.05 needed: 0.65 to spare
    changes = {"machine.shaft.projection_mm": 67.9, "pump.bore.recess_mm": 48}
    assert said(found("reach", changes)) == (
        "fail",
        "The shaft is up to 4.80 mm too long, and a spacer thick enough would leave too little shaft inside.",
    )


def test_no_bolts_are_counted_while_a_pattern_is_not_known() -> None:
    case = case_with({"pump.flange.holes_xy_mm": None})
    assert bolts_used(case.machine, case.pump) == 0


# --- seats


def test_a_machined_flat_face_needs_no_heights_and_legs_do() -> None:
    flat = {"machine.face.seat_heights_mm": None, "machine.face.seat_kind": "flat face"}
    assert said(found("seat", flat)) == ("pass", "Every leg sits: no gap over 0.05 mm.")
    legs = {"machine.face.seat_heights_mm": None, "machine.face.seat_kind": "legs"}
    assert said(found("seat", legs)) == ("unknown", "Not known yet: seat heights of the face.")
    assert seat_heights_or_none(case_with(legs).machine, case_with(legs).pump) is None


def test_two_legs_that_stand_off_get_a_spacer_each() -> None:
    changes = {
        "machine.face.seat_heights_mm": None,
        "machine.face.seat_kind": "flat face",
        "pump.flange.seat_heights_mm": [0, -2, 0, -2],
        "shelf": spacers((2.0, 2)),
    }
    finding = found("seat", changes)
    # read under a straightedge: -2.05 to -1.95 against -0.05 to 0 for the highest legs
    assert said(finding) == ("by parts", "One leg stands 1.90 to 2.05 mm off its seat; a spacer goes under it.")
    assert {str(need.what) for need in finding.needs} == {
        "Spacer 2.00 mm under the leg that stands off 1.90 to 2.05 mm"
    }
    assert sum(need.quantity for need in finding.needs) == 2
    assert str(finding.danger) == (
        "Danger: tightening a bolt over a gap breaks the pump's ear. Put a spacer as thick as the gap under that leg "
        "first."
    )


def test_a_spacer_too_thin_for_the_gap_is_left_and_one_is_made() -> None:
    changes = {
        "machine.face.seat_heights_mm": None,
        "machine.face.seat_kind": "flat face",
        "pump.flange.seat_heights_mm": [0, 0, 0, -2],
        "shelf": spacers((1.5, 4)),
    }
    # 1.95 to 2.05 low under a straightedge, -0.05 to 0 for the others
    assert [(str(need.what), need.to_make) for need in found("seat", changes).needs] == [
        (
            (
                "Spacer 2.00 mm under the leg that stands off 1.90 to 2.05 mm: to make, ±0.02 mm, hole 8.5 mm, 16.5 mm "
                "outside"
            ),
            True,
        )
    ]
    assert found("seat", {**changes, "pump.flange.seat_heights_mm": [0, 0, -1, -2]}).outcome is Outcome.BY_PARTS


def test_heights_read_too_coarsely_leave_open_how_thick_the_spacer_must_be() -> None:
    changes = {"pump.flange.seat_heights_mm": [0, 0, 0, -2], "shelf": spacers((2.0, 4))}
    assert said(found("seat", changes)) == (
        "unknown",
        (
            "One leg stands 1.85 to 2.10 mm off its seat; how thick the spacer under it must be hangs on the doubt of "
            "these heights."
        ),
    )


@pytest.mark.parametrize("side", ["machine", "pump"])
def test_a_list_of_heights_of_the_wrong_length_is_refused_by_the_check(side: str) -> None:
    case = case_with({})
    three = Seats((0.0, 0.0, 0.0), 0.05)
    if side == "machine":
        wrong: Case = replace(
            case, machine=replace(case.machine, face=replace(case.machine.face, seat_heights_mm=three))
        )
    else:
        wrong = replace(case, pump=replace(case.pump, flange=replace(case.pump.flange, seat_heights_mm=three)))
    assert said(finding_of("seat", wrong)) == (
        "unknown",
        "The list of seat heights must have one height for each hole: measure them again.",
    )


def test_seats_are_not_compared_where_no_hole_meets_a_bolt() -> None:
    # and the shaft is too short for an adapter plate: 61.9 - 41 leaves 20.9 mm inside, 19.05 are needed
    missing = {"pump.flange.holes_xy_mm": [[50, 0], [0, 50], [-50, 0], [0, -50]], "pump.bore.recess_mm": 41.0}
    assert said(found("seat", missing)) == (
        "unknown",
        "The holes are not known to meet at any turn, so the seats under them cannot be compared yet.",
    )
    case = case_with({"pump.flange.holes_xy_mm": None, "pump.flange.seat_heights_mm": None})
    assert seat_heights_or_none(case.machine, case.pump) is None


def test_where_who_meets_whom_is_open_only_seats_all_alike_are_flush() -> None:
    turn = Turn(0.0, 0.1, ((0, 0), (1, 1)), only_pairing=False)
    alike = SeatHeights(FOUR_ZEROS, (Range(-0.15, 0.0), Range.exactly(0.0)))
    apart = SeatHeights(FOUR_ZEROS, (Range(-0.16, 0.0), Range.exactly(0.0)))
    assert all_flush(alike, turn) is True
    assert all_flush(apart, turn) is None


def test_a_leg_is_flush_not_flush_or_open_by_fifteen_hundredths() -> None:
    turn = Turn(0.0, 0.1, ((0, 0), (1, 1)), only_pairing=True)

    def flush(leg: Range) -> bool | None:
        return all_flush(SeatHeights(FOUR_ZEROS, (leg, Range.exactly(0.0))), turn)

    assert flush(Range.exactly(-0.15)) is True
    assert flush(Range(-0.3, -0.16)) is False
    assert flush(Range(-0.2, -0.1)) is None


def test_a_gap_is_what_a_seat_lies_below_the_highest_other() -> None:
    turn = Turn(0.0, 0.1, ((0, 0), (1, 1), (2, 2)), only_pairing=True)
    heights = SeatHeights(FOUR_ZEROS, (Range(-2.05, -1.95), Range.exactly(0.0), Range(-0.05, 0.0)))
    first, second, third = gaps_mm(heights, turn)
    assert [first.low, first.high] == pytest.approx([1.95, 2.05])
    assert (second.low, second.high) == (0.0, 0.0)
    assert [third.low, third.high] == pytest.approx([0.0, 0.05])


def test_a_single_seat_has_no_gap() -> None:
    heights = SeatHeights((Range(-1, 0),), (Range(-1, 0),))
    assert gaps_mm(heights, Turn(0, 0, ((0, 0),), only_pairing=True)) == (Range(0, 0),)


# --- bolts


def test_old_bolts_pass_through_both_faces_to_a_nut() -> None:
    # 38.1 - 12 - 8 - 2 washers (2.6 to 4.2) = 13.8 to 15.6; a nut and two pitches: 7.94 + 2 · 1.06 = 10.1
    assert said(found("bolts", {**THROUGH, "machine.face.bolt_length_mm": 38.1})) == (
        "pass",
        "The old bolts stand 13.8 to 15.6 mm past both faces; nut and two pitches take 10.1 mm.",
    )


def test_old_bolts_too_short_for_a_nut_are_replaced() -> None:
    # 31.75 - 12 - 8 - 2.6 to 4.2 = 7.4 to 9.3; 1-1/2 in = 38.1, or 0.04 in less, is the next length that holds
    assert said(found("bolts", {**THROUGH, "machine.face.bolt_length_mm": 31.75})) == (
        "by parts",
        (
            "The old bolts do not serve (they would go only 7.4 to 9.3 mm in, 10.1 mm are needed). 38.1 mm bolts stand "
            "12.8 to 15.6 mm past both faces; 10.1 mm hold."
        ),
    )


def test_through_bolts_need_the_thickness_of_the_face() -> None:
    lacking = {**THROUGH, "machine.face.thickness_mm": None}
    assert said(found("bolts", lacking)) == ("unknown", "Not known yet: thickness of the face.")


def test_a_thread_in_no_table_is_read_again() -> None:
    for check in ("bolts", "pattern"):
        assert said(found(check, {"machine.face.bolt": "5/16-24 XYZ"})) == (
            "unknown",
            "No bolt table has the thread 5/16-24 XYZ: read it again, with pitch.",
        )
    assert said(found("bolts", {"machine.face.bolt": "3/8-18 NPT"}))[0] == "unknown"


@pytest.mark.parametrize(
    ("part", "length"),
    [
        (BOLT, "30.0"),
        ({**BOLT, "thread": "5/16-24"}, "30.0"),
        ({**BOLT, "count": 3}, "31.8"),  # too few of them
        ({**BOLT, "thread": "M8"}, "31.8"),  # another thread
        ({**BOLT, "length_mm": 60.0}, "31.8"),  # would bottom
    ],
    ids=range(5),
)
def test_a_listed_bolt_that_holds_is_taken_before_one_to_order(part: dict[str, Any], length: str) -> None:
    finding = found("bolts", {"machine.face.bolt_length_mm": None, "shelf": [part]})
    assert [str(need.what) for need in finding.needs] == [f"Bolt 5/16-24 UNF x {length} mm with plain washer"]
    assert finding.needs[0].quantity == 4
    assert (finding.needs[0].listed is not None) is (length == "30.0")


def test_iron_holds_with_less_thread_than_aluminium() -> None:
    # 7.94 in iron, 11.9 in aluminium; 12.5 ± 0.1 mm are tapped; 1 in = 24.64 to 25.4 goes 10.5 to 12.2 in
    iron = found("bolts", {"machine.face.tapped_depth_mm": 12.5, "machine.face.material": "iron"})
    assert said(iron) == (
        "by parts",
        (
            "The old bolts do not serve (they would bottom: 17.5 to 18.6 mm into 12.4 mm of thread). 25.4 mm bolts go "
            "10.5 to 12.1 mm in; 7.9 mm hold."
        ),
    )
    aluminium = found("bolts", {"machine.face.tapped_depth_mm": 10})
    assert said(aluminium) == (
        "fail",
        "No bolt length holds: 11.9 mm of thread are needed and only 10.1 mm are tapped.",
    )


def test_where_the_material_is_not_known_what_only_iron_would_hold_stays_open() -> None:
    unknown = found("bolts", {"machine.face.tapped_depth_mm": 10, "machine.face.material": None})
    assert said(unknown) == (
        "unknown",
        "Whether a standard bolt length holds hangs on the doubt of flange and thread depth.",
    )


def test_metric_bolts_are_torqued_as_class_8_8() -> None:
    finding = found("bolts", {"machine.face.bolt": "M8", "machine.face.bolt_length_mm": 30})
    # ISO 898-1: proof 580 MPa, 36.6 mm²; 0.2 · 8 · 0.75 · 580 · 36.6 / 1000 = 25.5
    (note,) = finding.notes
    assert str(note).startswith("Torque for a class 8.8 bolt, dry: 25 N·m")


def test_old_bolts_whose_doubt_straddles_are_replaced_for_that() -> None:
    old = {"machine.face.bolt_length_mm": {"value": 26.5, "doubt": 1.5}}
    # 26.5 - 12 - 1.3..2.1 with 1.55 of doubt: 10.85 to 14.75 against 11.9
    finding = found("bolts", old)
    assert said(finding)[0] == "by parts"
    assert "by these readings they go 10.8 to 14.8 mm in, 11.9 to 18.9 mm is right" in str(finding.reason)


def test_a_spacer_under_every_bolt_lengthens_the_grip() -> None:
    with_spacer = {"machine.shaft.projection_mm": 67.9, "shelf": spacers((6.0, 4))}
    finding = found("bolts", with_spacer)
    # 31.75 - 12 - 6.0 - 1.3..2.1 = 11.5 to 12.6 with their doubts: 11.9 may be missed
    assert said(finding)[0] == "by parts"
    assert "by these readings they go 11.5 to 12.6 mm in" in str(finding.reason)


def test_seated_turns_are_those_where_every_leg_sits() -> None:
    case = case_with({"pump.flange.seat_heights_mm": [0, 0, 0, -2], "machine.face.seat_heights_mm": [0, -2, 0, 0]})
    turns = face_turns_or_none(case.machine, case.pump)
    heights = seat_heights_or_none(case.machine, case.pump)
    assert turns is not None
    assert heights is not None
    # no leg meets the seat that would make up for it: a low leg on a low seat is lower still
    assert seated_turns(turns, heights) == ()


def test_a_spacer_whose_hole_nobody_listed_is_looked_at_before_it_is_put_in() -> None:
    long_shaft = {"machine.shaft.projection_mm": 67.9}
    (unlisted,) = spacers((6.0, 4))
    told = "The list does not say how wide the hole of the 6.00 mm piece is: see that a 7.94 mm bolt goes through."
    assert told in map(str, found("reach", {**long_shaft, "shelf": [unlisted]}).notes)
    listed = {**unlisted, "inside_mm": 8.5, "outside_mm": 16.5}
    assert told not in map(str, found("reach", {**long_shaft, "shelf": [listed]}).notes)


def test_a_spacer_whose_hole_does_not_let_the_bolt_through_is_never_taken() -> None:
    (piece,) = spacers((6.0, 4))
    narrow = {**piece, "inside_mm": 7.9, "outside_mm": 16.5}
    needs = found("reach", {"machine.shaft.projection_mm": 67.9, "shelf": [narrow]}).needs
    assert [need.to_make for need in needs] == [True]
