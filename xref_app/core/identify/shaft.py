"""Which standard shaft a measured one is."""

from __future__ import annotations

from xref_app.core.identify.answer import Identified
from xref_app.core.identify.shaft_limits import SOURCE, shaft_limits_mm
from xref_app.core.identify.shaft_or_bore import Feature, Side, SideReadings, identify_side
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import marked

ASK_DIAMETER = marked(
    "identify",
    "Measure the shaft again, clean and clear of worn spots, with a micrometer if there is one ({expected}).",
)
ASK_WIDTH = marked("identify", "Take the key out and measure its width with the outside jaws ({expected}).")
ASK_TOP = marked(
    "identify", "Press the key into its seat and measure from the far side of the shaft over its top ({expected})."
)

_SHAFT = Side(
    diameter=Feature("diameter_mm", lambda pair: shaft_limits_mm(pair.system, pair.diameter_mm), ASK_DIAMETER),
    width=Feature("key_width_mm", lambda pair: pair.key_width, ASK_WIDTH),
    height=Feature("key_top_mm", lambda pair: pair.key_top_mm, ASK_TOP),
    wears=-1,
    limits_source=SOURCE,
)


def identify_shaft(diameter: Range, key_width: Range | None = None, key_top: Range | None = None) -> Identified:
    """Return which standard shafts the readings can be, the most likely first.

    A size stands for its limits in ``shaft_limits_mm``, taken as a pair with its key (ASME B17.1, ISO 773): where the
    key was read, only sizes that take it remain. A diameter that meets no size is said to be worn or none, by how
    much; it is never rounded to one. A key that belongs to none of the sizes leaves the answer ambiguous and is named.

    Args:
        diameter: The shaft as read, mm.
        key_width: The key as read, mm; None where it was not.
        key_top: From the far side of the shaft to the top of the key lying in it, mm; None where it was not read.

    Raises:
        ReadingError: a reading is zero, negative or endless.
    """
    return identify_side(_SHAFT, SideReadings(diameter, key_width, key_top))
