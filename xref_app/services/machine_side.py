"""The machine side of a job: from the build of the machine, from its engine, or from the old pump it carried."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from xref_app.core.fields.fields import Side, field_for
from xref_app.core.fit.bore import most_play_mm
from xref_app.core.model.catalog import MachineRow
from xref_app.core.model.known import Dimension, Fact, How, Known, Pattern
from xref_app.core.model.words import Axis, BoreForm, Gender, ShaftForm
from xref_app.services.catalog import Catalog

Values = Mapping[str, tuple[Known, ...]]

# A hole pattern read off the old pump tells where the bolts are, give or take the play of a bolt in its hole.
# Common practice: holes are about 0.8 mm wider than their bolts.
_BOLT_PLAY_MM = 0.4

_OTHER_GENDER = {Gender.MALE: Gender.FEMALE, Gender.FEMALE: Gender.MALE}


@dataclass(frozen=True, slots=True)
class JobValues:
    """What is known for one job by field id: of the machine side, and what the old pump had built in.

    ``sources`` are the entries it was read from.
    """

    machine: Values
    old_has: Values
    sources: tuple[str, ...] = ()


def job_values(
    catalog: Catalog, pump_id: str | None, machine_id: str | None, *, sisters: Sequence[str] = ()
) -> JobValues:
    """Return everything known of the machine side.

    The build and its engine come first. What neither tells is taken from the pump coming off, where its own size says
    something about the side it came from: the shaft that ran in its bore, the bolts that held it, the hoses on it.

    Args:
        catalog: Where it is known from.
        pump_id: The pump coming off; None where the build tells which it is.
        machine_id: The build.
        sisters: Further builds with the same engine, any of which may be meant: only what is known of all of them
            counts, and where they differ each version does.
    """
    row = catalog.machines.get(machine_id or "")
    pump_id = pump_id or (row.pump_id or None if row is not None else None)
    old = catalog.known(pump_id) if pump_id else {}
    told = _told_by_old_pump(old)
    # What the old pump tells fills the gaps of each build by itself: what one build is known to have must not make room
    # for a claim because another says nothing.
    builds = [] if row is None else [_build(catalog, told, (row.driver_id, one)) for one in (row.entry_id, *sisters)]
    machine = _common(builds) if builds else told
    return JobValues(
        machine=machine,
        sources=tuple(entry for entry in (pump_id, *_machine_entries(row), *sisters) if entry),
        old_has={field: values for field, values in old.items() if field.startswith("has_")},
    )


def _build(catalog: Catalog, told: Values, entry_ids: Sequence[str]) -> dict[str, tuple[Known, ...]]:
    """Return what is known of one build; a size in doubt is not filled up with what the old pump tells."""
    in_doubt = catalog.fields_in_doubt(*entry_ids)
    left = {field: versions for field, versions in told.items() if field not in in_doubt}
    return left | _of_machine(catalog.known(*entry_ids))


def _of_machine(values: Values) -> dict[str, tuple[Known, ...]]:
    return {field: versions for field, versions in values.items() if field_for(field).side is Side.MACHINE}


def _common(builds: Sequence[Values]) -> dict[str, tuple[Known, ...]]:
    """Return what is known of every one of ``builds``, each version once."""
    first, *others = builds
    return {
        field: tuple(dict.fromkeys(version for build in builds for version in build[field]))
        for field in first
        if all(field in other for other in others)
    }


def _machine_entries(row: MachineRow | None) -> tuple[str, ...]:
    return () if row is None else (row.driver_id, row.entry_id)


def _told_by_old_pump(old: Values) -> dict[str, tuple[Known, ...]]:
    """Return what the old pump says about its machine, never better known than a claim: something may lie between."""
    told: dict[str, tuple[Known, ...]] = {}
    for ours, theirs in _SAME_ON_BOTH.items():
        if theirs in old:
            told[ours] = old[theirs]
    told |= _shaft_of(old)
    if "flange_holes_xy_mm" in old:
        told["face_holes_xy_mm"] = tuple(_bolts_of(pattern) for pattern in old["flange_holes_xy_mm"])
    for ours, theirs in (("supply_gender", "inlet_gender"), ("discharge_gender", "outlet_gender")):
        if theirs in old:
            told[ours] = tuple(_mate_of(gender) for gender in old[theirs])
    return {field: tuple(_as_claim(value) for value in values) for field, values in told.items()}


def _as_claim(value: Known) -> Known:
    return value if value.how > How.CLAIMED else replace(value, how=How.CLAIMED)


# A hose that was on the old pump has its thread and seal; a key that was in its keyway has its width.
_SAME_ON_BOTH = {
    "shaft_key_width_mm": "bore_keyway_width_mm",
    "supply_thread": "inlet_thread",
    "supply_seal_mm": "inlet_seal_mm",
    "discharge_thread": "outlet_thread",
    "discharge_seal_mm": "outlet_seal_mm",
}


def _shaft_of(old: Values) -> dict[str, tuple[Known, ...]]:
    """Return the shaft that ran in the old pump's bore: no thicker than the bore, no thinner than its play allows."""
    told: dict[str, tuple[Known, ...]] = {}
    hollow = any(isinstance(form, Fact) and form.value is BoreForm.HOLLOW_KEYED for form in old.get("bore_form", ()))
    if hollow:
        told["shaft_form"] = tuple(Fact(ShaftForm.STRAIGHT_KEYED, form.how) for form in old["bore_form"])
        if "bore_diameter_mm" in old:
            told["shaft_diameter_mm"] = tuple(_shaft_in(bore) for bore in old["bore_diameter_mm"])
    axes = tuple(axis for axis in old.get("bore_axis", ()) if isinstance(axis, Fact) and axis.value is not Axis.BOTH)
    if axes:
        told["shaft_axis"] = axes
    return told


def _shaft_in(bore: Known) -> Known:
    if not isinstance(bore, Dimension):
        return bore
    thickest, thinnest = bore.range.high, bore.range.low - most_play_mm(bore.value)
    return Dimension((thickest + thinnest) / 2, (thickest - thinnest) / 2, bore.how)


def _bolts_of(pattern: Known) -> Known:
    if not isinstance(pattern, Pattern):
        return pattern
    return replace(pattern, doubt_mm=pattern.doubt_mm + _BOLT_PLAY_MM)


def _mate_of(gender: Known) -> Known:
    if not isinstance(gender, Fact):
        return gender
    return Fact(_OTHER_GENDER[Gender(str(gender.value))], gender.how)
