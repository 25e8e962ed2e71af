"""What the person typed and chose about a pump, kept as text, and what of it can be used as evidence."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from xref_app.core.errors import XrefError
from xref_app.core.quantity.choices import read_word
from xref_app.core.quantity.errors import MeasureError, shown
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.show import plain_number, show_range
from xref_app.core.quantity.spans import parse_span
from xref_app.core.quantity.units import US_GALLON, Kind
from xref_app.services.pump_questions import AmountForm, Question

# House rule: no answer is longer; longer is a slip of the clipboard.
LONGEST_ANSWER = 60


class AnswerError(XrefError):
    """A number that no such thing has; the text says what was found and what it can be."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What stands in one question: the text as typed or chosen, kept also where nothing can be said."""

    text: str = ""
    cannot_say: bool = False


_BLANK = Answer()


@dataclass(frozen=True, slots=True)
class PumpAnswers:
    """All that the person answered for one job, by question; nothing is lost that was typed."""

    by_id: Mapping[str, Answer] = field(default_factory=lambda: MappingProxyType({}))

    def answer(self, question_id: str) -> Answer:
        """Return what stands in a question, blank where nothing does."""
        return self.by_id.get(question_id, _BLANK)

    def with_text(self, question_id: str, text: str) -> PumpAnswers:
        """Return the answers with ``text`` in a question; an empty one takes it away."""
        others = {name: one for name, one in self.by_id.items() if name != question_id}
        kept = {question_id: Answer(text[:LONGEST_ANSWER])} if text.strip() else {}
        return PumpAnswers(MappingProxyType(others | kept))

    def with_cannot_say(self, question_id: str) -> PumpAnswers:
        """Return the answers with “cannot say” in a question; what was typed there is kept beside it."""
        answer = replace(self.answer(question_id), cannot_say=True)
        return PumpAnswers(MappingProxyType(dict(self.by_id) | {question_id: answer}))

    @property
    def is_empty(self) -> bool:
        """Say whether nothing was answered yet."""
        return not self.by_id


def read_answer(question: Question, text: str) -> Range | str:
    """Return what ``text`` says: one of the question's words, or the range of a number in its canonical unit.

    Raises:
        MeasureError: it is none of the words, or no such number.
        AnswerError: no such thing has that value.
    """
    if question.amount is None:
        return read_word(text, question.words)
    if question.question_id == "nozzle_number":
        _refuse_unpointed(text)
    form = question.amount
    typed = parse_span(text, form.kind, doubt=_none, default_unit=form.unit)
    if not form.lowest <= typed.low <= typed.high <= form.highest:
        raise AnswerError(
            f"“{shown(text.strip())}” lies outside {shown_amount(form, Range(form.lowest, form.highest))}: "
            "look for a slip of typing or unit, then type it again."
        )
    return Range.around(typed.low, form.doubt(typed.low)) if typed.low == typed.high else typed


def _none(_value: float) -> float:
    return 0.0


def shown_amount(form: AmountForm, value: Range) -> str:
    """Return a range as people read it, in both units where there are two."""
    if form.kind is Kind.VOLUME:
        gallons = value / float(US_GALLON.factor)
        return f"{_span(value)} L ({_span(gallons)} gal)"
    if form.kind is Kind.TIME:
        return f"{_span(value)} s"
    unit = {Kind.PRESSURE: "bar", Kind.FLOW: "lpm", Kind.SPEED: "rpm", Kind.TEMPERATURE: "c"}.get(form.kind, "")
    return show_range(value, unit)


_UNPOINTED = re.compile(r"0[0-9]+")


def _refuse_unpointed(text: str) -> None:
    """Refuse 035: on a nozzle it means 3.5, and read as it stands it would be ten times as large."""
    for number in _UNPOINTED.findall(re.sub(r"[0-9]*[.,][0-9]+", "", text)):
        meant = plain_number(int(number) / 10)
        raise MeasureError(text, f"can mean {meant} or {int(number)}", meant)


def _span(value: Range) -> str:
    low, high = (plain_number(round(one, 2)) for one in (value.low, value.high))
    return low if low == high else f"{low} to {high}"
