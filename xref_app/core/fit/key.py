"""Does the key go into the keyway, in width and under its floor?"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

from xref_app.core.fit.alternatives import Alternative, settled
from xref_app.core.fit.coupled import not_direct_or_none
from xref_app.core.fit.drive_sizes import KeyWidth, Size, bore_sizes, shaft_sizes
from xref_app.core.fit.finding import Finding, Outcome
from xref_app.core.fit.house_rules import COARSEST_HEIGHT_DOUBT_MM, KEY_WIDTH_SLACK_MM
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.show import mm, span
from xref_app.core.fit.sleeve import bridges, stepped_need
from xref_app.core.model.known import Dimension
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.model.words import PartKind
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked

KEY = Question("key", "key in keyway", "ASME B17.1; ISO 773; raw widths within 0.05 mm (house rule)")

GOES_IN = marked("findings", "A {width} key in its own keyway, {room} mm below the keyway's floor.")
SAME_WIDTH = marked("findings", "A {width} key in its own keyway.")
WIDTHS_DIFFER = marked("findings", "The key is {key} wide and the keyway {keyway}: the two never go together.")
WIDTH_COARSE = marked("findings", "Key or keyway was read so coarsely that several widths meet the reading.")
HEIGHT_COARSE = marked("findings", "The height of key or keyway was read so coarsely that it tells nothing.")
WIDTH_UNSURE = marked("findings", "Key and keyway differ by {gap} mm in width; no more than {slack:.2f} mm will do.")
TOO_HIGH = marked("findings", "The key stands {over} mm above the keyway's floor.")
HEIGHT_UNSURE = marked("findings", "The key's top may touch the keyway's floor: room {room} mm by these readings.")
STEPPED = marked("findings", "The key is {key} wide and the keyway {keyway}; a listed stepped key joins them.")
CHANGE_HEIGHT = marked("findings", "A pump whose keyway is {over} mm deeper.")
CHANGE_KEY = marked("findings", "A pump with a {width} keyway would take this key.")

_WIDTH_FIELDS = ("shaft_key_width_mm", "bore_keyway_width_mm")
_HEIGHT_FIELDS = ("shaft_key_top_mm", "bore_keyway_floor_mm")


def judge_key(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the key's width against the keyway's, and its height against the keyway's floor."""
    readings = _readings(machine, pump)
    elsewhere = not_direct_or_none(KEY, machine, pump)
    if elsewhere is not None:
        return elsewhere
    shafts, bores = shaft_sizes(machine.shaft), bore_sizes(pump.bore)
    if not shafts or not bores or machine.shaft.key_width_mm is None or pump.bore.keyway_width_mm is None:
        return KEY.lacks(readings)
    heights = Heights(machine.shaft.key_top_mm, pump.bore.keyway_floor_mm)
    alternatives = [
        Alternative(_label(shaft, bore), _judge(shaft, bore, heights, shelf)) for shaft, bore in product(shafts, bores)
    ]
    found = settled(alternatives, measure=("bore_diameter_mm", "shaft_diameter_mm", *_WIDTH_FIELDS))
    return replace(found, used=KEY.lacks(readings).used)


def _readings(machine: Machine, pump: Pump) -> tuple[Reading, ...]:
    shaft, bore = machine.shaft, pump.bore
    return (
        ("shaft_diameter_mm", shaft.diameter_mm),
        ("bore_diameter_mm", bore.diameter_mm),
        ("shaft_key_width_mm", shaft.key_width_mm),
        ("bore_keyway_width_mm", bore.keyway_width_mm),
        ("shaft_key_top_mm", shaft.key_top_mm),
        ("bore_keyway_floor_mm", bore.keyway_floor_mm),
    )


@dataclass(frozen=True, slots=True)
class Heights:
    """The two heights as read."""

    top: Dimension | None
    floor: Dimension | None

    @property
    def readings(self) -> tuple[Reading, ...]:
        """Return them by field."""
        return (("shaft_key_top_mm", self.top), ("bore_keyway_floor_mm", self.floor))

    @property
    def coarse_fields(self) -> tuple[str, ...]:
        """Return the fields whose reading is too coarse to count: it would let the table speak for it."""
        both = (("shaft_key_top_mm", self.top), ("bore_keyway_floor_mm", self.floor))
        return tuple(field for field, size in both if size is not None and size.doubt > COARSEST_HEIGHT_DOUBT_MM)


def _judge(shaft: Size, bore: Size, heights: Heights, shelf: Shelf) -> Finding:
    if shaft.width is None or bore.width is None:  # both were read, one of them too coarsely
        return KEY.unsure(Sentence(WIDTH_COARSE), (), _WIDTH_FIELDS)
    widths = _judge_widths(shaft.width, bore.width)
    if widths.outcome is Outcome.FAIL:
        return _stepped(shaft, bore, shelf) or widths
    under = _judge_heights(shaft, bore, heights)
    return widths if widths.outcome > under.outcome else under


def _judge_widths(key: KeyWidth, keyway: KeyWidth) -> Finding:
    gap = keyway.width_mm - key.width_mm
    shown = Answer(mm(key.width_mm), mm(keyway.width_mm), mm(gap))
    values = {"key": _worded(key), "keyway": _worded(keyway), "gap": span(gap), "slack": KEY_WIDTH_SLACK_MM}
    if gap.within(Range(-KEY_WIDTH_SLACK_MM, KEY_WIDTH_SLACK_MM)):
        return KEY.passes(Sentence(SAME_WIDTH, {"width": _worded(key)}), shown=shown)
    if gap.low > KEY_WIDTH_SLACK_MM + SAME_MM or gap.high < -KEY_WIDTH_SLACK_MM - SAME_MM:
        change = Sentence(CHANGE_KEY, {"width": _worded(key)})
        return replace(KEY.fails(Sentence(WIDTHS_DIFFER, values), shown=shown), change=change)
    return KEY.unsure(Sentence(WIDTH_UNSURE, values), (), _WIDTH_FIELDS, shown)


def _judge_heights(shaft: Size, bore: Size, heights: Heights) -> Finding:
    both = _heights_or_none(shaft, bore, heights)
    if both is None:
        return KEY.lacks(heights.readings)
    coarse = heights.coarse_fields
    if coarse:
        return KEY.unsure(Sentence(HEIGHT_COARSE), (), coarse)
    top, floor = both
    room = floor - top
    shown = Answer(mm(top), mm(floor), mm(room))
    width = _worded(shaft.width) if shaft.width else ""
    if room.low > SAME_MM:
        return KEY.passes(Sentence(GOES_IN, {"width": width, "room": span(room)}), shown=shown)
    if room.high <= SAME_MM:
        return KEY.fails(Sentence(TOO_HIGH, {"over": span(-room)}), shown=shown, change=CHANGE_HEIGHT)
    return KEY.unsure(Sentence(HEIGHT_UNSURE, {"room": span(room)}), (), _HEIGHT_FIELDS, shown)


def _heights_or_none(shaft: Size, bore: Size, heights: Heights) -> tuple[Range, Range] | None:
    """Return over-key height and keyway floor, each from the far side, mm; None while either is not measured.

    Where both sides are pairs of one table and the readings do not contradict it, the table's limits stand in for
    the wider readings. A height nobody measured stays unknown even then: were it filled in from the table, taking a
    contradicting reading away would turn a misfit into a fit.
    """
    if heights.top is None or heights.floor is None:
        return None
    top, floor = heights.top.range, heights.floor.range
    if shaft.pair is not None and bore.pair is not None and shaft.pair.table == bore.pair.table:
        table_top, table_floor = shaft.pair.known_key_top_mm, bore.pair.keyway_floor_mm
        if table_top.meets(top) and table_floor.meets(floor):
            return table_top, table_floor
    return top, floor


def _stepped(shaft: Size, bore: Size, shelf: Shelf) -> Finding | None:
    """Return 'by parts' with a listed stepped key that fits both keyways and stays under the floor, or None."""
    if shaft.width is None or bore.width is None or shaft.pair is None or bore.pair is None:
        return None
    for part in shelf:
        if part.kind is PartKind.STEPPED_KEY and part.count > 0 and bridges(part, shaft, bore):
            values = {"key": _worded(shaft.width), "keyway": _worded(bore.width)}
            shown = Answer(mm(shaft.width.width_mm), mm(bore.width.width_mm))
            return replace(KEY.by_parts(Sentence(STEPPED, values), shown=shown), needs=(stepped_need(part),))
    return None


def _worded(width: KeyWidth) -> str:
    return width.label or f"{span(width.width_mm)} mm"


def _label(shaft: Size, bore: Size) -> str:
    labels = dict.fromkeys(label for label in (shaft.label, bore.label) if label)
    return " / ".join(labels)
