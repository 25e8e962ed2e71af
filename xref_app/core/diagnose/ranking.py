"""Causes in the order of what speaks for them, each with its evidence for and against."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from xref_app.core.diagnose.house_rules import FAIR, SLIGHT
from xref_app.core.diagnose.signs import Clue, Facts
from xref_app.core.diagnose.signs_looked import LOOK_SIGNS, SYMPTOM_SIGNS, TRIAL_SIGNS
from xref_app.core.diagnose.signs_measured import MEASURED_SIGNS
from xref_app.core.diagnose.words import Cause

# How often it is that, before anything is known: the cheap and common ones first. House rule.
_BEFOREHAND: Final = {
    Cause.NOZZLE_WORN: SLIGHT,
    Cause.SCREEN_CLOGGED: SLIGHT,
    Cause.SUPPLY_STARVED: SLIGHT,
    Cause.FROZEN_HEAD: -FAIR,
    Cause.OIL_SEALS: -FAIR,
    Cause.RELIEF_OPEN: -SLIGHT,
    Cause.INJECTOR: -SLIGHT,
    Cause.HEALTHY: -SLIGHT,
}

SIGNS: Final = (*MEASURED_SIGNS, *LOOK_SIGNS, *TRIAL_SIGNS, *SYMPTOM_SIGNS)
"""Every sign there is, in the order in which evidence is shown."""

PUMP_CAUSES: Final = frozenset({Cause.VALVES, Cause.SEALS, Cause.FROZEN_HEAD, Cause.OIL_SEALS})
"""The causes that lie in the pump itself. The unloader and the relief valve are parts of their own."""


@dataclass(frozen=True, slots=True)
class RankedCause:
    """One cause with what speaks for and against it, the heaviest first; ``score`` only ranks (house rule)."""

    cause: Cause
    score: float
    evidence_for: tuple[Clue, ...]
    evidence_against: tuple[Clue, ...]

    @property
    def in_the_pump(self) -> bool:
        """Say whether the cause lies in the pump itself."""
        return self.cause in PUMP_CAUSES


def ranked_causes(facts: Facts) -> tuple[RankedCause, ...]:
    """Return every cause, the best supported first; of equals the one ``Cause`` lists first."""
    clues: dict[Cause, list[Clue]] = {cause: [] for cause in Cause}
    for sign in SIGNS:
        if sign.holds(facts):
            said = sign.said(facts)
            for cause, weight in sign.weights.items():
                clues[cause].append(Clue(weight, said, sign.source))
    return tuple(sorted((_ranked(cause, found) for cause, found in clues.items()), key=lambda one: -one.score))


def _ranked(cause: Cause, clues: list[Clue]) -> RankedCause:
    heaviest_first = sorted(clues, key=lambda clue: -abs(clue.weight))
    return RankedCause(
        cause=cause,
        score=_BEFOREHAND.get(cause, 0.0) + sum(clue.weight for clue in clues),
        evidence_for=tuple(clue for clue in heaviest_first if clue.weight > 0),
        evidence_against=tuple(clue for clue in heaviest_first if clue.weight < 0),
    )
