"""The card of a field that takes one answer: a size, a word, yes or no, heights, sectors."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.fields.fields import Field, Kind
from xref_app.core.identify.answer import Identified
from xref_app.core.sentence import Sentence
from xref_app.services.card import VALUE, Answers, CardStep, Picture, StepKind, Worked

_YES_NO = ("yes", "no")
_EXAMPLES = {Kind.HEIGHTS: "0; 0; 0; -2", Kind.SECTORS: "0 90; 180 270"}
_BY_UNIT = {
    "bar": "2700 psi, 190 bar",
    "lpm": "2.5 gpm, 9.5 l/min",
    "kw": "5.5 hp, 4.1 kW",
    "rpm": "3400",
    "c": "60 °C, 140 °F",
    "deg": "90",
}


@dataclass(frozen=True, slots=True)
class PlainCard:
    """One question. Its answer is read by the field itself, with tool, unit and doubt; so ``worked`` says nothing."""

    field: Field
    holes: int = 4

    def step(self, answers: Answers) -> CardStep | None:
        """Return the question while it has no answer."""
        if VALUE in answers:
            return None
        ask = Sentence(self.field.how_to_measure.replace("{", "{{").replace("}", "}}"))
        kind = StepKind.TEXT
        choices: tuple[str, ...] = ()
        match self.field.kind:
            case Kind.NUMBER:
                kind = StepKind.LENGTH if self.field.unit == "mm" else StepKind.TEXT
            case Kind.WORD:
                kind, choices = StepKind.CHOICE, self.field.choices
            case Kind.YES_NO:
                kind, choices = StepKind.CHOICE, _YES_NO
        example = _EXAMPLES.get(self.field.kind, _BY_UNIT.get(self.field.unit, ""))
        return CardStep(VALUE, self.field.title, ask, kind, choices, Picture(holes=self.holes), example)

    def identified(self, answers: Answers) -> Identified | None:
        """Return None: what a size can be depends on its tool and doubt, which the reading knows."""
        del answers
        return None

    def worked(self, answers: Answers) -> Worked | None:
        """Return None: the answer stands for itself."""
        del answers
        return None
