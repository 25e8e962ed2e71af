"""Does the length of key inside both keyways carry the torque?"""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.alternatives import Alternative, settled
from xref_app.core.fit.apart import faces_apart_mm
from xref_app.core.fit.coupled import not_direct_or_none
from xref_app.core.fit.drive_sizes import Size, shaft_sizes
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.finding import Finding, Quantity
from xref_app.core.fit.house_rules import BEARING_YIELD_SHARE, KEY_SAFETY, KEY_YIELD_MPA, SHEAR_YIELD_SHARE
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.rated import drive_torque_nm
from xref_app.core.fit.show import span
from xref_app.core.model.known import Dimension
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.hydraulics import key_bearing_mpa, key_shear_mpa

KEY_LOAD = Question(
    "key load", "key strength over its length", "key stress 2T/(dwL), 4T/(dhL): Shigley; yield, factors: house rule"
)

CARRIES = marked(
    "findings",
    "{overlap} mm of key carry {torque} N·m: shear {shear} of {shear_limit:.0f} MPa, bearing {bearing} of"
    " {bearing_limit:.0f} MPa.",
)
NO_OVERLAP = marked("findings", "Key and keyway do not overlap: the key stops {gap} mm short.")
OVERLOADED = marked(
    "findings",
    "{overlap} mm of key are too few for {torque} N·m: shear {shear} of {shear_limit:.0f} MPa, bearing "
    "{bearing} of {bearing_limit:.0f} MPa.",
)
CHANGE_OVERLAP = marked("findings", "A pump whose keyway reaches where the shaft's key is.")
LOAD_UNSURE = marked(
    "findings",
    "{overlap} mm of key under {torque} N·m: whether that is enough hangs on the doubt of these readings.",
)

SHEAR_LIMIT_MPA = SHEAR_YIELD_SHARE * KEY_YIELD_MPA / KEY_SAFETY
BEARING_LIMIT_MPA = BEARING_YIELD_SHARE * KEY_YIELD_MPA / KEY_SAFETY

_SPAN_FIELDS = (
    "shaft_projection_mm",
    "shaft_keyseat_length_mm",
    "shaft_keyseat_from_end_mm",
    "bore_keyway_from_mm",
    "bore_keyway_to_mm",
)


def judge_key_load(machine: Machine, pump: Pump, parts: FaceParts) -> Finding:
    """Judge shear and bearing stress of the key over the length where keyseat and keyway overlap."""
    readings = _readings(machine, pump)
    elsewhere = not_direct_or_none(KEY_LOAD, machine, pump)
    if elsewhere is not None:
        return elsewhere
    overlap = overlap_mm(machine, pump, faces_apart_mm(machine, pump, parts))
    torque = drive_torque_nm(machine)
    shafts = shaft_sizes(machine.shaft)
    if overlap is None or torque is None or not shafts or machine.shaft.key_width_mm is None:
        return KEY_LOAD.lacks(readings)
    alternatives = [
        Alternative(shaft.label, _judge(_load(shaft, machine.shaft.key_top_mm, overlap, torque))) for shaft in shafts
    ]
    found = settled(alternatives, measure=("shaft_diameter_mm", "shaft_key_width_mm"))
    return replace(found, used=KEY_LOAD.lacks(readings).used)


def overlap_mm(machine: Machine, pump: Pump, spacer: Range) -> Range | None:
    """Return how much of the shaft's key lies in the pump's keyway, mm; negative: they miss by that. None: not known.

    Both spans are measured from the engine's face; a spacer moves the pump's out by its thickness.
    """
    shaft, bore = machine.shaft, pump.bore
    sizes = (
        shaft.projection_mm,
        shaft.keyseat_length_mm,
        shaft.keyseat_from_end_mm,
        bore.keyway_from_mm,
        bore.keyway_to_mm,
    )
    known = [size.range for size in sizes if size is not None]
    if len(known) < len(sizes):
        return None
    projection, length, from_end, begins, ends = known
    key_ends = projection - from_end
    key_begins = key_ends - length
    hub_begins, hub_ends = begins + spacer, ends + spacer
    low = min(key_ends.low, hub_ends.low) - max(key_begins.high, hub_begins.high)
    high = min(key_ends.high, hub_ends.high) - max(key_begins.low, hub_begins.low)
    return Range(min(low, high), high)


@dataclass(frozen=True, slots=True)
class _Load:
    """The stresses over the worst and the best of all readings, MPa; None where no length carries at all."""

    overlap_mm: Range
    torque_nm: Range
    shear_mpa: Range | None
    bearing_mpa: Range | None
    height_known: bool


def _load(shaft: Size, key_top: Dimension | None, overlap: Range, torque: Range) -> _Load:
    height = _key_height_mm(shaft, key_top)
    if shaft.width is None or height is None or overlap.low <= SAME_MM or height.low <= SAME_MM:
        return _Load(overlap, torque, None, None, height is not None)
    width = shaft.width.width_mm
    shear = [
        key_shear_mpa(torque_nm=moment, diameter_mm=across, width_mm=wide, length_mm=length)
        for moment, across, wide, length in (
            (torque.low, shaft.diameter_mm.high, width.high, overlap.high),
            (torque.high, shaft.diameter_mm.low, width.low, overlap.low),
        )
    ]
    bearing = [
        key_bearing_mpa(torque_nm=moment, diameter_mm=across, height_mm=high, length_mm=length)
        for moment, across, high, length in (
            (torque.low, shaft.diameter_mm.high, height.high, overlap.high),
            (torque.high, shaft.diameter_mm.low, height.low, overlap.low),
        )
    ]
    return _Load(overlap, torque, Range(*shear), Range(*bearing), height_known=True)


def _key_height_mm(shaft: Size, key_top: Dimension | None) -> Range | None:
    """Return the key's height: the table's where shaft and key are a pair, else what stands over the shaft, doubled.

    A key that is no table's is taken to lie half in the shaft, and never to be higher than it is wide.
    """
    if shaft.pair is not None:
        return Range.exactly(shaft.pair.key_height_mm)
    if key_top is None or shaft.width is None:
        return None
    proud = (key_top.range - shaft.diameter_mm) * 2.0
    wide = shaft.width.width_mm
    return Range(min(proud.low, wide.low), min(proud.high, wide.high))


def _judge(load: _Load) -> Finding:
    values: dict[str, object] = {"overlap": span(load.overlap_mm, 1), "torque": span(load.torque_nm, 1)}
    if load.overlap_mm.high <= SAME_MM:
        return KEY_LOAD.fails(Sentence(NO_OVERLAP, {"gap": span(-load.overlap_mm, 1)}), change=CHANGE_OVERLAP)
    if load.shear_mpa is None or load.bearing_mpa is None:
        measure = _SPAN_FIELDS if load.height_known else ("shaft_key_top_mm",)
        return KEY_LOAD.unsure(Sentence(LOAD_UNSURE, values), (), measure)
    limits = {"shear_limit": SHEAR_LIMIT_MPA, "bearing_limit": BEARING_LIMIT_MPA}
    told = {**values, **limits, "shear": span(load.shear_mpa, 0), "bearing": span(load.bearing_mpa, 0)}
    worst = max(
        (load.bearing_mpa, BEARING_LIMIT_MPA), (load.shear_mpa, SHEAR_LIMIT_MPA), key=lambda one: one[0].high / one[1]
    )
    shown = Answer(
        Quantity(worst[0], "MPa"),
        Quantity(Range.exactly(worst[1]), "MPa"),
        Quantity(Range.exactly(worst[1]) - worst[0], "MPa"),
    )
    if load.shear_mpa.surely_at_most(SHEAR_LIMIT_MPA) and load.bearing_mpa.surely_at_most(BEARING_LIMIT_MPA):
        return KEY_LOAD.passes(Sentence(CARRIES, told), shown=shown)
    if load.shear_mpa.surely_above(SHEAR_LIMIT_MPA) or load.bearing_mpa.surely_above(BEARING_LIMIT_MPA):
        return KEY_LOAD.fails(Sentence(OVERLOADED, told), shown=shown, change=CHANGE_OVERLAP)
    return KEY_LOAD.unsure(Sentence(LOAD_UNSURE, told), (), _SPAN_FIELDS, shown)


def _readings(machine: Machine, pump: Pump) -> tuple[Reading, ...]:
    shaft, bore = machine.shaft, pump.bore
    return (
        ("shaft_diameter_mm", shaft.diameter_mm),
        ("shaft_key_width_mm", shaft.key_width_mm),
        ("shaft_projection_mm", shaft.projection_mm),
        ("shaft_keyseat_length_mm", shaft.keyseat_length_mm),
        ("shaft_keyseat_from_end_mm", shaft.keyseat_from_end_mm),
        ("bore_keyway_from_mm", bore.keyway_from_mm),
        ("bore_keyway_to_mm", bore.keyway_to_mm),
        ("power_kw", machine.power.power_kw),
        ("power_speed_rpm", machine.power.speed_rpm),
    )
