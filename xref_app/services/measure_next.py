"""Which measurement to take next: the one that settles most candidates still open, in the least time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from xref_app.core.fields.fields import Field, Side, all_fields, field_for
from xref_app.services.answers import Candidate, MeasureNext

# Time for anything that takes no tool at all, so that a free look does not divide by zero (house rule).
_LEAST_MINUTES = 0.25


@dataclass(frozen=True, slots=True)
class Asked:
    """What a reading of one field is worth to the open candidates.

    ``candidates`` is how many of them ask for it, ``last_open`` how many of those ask for nothing else, ``settles`` how
    many it is expected to settle.

    House rule: a candidate that asks for k fields counts as settled by 1/k by each of them. All k readings settle it,
    none of them is known to come last, and over its fields the shares add up to the one candidate. One that asks for
    nothing else is settled outright; a reading that rules a candidate out at once makes the share too small, never too
    large.
    """

    candidates: int
    last_open: int
    settles: float

    @classmethod
    def of(cls, by_open_fields: Mapping[int, int]) -> Asked:
        """Return the worth of a field that is asked for by so many candidates, by how many fields each asks for."""
        return cls(
            candidates=sum(by_open_fields.values()),
            last_open=by_open_fields.get(1, 0),
            settles=sum(by_open_fields[fields] / fields for fields in sorted(by_open_fields)),
        )


def best_settling(asked: Mapping[str, Asked], nearest: Candidate, still_open: int) -> MeasureNext:
    """Return the field worth measuring next.

    Counted is how many open candidates a reading is expected to settle, divided by the minutes it takes. A size of the
    machine side counts for every pump that asks for it; a size of a pump for that one alone, and only the best pump
    still open is worth taking in hand, off the machine. Ties go to what is exposed already, then to the order of the
    fields.

    Args:
        asked: What each field that open candidates ask for is worth to them.
        nearest: The best candidate still open; it asks for a field at least.
        still_open: How many candidates are open.
    """
    of_nearest = Asked.of({len(nearest.judgement.measure_next): 1})
    nearest_asks = frozenset(nearest.judgement.measure_next)
    worth = {
        field_id: asked[field_id] if field.side is Side.MACHINE else of_nearest
        for field_id, field in all_fields().items()
        if (field_id in asked if field.side is Side.MACHINE else field_id in nearest_asks)
    }

    def rank(field: str) -> tuple[float, bool]:
        known = field_for(field)
        return worth[field].settles / max(known.minutes, _LEAST_MINUTES), known.comes_off_first == ""

    best = field_for(max(worth, key=rank))
    return MeasureNext(
        field=best.field_id,
        title=_title(best, nearest),
        settles=worth[best.field_id].candidates,
        open=still_open,
        minutes=best.minutes,
        how_to=best.how_to_measure,
        comes_off_first=_comes_off_first(best),
        entry_id="" if best.side is Side.MACHINE else nearest.entry_id,
        last_open=worth[best.field_id].last_open,
    )


def _comes_off_first(field: Field) -> str:
    """Return what must come off the machine; nothing for a size of a pump that is not on it yet."""
    return field.comes_off_first if field.side is Side.MACHINE else ""


def _title(field: Field, nearest: Candidate) -> str:
    """Return the field's title, with the pump it is to be measured on where it is a pump's."""
    return field.title if field.side is Side.MACHINE else f"{field.title}, {nearest.number}"
