"""One field on the measure card, from the first key to the value that is written down; plain values throughout."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from types import MappingProxyType

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import Kind
from xref_app.core.identify.answer import Identified
from xref_app.core.model.known import How, Known
from xref_app.core.quantity.inch_or_mm import InchOrMm
from xref_app.core.quantity.lengths import parse_length_mm
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.show import plain_number, show_range, show_value
from xref_app.core.sentence import Sentence, marked
from xref_app.services.card import VALUE, Answers, Card, CardStep, StepKind
from xref_app.services.card_thread import designation_of
from xref_app.services.field_reading import OutsideUsualError, read_typed_field, unit_question, usual_text
from xref_app.services.offers import published_sizes
from xref_app.services.unit_draft import Typed

KEEP_MINE = marked("card", "keep my reading")
IT_IS = marked("card", "it is {label}")
INCHES = marked("card", "{number:g} in = {as_inch_mm:.5g} mm")
MILLIMETRES = marked("card", "{number:g} mm = {as_mm_in:.4g} in")
TYPE_OR_SKIP = marked("card", "Type what you read, or F4 where it cannot be reached.")
NOT_SETTLED = marked("card", "The readings leave several; choose one with Down and Enter, or F4 to leave it open.")
CHOOSE_UNIT = marked("card", "Inch or mm? Choose with Down and Enter.")
CHOOSE = marked("card", "Choose with Down and Enter, or type it.")
CAN_BE = marked("card", "Can be {labels}.")
AND_MORE = marked("card", "And {count} more.")
NOTHING = marked("card", "Nothing published has these sizes.")

# A list of candidates longer than this says only that more must be measured (house rule).
_MOST_CHOICES = 12


class ChoiceKind(StrEnum):
    """What taking a choice means."""

    KEEP = "keep"
    TAKEN_AS = "taken as"
    UNIT = "unit"
    WORD = "word"
    CANDIDATE = "candidate"


@dataclass(frozen=True, slots=True)
class Choice:
    """One line below the measure field; ``value`` is what it writes down."""

    kind: ChoiceKind
    value: str
    label: Sentence | str


@dataclass(frozen=True, slots=True)
class Preview:
    """What the text in the measure field would be: as read in both units, what is wrong, what to choose from."""

    reads: str = ""
    trouble: str = ""
    choices: tuple[Choice, ...] = ()
    notes: tuple[Sentence, ...] = ()
    must_choose: bool = False


class NotTakenError(XrefError):
    """An answer that cannot be taken yet; the text stays in the field."""


@dataclass(frozen=True)
class CardSession:
    """The card of one field in work. ``texts`` are readings taken already, ``answers`` those of a card of many steps.

    ``known`` are the other sizes of the draft, which tell look-alikes apart.
    """

    card: Card
    texts: tuple[str, ...] = ()
    answers: Answers = field(default_factory=lambda: MappingProxyType({}))
    unit: str = "mm"
    instrument: str = ""
    how: str = "measured"
    known: Mapping[str, Known] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def step(self) -> CardStep | None:
        """Return what is asked now; None once the card has all it wants."""
        return self.card.step(self.answers)

    @property
    def is_plain(self) -> bool:
        """Say whether the card asks for one value only."""
        step = self.step
        return step is not None and step.key == VALUE

    def preview(self, text: str) -> Preview:
        """Return what ``text`` would be."""
        step = self.step
        if step is None:
            return Preview()
        if step.kind is StepKind.CHOICE:
            words = _words(step, text)
            found = Preview() if self.is_plain else self._candidates(self.answers)
            return replace(words, choices=(*words.choices, *found.choices), notes=found.notes)
        if not text.strip() and not (self.is_plain and self.texts):
            return self._candidates(self.answers)
        try:
            return self._plain_preview(text) if self.is_plain else self._step_preview(step, text)
        except XrefError as error:
            return Preview(trouble=str(error))

    def again(self, text: str) -> CardSession:
        """Return the session with ``text`` as one reading more, ready for the next.

        Raises:
            XrefError: the text is no reading of this field, or its unit must be chosen first.
        """
        preview = self._plain_preview(text)
        if preview.must_choose:
            raise NotTakenError(str(Sentence(CHOOSE_UNIT)))
        return replace(self, texts=(*self.texts, text.strip()))

    def take(self, text: str, choice: Choice | None = None) -> CardSession | Typed:
        """Return what is written down, or the session at its next step.

        Raises:
            XrefError: the text is nothing this step can take; one sentence.
        """
        step = self.step
        if step is None:
            return self._finished(self.answers)
        if choice is not None and choice.kind is ChoiceKind.CANDIDATE:
            return self._as_candidate(step, text, choice.value)
        if step.kind is StepKind.CHOICE:
            text = choice.value if choice is not None else _word(step, text)
        if not self.is_plain:
            return self._next(step, text, choice)
        return self._taken(text, choice)

    def skip_step(self) -> CardSession | Typed | None:
        """Return the session past an optional step; None where the whole field is skipped."""
        step = self.step
        if step is None or not step.is_optional:
            return None
        return self._advanced({**self.answers, step.key: ""})

    def back(self) -> tuple[CardSession, str]:
        """Return the session one step before, and what was answered there; at the first step the session as it is."""
        if not self.answers:
            return self, ""
        *earlier, last = self.answers
        answers = MappingProxyType({key: self.answers[key] for key in earlier})
        return replace(self, answers=answers), self.answers[last]

    # -- one value

    def _typed(self, text: str) -> Typed:
        texts = (*self.texts, text.strip()) if text.strip() else self.texts
        return Typed(texts=texts, unit=self.unit, instrument=self.instrument, how=self.how)

    def _plain_preview(self, text: str) -> Preview:
        reading = read_typed_field(self.card.field, self._typed(text))
        if reading.question is not None:
            return _asked(reading.question)
        notes = (reading.spread,) if reading.spread is not None else ()
        found = published_sizes(reading.field.field_id, {**self.known, reading.field.field_id: reading.known})
        if found is None:
            return Preview(reads=reading.shown, notes=notes)
        return Preview(reading.shown, "", _offers(found), (*notes, *_said_of(found)))

    def _taken(self, text: str, choice: Choice | None) -> Typed:
        if not text.strip() and not self.texts:
            raise NotTakenError(str(Sentence(TYPE_OR_SKIP)))
        typed = self._typed(text)
        reading = read_typed_field(self.card.field, typed)
        if reading.question is not None:
            answered = _answered(reading.question, choice)
            typed = replace(typed, texts=(*self.texts, answered) if text.strip() else (answered,))
            if read_typed_field(self.card.field, typed).question is not None:
                raise OutsideUsualError(self.card.field.title, answered, usual_text(self.card.field))
        if choice is not None and choice.kind is ChoiceKind.TAKEN_AS:
            typed = replace(typed, taken_as=choice.value)
        return typed

    # -- several steps

    def _next(self, step: CardStep, text: str, choice: Choice | None) -> CardSession | Typed:
        if not text.strip():
            raise NotTakenError(str(Sentence(TYPE_OR_SKIP)))
        if step.kind is StepKind.LENGTH:
            question = unit_question(text, unit=self.unit, usual_mm=step.usual_mm)
            if question is not None:
                text = _answered(question, choice)
            low, high = step.usual_mm
            if not low <= parse_length_mm(text, default_unit=self.unit).value_mm <= high:
                raise OutsideUsualError(step.short.capitalize(), text.strip(), show_range(Range(low, high), "mm"))
        return self._advanced({**self.answers, step.key: text.strip()})

    def _advanced(self, answers: Mapping[str, str]) -> CardSession | Typed:
        ahead = replace(self, answers=MappingProxyType(dict(answers)))
        if ahead.card.step(ahead.answers) is None:
            return self._finished(ahead.answers)
        return ahead

    def _step_preview(self, step: CardStep, text: str) -> Preview:
        reads = ""
        if step.kind is StepKind.LENGTH:
            question = unit_question(text, unit=self.unit, usual_mm=step.usual_mm)
            if question is not None:
                return _asked(question)
            reads = show_value(parse_length_mm(text, default_unit=self.unit).value_mm, "mm")
        found = self._candidates({**self.answers, step.key: text})
        return replace(found, reads=reads)

    def _candidates(self, answers: Answers) -> Preview:
        found = self.card.identified(answers)
        if found is None:
            return Preview()
        is_call = self.card.field.kind is Kind.THREAD
        listed = found.candidates[:_MOST_CHOICES] if is_call else ()
        choices = tuple(
            Choice(ChoiceKind.CANDIDATE, one.label, Sentence(IT_IS, {"label": one.label})) for one in listed
        )
        return Preview(choices=choices, notes=_said_of(found, listed=is_call))

    def _as_candidate(self, step: CardStep, text: str, label: str) -> Typed:
        """Return a candidate picked from the list: measured where it alone is left and is published, else claimed.

        What stands in the measure field was read before the list was shown, so it counts like an answer.
        """
        answers = dict(self.answers)
        if text.strip() and step.kind is not StepKind.CHOICE:
            answers[step.key] = text.strip()
        found = self.card.identified(answers)
        is_sure = found is not None and not found.ambiguous and found.candidates[0].decides
        how = "measured" if is_sure else "claimed"
        return self._typed_parts(designation_of(label, self.card.field), answers, how=how)

    def _finished(self, answers: Answers) -> Typed:
        worked = self.card.worked(answers)
        if worked is None:
            raise NotTakenError(str(Sentence(NOT_SETTLED)))
        return replace(self._typed_parts(worked.text, answers, how=worked.how), worked_doubt=worked.doubt)

    def _typed_parts(self, worked: str, answers: Answers, *, how: str) -> Typed:
        parts = tuple((key, text) for key, text in answers.items() if text)
        texts = tuple(f"{_short(key)} {text}" for key, text in parts)
        weaker = max(How[self.how.upper()], How[how.upper()])  # a claim worked out on a card is still a claim
        return Typed(texts=texts, parts=parts, unit=self.unit, how=weaker.word, worked=worked)


def _asked(question: InchOrMm) -> Preview:
    """Return both readings of one number to choose from."""
    both = question.question
    choices = (
        Choice(ChoiceKind.UNIT, "in", Sentence(INCHES, both.values)),
        Choice(ChoiceKind.UNIT, "mm", Sentence(MILLIMETRES, both.values)),
    )
    return Preview(choices=choices, notes=(both,), must_choose=True)


def _answered(question: InchOrMm, choice: Choice | None) -> str:
    """Return the number with the unit that was chosen, whatever unit stood beside it.

    Raises:
        NotTakenError: nothing was chosen.
    """
    if choice is None or choice.kind is not ChoiceKind.UNIT:
        raise NotTakenError(str(Sentence(CHOOSE_UNIT)))
    return f"{plain_number(float(question.number))} {choice.value}"


def _short(key: str) -> str:
    """Return the name of a step for the record: ``outside`` for ``outside_mm``."""
    return key.removesuffix("_mm").removesuffix("_deg").replace("_", " ")


def _words(step: CardStep, text: str) -> Preview:
    start = text.strip().casefold()
    words = [word for word in step.choices if word.casefold().startswith(start)] or [
        word for word in step.choices if start in word.casefold()
    ]
    return Preview(choices=tuple(Choice(ChoiceKind.WORD, word, word) for word in words), must_choose=len(words) != 1)


def _word(step: CardStep, text: str) -> str:
    preview = _words(step, text)
    exact = [one for one in preview.choices if one.value.casefold() == text.strip().casefold()]
    found = exact or (list(preview.choices) if text.strip() else [])
    if len(found) != 1:
        raise NotTakenError(str(Sentence(CHOOSE)))
    return found[0].value


def _offers(found: Identified) -> tuple[Choice, ...]:
    if not found.candidates:
        return ()
    listed = found.candidates[:_MOST_CHOICES]
    keep = Choice(ChoiceKind.KEEP, "", Sentence(KEEP_MINE))
    return (
        keep,
        *(Choice(ChoiceKind.TAKEN_AS, one.label, Sentence(IT_IS, {"label": one.label})) for one in listed),
    )


def _said_of(found: Identified, *, listed: bool = True) -> tuple[Sentence, ...]:
    """Return what is to be said: candidates that stand in the list below the field are not said again."""
    said = list(found.notes)
    more = len(found.candidates) - _MOST_CHOICES
    if found.candidates and not listed:
        said.append(Sentence(CAN_BE, {"labels": ", ".join(one.label for one in found.candidates[:_MOST_CHOICES])}))
    if more > 0:
        said.append(Sentence(AND_MORE, {"count": more}))
    if not found.candidates and not found.notes:
        said.append(Sentence(NOTHING))
    if found.next_measurement is not None:
        said.append(found.next_measurement.ask)
    return tuple(said)
