"""What a side view cannot show because nobody has measured it."""

from __future__ import annotations

from collections.abc import Iterator

from xref_app.core.fields.fields import field_for
from xref_app.core.fit.bolt_joint import is_through
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import PilotKind
from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.side_lengths import Between

NOT_KNOWN = marked("drawing", "{what}: not known")

# What every pair is asked for, in this order.
_ALWAYS = (
    "shaft_diameter_mm",
    "shaft_projection_mm",
    "shaft_keyseat_length_mm",
    "shaft_keyseat_from_end_mm",
    "shaft_key_top_mm",
    "bore_diameter_mm",
    "bore_depth_mm",
    "bore_recess_mm",
    "bore_keyway_from_mm",
    "bore_keyway_to_mm",
    "bore_keyway_floor_mm",
    "face_holes_xy_mm",
    "face_bolt",
    "face_pilot_kind",
    "flange_holes_xy_mm",
    "flange_hole_mm",
    "flange_thickness_mm",
    "flange_pilot_kind",
)


def lacks(machine: Machine, pump: Pump, between: Between) -> tuple[Sentence, ...]:
    """Return one sentence for each size that is wanted and not known."""
    wanted = (*_ALWAYS, *_of_the_bolt(machine, between), *_of_the_pilots(machine, pump))
    missing = [field for field in wanted if _value(field, machine, pump) is None]
    return tuple(Sentence(NOT_KNOWN, {"what": field_for(field).title}) for field in missing)


def _value(field: str, machine: Machine, pump: Pump) -> object:
    side, *names = field_for(field).case_field.split(".")
    value: object = machine if side == "machine" else pump
    for name in names:
        value = getattr(value, name)
    return value


def _of_the_bolt(machine: Machine, between: Between) -> Iterator[str]:
    if between.plate_mm is not None:
        return
    if between.bolt_length_mm is None:
        yield "face_bolt_length_mm"
    yield from ("face_hole_mm", "face_thickness_mm") if is_through(machine) else ("face_tapped_depth_mm",)


def _of_the_pilots(machine: Machine, pump: Pump) -> Iterator[str]:
    for name, side in (("face", machine.face), ("flange", pump.flange)):
        if side.pilot_kind is not None and side.pilot_kind.value is not PilotKind.NONE:
            yield from (f"{name}_pilot_mm", f"{name}_pilot_depth_mm")
