"""Many pumps judged by parts: the same judgements, word for word, as each judged by itself."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from tests.core.fit.cases import case_with
from tests.soundness.cases import seeded_case
from tests.soundness.test_plans import gap_case, read_or_none
from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.core.model.case import Case
from xref_app.core.model.known import Dimension, Fact
from xref_app.core.plan.families import ALONE, EACH, FACES
from xref_app.core.plan.judge import CHECKS, judge, judge_each
from xref_app.core.plan.judge_many import JudgeOfMany

SEEDS = 150
MACHINES = 6


def cases() -> Iterator[Case]:
    """Yield pumps of many seeds, each against the machine it was made for and against a few others."""
    rng = random.Random(5)
    read = [read_or_none(make(seed)) for seed in range(SEEDS) for make in (gap_case, seeded_case)]
    known = [case for case in read if case is not None]
    machines = rng.sample(known, MACHINES)
    for case in known:
        yield case
        other = rng.choice(machines)
        yield replace(other, pump=case.pump, guessed_number=rng.random() < 0.1, set_aside=rng.random() < 0.05)


def test_every_check_is_in_one_family() -> None:
    checks = [check for family in (FACES, *ALONE) for check in family.checks] + list(EACH)
    assert sorted(check.question.check for check in checks) == sorted(check.question.check for check in CHECKS)


def test_judging_by_parts_gives_the_same_judgement() -> None:
    many = JudgeOfMany()
    seen = dict.fromkeys(Verdict, 0)
    plated = 0
    for case in cases():
        alone = judge(case)
        assert many.judge_each((case,)) == alone, case
        seen[alone.verdict] += 1
        plated += any("plate" in str(need.what) for need in alone.needs)
    assert min(seen.values()) >= 20, seen
    assert plated >= 5


def test_fittings_are_judged_by_the_pressure_of_each_pump() -> None:
    male, female = {"thread": "3/8-18 NPT", "gender": "male"}, {"thread": "G1/4", "gender": "female"}
    reducer = {"kind": "fitting", "part_id": "T-1", "count": 1, "cost": 5, "rating_bar": 200, "ends": [male, female]}
    port = {"pump.ports.outlet.thread": "G1/4", "pump.ports.outlet.gender": "male", "pump.ports.outlet.seal_mm": None}
    hose = {"machine.water.discharge.thread": "3/8-18 NPT", "machine.water.discharge.gender": "female"}
    case = case_with(port | hose | {"machine.water.discharge.seal_mm": None, "shelf": [reducer]})
    many, outcomes = JudgeOfMany(), set()
    for pressure, unloader in product((150.0, 190.0, 250.0, None), (True, False, None)):
        rating = replace(case.pump.rating, pressure_bar=Dimension(pressure, 1.0) if pressure else None)
        has = replace(case.pump.has, unloader=None if unloader is None else Fact(unloader))
        pump = replace(case.pump, rating=rating, has=has)
        judgement = judge(replace(case, pump=pump))
        assert many.judge_each((replace(case, pump=pump),)) == judgement
        outcomes |= {one.outcome for one in judgement.findings if one.check == "outlet"}
    assert outcomes == {Outcome.BY_PARTS, Outcome.FAIL, Outcome.UNKNOWN}


def test_versions_are_judged_by_parts_too() -> None:
    many = JudgeOfMany()
    known = list(cases())
    for one, other in zip(known[::2], known[2::2], strict=False):
        versions = (one, replace(one, pump=replace(one.pump, bore=other.pump.bore)))
        assert many.judge_each(versions, ("bore_diameter_mm",)) == judge_each(versions, ("bore_diameter_mm",))
