"""One reading held against the limits of one candidate, in words; and candidates put in order."""

from __future__ import annotations

from collections.abc import Iterable

from xref_app.core.identify.answer import Candidate, Evidence
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.show import show_range
from xref_app.core.sentence import Sentence, marked

READ = marked("identify", "read as {read}; {label} allows {limits}")


def evidence_mm(reading: str, read: Range, limits: Range, label: str) -> Evidence:
    """Return the evidence of one length; all in mm."""
    values = {"read": show_range(read, "mm"), "label": label, "limits": show_range(limits, "mm")}
    return Evidence(reading, read, limits, Sentence(READ, values))


def best_first(candidates: Iterable[Candidate]) -> tuple[Candidate, ...]:
    """Return the candidates, those that a table decides before hints, and the nearest to the middle of the readings."""
    return tuple(sorted(candidates, key=lambda one: (not one.decides, _distance(one), one.label)))


def _distance(candidate: Candidate) -> float:
    """Return how far the middles of the readings lie outside the candidate's limits, then from their middles, mm."""
    outside = sum(_outside(one.read.middle, one.limits) for one in candidate.evidence)
    off = sum(abs(one.read.middle - one.limits.middle) for one in candidate.evidence)
    return outside + off / 1000


def _outside(value: float, limits: Range) -> float:
    return max(limits.low - value, value - limits.high, 0.0)
