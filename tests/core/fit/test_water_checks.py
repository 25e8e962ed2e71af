"""Joints, pressure, power, nozzle and supply: threads that look alike, who limits the pressure, doubts that straddle.

Pitches and diameters over the crests are those of ASME B1.20.1 (NPT), ASME B1.20.7 (NH), ISO 228-1 (G), ISO 7-1 (R)
and ISO 261 (M).
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.core.fit.cases import case_with, finding_of, found, said
from xref_app.core.fit.joints import ReadEnd, mates, read_end_or_none, thread_or_none, why_not
from xref_app.core.fit.nozzle import chosen_nozzle_or_none
from xref_app.core.fit.rated import drive_torque_nm, flow_lpm, highest_pressure_bar, pressure_at_nozzle_bar
from xref_app.core.model.known import Dimension, Fact
from xref_app.core.model.machine import Machine, Power
from xref_app.core.model.pump import Pump, Rating
from xref_app.core.model.water import End
from xref_app.core.model.words import Gender
from xref_app.core.quantity.range import Range

NOBODY = "The fitting that joins them is a part nobody lists."
NPT_OUTLET: dict[str, Any] = {
    "pump.ports.outlet.thread": "3/8-18 NPT",
    "pump.ports.outlet.gender": "female",
    "pump.ports.outlet.seal_mm": None,
}
FITTING_ENDS: list[dict[str, Any]] = [
    {"thread": "3/8-18 NPT", "gender": "male"},
    {"thread": "M22x1.5", "gender": "male", "seal_mm": 14},
]
FITTING: dict[str, Any] = {"kind": "fitting", "ends": FITTING_ENDS, "rating_bar": 280, "count": 2, "cost": 6.5}


def inlet(ours: str, our_gender: str, theirs: str, their_gender: str) -> dict[str, Any]:
    return {
        "machine.water.supply.thread": ours,
        "machine.water.supply.gender": our_gender,
        "pump.ports.inlet.thread": theirs,
        "pump.ports.inlet.gender": their_gender,
    }


def end(thread: str, gender: Gender, *seals: float) -> ReadEnd:
    parsed = thread_or_none(thread)
    assert parsed is not None
    return ReadEnd(parsed, gender, seals)


@pytest.mark.parametrize(
    ("male", "female"),
    [
        ("3/4-11.5 NHR", "3/4-11.5 NH"),  # ASME B1.20.7: the rolled hose thread goes with the cut one
        ("3/4-11.5 NH", "3/4-11.5 NHR"),
        ("R3/8", "Rp3/8"),  # ISO 7-1: a taper male in a parallel socket
        ("R3/8", "Rc3/8"),  # and in a taper one
        ("3/4-14 NPT", "3/4-14 NPT"),
    ],
)
def test_threads_made_for_each_other_go_together_either_way_round(male: str, female: str) -> None:
    assert said(found("inlet", inlet(male, "male", female, "female"))) == (
        "pass",
        f"{male} male goes on {female} female directly.",
    )
    assert said(found("inlet", inlet(female, "female", male, "male"))) == (
        "pass",
        f"{female} female goes on {male} male directly.",
    )


@pytest.mark.parametrize(
    ("ours", "theirs", "why"),
    [
        ("R3/8", "R3/8", "R3/8 and R3/8 look alike but are cut to different forms: they never seal."),
        ("G3/8", "Rp3/8", "G3/8 and Rp3/8 look alike but are cut to different forms: they never seal."),
        # 14 threads to the inch both; the one 60°, the other 55°
        ("1/2-14 NPT", "G1/2", "1/2-14 NPT and G1/2 look alike but are cut to different forms: they never seal."),
        (
            "3/4-14 NPTF",
            "3/4-14 NPT",
            "3/4-14 NPTF and 3/4-14 NPT look alike but are cut to different forms: they never seal.",
        ),
        # 25.4/18 = 1.411, 25.4/19 = 1.337
        ("3/8-18 NPT", "G3/8", "3/8-18 NPT has 1.411 mm pitch and G3/8 1.337 mm: they start, then bind."),
        ("M20x1.5", "M20x2.5", "M20x1.5 has 1.500 mm pitch and M20x2.5 2.500 mm: they start, then bind."),
        # 20.955 and 16.662 over the crests
        ("R1/2", "Rp3/8", "R1/2 and Rp3/8 are different threads: 21.0 against 16.7 mm over the crests."),
    ],
)
def test_threads_that_do_not_go_together_say_which_number_parts_them(ours: str, theirs: str, why: str) -> None:
    assert said(found("inlet", inlet(ours, "male", theirs, "female"))) == ("fail", f"{why} {NOBODY}")


@pytest.mark.parametrize("thread", ["R3/8", "3/4-14 NPT", "M20x1.5"])
@pytest.mark.parametrize("gender", ["male", "female"])
def test_two_ends_of_one_gender_never_go_together(thread: str, gender: str) -> None:
    finding = found("inlet", inlet(thread, gender, thread, gender))
    assert finding.outcome.word == "fail"
    if thread != "R3/8":
        assert str(finding.reason) == f"Both ends are {gender}. {NOBODY}"


@pytest.mark.parametrize(
    ("side", "field"), [("machine.water.supply", "supply_thread"), ("pump.ports.inlet", "inlet_thread")]
)
def test_a_thread_nobody_knows_is_read_again(side: str, field: str) -> None:
    finding = found("inlet", {f"{side}.thread": "XYZ"})
    assert said(finding) == ("unknown", "“XYZ” is no thread we know; read it with pitch and series.")
    assert finding.measure == (field,)


def test_an_end_without_thread_or_gender_is_not_understood() -> None:
    assert read_end_or_none(End()) is None
    assert read_end_or_none(End(thread=Fact("G3/8"))) is None
    assert read_end_or_none(End(thread=Fact("XYZ"), gender=Fact(Gender.MALE))) is None


def test_a_seal_half_way_between_the_two_is_neither() -> None:
    for seal, seals in ((14.0, (14.0,)), (15.0, (15.0,)), (14.5, ())):
        read = read_end_or_none(End(Fact("M22x1.5"), Fact(Gender.MALE), Dimension(seal, 0.0)))
        assert read is not None
        assert read.seals_mm == seals


def test_a_joint_on_a_seal_nobody_measured_is_open_unless_no_seal_is_shared() -> None:
    male, female = Gender.MALE, Gender.FEMALE
    assert mates(end("M22x1.5", male, 14.0), end("M22x1.5", female, 14.0)) is True
    assert mates(end("M22x1.5", male, 14.0), end("M22x1.5", female, 15.0)) is False
    assert mates(end("M22x1.5", male, 14.0), end("M22x1.5", female, 14.0, 15.0)) is None
    assert mates(end("M22x1.5", male, 14.0, 15.0), end("M22x1.5", female, 14.0, 15.0)) is None


def test_threads_of_one_pitch_and_two_sizes_are_told_apart_by_size() -> None:
    ours, theirs = end("3/8-18 NPT", Gender.MALE), end("1/4-18 NPT", Gender.FEMALE)
    # over the crests at the hand-tight plane: 0.6715 in = 17.06 mm, 0.5361 in = 13.62 mm
    assert str(why_not(ours, theirs)) == (
        "3/8-18 NPT and 1/4-18 NPT are different threads: 17.1 against 13.6 mm over the crests."
    )


# --- fittings


@pytest.mark.parametrize(
    "ends",
    [
        [*FITTING_ENDS, {"thread": "G1/4", "gender": "male"}],
        [FITTING_ENDS[0], {"thread": "nonsense", "gender": "male"}],
        [FITTING_ENDS[0], {"thread": "M22x1.5", "gender": "male"}],  # which seal nobody says
        [FITTING_ENDS[0], {"thread": "M22x1.5", "gender": "female", "seal_mm": 14}],
    ],
    ids=["tee", "unreadable", "no seal", "gender"],
)
def test_a_fitting_that_does_not_surely_join_both_ends_joins_nothing(ends: list[dict[str, Any]]) -> None:
    assert said(found("outlet", {**NPT_OUTLET, "shelf": [{**FITTING, "ends": ends}]})) == (
        "fail",
        f"M22x1.5 and 3/8-18 NPT are different threads: 22.0 against 17.1 mm over the crests. {NOBODY}",
    )


def test_a_fitting_may_be_turned_round() -> None:
    turned = {**FITTING, "ends": FITTING_ENDS[::-1], "name": "NPT to M22"}
    assert said(found("outlet", {**NPT_OUTLET, "shelf": [turned]})) == (
        "by parts",
        (
            "M22x1.5 and 3/8-18 NPT are different threads: 22.0 against 17.1 mm over the crests. The listed fitting "
            "NPT to M22 joins them."
        ),
    )


def test_a_fitting_without_a_rating_is_too_weak_for_the_pressure_side() -> None:
    unrated = {name: value for name, value in FITTING.items() if name != "rating_bar"}
    assert said(found("outlet", {**NPT_OUTLET, "shelf": [unrated]})) == (
        "fail",
        (
            "M22x1.5 and 3/8-18 NPT are different threads: 22.0 against 17.1 mm over the crests. The listed fitting "
            "3/8-18 NPT to M22x1.5 would join them but is rated 0 bar, below the highest possible 190 bar."
        ),
    )


def test_a_fitting_waits_for_the_highest_pressure_to_be_known() -> None:
    finding = found("outlet", {**NPT_OUTLET, "pump.has.unloader": None})
    assert said(finding) == ("unknown", "Not known yet: unloader built in, rated pressure.")


def test_a_fitting_on_the_supply_side_needs_no_rating() -> None:
    part = {
        "kind": "fitting",
        "name": "NH to NPT",
        "ends": [{"thread": "3/4-11.5 NH", "gender": "female"}, {"thread": "3/8-18 NPT", "gender": "male"}],
        "count": 1,
    }
    finding = found("inlet", {**inlet("3/4-11.5 NH", "male", "3/8-18 NPT", "female"), "shelf": [part]})
    assert finding.outcome.word == "by parts"
    assert [str(need.what) for need in finding.needs] == ["Fitting 3/4-11.5 NH to 3/8-18 NPT"]


# --- pressure


def unloader(rating_bar: float | None, count: int = 1) -> dict[str, Any]:
    part: dict[str, Any] = {"kind": "unloader", "count": count, "cost": 30}
    return {"pump.has.unloader": False, "shelf": [part if rating_bar is None else {**part, "rating_bar": rating_bar}]}


def test_a_listed_unloader_that_stands_the_rating_limits_the_pressure() -> None:
    assert said(found("pressure", unloader(190))) == (
        "pass",
        "The unloader limits to 190 bar; the weakest of hose, gun and wand stands 230 bar.",
    )


@pytest.mark.parametrize(
    "shelf", [unloader(189), unloader(None), unloader(190, count=0)], ids=["weak", "unrated", "gone"]
)
def test_without_a_strong_unloader_nothing_limits_and_that_is_a_danger(shelf: dict[str, Any]) -> None:
    finding = found("pressure", shelf)
    assert said(finding) == (
        "unknown",
        (
            "The pump has no unloader of its own and none is listed that stands its rated pressure; what limits the "
            "pressure when the trigger is shut is not known."
        ),
    )
    assert str(finding.danger) == (
        "Danger: nothing limits the pressure when the trigger is shut. Do not run it without an unloader."
    )


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"pump.has.unloader": None}, "Not known yet: unloader built in."),
        (
            {"machine.water.discharge.rating_bar": {"value": 190, "doubt": 5}},
            "The unloader limits to 190 bar by these readings; hose, gun and wand stand 185 to 195 bar.",
        ),
        (
            {"machine.water.working_pressure_bar": {"value": 190, "doubt": 5}},
            "The machine works at 185 to 195 bar by this reading; this pump is rated 190 bar.",
        ),
    ],
)
def test_a_pressure_whose_doubt_straddles_stays_open(changes: dict[str, Any], reason: str) -> None:
    assert said(found("pressure", changes)) == ("unknown", reason)


def test_a_rating_of_exactly_the_highest_pressure_stands_it() -> None:
    assert found("pressure", {"machine.water.discharge.rating_bar": 190}).outcome.word == "pass"
    assert found("pressure", {"machine.water.discharge.rating_bar": 189.9}).outcome.word == "fail"


def test_nothing_is_known_of_the_highest_pressure_without_unloader_or_rating() -> None:
    assert highest_pressure_bar(Pump(), ()) is None


# --- flow, nozzle, power


def test_a_nozzle_or_flow_that_could_be_nothing_makes_no_pressure() -> None:
    assert pressure_at_nozzle_bar(Range(9, 10), Range(0, 1)) is None
    assert pressure_at_nozzle_bar(Range(0, 10), Range(3, 4)) is None


def test_no_flow_or_torque_is_worked_out_of_a_speed_that_could_be_nothing() -> None:
    still = Machine(power=Power(power_kw=Dimension(4, 0), speed_rpm=Dimension(100, 100)))
    assert drive_torque_nm(still) is None
    rated = Rating(flow_lpm=Dimension(9, 0), speed_rpm=Dimension(100, 100))
    assert flow_lpm(Machine(power=Power(speed_rpm=Dimension(3400, 0))), Pump(rating=rated)) is None


def test_a_nozzle_whose_number_may_be_nothing_decides_neither_pressure_nor_power() -> None:
    worn: dict[str, Any] = {"machine.water.nozzle_number": {"value": 1.0, "doubt": 1.0}}
    nozzle = found("nozzle", worn)
    assert said(nozzle) == (
        "unknown",
        "Nozzle 1 makes ? bar of 9.4 to 9.6 l/min by these readings; within 10 % of 140 bar is needed.",
    )
    assert nozzle.measure == ("nozzle_number",)
    open_power = found("power", {**worn, "machine.water.working_pressure_bar": None})
    assert said(open_power) == (
        "unknown",
        "The pump takes ? kW at ? bar and 9.4 to 9.6 l/min by these readings; the engine gives 4.0 to 4.1 kW.",
    )


def test_a_listed_nozzle_within_ten_percent_is_taken_before_a_nearer_one_to_order() -> None:
    # 275.8 · (2.5096 / 3.6)² = 134 bar; 3.5 would make 142
    changes = {"machine.water.nozzle_number": 4.5, "shelf": [{"kind": "nozzle", "number": 3.6, "count": 1}]}
    assert said(found("nozzle", changes)) == (
        "by parts",
        "Nozzle 4.5 makes 85 to 87 bar of 9.4 to 9.6 l/min, 140 bar is worked at; nozzle 3.6 makes 133 to 135 bar.",
    )
    far = {"machine.water.nozzle_number": 4.5, "shelf": [{"kind": "nozzle", "number": 4.0, "count": 1}]}
    assert str(found("nozzle", far).needs[0].what) == "Spray nozzle number 3.5"


def test_no_nozzle_in_the_charts_reaches_a_pressure_far_off() -> None:
    # number 10 makes 275.8 · (2.51 / 10)² = 17 bar, number 2 makes 434 bar
    changes = {"machine.water.working_pressure_bar": 490, "machine.water.nozzle_number": 3.5}
    assert said(found("nozzle", changes)) == (
        "fail",
        (
            "Nozzle 3.5 makes 140 to 143 bar of 9.4 to 9.6 l/min, 490 bar is worked at, and no nozzle size comes "
            "within 10 %."
        ),
    )


def test_a_flow_too_doubtful_for_any_nozzle_stays_open() -> None:
    finding = found("nozzle", {"pump.rating.flow_lpm": {"value": 9.5, "doubt": 2}})
    assert said(finding) == (
        "unknown",
        "Nozzle 3.5 makes 88 to 208 bar of 7.5 to 11.5 l/min by these readings; within 10 % of 140 bar is needed.",
    )
    case = case_with({"pump.rating.flow_lpm": {"value": 9.5, "doubt": 2}})
    chosen = chosen_nozzle_or_none(case.machine, case.pump, case.shelf)
    assert chosen is not None
    assert not chosen.is_new


def test_power_is_that_of_the_new_nozzle_where_the_fitted_one_does_not_serve() -> None:
    assert said(found("power", {"machine.water.nozzle_number": 4.5})) == said(found("power", {}))


def test_power_goes_by_the_fitted_nozzle_while_no_working_pressure_is_known() -> None:
    case = case_with({"machine.water.working_pressure_bar": None, "machine.water.nozzle_number": 4.5})
    chosen = chosen_nozzle_or_none(case.machine, case.pump, case.shelf)
    assert chosen is not None
    assert (chosen.number, chosen.is_new) == (Range(4.5, 4.5), False)


def test_the_pump_takes_no_more_than_its_unloader_lets_through() -> None:
    # 130 bar · 9.45 / 600 / 0.85 = 2.41 kW, at 9.55: 2.43
    assert said(found("power", {"pump.rating.pressure_bar": 130})) == (
        "pass",
        "The pump takes 2.41 to 2.43 kW at 130 bar and 9.4 to 9.6 l/min; the engine gives 4.0 to 4.1 kW.",
    )


@pytest.mark.parametrize(
    ("changes", "notes"),
    [
        ({"machine.power.kind": None}, []),
        # 142 bar · 9.5 l/min = 2057 psi · 2.51 gpm = 5163: / 1460 = 3.54 hp = 2.64 kW
        ({"machine.power.kind": "electric"}, ["The trade's rule (psi·gpm/1460) asks for 2.59 to 2.68 kW."]),
        (
            {"machine.power.power_kw": 2.9},
            [
                "Caution: that is over 90% of what the engine gives.",
                "The trade's rule (psi·gpm/1100) asks for 3.44 to 3.55 kW.",
                "Caution: the trade's rule asks for more than the engine gives; expect it to labour.",
            ],
        ),
    ],
    ids=str,
)
def test_the_trades_rule_is_shown_and_cautions(changes: dict[str, Any], notes: list[str]) -> None:
    finding = found("power", changes)
    assert finding.outcome.word == "pass"
    assert [str(note) for note in finding.notes] == notes


# --- supply


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        (
            {"machine.water.supply.flow_lpm": 11.5},
            "By these readings the supply is 11.0 to 12.0 l/min against a limit of 11.3 to 11.5 l/min.",
        ),
        (
            {"machine.water.supply.temperature_c": 60},
            "By these readings the water is 59.0 to 61.0 °C against a limit of 60.0 °C.",
        ),
        ({"machine.water.supply.temperature_c": None}, "Not known yet: supply temperature."),
        ({"pump.rating.max_supply_bar": None}, "Not known yet: most supply pressure."),
    ],
)
def test_a_supply_whose_doubt_straddles_or_lacks_stays_open(changes: dict[str, Any], reason: str) -> None:
    assert said(found("supply", changes)) == ("unknown", reason)


def test_a_starved_pump_fails_though_something_else_is_open_too() -> None:
    changes = {"machine.water.supply.flow_lpm": 9, "machine.water.supply.temperature_c": 60}
    assert said(finding_of("supply", case_with(changes))) == (
        "fail",
        "The supply gives 8.5 to 9.5 l/min; 11.3 to 11.5 are needed. A starved pump cavitates.",
    )


def test_threads_whose_diameter_no_table_gives_are_told_apart_by_name() -> None:
    # ASME B1.20.3 shares its pitches with NPT; our table gives no diameter for it
    ours, theirs = end("3/4-14 NPTF", Gender.MALE), end("1/2-14 NPT", Gender.FEMALE)
    assert str(why_not(ours, theirs)) == "3/4-14 NPTF and 1/2-14 NPT are different threads."
