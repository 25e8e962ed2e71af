"""The published sizes that a reading can be: offered, told what they rest on, never taken by themselves."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.identify.answer import Identified
from xref_app.core.identify.bore import identify_bore
from xref_app.core.identify.key import identify_key
from xref_app.core.identify.shaft import identify_shaft
from xref_app.core.model.known import Dimension, Known
from xref_app.core.quantity.range import Range


def published_sizes(field_id: str, known: Mapping[str, Known]) -> Identified | None:
    """Return what the size in ``field_id`` can be together with the other sizes of the draft; None for other fields.

    Args:
        field_id: The field just read.
        known: Every size of the draft, that one too.
    """

    def read(name: str) -> Range | None:
        value = known.get(name)
        return value.range if isinstance(value, Dimension) else None

    size = read(field_id)
    if size is None:
        return None
    match field_id:
        case "shaft_diameter_mm":
            return identify_shaft(size, read("shaft_key_width_mm"), read("shaft_key_top_mm"))
        case "bore_diameter_mm":
            return identify_bore(size, read("bore_keyway_width_mm"), read("bore_keyway_floor_mm"))
        case "shaft_key_width_mm" | "bore_keyway_width_mm":
            return identify_key(size, None)
    return None
