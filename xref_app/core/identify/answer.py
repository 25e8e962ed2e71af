"""What every identification answers: ranked candidates with their evidence, and what to measure to decide."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence


@dataclass(frozen=True, slots=True)
class Evidence:
    """One reading held against one candidate.

    ``reading`` is the name of the reading as the input spells it (``outside_mm``); ``read`` what the reading allows and
    ``limits`` what the candidate allows, both in the reading's unit; ``said`` the two in words.
    """

    reading: str
    read: Range
    limits: Range
    said: Sentence


@dataclass(frozen=True, slots=True)
class Candidate:
    """One published thing that the readings can be.

    ``label`` is what to write down (``1/2-14 NPT``, ``3/4 in``, ``56C``); ``system`` its family (``NPT``, ``inch``,
    ``metric``); ``nominal_mm`` its basic size, mm. ``decides`` is False where its sizes are from memory: such a
    candidate is a hint and no verdict may rest on it.
    """

    label: str
    system: str
    nominal_mm: float
    evidence: tuple[Evidence, ...]
    decides: bool
    source: str


@dataclass(frozen=True, slots=True)
class NextMeasurement:
    """The one reading that tells most of the candidates apart.

    ``reading`` is its name in the input; ``ask`` says how to take it; ``between`` are the labels it tells apart.
    """

    reading: str
    ask: Sentence
    between: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Identified:
    """The answer: ``candidates`` best first, none where nothing published meets the readings.

    ``ambiguous`` says that the readings leave more than one; then ``next_measurement`` names what would decide, and
    is None only where no reading the shop can take would. ``notes`` say what must not be rounded away: worn,
    undersize, between two sizes.
    """

    candidates: tuple[Candidate, ...]
    ambiguous: bool
    next_measurement: NextMeasurement | None = None
    notes: tuple[Sentence, ...] = ()
