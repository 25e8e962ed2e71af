"""Cautions, what is built in, where the outlet points, and what is seen at a glance."""

from __future__ import annotations

from typing import Any

import pytest

from tests.core.fit.cases import case_with, found, said
from xref_app.core.fit.built_in import judge_carried_over, judge_comforts
from xref_app.core.fit.cautions import cautions
from xref_app.core.fit.finding import Outcome
from xref_app.core.model.known import Fact
from xref_app.core.model.machine import Machine, Power
from xref_app.core.model.pump import Has, Pump
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind, PowerKind
from xref_app.core.plan.face_plan import face_plan
from xref_app.core.plan.judge import judge

YES, NO = Fact(value=True), Fact(value=False)

# --- cautions

PETROL = ("Pull the spark-plug lead before you touch the shaft.", "Run a petrol engine outdoors only")
ELECTRIC = ("Unplug the motor, and lock the plug away, before you touch the shaft.", "An electric machine belongs on")


@pytest.mark.parametrize(
    ("kind", "first", "said_too", "never"),
    [
        (PowerKind.PETROL, PETROL[0], PETROL[1:], ELECTRIC[1:]),
        (PowerKind.ELECTRIC, ELECTRIC[0], ELECTRIC[1:], PETROL[1:]),
        (
            None,
            "Pull the spark-plug lead or unplug the motor before you touch the shaft.",
            (PETROL[1], ELECTRIC[1]),
            (),
        ),
    ],
)
def test_cautions_are_those_of_the_driver_and_of_both_while_it_is_not_known(
    kind: PowerKind | None, first: str, said_too: tuple[str, ...], never: tuple[str, ...]
) -> None:
    lines = [str(line) for line in cautions(Machine(power=Power(kind=Fact(kind) if kind else None)))]
    assert lines[0] == first
    assert all(any(line.startswith(words) for line in lines) for words in said_too)
    assert not any(line.startswith(words) for line in lines for words in never)
    assert any("goes through skin" in line for line in lines)


# --- what is built in


@pytest.mark.parametrize(
    ("old", "new", "outcome", "reason"),
    [
        (None, YES, "pass", "Whatever the old pump had built in, the new one has too."),
        (NO, NO, "pass", "Whatever the old pump had built in, the new one has too."),
        (NO, None, "pass", "Whatever the old pump had built in, the new one has too."),
        (None, NO, "unknown", "The new pump has no unloader, and whether the old one had is not known."),
        (YES, None, "unknown", "Whether the new pump's unloader is built in is not known."),
        (None, None, "unknown", "Whether the new pump's unloader is built in is not known."),
        (YES, NO, "fail", "The old pump's unloader was built in, the new one has none, and it is a part nobody lists."),
    ],
)
def test_an_unloader_is_carried_over_or_open(
    old: Fact[bool] | None, new: Fact[bool] | None, outcome: str, reason: str
) -> None:
    judgement = judge_carried_over(
        Has(unloader=old, thermal_relief=NO), Pump(has=Has(unloader=new, thermal_relief=NO)), ()
    )
    assert said(judgement) == (outcome, reason)


def test_the_cheapest_listed_part_in_a_bin_replaces_what_is_missing() -> None:
    shelf = tuple(
        Part(PartKind.RELIEF_VALVE, count, cost, name=name, to_order=order)
        for name, cost, count, order in (
            ("order", 1, 24, True),
            ("dear", 9, 1, False),
            ("cheap", 4, 1, False),
            ("gone", 2, 0, False),
        )
    )
    had = Has(unloader=NO, thermal_relief=YES)
    judgement = judge_carried_over(had, Pump(has=Has(unloader=NO, thermal_relief=NO)), shelf)
    assert judgement.outcome is Outcome.BY_PARTS
    assert [need.listed.name for need in judgement.needs if need.listed] == ["cheap"]


def test_missing_comforts_are_noted_and_stop_nothing() -> None:
    had = Has(chemical_inlet=YES, inlet_screen=YES)
    judgement = judge_comforts(had, Has(chemical_inlet=NO, inlet_screen=NO), ())
    assert said(judgement) == (
        "pass",
        "The new pump has no chemical inlet, inlet screen; that changes what the machine can do, not whether it fits.",
    )
    listed = (Part(PartKind.CHEMICAL_INLET, 1),)
    partly = judge_comforts(had, Has(chemical_inlet=NO, inlet_screen=YES), listed)
    assert said(partly) == (
        "by parts",
        "The old pump's chemical inlet was built in, the new one has none; a listed one goes on.",
    )


# --- way out, speed, turn, oil, room


@pytest.mark.parametrize(
    ("changes", "outcome", "reason"),
    [
        # outlet at 90 ± 5°, turns 0, 90, 180, 270: across 0° only 270 + 90
        (
            {"machine.room.outlet_free_deg": [[350, 10]]},
            "pass",
            "Turned 270° the outlet points where the machine leaves room.",
        ),
        (
            {"machine.room.outlet_free_deg": [[-20, 10]], "pump.ports.outlet.direction_deg": 355},
            "pass",
            "Turned 0° the outlet points where the machine leaves room.",
        ),
        (
            {"machine.room.outlet_free_deg": [[100, 110], [260, 280]]},
            "pass",
            "Turned 180° the outlet points where the machine leaves room.",
        ),
        (
            {"machine.room.outlet_free_deg": [[84, 90]]},
            "unknown",
            "Look when it is in your hands: does the outlet point clear of frame, tank and muffler?",
        ),
        (
            {"machine.room.outlet_free_deg": None},
            "unknown",
            "Look when it is in your hands: does the outlet point clear of frame, tank and muffler?",
        ),
        (
            {"machine.room.outlet_free_deg": [[20, 70]]},
            "fail",
            "At every turn that fits, the outlet points into the machine.",
        ),
    ],
)
def test_the_outlet_points_into_a_free_sector_also_across_zero(
    changes: dict[str, Any], outcome: str, reason: str
) -> None:
    assert said(found("way out", changes)) == (outcome, reason)


def test_an_outlet_blocked_at_every_turn_is_blocked_whatever_lies_under_the_legs() -> None:
    legs = {"pump.flange.seat_heights_mm": [0, 0, 0, -2], "machine.room.outlet_free_deg": [[20, 70]]}
    assert found("way out", legs).outcome.word == "fail"


def test_the_turn_to_bolt_on_at_leaves_the_outlet_free_where_one_does() -> None:
    case = case_with({"machine.room.outlet_free_deg": [[260, 280]]})
    turn = face_plan(case).parts.turn
    assert turn is not None
    assert turn.degrees == pytest.approx(180)
    blocked = case_with({"machine.room.outlet_free_deg": [[20, 70]]})
    turn = face_plan(blocked).parts.turn
    assert turn is not None
    assert turn.degrees % 360 == pytest.approx(0, abs=1e-6) or turn.degrees == pytest.approx(360)
    unseated = case_with({"machine.face.seat_heights_mm": None, "machine.room.outlet_free_deg": None})
    assert face_plan(unseated).parts.turn is not None
    nowhere = case_with({"pump.flange.hole_mm": 4.0})
    assert face_plan(nowhere).parts.turn is None
    assert judge(nowhere).clocking_deg is None


@pytest.mark.parametrize(
    ("check", "changes", "outcome", "reason"),
    [
        (
            "speed",
            {"machine.power.speed_rpm": {"value": 3600, "doubt": 50}},
            "unknown",
            "The engine turns 3550 to 3650 rpm by this reading; the pump may run 3600 rpm.",
        ),
        ("speed", {"machine.power.speed_rpm": 3600}, "pass", "The engine turns 3600 rpm, the pump may run 3600 rpm."),
        ("speed", {"machine.power.speed_rpm": None}, "unknown", "Not known yet: speed."),
        ("turn", {"pump.bore.turn": "ccw"}, "pass", "Shaft and pump both turn counter-clockwise."),
        (
            "turn",
            {"pump.bore.turn": "cw", "machine.shaft.turn": "either"},
            "pass",
            "Shaft and pump both turn clockwise.",
        ),
        (
            "oil",
            {"pump.oil": None},
            "unknown",
            "Look when it is in your hands: oil plug and vent must stand upright on a horizontal shaft.",
        ),
        (
            "oil",
            {"machine.shaft.axis": None},
            "unknown",
            "Look when it is in your hands: oil plug and vent must stand upright on a horizontal or vertical shaft.",
        ),
        (
            "oil",
            {"pump.oil": "vented for both"},
            "pass",
            "The pump is vented for both, which suits a horizontal shaft.",
        ),
        (
            "room",
            {"pump.length_mm": None},
            "unknown",
            "Look when it is in your hands: is there room for the pump's length?",
        ),
        (
            "room",
            {"machine.room.length_mm": 212},
            "unknown",
            "Look when it is in your hands: is there room for the pump's length?",
        ),
    ],
)
def test_speed_turn_oil_and_room_pass_or_stay_open(
    check: str, changes: dict[str, Any], outcome: str, reason: str
) -> None:
    assert said(found(check, changes)) == (outcome, reason)


def test_a_pump_without_a_known_flow_gets_no_note_about_it() -> None:
    assert found("speed", {"pump.rating.flow_lpm": None}).notes == ()
    assert [str(note) for note in found("speed", {}).notes] == ["At this speed the pump delivers 9.4 to 9.6 l/min."]


def test_a_turn_at_which_a_leg_stands_off_leaves_the_outlet_open_though_it_would_be_free_there() -> None:
    # the one low leg finds the one high seat at 0° only, where the outlet points to 90°; at 90° it would be free
    changes = {
        "machine.face.seat_heights_mm": [0, -2, -2, -2],
        "pump.flange.seat_heights_mm": [-2, 0, 0, 0],
        "machine.room.outlet_free_deg": [[170, 190]],
    }
    assert found("seat", changes).outcome is Outcome.PASS
    assert found("way out", changes).outcome is Outcome.UNKNOWN
    assert found("way out", {**changes, "machine.room.outlet_free_deg": [[80, 100]]}).outcome is Outcome.PASS
