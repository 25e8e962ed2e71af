"""Is it the pump? The one question, answered from whatever is known."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.diagnose.arithmetic import worked_out
from xref_app.core.diagnose.because import because
from xref_app.core.diagnose.evidence import Evidence
from xref_app.core.diagnose.next_step import next_step
from xref_app.core.diagnose.proof import verdict
from xref_app.core.diagnose.ranking import RankedCause, ranked_causes
from xref_app.core.diagnose.signs import Facts
from xref_app.core.diagnose.steps import Step
from xref_app.core.diagnose.words import Verdict
from xref_app.core.diagnose.workings import Workings
from xref_app.core.sentence import Sentence


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """The answer and what it rests on, the arithmetic, all causes best first, and the one thing to try next."""

    answer: Verdict
    because: tuple[Sentence, ...]
    workings: Workings
    causes: tuple[RankedCause, ...]
    next_step: Step


def diagnose(evidence: Evidence) -> Diagnosis:
    """Return whether it is the pump, as far as the evidence goes.

    A conclusion is drawn only where it holds for every value of every reading. The order of the causes is a house rule:
    it says what to look at, and proves nothing.
    """
    facts = Facts(evidence, worked_out(evidence))
    answer = verdict(facts)
    return Diagnosis(
        answer=answer,
        because=because(facts, answer),
        workings=facts.workings,
        causes=ranked_causes(facts),
        next_step=next_step(facts, answer),
    )
