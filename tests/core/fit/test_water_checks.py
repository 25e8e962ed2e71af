"""Joints and pressure: threads that look alike, fittings that join them, who limits the pressure.

Pitches and diameters over the crests are those of ASME B1.20.1 (NPT), ASME B1.20.7 (NH), ISO 228-1 (G), ISO 7-1 (R)
and ISO 261 (M).
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.core.fit.cases import found, said
from xref_app.core.fit.rated import highest_pressure_bar
from xref_app.core.model.known import Dimension, Fact
from xref_app.core.model.pump import Pump
from xref_app.core.model.water import End
from xref_app.core.model.words import Gender
from xref_app.core.parts.joints import ReadEnd, mates, read_end_or_none, thread_or_none, why_not

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
        ("G3/8 cone 60", "Rp3/8", "G3/8 and Rp3/8 look alike but are cut to different forms: they never seal."),
        # 14 threads to the inch both; the one 60°, the other 55°
        (
            "1/2-14 NPT",
            "G1/2 flat end",
            "1/2-14 NPT and G1/2 look alike but are cut to different forms: they never seal.",
        ),
        (
            "3/4-14 NPTF",
            "3/4-14 NPT",
            "3/4-14 NPTF and 3/4-14 NPT look alike but are cut to different forms: they never seal.",
        ),
        # 25.4/18 = 1.411, 25.4/19 = 1.337
        ("3/8-18 NPT", "G3/8 cone 60", "3/8-18 NPT has 1.411 mm pitch and G3/8 1.337 mm: they start, then bind."),
        (
            "M20x1.5 cone 60",
            "M20x2.5 flat shoulder",
            "M20x1.5 has 1.500 mm pitch and M20x2.5 2.500 mm: they start, then bind.",
        ),
        # 20.955 and 16.662 over the crests
        ("R1/2", "Rp3/8", "R1/2 and Rp3/8 are different threads: 21.0 against 16.7 mm over the crests."),
    ],
)
def test_threads_that_do_not_go_together_say_which_number_parts_them(ours: str, theirs: str, why: str) -> None:
    assert said(found("inlet", inlet(ours, "male", theirs, "female"))) == ("fail", f"{why} {NOBODY}")


@pytest.mark.parametrize("thread", ["R3/8", "3/4-14 NPT", "M20x1.5 cone 60"])
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
        [FITTING_ENDS[0], {"thread": "nonsense", "gender": "male"}],
        [FITTING_ENDS[0], {"thread": "M22x1.5", "gender": "male"}],  # which seal nobody says
        [FITTING_ENDS[0], {"thread": "M22x1.5", "gender": "female", "seal_mm": 14}],
    ],
    ids=["unreadable", "no seal", "gender"],
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
            "3/8-18 NPT male to M22x1.5 male (14 mm seal) would join them, but no rating is listed for it and the "
            "highest possible is 190 bar."
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
    assert [str(need.what) for need in finding.needs] == ["Fitting 3/4-11.5 NH female to 3/8-18 NPT male"]


@pytest.mark.parametrize(
    ("hose", "gender", "needed", "ports"),
    [
        ("3/4-11.5 NH", "male", "3/4-11.5 NH female", [("3/4-11.5 NH", "female")]),
        ("3/4-14 NPT", "female", "3/4-14 NPT male", [("3/4-14 NPT", "male")]),
        # ISO 7-1: the taper outside thread R screws into Rc (taper) and into Rp (parallel), and into no other
        ("R3/8", "male", "Rc3/8 or Rp3/8 female", [("Rc3/8", "female"), ("Rp3/8", "female")]),
        ("Rp3/8", "female", "R3/8 male", [("R3/8", "male")]),
        ("Rc3/8", "female", "R3/8 male", [("R3/8", "male")]),
    ],
)
def test_needed_is_the_port_that_takes_the_hose_not_the_hose(
    hose: str, gender: str, needed: str, ports: list[tuple[str, str]]
) -> None:
    assert found("inlet", inlet(hose, gender, "G1/4", "male")).needed == needed
    for thread, port in ports:
        assert found("inlet", inlet(hose, gender, thread, port)).outcome.word == "pass"


def test_no_port_takes_an_outside_thread_that_is_called_female() -> None:
    finding = found("inlet", inlet("R3/8", "female", "R3/8", "male"))
    assert (finding.outcome.word, finding.offered) == ("fail", "R3/8 male")
    assert finding.needed == "none: R is an outside thread, so a female end is another one"


@pytest.mark.parametrize(
    ("seal", "needed"),
    [
        (14, "M22x1.5 female (14 mm seal)"),
        (None, "M22x1.5 female (14 or 15 mm seal)"),
        ({"value": 14.5, "doubt": 0.1, "how": "measured"}, "M22x1.5 female (seal read as neither 14 nor 15 mm)"),
    ],
)
def test_the_needed_port_has_the_seal_of_the_hose_as_far_as_it_is_known(seal: object, needed: str) -> None:
    finding = found("outlet", {"machine.water.discharge.gender": "male", "machine.water.discharge.seal_mm": seal})
    assert finding.needed == needed


def test_the_part_to_fit_is_named_with_both_its_ends() -> None:
    finding = found("outlet", {**NPT_OUTLET, "shelf": [FITTING]})
    assert [str(need.what) for need in finding.needs] == ["Fitting 3/8-18 NPT male to M22x1.5 male (14 mm seal)"]


# --- pressure


def unloader(rating_bar: float | None, count: int = 1) -> dict[str, Any]:
    part: dict[str, Any] = {"kind": "unloader", "count": count, "cost": 30}
    return {"pump.has.unloader": False, "shelf": [part if rating_bar is None else {**part, "rating_bar": rating_bar}]}


def test_a_listed_unloader_that_stands_the_rating_limits_the_pressure() -> None:
    assert said(found("pressure", unloader(190))) == (
        "by parts",
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


def test_threads_whose_diameter_no_table_gives_are_told_apart_by_name() -> None:
    # ASME B1.20.3 shares its pitches with NPT; our table gives no diameter for it
    ours, theirs = end("3/4-14 NPTF", Gender.MALE), end("1/2-14 NPT", Gender.FEMALE)
    assert str(why_not(ours, theirs)) == "3/4-14 NPTF and 1/2-14 NPT are different threads."
