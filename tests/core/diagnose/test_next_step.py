"""Following the steps leads to the fault; nothing is asked twice; what can hurt is said."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from tests.core.diagnose.following_the_steps import ENDS, followed
from tests.core.diagnose.seeded_faults import FAULTS, OUTSIDE, sound_machine, with_fault
from tests.core.diagnose.test_proof import SOUND, WEAK, changed
from tests.core.diagnose.told import told
from xref_app.core.diagnose import steps
from xref_app.core.diagnose.diagnose import diagnose
from xref_app.core.diagnose.evidence import Bucket, Evidence
from xref_app.core.diagnose.steps import step
from xref_app.core.diagnose.words import Cause, FlowBack, Nozzle, Part, Screen, Symptom, Try, Verdict
from xref_app.core.quantity.range import Range

RUNNING = (
    *(
        Try.READ_SPEED,
        Try.TIME_BUCKET,
        Try.WATCH_RELIEF,
        Try.WATCH_FLOW_BACK,
        Try.WATCH_AIR,
        Try.READ_GAUGE,
        Try.LISTEN,
    ),
    *(Try.MEASURE_WHILE_BAD, Try.MEASURE_CLOSER, Try.SWAP_WAND, Try.SWAP_UNLOADER, Try.SET_SPEED, Try.SET_UNLOADER),
)
TAKES_APART = (
    *(Try.LOOK_AT_SCREEN, Try.LOOK_AT_NOZZLE, Try.SWAP_WAND, Try.SWAP_UNLOADER, Try.CLEAN_SCREEN, Try.CLEAR_NOZZLE),
    *(Try.SOAP_NOZZLE_OUT, Try.MEND_HOSE, Try.SEAL_SUCTION, Try.COOL_RELIEF, Try.LOWER_UNLOADER, Try.OPEN_PUMP),
    *(Try.SET_SPEED, Try.SET_UNLOADER, Try.CHANGE_OIL, Try.READ_GAUGE, Try.LOOK_AT_OIL),
)
MAY_BE_HOT = (
    Try.WATCH_RELIEF,
    Try.WATCH_FLOW_BACK,
    Try.COOL_RELIEF,
    Try.SET_UNLOADER,
    Try.SWAP_UNLOADER,
    Try.OPEN_PUMP,
)
AT_THE_TAP = (Try.LOOK_AT_SCREEN, Try.TIME_SUPPLY, Try.WATCH_AIR, Try.CLEAN_SCREEN, Try.BETTER_SUPPLY, Try.SEAL_SUCTION)
WANTED = {
    **dict.fromkeys((*OUTSIDE, Cause.HEALTHY), (Verdict.NOT_PUMP,)),
    **dict.fromkeys((Cause.VALVES, Cause.SEALS, Cause.FROZEN_HEAD), (Verdict.PUMP,)),
    Cause.OIL_SEALS: (Verdict.PUMP, Verdict.CANNOT_TELL),
}


@pytest.mark.parametrize("cause", FAULTS)
def test_the_steps_lead_to_the_right_answer_and_ask_nothing_twice(cause: Cause) -> None:
    steps_taken = minutes = 0.0
    for seed in range(15):
        random = Random(f"steps {cause} {seed}")
        done = followed(with_fault(sound_machine(random), cause, random), random)
        assert done.diagnosis.answer in WANTED[cause], (seed, done.steps)
        assert len(set(done.steps)) == len(done.steps), (seed, done.steps)
        assert set(done.answers[:-1]) <= {Verdict.CANNOT_TELL}
        steps_taken, minutes = steps_taken + len(done.steps), minutes + done.minutes
    print(f"{cause}: {steps_taken / 15:.1f} steps, {minutes / 15:.0f} minutes")  # noqa: T201


def test_milky_oil_that_is_not_known_to_come_back_is_changed_first() -> None:
    random = Random(1)
    machine = replace(with_fault(sound_machine(random), Cause.OIL_SEALS, random))
    done = followed(machine, random)
    assert done.diagnosis.next_step.what in {Try.CHANGE_OIL, Try.FIX_OR_REPLACE}


def test_the_first_thing_is_to_look() -> None:
    asked = diagnose(Evidence(frozenset({Symptom.LOW_PRESSURE}))).next_step
    assert asked.what is Try.LOOK_FOR_LEAKS
    assert asked.minutes.high <= 5


def test_looks_come_before_measurements_and_measurements_before_trials() -> None:
    random = Random("order")
    taken = followed(with_fault(sound_machine(random), Cause.VALVES, random), random).steps
    middles = [step(what).minutes.middle for what in taken]
    assert taken.index(Try.LOOK_AT_SCREEN) < taken.index(Try.TIME_BUCKET) < taken.index(Try.SWAP_WAND)
    assert max(middles[:5]) <= min(middles[-3:])


@pytest.mark.parametrize(
    ("changes", "what"),
    [
        ({"screen": Screen.CLOGGED}, Try.CLEAN_SCREEN),
        ({"nozzle": Nozzle.BLOCKED}, Try.CLEAR_NOZZLE),
        ({"flow_back": FlowBack.FLOWS}, Try.SET_UNLOADER),
        ({"low_pressure_nozzle": True, "screen": Screen.CLOGGED}, Try.SOAP_NOZZLE_OUT),
        ({"supply_bucket": None}, Try.TIME_SUPPLY),
        ({"supply_bucket": None, "cannot_say": frozenset({Try.TIME_SUPPLY})}, Try.READ_GAUGE),
    ],
    ids=told,
)
def test_what_is_amiss_is_put_right_before_anything_is_asked(changes: dict[str, object], what: Try) -> None:
    evidence = replace(WEAK, low_pressure_nozzle=False)
    found = diagnose(replace(evidence, **changes))  # type: ignore[arg-type]  # one case per kind of item
    assert (found.answer, found.next_step.what) == (Verdict.CANNOT_TELL, what)


def test_what_changed_nothing_is_not_put_right_again() -> None:
    evidence = replace(WEAK, flow_back=FlowBack.FLOWS, low_pressure_nozzle=False, rated_bar=Range(200, 200))
    evidence = replace(evidence, no_change_by=frozenset({Part.UNLOADER, Part.WAND_AND_HOSE}))
    assert diagnose(evidence).next_step.what is Try.READ_GAUGE


def test_an_unloader_that_holds_too_much_comes_first_even_when_the_pump_is_cleared() -> None:
    found = diagnose(replace(SOUND, shut_bar=Range(330, 350), cured_by=frozenset({Part.NOZZLE})))
    assert found.answer is Verdict.NOT_PUMP
    assert found.next_step.what is Try.LOWER_UNLOADER
    assert steps.BURST in {caution.template for caution in found.next_step.cautions}


def test_a_pump_that_is_named_is_priced() -> None:
    assert changed(WEAK) is Verdict.PUMP
    assert diagnose(WEAK).next_step.what is Try.FIX_OR_REPLACE


@pytest.mark.parametrize("what", Try)
def test_every_step_has_minutes_words_and_the_cautions_that_go_with_it(what: Try) -> None:
    found = step(what)
    cautions = {caution.template for caution in found.cautions}
    assert str(found.ask).endswith((".", "?"))
    assert found.minutes.high >= found.minutes.low >= 0
    assert steps.MANUAL in cautions
    needed = {steps.JET, steps.EXHAUST, steps.SHOCK} if what in RUNNING else set()
    needed |= {steps.STOPPED} if what in TAKES_APART else set()
    needed |= {steps.HOT} if what in MAY_BE_HOT else set()
    needed |= {steps.BACKFLOW} if what in AT_THE_TAP else set()
    assert needed <= cautions


@pytest.mark.parametrize("frost", [True, False, None])
def test_ice_is_warned_of_where_it_stood_in_frost(frost: bool | None) -> None:
    found = diagnose(replace(WEAK, bucket=None, low_pressure_nozzle=False, stood_in_frost=frost)).next_step
    assert found.what is Try.TIME_BUCKET
    assert (steps.FROZEN in {caution.template for caution in found.cautions}) is (frost is True)


def test_an_end_is_no_question() -> None:
    assert ENDS.isdisjoint(RUNNING)


@pytest.mark.parametrize(
    ("changes", "what"),
    [
        ({}, Try.SWAP_WAND),
        ({"no_change_by": frozenset({Part.WAND_AND_HOSE})}, Try.SWAP_UNLOADER),
        ({"no_change_by": frozenset({Part.WAND_AND_HOSE, Part.UNLOADER})}, Try.NOTHING),
        ({"symptoms": frozenset()}, Try.NOTHING),
        ({"cured_by": frozenset({Part.SCREEN})}, Try.NOTHING),
        ({"nozzle": Nozzle.WIDE}, Try.CLEAR_NOZZLE),
    ],
    ids=told,
)
def test_once_the_pump_is_cleared_what_is_left_is_tried(changes: dict[str, object], what: Try) -> None:
    found = diagnose(replace(SOUND, **changes))  # type: ignore[arg-type]  # one case per kind of item
    assert (found.answer, found.next_step.what) == (Verdict.NOT_PUMP, what)


@pytest.mark.parametrize(
    ("changes", "what"),
    [
        ({"bucket": Bucket(Range(11.4, 14), Range(60, 60))}, Try.MEASURE_CLOSER),
        ({"bucket": Bucket(Range(12.9, 13.1), Range(60, 60))}, Try.SWAP_RELIEF),
    ],
    ids=told,
)
def test_between_weak_and_sound_a_vague_flow_is_measured_again(changes: dict[str, object], what: Try) -> None:
    evidence = replace(WEAK, low_pressure_nozzle=False, gauge_bar=Range(150, 155), **changes)  # type: ignore[arg-type]  # one case per kind of item
    found = diagnose(evidence)
    assert (found.answer, found.next_step.what) == (Verdict.CANNOT_TELL, what)


def test_a_machine_on_which_all_was_tried_is_opened() -> None:
    tried = frozenset({Part.WAND_AND_HOSE, Part.UNLOADER, Part.RELIEF})
    between = Bucket(Range(12.9, 13.1), Range(60, 60))
    evidence = replace(WEAK, low_pressure_nozzle=False, gauge_bar=Range(150, 155), bucket=between, no_change_by=tried)
    assert diagnose(evidence).next_step.what is Try.OPEN_PUMP
