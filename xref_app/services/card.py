"""The measure card: what is asked of one field, one step at a time, and what the answers come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from xref_app.core.fields.fields import Field
from xref_app.core.identify.answer import Identified
from xref_app.core.sentence import Sentence

Answers = Mapping[str, str]

# The one step of a card that asks for a single value.
VALUE = "value"


class StepKind(StrEnum):
    """What an answer to a step is."""

    LENGTH = "length"
    TEXT = "text"
    CHOICE = "choice"


@dataclass(frozen=True, slots=True)
class Picture:
    """Which drawing shows where the jaws go."""

    step: str = ""
    holes: int = 4
    way: str = ""


@dataclass(frozen=True, slots=True)
class CardStep:
    """One question: its name among the answers, what to do, how an answer looks, and the picture.

    ``short`` names the step in the record ('far edges'); ``example`` shows how an answer is written; ``choices`` is the
    closed list of a choice. ``is_optional``: the card goes on without it (F4); where it is not, F4 skips the field.
    ``usual_mm`` bounds what a length can be, mm (house rule): one that is only likely in the other unit is asked about.
    """

    key: str
    short: str
    ask: Sentence
    kind: StepKind = StepKind.LENGTH
    choices: tuple[str, ...] = ()
    picture: Picture = Picture()
    example: str = ""
    is_optional: bool = False
    usual_mm: tuple[float, float] = (0.0, 1000.0)


@dataclass(frozen=True, slots=True)
class Worked:
    """What the answers come to.

    ``text`` is canonical, fit for the field; ``doubt`` its half-width in mm (0 where it has none); ``shown`` says it in
    words; ``how`` is weaker than measured where part of it was only looked at.
    """

    text: str
    shown: str
    doubt: float = 0.0
    how: str = "measured"
    notes: tuple[Sentence, ...] = ()


class Card(Protocol):
    """Asks for one field. A card holds nothing: the answers so far are handed in each time."""

    @property
    def field(self) -> Field:
        """Return the field that the card is about."""
        ...

    def step(self, answers: Answers) -> CardStep | None:
        """Return what to ask next; None once nothing more is worth asking."""
        ...

    def identified(self, answers: Answers) -> Identified | None:
        """Return what the answers so far can be, or None where nothing published is looked for."""
        ...

    def worked(self, answers: Answers) -> Worked | None:
        """Return the value of the field, or None while the answers do not say it.

        Raises:
            XrefError: the answers cannot all be true.
        """
        ...
