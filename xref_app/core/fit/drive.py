"""Which way the shaft lies, and how torque gets into the pump."""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.coupled import goes_in_directly
from xref_app.core.fit.drive_sizes import bore_sizes, shaft_sizes
from xref_app.core.fit.finding import Finding, Need
from xref_app.core.fit.house_rules import SAME_LISTED_SIZE_MM
from xref_app.core.fit.question import Answer, Question
from xref_app.core.fit.rated import drive_torque_nm
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import Axis, BoreForm, PartKind, ShaftForm
from xref_app.core.sentence import Sentence, marked

AXIS = Question("axis", "which way the shaft lies", "common practice, no published source")
DRIVE = Question("drive", "how torque gets in", "common practice, no published source")

SAME_AXIS = marked("findings", "The engine's shaft is {machine} and the pump is made for {pump}.")
OTHER_AXIS = marked("findings", "The engine's shaft is {machine}; the pump is made for {pump} only.")
CHANGE_AXIS = marked("findings", "A pump made for a {machine} shaft is needed.")
GOES_IN = marked("findings", "A straight keyed shaft goes into a hollow keyed bore.")
COUPLING_OPEN = marked(
    "findings",
    "A {shaft} shaft drives a {bore} pump only through a coupling; which of the listed ones does hangs on these sizes.",
)
NO_COUPLING = marked(
    "findings",
    "A {shaft} shaft does not drive a {bore} pump; a coupling for both would be needed, and none is listed.",
)
CHANGE_DRIVE = marked("findings", "A hollow keyed pump on a straight keyed shaft, or a listed coupling bored for both.")
COUPLING = marked("findings", "A {shaft} shaft drives a {bore} pump through the listed coupling.")
COUPLING_NEED = marked("findings", "Coupling, {a:.2f} mm to {b:.2f} mm")
COUPLING_ROOM = marked(
    "findings",
    "The bracket that holds the pump at the coupling's length has to be made to measure.",
)


def judge_axis(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:  # noqa: ARG001 - one signature for all checks
    """Judge whether the pump is made for the way the shaft lies."""
    ours, theirs = machine.shaft.axis, pump.bore.axis
    readings = (("shaft_axis", ours), ("bore_axis", theirs))
    if ours is None or theirs is None:
        return AXIS.lacks(readings)
    values = {"machine": ours.value.value, "pump": _worded_axis(theirs.value)}
    shown = Answer(ours.value.value, theirs.value.value)
    if theirs.value in {ours.value, Axis.BOTH}:
        return AXIS.passes(Sentence(SAME_AXIS, values), readings, shown)
    return replace(AXIS.fails(Sentence(OTHER_AXIS, values), readings, shown), change=Sentence(CHANGE_AXIS, values))


def judge_drive(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge whether shaft and pump go together directly, or through a listed coupling."""
    shaft, bore = machine.shaft.form, pump.bore.form
    readings = (("shaft_form", shaft), ("bore_form", bore))
    if shaft is None or bore is None:
        return DRIVE.lacks(readings)
    shown = Answer(shaft.value.value, bore.value.value)
    if goes_in_directly(machine, pump):
        return DRIVE.passes(Sentence(GOES_IN), readings, shown)
    values = {"shaft": shaft.value.value, "bore": bore.value.value}
    missing = _open_for_coupling(machine, pump, shelf)
    if missing:
        return DRIVE.unsure(Sentence(COUPLING_OPEN, values), readings, missing, shown)
    coupling = _coupling_or_none(machine, pump, shelf)
    if coupling is None:
        return DRIVE.fails(Sentence(NO_COUPLING, values), readings, shown, change=CHANGE_DRIVE)
    need = Need(Sentence(COUPLING_NEED, {"a": coupling.bore_a_mm, "b": coupling.bore_b_mm}), 1, coupling)
    found = DRIVE.by_parts(Sentence(COUPLING, values), readings, shown)
    return replace(found, needs=(need,), notes=(Sentence(COUPLING_ROOM),))


def _worded_axis(axis: Axis) -> str:
    return "a horizontal or a vertical shaft" if axis is Axis.BOTH else f"a {axis.value} shaft"


def _is_for_coupling(machine: Machine, pump: Pump) -> bool:
    shaft, bore = machine.shaft.form, pump.bore.form
    both = (shaft.value if shaft else None, bore.value if bore else None)
    return both == (ShaftForm.STRAIGHT_KEYED, BoreForm.SOLID_KEYED)


def _sizes_to_join(machine: Machine, pump: Pump) -> tuple[set[float], set[float]]:
    """Return the standard sizes the engine's and the pump's own shaft may have, mm.

    A solid-shaft pump's own shaft is measured like any shaft; its sizes are those of the bore that would take it.
    """
    ours = {size.nominal_mm for size in shaft_sizes(machine.shaft) if size.label}
    theirs = {size.nominal_mm for size in bore_sizes(pump.bore) if size.label}
    return ours, theirs


def _open_for_coupling(machine: Machine, pump: Pump, shelf: Shelf) -> tuple[str, ...]:
    """Return what must be measured before a listed coupling can be chosen; empty where it can, or none is listed."""
    if not _is_for_coupling(machine, pump) or not any(
        part.kind is PartKind.COUPLING and part.count > 0 for part in shelf
    ):
        return ()
    ours, theirs = _sizes_to_join(machine, pump)
    missing = []
    if drive_torque_nm(machine) is None:
        missing += ["power_kw", "power_speed_rpm"]
    if len(ours) > 1 or machine.shaft.diameter_mm is None:
        missing += ["shaft_diameter_mm", "shaft_key_width_mm"]
    if len(theirs) > 1 or pump.bore.diameter_mm is None:
        missing += ["bore_diameter_mm", "bore_keyway_width_mm"]
    return tuple(missing)


def _coupling_or_none(machine: Machine, pump: Pump, shelf: Shelf) -> Part | None:
    """Return a listed coupling bored for both straight keyed shafts and strong enough, or None."""
    torque = drive_torque_nm(machine)
    if torque is None or not _is_for_coupling(machine, pump):
        return None
    ours, theirs = _sizes_to_join(machine, pump)
    if len(ours) != 1 or len(theirs) != 1:
        return None
    wanted = sorted((*ours, *theirs))
    for part in shelf:
        if part.kind is PartKind.COUPLING and part.count > 0 and part.bore_a_mm and part.bore_b_mm:
            bored = sorted((part.bore_a_mm, part.bore_b_mm))
            strong = part.torque_nm is not None and part.torque_nm >= torque.high
            if strong and all(
                abs(one - other) <= SAME_LISTED_SIZE_MM for one, other in zip(bored, wanted, strict=True)
            ):
                return part
    return None
