"""A bushing sleeve between a small shaft and a large bore, with the key that bridges it."""

from __future__ import annotations

from xref_app.core.fit.drive_sizes import Size
from xref_app.core.fit.finding import Need
from xref_app.core.fit.house_rules import SAME_LISTED_SIZE_MM
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import PartKind
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.limits import limits_mm, tolerance_mm

STEPPED_NEED = marked("findings", "Stepped key, {shaft:.2f} mm in the shaft and {hub:.2f} mm in the pump")


def sleeve_and_key(shaft: Size, bore: Size, shelf: Shelf) -> tuple[Part, Part] | None:
    """Return the cheapest listed sleeve that runs on this shaft and in this bore with a key that bridges it.

    None where nothing listed does, or where either keyway is not known: a sleeve without its key turns on the shaft.
    """
    sleeves = [part for part in shelf if part.kind is PartKind.SLEEVE and part.count > 0 and _runs(part, shaft, bore)]
    keys = [
        part for part in shelf if part.kind is PartKind.STEPPED_KEY and part.count > 0 and bridges(part, shaft, bore)
    ]
    if not sleeves or not keys:
        return None
    return min(sleeves, key=lambda part: (part.to_order, part.cost)), min(keys, key=lambda part: part.cost)


def _runs(part: Part, shaft: Size, bore: Size) -> bool:
    """Say whether the sleeve has a running fit on both sides, its own sizes taken as H9 inside and h9 outside."""
    if part.inside_mm is None or part.outside_mm is None:
        return False
    inner = limits_mm("H9", part.inside_mm) - shaft.diameter_mm
    outer = bore.diameter_mm - limits_mm("h9", part.outside_mm)
    return inner.within(_play(part.inside_mm)) and outer.within(_play(part.outside_mm))


def _play(size_mm: float) -> Range:
    return Range(0, 2 * tolerance_mm(9, size_mm))


def stepped_need(part: Part) -> Need:
    """Return the need for one stepped key, in the same words wherever it is asked for: one key serves bore and key."""
    return Need(Sentence(STEPPED_NEED, {"shaft": part.width_mm, "hub": part.hub_width_mm}), 1, part)


def bridges(part: Part, shaft: Size, bore: Size) -> bool:
    """Say whether a stepped key fills the shaft's keyseat and the pump's keyway and stands between their floors."""
    if part.height_mm is None or not steps_between(part, shaft, bore) or shaft.pair is None or bore.pair is None:
        return False
    # The bore's far side lies half the difference of the diameters below the shaft's.
    drop = (bore.pair.diameter_mm - shaft.pair.diameter_mm) / 2
    top = shaft.pair.keyseat_floor_mm + part.height_mm + drop
    return bore.pair.diameter_mm < top.low and top.high < bore.pair.keyway_floor_mm.low


def steps_between(part: Part, shaft: Size, bore: Size) -> bool:
    """Say whether a stepped key's two widths are the standard widths of the shaft's keyseat and the pump's keyway."""
    if part.width_mm is None or part.hub_width_mm is None or shaft.width is None or bore.width is None:
        return False
    both = ((part.width_mm, shaft.width), (part.hub_width_mm, bore.width))
    return all(bool(width.label) and abs(size - width.width_mm.middle) <= SAME_LISTED_SIZE_MM for size, width in both)
