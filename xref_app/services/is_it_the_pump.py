"""Is it the pump? What was typed and what the job tells, read as evidence, and the diagnosis ready to show."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from xref_app.core.diagnose.caution_sources import CAUTION_SOURCES
from xref_app.core.diagnose.diagnose import Diagnosis, diagnose
from xref_app.core.diagnose.steps import MANUAL, Step
from xref_app.core.diagnose.words import Try
from xref_app.core.errors import XrefError
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence
from xref_app.services.pump_answers import Answer, PumpAnswers, read_answer, shown_amount
from xref_app.services.pump_evidence import evidence_of
from xref_app.services.pump_questions import Question, questions
from xref_app.services.pump_told import NOTHING_TOLD, Tellings, Told


@dataclass(frozen=True, slots=True)
class Asked:
    """One question as it stands.

    Attributes:
        question: What is asked.
        answer: What was typed or chosen.
        told: What the job tells, None where it tells nothing; an answer goes before it.
        value: What counts: a range in the question's unit, or a word; None where nothing does.
        read_as: A number as it was understood, with its doubt and both units.
        trouble: Why what was typed cannot be used, one sentence; empty where it can.
        is_next: Whether the next thing to try answers it.
    """

    question: Question
    answer: Answer
    told: Told | None
    value: Range | str | None
    read_as: str
    trouble: str
    is_next: bool

    @property
    def is_open(self) -> bool:
        """Say whether nothing is known, and nobody said that nothing can be."""
        return self.value is None and not self.answer.cannot_say


@dataclass(frozen=True, slots=True)
class Caution:
    """What to mind, and where that comes from."""

    said: Sentence
    source: str


@dataclass(frozen=True, slots=True)
class PumpView:
    """All questions in their order, the diagnosis, and the cautions of the next step: the maker's manual first."""

    asked: tuple[Asked, ...]
    diagnosis: Diagnosis
    cautions: tuple[Caution, ...]

    @property
    def from_job(self) -> tuple[Asked, ...]:
        """Return the questions whose value the job told, and nobody read here: the answer may rest on them."""
        return tuple(one for one in self.asked if one.told is not None and one.value is one.told.value)

    @property
    def next_question_id(self) -> str:
        """Return the first open question that the next step answers; with nothing answered, the first of all.

        Empty where the next step answers none.
        """
        if not any(one.answer.text or one.answer.cannot_say for one in self.asked):
            return self.asked[0].question.question_id
        wanted = [one for one in self.asked if one.is_next]
        best = [one for one in wanted if one.is_open] or wanted
        return best[0].question.question_id if best else ""


def consider(answers: PumpAnswers, told: Tellings = NOTHING_TOLD) -> PumpView:
    """Return the questions with their answers, and what follows from them; what cannot be read counts as not known."""
    read = {one: _read(question, answers.answer(one), told.get(one)) for one, question in questions().items()}
    values = {name: one.value for name, one in read.items() if one.value is not None}
    diagnosis = diagnose(evidence_of(values, frozenset(_given_up(read))))
    asked = tuple(_marked(one, diagnosis.next_step.what) for one in read.values())
    return PumpView(asked, diagnosis, _cautions(diagnosis.next_step))


def _read(question: Question, answer: Answer, told: Told | None) -> Asked:
    is_told = told is not None and told.decides and not answer.text and not answer.cannot_say
    value: Range | str | None = told.value if told is not None and is_told else None
    if not answer.text or answer.cannot_say:
        return Asked(question, answer, told, value, "", "", is_next=False)
    try:
        value = read_answer(question, answer.text)
    except XrefError as refusal:
        return Asked(question, answer, told, None, "", str(refusal), is_next=False)
    form = question.amount
    read_as = shown_amount(form, value) if form is not None and isinstance(value, Range) else ""
    is_plain = read_as.startswith(f"{answer.text.strip()} ") or read_as == answer.text.strip()
    return Asked(question, answer, told, value, "" if is_plain else read_as, "", is_next=False)


def _marked(asked: Asked, step: Try) -> Asked:
    is_next = asked.question.by is _ANSWERED_BY.get(step, step)
    return Asked(asked.question, asked.answer, asked.told, asked.value, asked.read_as, asked.trouble, is_next=is_next)


# Where putting a thing right is told: what came of it stands among what was tried.
_ANSWERED_BY: Final = {
    Try.MEND_HOSE: Try.SWAP_WAND,
    Try.LOWER_UNLOADER: Try.SWAP_UNLOADER,
    Try.SET_UNLOADER: Try.SWAP_UNLOADER,
    Try.COOL_RELIEF: Try.SWAP_RELIEF,
    Try.CHANGE_OIL: Try.LOOK_AT_OIL,
}


def _cautions(step: Step) -> tuple[Caution, ...]:
    first = sorted(step.cautions, key=lambda one: one.template != MANUAL)
    return tuple(Caution(one, CAUTION_SOURCES[one.template]) for one in first)


def _given_up(asked: Mapping[str, Asked]) -> Iterator[Try]:
    """Yield the steps of which nothing can be said: one question of it was given up, and none that counts is open."""
    for step in {one.question.by for one in asked.values()} - {None}:
        of_step = [one for one in asked.values() if one.question.by is step]
        is_open = any(one.is_open and not one.question.is_extra for one in of_step)
        if step is not None and not is_open and any(one.answer.cannot_say for one in of_step):
            yield step
    if asked["closer"].value is not None:
        yield Try.MEASURE_CLOSER
