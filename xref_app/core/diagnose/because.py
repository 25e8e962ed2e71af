"""Why the answer is what it is, in the sums and looks that it rests on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from xref_app.core.diagnose.proof import shown_by_sight
from xref_app.core.diagnose.signs import Facts
from xref_app.core.diagnose.signs_looked import CRACK_LEAK, CURED, OIL_MILKY_AGAIN, WEEP_LEAK
from xref_app.core.diagnose.words import Leak, Oil, Part, Verdict
from xref_app.core.sentence import Sentence, marked

LOST_INSIDE = marked(
    "diagnose",
    "The water is there, nothing keeps it from the pump and none of it leaves on the way: it is lost inside the pump.",
)
DELIVERS = marked("diagnose", "The pump delivers what it should, and would at its rated pressure too.")
OPEN = marked("diagnose", "Nothing shows the pump bad over the whole range of the readings, and nothing clears it.")

_SEEN: Final = {Leak.CRACK: CRACK_LEAK, Leak.WEEP_HOLES: WEEP_LEAK}


def because(facts: Facts, answer: Verdict) -> tuple[Sentence, ...]:
    """Return what the answer rests on, at least one sentence."""
    match answer:
        case Verdict.PUMP:
            return tuple(_bad(facts))
        case Verdict.NOT_PUMP:
            return tuple(_cleared(facts))
        case Verdict.CANNOT_TELL:
            return (Sentence(OPEN),)


def _bad(facts: Facts) -> Iterator[Sentence]:
    evidence, workings = facts.evidence, facts.workings
    if evidence.leak in _SEEN:
        yield Sentence(_SEEN[evidence.leak])
    if evidence.oil is Oil.MILKY_AGAIN:
        yield Sentence(OIL_MILKY_AGAIN)
    if not shown_by_sight(evidence):
        yield from (one.said for one in (workings.held_share, workings.open_share) if one is not None)
        yield Sentence(LOST_INSIDE)


def _cleared(facts: Facts) -> Iterator[Sentence]:
    evidence, workings = facts.evidence, facts.workings
    if evidence.cured_by:
        yield from (Sentence(CURED[part]) for part in Part if part in evidence.cured_by)
        return
    yield from (one.said for one in (workings.held_share, workings.slip_at_rated_share) if one is not None)
    yield Sentence(DELIVERS)
