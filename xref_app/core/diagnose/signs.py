"""What one sign is: something seen or worked out, in words, and what it says for and against which causes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from xref_app.core.diagnose.arithmetic import percent
from xref_app.core.diagnose.evidence import Evidence
from xref_app.core.diagnose.words import Cause
from xref_app.core.diagnose.workings import Working, Workings
from xref_app.core.sentence import Sentence

PRACTICE = "common practice, no published source"
ARITHMETIC = "the arithmetic shown; limits: House rule."


@dataclass(frozen=True, slots=True)
class Facts:
    """The evidence and what it works out to."""

    evidence: Evidence
    workings: Workings


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing that tells causes apart.

    Attributes:
        words: Template of what is said where it holds; ``{figure}`` is the share in hundredths, where there is one.
        holds: Whether it is surely so.
        weights: By cause, above zero for it and below zero against it (house rule: they rank, they prove nothing).
        figure: The share that the words name.
        source: Where it comes from.
    """

    words: str
    holds: Callable[[Facts], bool]
    weights: Mapping[Cause, float]
    figure: Callable[[Workings], Working | None] | None = None
    source: str = PRACTICE

    def said(self, facts: Facts) -> Sentence:
        """Return the sign in words."""
        found = None if self.figure is None else self.figure(facts.workings)
        return Sentence(self.words, {} if found is None else {"figure": percent(found.value)})


@dataclass(frozen=True, slots=True)
class Clue:
    """A sign that holds, as far as it concerns one cause; ``weight`` is above zero where it speaks for it."""

    weight: float
    said: Sentence
    source: str


def surely_below(share: Working | None, limit: float) -> bool:
    """Say whether the share is known and every value of it is below ``limit``."""
    return share is not None and share.value.surely_below(limit)


def surely_at_least(share: Working | None, limit: float) -> bool:
    """Say whether the share is known and every value of it reaches ``limit``."""
    return share is not None and share.value.surely_at_least(limit)


def surely_above(share: Working | None, limit: float) -> bool:
    """Say whether the share is known and every value of it lies beyond ``limit``."""
    return share is not None and share.value.surely_above(limit)


def surely_at_most(share: Working | None, limit: float) -> bool:
    """Say whether the share is known and no value of it exceeds ``limit``."""
    return share is not None and share.value.surely_at_most(limit)
