"""What a check answers, and what the judge makes of all answers."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum, StrEnum

from xref_app.core.model.known import How
from xref_app.core.model.shelf import Part
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence


class Outcome(IntEnum):
    """The answer of one check, best first."""

    PASS = 0
    BY_PARTS = 1
    UNKNOWN = 2
    FAIL = 3

    @property
    def word(self) -> str:
        """Return the word used in files and on screen."""
        return self.name.lower().replace("_", " ")


class Verdict(StrEnum):
    """What all findings together say; the words are fixed."""

    FITS = "Fits as is"
    FITS_WITH_PARTS = "Fits with parts"
    NOT_KNOWN_YET = "Not known yet"
    DOES_NOT_FIT = "Does not fit"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A range with its unit (``""`` for a bare number), as shown under needed, offered and gap."""

    range: Range
    unit: str


# What stands under needed, offered and gap: a quantity, words, or nothing to show.
Shown = Quantity | str | None


@dataclass(frozen=True, slots=True)
class Need:
    """A part that a finding rests on: one from the list, a standard one to order, or one to make.

    ``quantity`` counts pieces; ``what`` says in words what it must be. ``listed`` is None for a piece that nobody
    lists: it is standard and to order, unless ``to_make`` says that it has to be made by the words.
    """

    what: Sentence
    quantity: int
    listed: Part | None = None
    to_make: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """The answer to one question about fit.

    ``measure`` names the fields (ids of data_schema/sizes.schema.json) whose measurement would decide it; ``used``
    the fields it rests on with how each is known; ``danger`` a line that nothing can hide; ``on_arrival`` that an
    unknown here blocks nothing.
    """

    check: str
    outcome: Outcome
    reason: Sentence
    source: str
    needed: Shown = None
    offered: Shown = None
    gap: Shown = None
    measure: tuple[str, ...] = ()
    used: tuple[tuple[str, How], ...] = ()
    needs: tuple[Need, ...] = ()
    danger: Sentence | None = None
    change: Sentence | None = None
    notes: tuple[Sentence, ...] = ()
    on_arrival: bool = False

    @property
    def blocks(self) -> bool:
        """Say whether this finding stands in the way of 'Fits as is' and 'Fits with parts'."""
        if self.outcome is Outcome.UNKNOWN:
            return not self.on_arrival
        return self.outcome is Outcome.FAIL


@dataclass(frozen=True, slots=True)
class Judgement:
    """Every finding, in the order of the list of checks, and the verdict they add up to.

    ``claims`` are the fields that are only claimed and that the verdict rests on; ``measure_next`` the fields that
    would decide what is open, most useful first; ``clocking_deg`` the turn of the pump the verdict rests on
    (counter-clockwise in the view of the holes), None while no turn is known to work.
    """

    verdict: Verdict
    findings: tuple[Finding, ...]
    needs: tuple[Need, ...] = ()
    measure_next: tuple[str, ...] = ()
    danger: tuple[Sentence, ...] = ()
    cautions: tuple[Sentence, ...] = ()
    claims: tuple[str, ...] = ()
    clocking_deg: float | None = None
    notes: tuple[Sentence, ...] = field(default=())
