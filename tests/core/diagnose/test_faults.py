"""Hundreds of machines with a known fault, measured as a shop does: is the fault found, and is no good pump blamed?"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from random import Random
from typing import Any

import pytest

from tests.core.diagnose.seeded_faults import FAULTS, OUTSIDE, Machine, sound_machine, with_fault
from tests.core.diagnose.shop_notes import noted
from xref_app.core.diagnose.diagnose import Diagnosis, diagnose
from xref_app.core.diagnose.evidence import Evidence
from xref_app.core.diagnose.words import (
    Cause,
    FlowBack,
    Leak,
    Noise,
    Nozzle,
    Part,
    Relief,
    Screen,
    SuctionAir,
    Symptom,
    Verdict,
)

MACHINES_PER_CAUSE = 24
IN_THE_PUMP = (Cause.VALVES, Cause.SEALS, Cause.FROZEN_HEAD, Cause.OIL_SEALS)
# Items that come about by looking or measuring; any three of them are far too few to name anything.
ITEMS = (
    *("gauge_bar", "bucket", "supply_bucket", "rated_lpm", "rated_bar", "shaft_rpm"),
    *("screen", "nozzle", "suction_air", "flow_back", "noise", "relief"),
)

GOOD_LOOKS = {
    "screen": Screen.CLEAN,
    "suction_air": SuctionAir.NONE,
    "nozzle": Nozzle.GOOD,
    "flow_back": FlowBack.NONE,
    "relief": Relief.SHUT,
    "leak": Leak.NONE,
    "noise": Noise.EVEN,
}


@cache
def diagnosed(cause: Cause, seed: int, missing: float) -> Diagnosis:
    random = Random(f"judged {cause} {seed}")
    return diagnose(noted(with_fault(sound_machine(random), cause, random), random, missing=missing))


def share_found(missing: float) -> float:
    missed: Counter[str] = Counter()
    for cause in FAULTS:
        for seed in range(MACHINES_PER_CAUSE):
            first_two = [one.cause for one in diagnosed(cause, seed, missing).causes[:2]]
            missed[cause] += cause not in first_two
    share = 1 - missed.total() / (MACHINES_PER_CAUSE * len(FAULTS))
    print(f"missing {missing:.0%}: {share:.1%} of {MACHINES_PER_CAUSE * len(FAULTS)} in the first two; {+missed}")  # noqa: T201
    return share


@pytest.mark.parametrize(("missing", "least"), [(0.0, 0.99), (0.15, 0.95)])
def test_the_true_cause_is_among_the_first_two(missing: float, least: float) -> None:
    assert share_found(missing) >= least


@pytest.mark.parametrize("missing", [0.0, 0.15, 0.5])
def test_no_good_pump_is_blamed_for_one_fault_elsewhere(missing: float) -> None:
    for cause in (*OUTSIDE, Cause.HEALTHY):
        for seed in range(MACHINES_PER_CAUSE):
            assert diagnosed(cause, seed, missing).answer is not Verdict.PUMP, (cause, seed)


@pytest.mark.parametrize("missing", [0.0, 0.2])
def test_no_good_pump_is_blamed_for_several_faults_elsewhere(missing: float) -> None:
    for seed in range(400):
        random = Random(f"several {seed}")
        machine = sound_machine(random)
        for cause in random.sample(OUTSIDE, random.choice((2, 3, 4))):
            machine = with_fault(machine, cause, random)
        evidence = noted(machine, random, missing=missing)
        tried = evidence.no_change_by | {Part.WAND_AND_HOSE} - evidence.cured_by
        assert diagnose(replace(evidence, no_change_by=tried)).answer is not Verdict.PUMP, seed


@pytest.mark.parametrize("cause", OUTSIDE)
def test_no_good_pump_is_blamed_for_one_look_that_was_wrong(cause: Cause) -> None:
    for seed in range(MACHINES_PER_CAUSE):
        random = Random(f"wrong {cause} {seed}")
        machine = with_fault(sound_machine(random), cause, random)
        evidence = noted(machine, random, missing=0.0)
        tried = evidence.no_change_by | ({Part.WAND_AND_HOSE} if cause is not Cause.WAND_OR_HOSE else set())
        for name, good in GOOD_LOOKS.items():
            wrong: dict[str, Any] = {name: good, "no_change_by": tried}
            assert diagnose(replace(evidence, **wrong)).answer is not Verdict.PUMP, (seed, name)


@pytest.mark.parametrize("missing", [0.0, 0.15, 0.5])
@pytest.mark.parametrize("cause", IN_THE_PUMP)
def test_no_bad_pump_is_cleared(cause: Cause, missing: float) -> None:
    for seed in range(MACHINES_PER_CAUSE):
        assert diagnosed(cause, seed, missing).answer is not Verdict.NOT_PUMP, seed


@pytest.mark.parametrize("cause", [Cause.VALVES, Cause.SEALS])
@pytest.mark.parametrize("second", [Cause.NOZZLE_WORN, Cause.NOZZLE_WRONG, Cause.INJECTOR])
def test_no_bad_pump_is_cleared_by_a_second_fault_that_takes_its_pressure(cause: Cause, second: Cause) -> None:
    for seed in range(60):
        random = Random(f"both {cause} {second} {seed}")
        machine = with_fault(sound_machine(random), second, random)
        evidence = noted(with_fault(machine, cause, random), random, missing=0.0)
        assert diagnose(evidence).answer is not Verdict.NOT_PUMP, seed


def _looked_at(machine: Machine, random: Random) -> Evidence:
    evidence = replace(noted(machine, random, missing=0.0), nozzle=Nozzle.GOOD, cured_by=frozenset())
    return replace(evidence, no_change_by=frozenset({Part.WAND_AND_HOSE, Part.UNLOADER, Part.RELIEF}))


@pytest.mark.parametrize("cause", [Cause.VALVES, Cause.SEALS])
def test_a_bad_pump_is_named_once_all_else_was_looked_at(cause: Cause) -> None:
    for seed in range(MACHINES_PER_CAUSE):
        random = Random(f"named {cause} {seed}")
        machine = with_fault(sound_machine(random), cause, random)
        assert diagnose(_looked_at(machine, random)).answer is Verdict.PUMP, seed


@pytest.mark.parametrize("seed", range(MACHINES_PER_CAUSE))
def test_a_healthy_machine_is_cleared_once_it_was_measured(seed: int) -> None:
    random = Random(f"cleared {seed}")
    found = diagnose(noted(sound_machine(random), random, missing=0.0))
    assert (found.answer, found.causes[0].cause) == (Verdict.NOT_PUMP, Cause.HEALTHY)


def test_too_little_is_never_enough() -> None:
    assert diagnose(Evidence()).answer is Verdict.CANNOT_TELL
    for cause in FAULTS:
        for seed in range(MACHINES_PER_CAUSE):
            random = Random(f"thin {cause} {seed}")
            machine = with_fault(sound_machine(random), cause, random)
            whole = noted(machine, random, missing=0.0)
            told = {name: getattr(whole, name) for name in random.sample(ITEMS, 3)}
            assert diagnose(Evidence(whole.symptoms, **told)).answer is Verdict.CANNOT_TELL, (cause, seed)


@pytest.mark.parametrize("symptom", Symptom)
def test_a_complaint_alone_tells_nothing(symptom: Symptom) -> None:
    assert diagnose(Evidence(frozenset({symptom}))).answer is Verdict.CANNOT_TELL
