"""The pitch of a thread from a row of crests between the jaws."""

from __future__ import annotations

from xref_app.core.quantity.range import Range
from xref_app.core.quantity.readings import ReadingError, refuse_unless_positive


def pitch_from_crests_mm(*, crests_counted_with_both_ends: int, first_to_last_crest_mm: Range) -> Range:
    """Return the pitch, mm.

    Count every crest that the length runs over, the one it starts on and the one it ends on as well: 11 crests lie
    10 pitches apart.

    Args:
        crests_counted_with_both_ends: n ≥ 2 crests, counted so.
        first_to_last_crest_mm: From the first of them to the last, mm.

    Raises:
        ReadingError: fewer than two crests, or a length that is none.

    Source: n crests leave n - 1 gaps; the doubt of the length is shared out among them.
    """
    if crests_counted_with_both_ends < 2:
        raise ReadingError(
            f"{crests_counted_with_both_ends} crest leaves no pitch to measure; count the first crest and the last too."
        )
    refuse_unless_positive("The length over the crests", first_to_last_crest_mm)
    return first_to_last_crest_mm / float(crests_counted_with_both_ends - 1)
