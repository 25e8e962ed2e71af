"""Findings of inlet and outlet that rest on chains: couplers, plugs, what is missing, and what doubt leaves open."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import product
from typing import Any

import pytest

from tests.core.fit.cases import case_with, found
from tests.core.parts.fitting_graphs import fitting
from xref_app.core.fit.finding import Finding, Outcome, Verdict
from xref_app.core.fit.water_joints import judge_inlet, judge_outlet
from xref_app.core.model.case import Case
from xref_app.core.model.known import Dimension, Fact
from xref_app.core.model.water import End
from xref_app.core.model.words import Gender
from xref_app.core.plan.judge import judge

QUICK = "quick coupler 3/8"
M22 = {"thread": "M22x1.5", "gender": "male", "seal_mm": 14}
NPT = {"thread": "3/8-18 NPT", "gender": "male"}
GAUGE = {"thread": "G1/4 flat shoulder", "gender": "female"}


def part(part_id: str, *ends: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"kind": "fitting", "part_id": part_id, "count": 1, "cost": 5, "rating_bar": 280, "ends": list(ends), **more}


def outlet(thread: str, gender: str, *shelf: dict[str, Any]) -> dict[str, Any]:
    port = "pump.ports.outlet"
    return {f"{port}.thread": thread, f"{port}.gender": gender, f"{port}.seal_mm": None, "shelf": list(shelf)}


def hose(thread: str, gender: str) -> dict[str, Any]:
    field = "machine.water.discharge"
    return {f"{field}.thread": thread, f"{field}.gender": gender, f"{field}.seal_mm": None}


def test_a_hose_with_a_coupler_goes_on_its_other_half_of_one_profile() -> None:
    finding = found("outlet", outlet(f"{QUICK} profile A", "male") | hose(f"{QUICK} profile A", "female"))
    assert finding.outcome is Outcome.PASS
    assert finding.needed == "quick coupler 3/8 profile A plug"


@pytest.mark.parametrize(
    ("ours", "theirs", "measure"),
    [
        (QUICK, QUICK, ("discharge_thread", "outlet_thread")),
        (f"{QUICK} profile A", QUICK, ("outlet_thread",)),
        (QUICK, f"{QUICK} profile A", ("discharge_thread",)),
        (QUICK, "3/8-18 NPT", ("discharge_thread",)),
    ],
)
def test_a_coupler_of_unknown_profile_never_fits_but_asks_for_it(
    ours: str, theirs: str, measure: tuple[str, ...]
) -> None:
    # A listed coupler of the same size must not bridge it either, whether its own profile is known or not.
    listed = [
        part(f"T-{place}", {"thread": thread, "gender": "male"}, NPT)
        for place, thread in enumerate((QUICK, f"{QUICK} profile A"))
    ]
    finding = found("outlet", outlet(theirs, "male", *listed) | hose(ours, "female"))
    assert (finding.outcome, finding.measure, finding.needs) == (Outcome.UNKNOWN, measure, ())
    assert "comes in several profiles" in str(finding.reason)


def test_a_chain_in_which_nothing_turns_says_how_to_put_it_together() -> None:
    ends = outlet("3/8-18 NPT", "female") | hose("3/8-18 NPT", "female")
    for swivel, told in ((True, False), (False, True)):
        nipple = part("T-1", {**NPT, "swivel": swivel}, NPT)
        finding = found("outlet", ends | {"shelf": [nipple]})
        assert finding.outcome is Outcome.BY_PARTS
        assert any("needs a swivel" in str(note) for note in finding.notes) is told
    half = part("T-2", {"thread": f"{QUICK} profile A", "gender": "male"}, NPT)
    coupled = found("outlet", outlet("3/8-18 NPT", "female", half) | hose(f"{QUICK} profile A", "female"))
    assert coupled.outcome is Outcome.BY_PARTS
    assert not any("needs a swivel" in str(note) for note in coupled.notes)


def test_a_swivel_at_the_closed_end_of_a_tee_turns_nothing_on_the_way() -> None:
    ends = outlet("3/8-18 NPT", "female") | hose("3/8-18 NPT", "female")
    plug = part("T-2", {"thread": "G1/4 flat shoulder", "gender": "male"})
    for at, told in ((2, True), (0, False)):
        tee_ends: list[dict[str, Any]] = [NPT, NPT, GAUGE]
        tee_ends[at] = {**tee_ends[at], "swivel": True}
        finding = found("outlet", ends | {"shelf": [part("T-1", *tee_ends), plug]})
        assert finding.outcome is Outcome.BY_PARTS
        assert any("needs a swivel" in str(note) for note in finding.notes) is told


UNF = "7/8-14 UNF"


@pytest.mark.parametrize(
    ("ours", "theirs", "outcome", "measure"),
    [
        (f"{UNF} flare 37", f"{UNF} flare 37", Outcome.PASS, ()),
        (f"{UNF} O-ring", f"{UNF} O-ring", Outcome.PASS, ()),
        (UNF, UNF, Outcome.UNKNOWN, ("discharge_thread", "outlet_thread")),
        (f"{UNF} flare 37", UNF, Outcome.UNKNOWN, ("outlet_thread",)),
        (UNF, f"{UNF} O-ring", Outcome.UNKNOWN, ("discharge_thread",)),
        (f"{UNF} flare 37", f"{UNF} O-ring", Outcome.FAIL, ()),
    ],
)
def test_one_inch_thread_fits_only_where_both_ends_seal_in_one_way(
    ours: str, theirs: str, outcome: Outcome, measure: tuple[str, ...]
) -> None:
    finding = found("outlet", outlet(theirs, "male") | hose(ours, "female"))
    assert (finding.outcome, finding.measure) == (outcome, measure)
    if outcome is Outcome.UNKNOWN:
        assert "7/8-14 UNF O-ring or 7/8-14 UNF flare 37" in str(finding.reason)


def test_a_listed_fitting_whose_end_nobody_looked_at_bridges_nothing() -> None:
    ends = outlet(f"{UNF} flare 37", "male") | hose("3/8-18 NPT", "male")
    for form, outcome in ((" flare 37", Outcome.BY_PARTS), (" O-ring", Outcome.FAIL), ("", Outcome.FAIL)):
        between = part(
            "T-1", {"thread": f"{UNF}{form}", "gender": "female"}, {"thread": "3/8-18 NPT", "gender": "female"}
        )
        assert found("outlet", ends | {"shelf": [between]}).outcome is outcome


def test_two_profiles_of_one_size_do_not_fit() -> None:
    finding = found("outlet", outlet(f"{QUICK} profile B", "male") | hose(f"{QUICK} profile A", "female"))
    assert finding.outcome is Outcome.FAIL
    assert "one size of two profiles" in str(finding.reason)


@pytest.mark.parametrize(
    ("listed", "used"), [(f"{QUICK} profile A", True), (f"{QUICK} profile B", False), (QUICK, False)]
)
def test_only_a_listed_coupler_of_the_same_profile_makes_a_chain(listed: str, used: bool) -> None:
    fitting_between = part("T-1", {"thread": listed, "gender": "male"}, NPT)
    finding = found("outlet", outlet("3/8-18 NPT", "female", fitting_between) | hose(f"{QUICK} profile A", "female"))
    assert (finding.outcome is Outcome.BY_PARTS) is used
    assert bool(finding.needs) is used


TEE = part("T-1", M22, NPT, GAUGE, name="gauge tee")
PLUG = part("T-2", {"thread": "G1/4 flat shoulder", "gender": "male"}, name="plug G1/4")


def test_a_tee_is_used_with_its_further_end_closed() -> None:
    finding = found("outlet", outlet("3/8-18 NPT", "female", TEE, PLUG))
    assert finding.outcome is Outcome.BY_PARTS
    assert str(finding.reason).endswith(
        "from the hose on: gauge tee, its further end closed with plug G1/4 flat shoulder male."
    )
    assert [str(need.what) for need in finding.needs] == [
        "Fitting with three ends: M22x1.5 male (14 mm seal), 3/8-18 NPT male, G1/4 flat shoulder female",
        "Plug G1/4 flat shoulder male",
    ]


@pytest.mark.parametrize("plug", [[], [{**PLUG, "rating_bar": 100}], [{**PLUG, "count": 0}]], ids=["none", "weak", "0"])
def test_a_tee_without_a_plug_that_holds_is_not_used(plug: list[dict[str, Any]]) -> None:
    finding = found("outlet", outlet("3/8-18 NPT", "female", TEE, *plug))
    assert (finding.outcome, finding.needs) == (Outcome.FAIL, ())
    assert ("rated 100 bar" if plug and plug[0]["count"] else "plug G1/4 flat shoulder male") in str(finding.reason)


@pytest.mark.parametrize(
    ("further", "plug"),
    [
        ({"thread": "G1/4 flat shoulder", "gender": "female"}, "plug G1/4 flat shoulder male"),
        ({"thread": "G1/4 flat shoulder", "gender": "male"}, "plug G1/4 flat shoulder female"),
        ({"thread": "R1/4", "gender": "male"}, "plug Rc1/4 female"),
        ({"thread": "Rp1/4", "gender": "female"}, "plug R1/4 male"),
        ({"thread": "M22x1.5", "gender": "female", "seal_mm": 15}, "plug M22x1.5 male (15 mm seal)"),
        ({"thread": "7/8-14 UNF O-ring", "gender": "female"}, "plug 7/8-14 UNF O-ring male"),
    ],
)
def test_a_tee_without_its_plug_names_the_plug_by_its_thread(further: dict[str, Any], plug: str) -> None:
    tee = part("T-1", M22, NPT, further, name="gauge tee")
    finding = found("outlet", outlet("3/8-18 NPT", "female", tee))
    assert finding.outcome is Outcome.FAIL
    assert str(finding.reason).endswith(
        f"The listed gauge tee would join them, but an end stays open that must be closed, and no {plug} that is "
        "strong enough is listed."
    )
    assert str(finding.change) == f"One {plug}, rated like the fitting it closes."


@pytest.mark.parametrize(
    "further", [{"thread": "7/8-14 UNF", "gender": "female"}, {"thread": QUICK, "gender": "male"}], ids=str
)
def test_a_tee_whose_further_end_nobody_can_close_names_no_plug(further: dict[str, Any]) -> None:
    finding = found("outlet", outlet("3/8-18 NPT", "female", part("T-1", M22, NPT, further)))
    assert finding.outcome is Outcome.FAIL
    assert "plug" not in str(finding.reason)


def test_a_tee_that_is_too_weak_is_not_helped_by_a_plug() -> None:
    finding = found("outlet", outlet("3/8-18 NPT", "female", {**TEE, "rating_bar": 100}))
    assert finding.outcome is Outcome.FAIL
    assert "plug" not in str(finding.reason)


def test_without_a_chain_the_finding_says_how_near_the_shelf_comes() -> None:
    finding = found("outlet", outlet("1/4-18 NPT", "female", part("T-1", M22, NPT)))
    assert finding.outcome is Outcome.FAIL
    assert [str(note) for note in finding.notes] == [
        (
            "The nearest that is listed: M22x1.5 male (14 mm seal) to 3/8-18 NPT male; what is missing is a fitting "
            "between 3/8-18 NPT male and 1/4-18 NPT female."
        )
    ]
    assert found("outlet", outlet("1/4-18 NPT", "female", PLUG)).notes == ()


DOUBTFUL_WATER = {"machine.water.supply.temperature_c": {"value": 50, "doubt": 3}}
PRESSURE, WARMTH = "rating_pressure_bar", "supply_temperature_c"


@pytest.mark.parametrize(
    ("rating_bar", "max_c", "measure"),
    [(190, 90, (PRESSURE,)), (280, 50, (WARMTH,)), (190, 50, (PRESSURE, WARMTH))],
)
def test_what_hangs_on_one_doubt_names_that_one_to_measure(
    rating_bar: float, max_c: float, measure: tuple[str, ...]
) -> None:
    changes = outlet("3/8-18 NPT", "female", part("T-1", M22, NPT, rating_bar=rating_bar, max_c=max_c))
    finding = found("outlet", changes | DOUBTFUL_WATER | {"pump.rating.pressure_bar": {"value": 190, "doubt": 3}})
    assert (finding.outcome, finding.measure, finding.needs) == (Outcome.UNKNOWN, measure, ())


def test_two_ports_that_may_share_stay_open_until_the_water_is_measured() -> None:
    hose, port = "machine.water.supply", "pump.ports.inlet"
    both = outlet("3/8-18 NPT", "female", part("T-1", M22, NPT, max_c=50), part("T-2", M22, NPT, max_c=90)) | {
        f"{hose}.thread": "M22x1.5",
        f"{hose}.gender": "female",
        f"{hose}.seal_mm": 14,
        f"{port}.thread": "3/8-18 NPT",
        f"{port}.gender": "female",
        f"{port}.seal_mm": None,
    }
    assert found("outlet", both | DOUBTFUL_WATER).outcome is Outcome.BY_PARTS
    assert found("inlet", both | DOUBTFUL_WATER).outcome is Outcome.UNKNOWN
    assert found("inlet", both | {"machine.water.supply.temperature_c": 55}).outcome is Outcome.FAIL
    assert found("inlet", both | {"machine.water.supply.temperature_c": 20}).outcome is Outcome.BY_PARTS


def with_readings(case: Case, pressure_bar: Dimension, warmth_c: Dimension | None) -> Case:
    water = case.machine.water
    supply = replace(water.supply, temperature_c=warmth_c)
    return replace(
        case,
        pump=replace(case.pump, rating=replace(case.pump.rating, pressure_bar=pressure_bar)),
        machine=replace(case.machine, water=replace(water, supply=supply)),
    )


def random_case(rng: random.Random, case: Case) -> Case:
    """Return the case with other ends and a random shelf."""
    threads = ("3/8-18 NPT", "1/4-18 NPT", "G3/8 flat end")

    def end() -> End:
        return End(Fact(rng.choice(threads)), Fact(rng.choice((Gender.MALE, Gender.FEMALE))))

    water, ports, ends = case.machine.water, case.pump.ports, [end() for _ in range(4)]
    supply = replace(water.supply, thread=ends[0].thread, gender=ends[0].gender)
    discharge = replace(water.discharge, thread=ends[1].thread, gender=ends[1].gender)
    inlet = replace(ports.inlet, thread=ends[2].thread, gender=ends[2].gender)
    outlet_end = replace(ports.outlet, thread=ends[3].thread, gender=ends[3].gender)
    return replace(
        case,
        machine=replace(case.machine, water=replace(water, supply=supply, discharge=discharge)),
        pump=replace(case.pump, ports=replace(ports, inlet=inlet, outlet=outlet_end)),
        shelf=tuple(fitting(rng, place, threads) for place in range(rng.randrange(1, 6))),
    )


def both_of(case: Case) -> tuple[Finding, Finding]:
    return judge_inlet(case.machine, case.pump, case.shelf), judge_outlet(case.machine, case.pump, case.shelf)


def test_both_ports_are_decided_only_where_every_value_says_the_same_and_no_weak_piece_is_needed() -> None:
    base, outcomes, needed = case_with({}), dict.fromkeys(Outcome, 0), 0
    for seed in range(2_000):
        rng = random.Random(seed)
        case = random_case(rng, base)
        pressure = Dimension(rng.choice((190.0, 200.0, 270.0)), rng.choice((0.0, 15.0)))
        warmth = Dimension(rng.choice((40.0, 60.0, 75.0)), rng.choice((0.0, 20.0)))
        findings = both_of(with_readings(case, pressure, warmth))
        worst = max(finding.outcome for finding in findings)
        outcomes[worst] += 1
        limits = product(*((one.range.low, one.range.high) for one in (pressure, warmth)))
        corners = [both_of(with_readings(case, Dimension(bar, 0.0), Dimension(warm, 0.0))) for bar, warm in limits]
        if worst is not Outcome.UNKNOWN:
            assert {max(finding.outcome for finding in corner) for corner in corners} == {worst}, seed
        for finding in findings:
            for need in finding.needs:
                assert need.listed is not None
                needed += 1
                assert (60.0 if need.listed.max_c is None else need.listed.max_c) >= warmth.range.high, seed
                assert finding.check == "inlet" or (need.listed.rating_bar or 0.0) >= pressure.range.high, seed
    assert min(outcomes[one] for one in (Outcome.BY_PARTS, Outcome.UNKNOWN, Outcome.FAIL)) >= 20, outcomes
    assert needed >= 200


def test_water_nobody_measured_refuses_nothing_for_its_heat_and_never_ends_in_a_fit() -> None:
    base, outcomes = case_with({}), dict.fromkeys(Outcome, 0)
    for seed in range(2_500):
        rng = random.Random(seed)
        case = random_case(rng, base)
        shelf = tuple(replace(one, max_c=rng.choice((None, 30.0, 50.0, 90.0))) for one in case.shelf)
        case, pressure = replace(case, shelf=shelf), Dimension(200.0, rng.choice((0.0, 15.0)))
        unmeasured = with_readings(case, pressure, None)
        worst = max(finding.outcome for finding in both_of(unmeasured))
        outcomes[worst] += 1
        if worst is not Outcome.FAIL:
            # What supply leaves open, nothing at the ports may close.
            assert judge(unmeasured).verdict in {Verdict.NOT_KNOWN_YET, Verdict.DOES_NOT_FIT}, seed
            continue
        for warm in (5.0, 85.0):
            measured = both_of(with_readings(case, pressure, Dimension(warm, 0.0)))
            assert max(finding.outcome for finding in measured) is Outcome.FAIL, (seed, warm)
    assert min(outcomes[one] for one in (Outcome.BY_PARTS, Outcome.UNKNOWN, Outcome.FAIL)) >= 20, outcomes


@pytest.mark.parametrize(("warmth_c", "outcome"), [(None, Outcome.UNKNOWN), (20, Outcome.BY_PARTS), (55, Outcome.FAIL)])
def test_a_fitting_for_cooler_water_asks_for_the_temperature(warmth_c: float | None, outcome: Outcome) -> None:
    water = {"machine.water.supply.temperature_c": warmth_c}
    finding = found("outlet", outlet("3/8-18 NPT", "female", part("T-1", M22, NPT, max_c=50)) | water)
    assert finding.outcome is outcome
    assert finding.measure == ((WARMTH,) if outcome is Outcome.UNKNOWN else ())


def test_a_rating_just_too_low_is_told_by_two_numbers_and_asks_for_one_that_is_enough() -> None:
    listed = part("T-1", {"thread": "3/8-18 NPT", "gender": "male"}, M22, rating_bar=190)
    short = outlet("3/8-18 NPT", "female", listed) | {"pump.rating.pressure_bar": {"value": 190.4, "doubt": 0}}
    finding = found("outlet", short)
    assert finding.outcome is Outcome.FAIL
    assert "is rated 190 bar, below the highest possible 191 bar" in str(finding.reason)
    assert str(finding.change) == "The same fitting rated at least 191 bar."


def test_water_just_too_hot_is_told_rounded_up() -> None:
    listed = part("T-1", {"thread": "3/8-18 NPT", "gender": "male"}, M22, max_c=50)
    warm = {"machine.water.supply.temperature_c": {"value": 50.4, "doubt": 0}}
    finding = found("outlet", outlet("3/8-18 NPT", "female", listed) | warm)
    assert finding.outcome is Outcome.FAIL
    assert str(finding.change) == "Cooler water, or fittings that stand 51 °C."


def test_water_nobody_measured_refuses_no_fitting_but_asks_for_its_temperature() -> None:
    listed = part("T-1", {"thread": "3/8-18 NPT", "gender": "male"}, M22, max_c=50)
    finding = found("outlet", outlet("3/8-18 NPT", "female", listed) | {"machine.water.supply.temperature_c": None})
    assert (finding.outcome, finding.measure, finding.needs) == (Outcome.UNKNOWN, ("supply_temperature_c",), ())
