"""What to measure next over candidates that were each judged in full: the long way round."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from xref_app.core.fit.finding import Verdict
from xref_app.services.answers import Candidate, MeasureNext
from xref_app.services.measure_next import Asked, best_settling


def best_settling_of(candidates: Sequence[Candidate]) -> MeasureNext | None:
    """Return the field that settles most in the least time over everything still open, or None where nothing is.

    Args:
        candidates: Ranked, best first.
    """
    still_open = open_ones(candidates)
    return best_settling(asked_of(still_open), still_open[0], len(still_open)) if still_open else None


def asked_of(candidates: Sequence[Candidate]) -> dict[str, Asked]:
    """Return what each field that open candidates ask for is worth to them."""
    counted: dict[str, Counter[int]] = {}
    for one in open_ones(candidates):
        asks = one.judgement.measure_next
        for field in asks:
            counted.setdefault(field, Counter())[len(asks)] += 1
    return {field: Asked.of(by_open_fields) for field, by_open_fields in counted.items()}


def open_ones(candidates: Sequence[Candidate]) -> list[Candidate]:
    """Return the candidates of which something is open, in their order."""
    return [one for one in candidates if one.judgement.verdict is Verdict.NOT_KNOWN_YET and one.judgement.measure_next]
