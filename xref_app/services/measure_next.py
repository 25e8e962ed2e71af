"""Which measurement to take next: the one that would settle most candidates in the least time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from xref_app.core.fields.fields import Side, field_for
from xref_app.core.fit.finding import Judgement, Verdict
from xref_app.services.answers import MeasureNext

# Time for anything that takes no tool at all, so that a free look does not divide by zero (house rule).
_LEAST_MINUTES = 0.25


def best_measurement(judgements: Sequence[Judgement]) -> MeasureNext | None:
    """Return the field worth measuring next over everything still open, or None where nothing is.

    Counted is how many open candidates ask for the field, divided by the minutes it takes. A size of a pump settles
    that one pump only, a size of the machine side every pump that asks for it. Ties go to what is exposed already, then
    to the order of the fields.
    """
    still_open = [one for one in judgements if one.verdict is Verdict.NOT_KNOWN_YET and one.measure_next]
    asked = Counter(field for one in still_open for field in one.measure_next)
    if not asked:
        return None
    settles = {field: count if field_for(field).side is Side.MACHINE else 1 for field, count in asked.items()}

    def worth(field: str) -> tuple[float, bool]:
        known = field_for(field)
        return settles[field] / max(known.minutes, _LEAST_MINUTES), known.comes_off_first == ""

    best = max(settles, key=worth)
    field = field_for(best)
    return MeasureNext(
        field=best,
        title=field.title,
        settles=settles[best],
        open=len(still_open),
        minutes=field.minutes,
        how_to=field.how_to_measure,
        comes_off_first=field.comes_off_first,
    )
