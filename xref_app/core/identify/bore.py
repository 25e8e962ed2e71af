"""Which standard bore a measured one is."""

from __future__ import annotations

from xref_app.core.identify.answer import Identified
from xref_app.core.identify.shaft_or_bore import Feature, Side, SideReadings, identify_side
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import marked

SOURCE = "house rule: bores H9 of ISO 286"

ASK_DIAMETER = marked(
    "identify", "Measure the bore again, clean, away from the keyway, turning the inside jaws ({expected})."
)
ASK_WIDTH = marked("identify", "Measure the width of the keyway with the small inside jaws ({expected}).")
ASK_FLOOR = marked("identify", "Measure inside from the far side of the bore to the floor of the keyway ({expected}).")

_BORE = Side(
    diameter=Feature("diameter_mm", lambda pair: pair.bore_mm, ASK_DIAMETER),
    width=Feature("keyway_width_mm", lambda pair: pair.keyway_width, ASK_WIDTH),
    height=Feature("keyway_floor_mm", lambda pair: pair.keyway_floor_mm, ASK_FLOOR),
    wears=1,
    limits_source=SOURCE,
)


def identify_bore(diameter: Range, keyway_width: Range | None = None, keyway_floor: Range | None = None) -> Identified:
    """Return which standard bores the readings can be, the most likely first.

    A size stands for H9 of ISO 286 (house rule, as in the judge: no standard of hubs gives closer limits), taken as a
    pair with its keyway (ASME B17.1, ISO 773). A bore over its size is said to be worn, or none, by how much.

    Args:
        diameter: The bore as read, mm.
        keyway_width: The keyway as read, mm; None where it was not.
        keyway_floor: From the far side of the bore to the floor of the keyway, mm; None where it was not read.

    Raises:
        ReadingError: a reading is zero, negative or endless.
    """
    return identify_side(_BORE, SideReadings(diameter, keyway_width, keyway_floor))
