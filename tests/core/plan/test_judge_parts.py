"""Many pumps judged by parts: the same judgements, word for word, as each judged by itself."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise, product

from tests.core.fit.cases import case_with
from tests.soundness.cases import seeded_case
from tests.soundness.test_plans import gap_case, read_or_none
from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.core.model.case import Case
from xref_app.core.model.known import Dimension, Fact
from xref_app.core.model.pump import Pump
from xref_app.core.plan.families import FAMILIES
from xref_app.core.plan.judge import CHECKS, judge, judge_each
from xref_app.core.plan.judge_parts import JudgeOfParts

SEEDS = 150
MACHINES = 12


def sides_and_pumps() -> Iterator[tuple[Case, tuple[Pump, ...]]]:
    """Yield machines of many seeds, each with the pump it was made for and pumps made for others."""
    rng = random.Random(5)
    read = [read_or_none(make(seed)) for seed in range(SEEDS) for make in (gap_case, seeded_case)]
    known = [case for case in read if case is not None]
    for case in rng.sample(known, MACHINES):
        others = [case.pump, *(one.pump for one in rng.sample(known, 40))]
        # Pumps that share a face, a port or a rating with another, and nothing else.
        mixed = [replace(rng.choice(others), rating=one.rating, ports=one.ports) for one in others]
        yield case, (*others, *mixed)


def test_every_check_is_in_one_family() -> None:
    checks = [check for family in FAMILIES for check in family.checks]
    assert sorted(check.question.check for check in checks) == sorted(check.question.check for check in CHECKS)


def test_judging_by_parts_gives_the_same_judgement() -> None:
    rng = random.Random(7)
    seen = dict.fromkeys(Verdict, 0)
    plated = 0
    for side, pumps in sides_and_pumps():
        by_parts = JudgeOfParts([side])
        for pump in pumps:
            guessed, aside = rng.random() < 0.1, rng.random() < 0.05
            alone = judge(replace(side, pump=pump, guessed_number=guessed, set_aside=aside))
            assert by_parts.judge(pump, guessed_number=guessed, set_aside=aside) == alone, (side, pump)
            seen[alone.verdict] += 1
            plated += any("plate" in str(need.what) for need in alone.needs)
    assert min(seen.values()) >= 5, seen
    assert plated >= 5


def test_fittings_are_judged_by_the_pressure_of_each_pump() -> None:
    male, female = {"thread": "3/8-18 NPT", "gender": "male"}, {"thread": "G1/4 flat end", "gender": "female"}
    reducer = {"kind": "fitting", "part_id": "T-1", "count": 1, "cost": 5, "rating_bar": 200, "ends": [male, female]}
    port = {
        "pump.ports.outlet.thread": "G1/4 flat end",
        "pump.ports.outlet.gender": "male",
        "pump.ports.outlet.seal_mm": None,
    }
    hose = {"machine.water.discharge.thread": "3/8-18 NPT", "machine.water.discharge.gender": "female"}
    case = case_with(port | hose | {"machine.water.discharge.seal_mm": None, "shelf": [reducer]})
    by_parts, outcomes = JudgeOfParts([case]), set()
    for pressure, unloader in product((150.0, 190.0, 250.0, None), (True, False, None)):
        rating = replace(case.pump.rating, pressure_bar=Dimension(pressure, 1.0) if pressure else None)
        has = replace(case.pump.has, unloader=None if unloader is None else Fact(unloader))
        pump = replace(case.pump, rating=rating, has=has)
        judgement = judge(replace(case, pump=pump))
        assert by_parts.judge(pump) == judgement
        outcomes |= {one.outcome for one in judgement.findings if one.check == "outlet"}
    assert outcomes == {Outcome.BY_PARTS, Outcome.FAIL, Outcome.UNKNOWN}


def test_versions_of_the_machine_are_judged_by_parts_too() -> None:
    known = list(sides_and_pumps())
    for (one, pumps), (other, _) in pairwise(known):
        sides = (one, replace(one, machine=replace(one.machine, shaft=other.machine.shaft)))
        by_parts = JudgeOfParts(sides, ("shaft_diameter_mm",))
        for pump in pumps[:12]:
            cases = [replace(side, pump=pump) for side in sides]
            assert by_parts.judge(pump) == judge_each(cases, ("shaft_diameter_mm",))
