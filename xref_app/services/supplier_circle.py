"""A bolt circle and a number of holes, as suppliers give a face: taken as evenly spaced, never better than claimed."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import Final

from xref_app.core.fields.fields import Field, field_for
from xref_app.core.identify.even_holes import holes_on_circle_mm
from xref_app.core.quantity.observed import Observed
from xref_app.core.quantity.positions import rows_text
from xref_app.core.sentence import Sentence, marked
from xref_app.services.field_reading import FieldReading
from xref_app.services.supplier_cells import CellReading, CellState, says_nothing

SAY_HOW_MANY = marked("supplier", "A bolt circle without the number of its holes: type how many.")
NOT_SO_MANY = marked("supplier", "“{text}” is not a number of bolt holes from 2 to 12.")

# House rule: no face that a pump hangs on has a smaller or larger circle, or other numbers of bolts.
SMALLEST_MM: Final = 30.0
LARGEST_MM: Final = 400.0
_FEWEST, _MOST = 2, 12
_COUNT: Final = re.compile(r"(\d{1,2})\s*(?:x|×|holes?|bolts?)?", re.IGNORECASE)
_FULL_TURN_DEG: Final = 360.0
# House rule: places worked out are written to so many decimals of a millimetre, far below any doubt.
_DECIMALS: Final = 4
_CLAIMED: Final = "claimed"


@cache
def circle_field() -> Field:
    """Return what a column of bolt circles is read by; it is no field of its own, the places of the holes are."""
    holes = field_for("flange_holes_xy_mm")
    pilot = field_for("flange_pilot_mm")
    title = "Bolt circle"
    return replace(
        pilot,
        title=title,
        minimum=SMALLEST_MM,
        maximum=LARGEST_MM,
        default_doubt=holes.default_doubt,
        field_id="circle",
    )


def holes_of(circle: CellReading, count_text: str) -> CellReading:
    """Return the places of the holes that a bolt circle and a number of holes claim; of no circle, the circle's cell.

    A list does not say that the holes are evenly spaced about the shaft, so whatever is known of the list, this counts
    as claimed; the first hole stands to the right.
    """
    if circle.reading is None:
        return circle
    if says_nothing(count_text):
        return replace(circle, state=CellState.LOOK, reason=Sentence(SAY_HOW_MANY), reading=None)
    match = _COUNT.fullmatch(count_text.strip())
    count = int(match[1]) if match else 0
    if not _FEWEST <= count <= _MOST:
        reason = Sentence(NOT_SO_MANY, {"text": count_text[:_MOST]})
        return replace(circle, state=CellState.REFUSED, reason=reason, reading=None)
    return replace(circle, reading=_placed(circle.reading, count))


def _placed(circle: FieldReading, count: int) -> FieldReading:
    field = field_for("flange_holes_xy_mm")
    read = circle.observed
    exact = holes_on_circle_mm(read.value or 0.0, [_FULL_TURN_DEG / count] * count)
    places = [(round(x, _DECIMALS) + 0.0, round(y, _DECIMALS) + 0.0) for x, y in exact]
    doubt = max(field.default_doubt, read.last_digit or 0.0)
    as_typed = f"bolt circle {read.as_typed}, {count} holes"
    return FieldReading(field, Observed(as_typed, text=rows_text(places), doubt=doubt), _CLAIMED)
