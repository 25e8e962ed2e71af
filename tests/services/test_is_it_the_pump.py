"""Is it the pump? From typed text to answer, next step and cautions."""

from __future__ import annotations

from dataclasses import fields

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.services.pump_cases import CLOGGED_WAND, PLATE, WAND_SWAPPED, WORN_PUMP, typed
from tests.services.tiny import entry, reading, tiny, tiny_rows, without
from xref_app.core.diagnose.caution_sources import CAUTION_SOURCES
from xref_app.core.diagnose.evidence import Evidence
from xref_app.core.diagnose.steps import MANUAL, step
from xref_app.core.diagnose.words import Part, Symptom, Try, Verdict
from xref_app.core.model.catalog import Observation
from xref_app.core.quantity.range import Range
from xref_app.services.answers import Job
from xref_app.services.is_it_the_pump import Asked, PumpView, consider
from xref_app.services.pump_answers import PumpAnswers
from xref_app.services.pump_evidence import evidence_of
from xref_app.services.pump_questions import Group, questions
from xref_app.services.pump_told import Tellings, told_of

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()
SLIP = "look for a slip of typing or unit, then type it again."
JOB = Job("P1", "M1", "Heron 27", ())


def asked(view: PumpView, question_id: str) -> Asked:
    return next(one for one in view.asked if one.question.question_id == question_id)


def value(question_id: str, text: str) -> Range:
    found = asked(consider(typed({question_id: text})), question_id)
    assert isinstance(found.value, Range), found.trouble
    return found.value


def trouble(question_id: str, text: str) -> str:
    found = asked(consider(typed({question_id: text})), question_id)
    assert found.value is None
    assert found.answer.text == text
    return found.trouble


# -- the answer


def test_a_clogged_wand_is_not_the_pump_once_another_wand_cures_it() -> None:
    assert consider(typed(CLOGGED_WAND)).diagnosis.answer is Verdict.CANNOT_TELL
    view = consider(typed({**CLOGGED_WAND, **WAND_SWAPPED}))
    assert view.diagnosis.answer is Verdict.NOT_PUMP
    assert [str(one) for one in view.diagnosis.because] == ["Another wand, gun and hose cured it."]


def test_a_pump_that_loses_half_of_its_flow_inside_is_the_pump() -> None:
    view = consider(typed(WORN_PUMP))
    assert view.diagnosis.answer is Verdict.PUMP
    assert view.diagnosis.next_step.what is Try.FIX_OR_REPLACE


# The proof that it is the pump rests on all answers but these.
NOT_IN_THE_PROOF = {"nozzle_number", "gauge_bar", "gauge_place", "does_low_pressure", "low_pressure_nozzle"}


@pytest.mark.parametrize("question_id", sorted(set(WORN_PUMP) - NOT_IN_THE_PROOF))
def test_one_answer_less_or_unreadable_never_condemns_the_pump(question_id: str) -> None:
    for text in ("", "soon"):
        assert consider(typed({**WORN_PUMP, question_id: text})).diagnosis.answer is not Verdict.PUMP


def test_too_little_evidence_cannot_tell_yet_and_says_what_next() -> None:
    view = consider(typed({"does_low_pressure": "yes", "leak": "nowhere", **PLATE}))
    assert view.diagnosis.answer is Verdict.CANNOT_TELL
    assert view.diagnosis.next_step.what is Try.ASK_SOAP_NOZZLE
    assert view.next_question_id == "low_pressure_nozzle"


def test_the_arithmetic_agrees_with_pint() -> None:
    view = consider(typed(WORN_PUMP))
    due = REGISTRY.Quantity(2.5, "US_liquid_gallon/minute").to("liter/minute").magnitude
    held = view.diagnosis.workings.held_share
    assert held is not None
    assert held.value.meets(Range.exactly(10 / 110 * 60 / due))


# -- the order


def test_nothing_typed_asks_the_cheapest_question_first() -> None:
    view = consider(PumpAnswers())
    assert view.asked[0].question.group is Group.DOES
    assert view.next_question_id == view.asked[0].question.question_id
    least = min(step(what).minutes.low for what in Try if what is not Try.NOTHING)
    assert view.diagnosis.next_step.minutes.low == least


def test_what_hurts_nobody_is_asked_before_what_runs_under_pressure() -> None:
    groups = [question.group for question in questions().values()]
    assert list(dict.fromkeys(groups)) == list(Group)
    assert sorted(groups, key=list(Group).index) == groups


def test_every_step_that_asks_something_has_a_question() -> None:
    asks_nothing = {Try.OPEN_PUMP, Try.FIX_OR_REPLACE, Try.NOTHING}
    fixes = {Try.MEND_HOSE, Try.LOWER_UNLOADER, Try.SET_UNLOADER, Try.COOL_RELIEF, Try.CHANGE_OIL}
    assert set(Try) - asks_nothing - fixes == {one.by for one in questions().values()} - {None}


def test_the_question_of_the_next_step_is_marked() -> None:
    view = consider(typed({"screen": "clogged"}))
    assert view.diagnosis.next_step.what is Try.CLEAN_SCREEN
    assert [one.question.question_id for one in view.asked if one.is_next] == ["tried_screen"]
    worn = consider(typed({"leak": "hose, gun or wand"}))
    assert worn.next_question_id == "tried_wand_and_hose"


# -- reading


def test_every_item_of_the_evidence_can_be_answered() -> None:
    texts: dict[str, Range | str] = {
        question_id: question.words[0] if question.words else Range(20, 20.5)
        for question_id, question in questions().items()
    }
    first = evidence_of(texts, frozenset(Try))
    other = evidence_of({one: "it ran as before" for one in texts if one.startswith("tried_")}, frozenset())
    blank = Evidence()
    given_apart = {"no_change_by"}
    for item in fields(Evidence):
        if item.name not in given_apart:
            assert getattr(first, item.name) != getattr(blank, item.name), item.name
    assert first.symptoms == frozenset(Symptom)
    assert first.cured_by == other.no_change_by == frozenset(Part)


@pytest.mark.parametrize(
    ("question_id", "text", "number", "unit", "canonical"),
    [
        ("bucket_l", "2.5-3 gal", (2.5, 3), "US_liquid_gallon", "liter"),
        ("bucket_l", "9,5 to 10 L", (9.5, 10), "liter", "liter"),
        ("bucket_s", "1-1.5 min", (1, 1.5), "minute", "second"),
        ("gauge_bar", "2200 - 2300 psi", (2200, 2300), "psi", "bar"),
        ("rated_lpm", "2.5 gpm", (2.5, 2.5), "US_liquid_gallon/minute", "liter/minute"),
        ("bypass_minutes", "1/2 h", (0.5, 0.5), "hour", "second"),
    ],
)
def test_readings_agree_with_pint(
    question_id: str, text: str, *, number: tuple[float, float], unit: str, canonical: str
) -> None:
    low, high = (REGISTRY.Quantity(one, unit).to(canonical).magnitude for one in number)
    read = value(question_id, text)
    assert (read.low, read.high) == pytest.approx((low, high))


def test_a_temperature_in_fahrenheit_is_read() -> None:
    read = value("supply_c", "59 - 68 °F")
    assert (read.low, read.high) == pytest.approx((15, 20))


def test_minutes_in_bypass_reach_the_evidence_as_minutes() -> None:
    assert evidence_of({"bypass_minutes": value("bypass_minutes", "3-4 min")}, frozenset()).bypass_minutes == Range(
        3, 4
    )


def test_a_bare_reading_is_never_taken_as_exact() -> None:
    assert value("bucket_l", "10 L") == Range(9.7, 10.3)
    assert value("bucket_s", "60") == Range(59.5, 60.5)
    assert value("nozzle_number", "3.5") == Range.exactly(3.5)
    assert value("nozzle_number", "3-4") == Range(3, 4)


@pytest.mark.parametrize(
    ("question_id", "text", "sentence"),
    [
        ("bucket_l", "10", "“10” is not a volume with a unit. Write it like 10 L or 5 gal."),
        ("rated_bar", "2700", "“2700” is not a pressure with a unit. Write it like 2700 psi or 186 bar."),
        ("nozzle_number", "035", "“035” can mean 3.5 or 35. Write it like 3.5."),
        (
            "rated_bar",
            "2700 bar",
            f"“2700 bar” lies outside 20 to 700 bar (290 to 10153 psi): {SLIP}",
        ),
        ("bucket_s", "0", f"“0” lies outside 1 to 3600 s: {SLIP}"),
        ("screen", "clogd", "“clogd” is not a word of this field. Did you mean “clogged”?"),
    ],
)
def test_bad_input_gets_one_sentence_and_is_kept(question_id: str, text: str, sentence: str) -> None:
    assert trouble(question_id, text) == sentence


@settings(max_examples=60)
@given(st.dictionaries(st.sampled_from(sorted(questions())), st.text(max_size=12), max_size=6))
def test_no_text_breaks_it(texts: dict[str, str]) -> None:
    view = consider(typed(texts))
    assert view.diagnosis.answer is Verdict.CANNOT_TELL or view.diagnosis.because


# -- cannot say


def test_cannot_say_goes_on_to_the_next_thing_and_keeps_the_text() -> None:
    answers = typed({**CLOGGED_WAND, "bucket_s": ""}).with_text("bucket_l", "10 qt")
    assert consider(answers).diagnosis.next_step.what is Try.TIME_BUCKET
    given_up = answers.with_cannot_say("bucket_l")
    view = consider(given_up)
    assert view.diagnosis.next_step.what is not Try.TIME_BUCKET
    assert asked(view, "bucket_l").answer.text == "10 qt"
    taken_back = given_up.with_text("bucket_l", "10 L").with_text("bucket_s", "110")
    assert consider(taken_back) == consider(typed(CLOGGED_WAND))


def test_one_figure_of_the_plate_given_up_still_asks_for_the_others() -> None:
    told = typed({"leak": "nowhere", "low_pressure_nozzle": "no"}).with_cannot_say("rated_rpm")
    assert consider(told).diagnosis.next_step.what is Try.READ_PLATE
    assert consider(told).next_question_id == "rated_lpm"
    rest = told.with_text("rated_lpm", "2.5 gpm").with_text("rated_bar", "2700 psi")
    assert consider(rest).diagnosis.next_step.what is not Try.READ_PLATE


def test_giving_up_what_speaks_for_nothing_else_condemns_no_pump() -> None:
    for question_id in set(WORN_PUMP) - NOT_IN_THE_PROOF:
        view = consider(typed(WORN_PUMP).with_cannot_say(question_id))
        assert view.diagnosis.answer is Verdict.CANNOT_TELL, question_id


# -- what the job tells


def told(*more: Observation, job: Job = JOB) -> Tellings:
    rows = tiny_rows().observations
    for one in more:
        rows = without(rows, one.entry_id, one.field)
    return told_of(tiny(observations=(*rows, *more)), job)


def test_the_plate_is_prefilled_with_how_it_is_known() -> None:
    tellings = told(
        reading("P1", "rating_flow_lpm", 9.5, "plate", seen_by="Ana", seen_on="2025-11-03", doubt=0.1),
        reading("M1", "nozzle_number", 3.5, "claimed", source="seller's page"),
    )
    view = consider(PumpAnswers(), tellings)
    flow = asked(view, "rated_lpm")
    assert flow.value == Range.around(9.5, 0.1)
    assert flow.told is not None
    assert flow.told.known_by == "plate, Ana, 2025-11-03"
    assert flow.told.shown == "9.4 to 9.6 lpm (2.48 to 2.54 gpm)"
    nozzle = asked(view, "nozzle_number")
    assert nozzle.value == Range.exactly(3.5)
    assert nozzle.told is not None
    assert nozzle.told.known_by == "claimed"


def test_what_is_typed_goes_before_what_the_job_tells() -> None:
    view = consider(typed({"rated_rpm": "1450"}).with_cannot_say("rated_bar"), told())
    assert asked(view, "rated_rpm").value == Range.exactly(1450)
    assert asked(view, "rated_bar").value is None
    assert asked(view, "rated_lpm").value is not None
    assert [one.question.question_id for one in view.from_job] == ["rated_lpm", "nozzle_number"]


def test_a_guessed_number_and_a_typical_value_are_shown_and_not_reckoned_with() -> None:
    guessed = told(job=Job("P1", "M1", "Heron 27", (), guessed_number=True))
    assert not guessed["rated_lpm"].decides
    assert "guessed" in guessed["rated_lpm"].known_by
    typical = told(reading("P1", "rating_flow_lpm", 9.5, "typical"))
    assert not typical["rated_lpm"].decides
    view = consider(PumpAnswers(), typical)
    assert asked(view, "rated_lpm").value is None
    assert asked(view, "rated_rpm").value is not None


def test_two_versions_count_as_both() -> None:
    two = told(reading("P1", "rating_flow_lpm", 9.5, doubt=0.0), reading("P1", "rating_flow_lpm", 13.0, doubt=0.0))
    assert two["rated_lpm"].value == Range(9.5, 13.0)
    assert two["rated_lpm"].known_by.endswith("two versions, reckoned with both")


def test_the_pump_of_the_build_is_meant_where_none_is_named() -> None:
    assert told_of(tiny(), Job(None, "M1", "Heron 27", ())) == told_of(tiny(), JOB)
    assert not told_of(tiny(entries=(entry("P1", "pump"),), machines=()), Job(None, None, "", ()))


# -- cautions


@pytest.mark.parametrize("what", Try)
def test_every_caution_has_its_source(what: Try) -> None:
    for caution in step(what).cautions:
        assert CAUTION_SOURCES[caution.template]


def test_the_makers_manual_comes_first_and_no_caution_is_left_out() -> None:
    for texts in ({}, CLOGGED_WAND, WORN_PUMP):
        view = consider(typed(texts))
        assert view.cautions[0].said.template == MANUAL
        assert {one.said.template for one in view.cautions} == {
            one.template for one in view.diagnosis.next_step.cautions
        }
