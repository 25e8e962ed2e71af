"""Which measurement to take next: the one that most candidates still open ask for, in the least time."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.fields.fields import Field, Side, all_fields, field_for
from xref_app.services.answers import Candidate, MeasureNext

# Time for anything that takes no tool at all, so that a free look does not divide by zero (house rule).
_LEAST_MINUTES = 0.25


def best_of(asked: Mapping[str, int], nearest: Candidate, still_open: int) -> MeasureNext:
    """Return the field worth measuring next.

    Counted is how many open candidates ask for the field, divided by the minutes it takes. A size of the machine side
    counts for every pump that asks for it; a size of a pump for that one alone, and only the best pump still open is
    worth taking in hand, off the machine. Ties go to what is exposed already, then to the order of the fields.

    Args:
        asked: How many open candidates ask for each field.
        nearest: The best candidate still open; it asks for a field at least.
        still_open: How many candidates are open.
    """
    nearest_asks = frozenset(nearest.judgement.measure_next)
    settles = {
        field_id: asked[field_id] if field.side is Side.MACHINE else 1
        for field_id, field in all_fields().items()
        if (field_id in asked if field.side is Side.MACHINE else field_id in nearest_asks)
    }

    def worth(field: str) -> tuple[float, bool]:
        known = field_for(field)
        return settles[field] / max(known.minutes, _LEAST_MINUTES), known.comes_off_first == ""

    best = field_for(max(settles, key=worth))
    return MeasureNext(
        field=best.field_id,
        title=_title(best, nearest),
        settles=settles[best.field_id],
        open=still_open,
        minutes=best.minutes,
        how_to=best.how_to_measure,
        comes_off_first=_comes_off_first(best),
        entry_id="" if best.side is Side.MACHINE else nearest.entry_id,
    )


def _comes_off_first(field: Field) -> str:
    """Return what must come off the machine; nothing for a size of a pump that is not on it yet."""
    return field.comes_off_first if field.side is Side.MACHINE else ""


def _title(field: Field, nearest: Candidate) -> str:
    """Return the field's title, with the pump it is to be measured on where it is a pump's."""
    return field.title if field.side is Side.MACHINE else f"{field.title}, {nearest.number}"
