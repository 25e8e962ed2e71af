"""One finding out of several: judged under each thing a reading may stand for, decided only where all agree."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from xref_app.core.fit.finding import Finding, Outcome
from xref_app.core.sentence import Sentence, marked

DEPENDS = marked("findings", "That depends on what the reading is: {cases}.")
TAKEN_AS = marked("findings", "Taken as {label}.")


@dataclass(frozen=True, slots=True)
class Alternative:
    """What a reading is taken as (empty for the raw reading) and the finding under that."""

    label: str
    finding: Finding


def settled(alternatives: Sequence[Alternative], *, measure: Sequence[str]) -> Finding:
    """Return the finding all alternatives agree on, else unknown with ``measure`` as what would tell them apart.

    Args:
        alternatives: n ≥ 1.
        measure: Field ids whose closer reading would rule alternatives out.
    """
    outcomes = {one.finding.outcome for one in alternatives}
    first = alternatives[0].finding
    if len(outcomes) == 1:
        labels = _unique(one.label for one in alternatives)
        notes = (*first.notes, *(Sentence(TAKEN_AS, {"label": label}) for label in labels if len(labels) == 1))
        return replace(first, notes=notes)
    return replace(
        first,
        outcome=Outcome.UNKNOWN,
        reason=Sentence(DEPENDS, {"cases": _cases(alternatives)}),
        measure=tuple(measure),
        needs=(),
        danger=None,
        change=None,
        gap=None,
    )


def _cases(alternatives: Sequence[Alternative]) -> str:
    return "; ".join(_unique(f"{one.label or 'as read'}: {one.finding.outcome.word}" for one in alternatives))


def _unique(texts: Iterable[str]) -> list[str]:
    return [text for text in dict.fromkeys(texts) if text]
