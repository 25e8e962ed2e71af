"""What to measure next over candidates that were each judged in full: the long way round."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from xref_app.core.fit.finding import Verdict
from xref_app.services.answers import Candidate, MeasureNext
from xref_app.services.measure_next import best_of


def best_measurement(candidates: Sequence[Candidate]) -> MeasureNext | None:
    """Return the field worth measuring next over everything still open, or None where nothing is.

    Args:
        candidates: Ranked, best first.
    """
    still_open = [
        one for one in candidates if one.judgement.verdict is Verdict.NOT_KNOWN_YET and one.judgement.measure_next
    ]
    if not still_open:
        return None
    asked = Counter(field for one in still_open for field in one.judgement.measure_next)
    return best_of(asked, still_open[0], len(still_open))
