"""Which size of a unit on the bench to measure next, so that the catalog soon leaves one entry."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from xref_app.core.fields.fields import Field, Side, all_fields, field_for
from xref_app.core.model.known import Fact
from xref_app.core.quantity.range import SAME_MM
from xref_app.core.sentence import Sentence, marked
from xref_app.services.catalog import Catalog
from xref_app.services.kept_tables import table_of_kind
from xref_app.services.size_match import Readings

TELLS_APART = marked("measure order", "tells {apart} of {count} apart")
FOR_THE_FIT = marked("measure order", "needed to judge the fit")

# House rule: what it takes to lay the thing bare, minutes. What the schema names and this does not is taken as _BARING.
_BARING_MINUTES: Mapping[str, float] = {
    "": 0.0,
    "pump": 10.0,
    "pump from the machine": 10.0,
    "one mounting bolt": 1.0,
    "supply hose": 0.5,
    "pressure hose": 0.5,
    "spray nozzle": 0.2,
}
_BARING = 5.0
# Whoever has taken the pump off has its bolts in hand.
_ALSO_OFF: Mapping[str, frozenset[str]] = {"pump": frozenset({"one mounting bolt"})}
# A look takes no time at all, but must not divide by zero (house rule, as in measure_next).
_LEAST_MINUTES = 0.25

# House rule: what the fit judgement stops at first, for when the catalog does not help. The rest follows the schema.
_FIRST: Mapping[str, tuple[str, ...]] = {
    "pump": (
        "bore_form",
        "bore_diameter_mm",
        "bore_keyway_width_mm",
        "bore_depth_mm",
        "flange_holes_xy_mm",
        "flange_hole_mm",
        "flange_thickness_mm",
        "flange_seat_kind",
        "flange_seat_heights_mm",
        "flange_pilot_kind",
        "flange_pilot_mm",
        "flange_pilot_depth_mm",
        "bore_keyway_floor_mm",
        "bore_keyway_from_mm",
        "bore_keyway_to_mm",
        "bore_recess_mm",
        "bore_axis",
        "bore_turn",
        "inlet_thread",
        "inlet_gender",
        "inlet_seal_mm",
        "outlet_thread",
        "outlet_gender",
        "outlet_seal_mm",
        "rating_speed_rpm",
        "rating_pressure_bar",
        "rating_flow_lpm",
    ),
    "driver": (
        "shaft_form",
        "shaft_diameter_mm",
        "shaft_key_width_mm",
        "shaft_projection_mm",
        "face_holes_xy_mm",
        "face_bolt",
        "face_hole_kind",
    ),
}
_DRIVER_FIELDS = ("shaft_", "face_", "power_")


@dataclass(frozen=True, slots=True)
class Question:
    """The field to measure next.

    ``minutes`` holds what must come off first; ``candidates`` are the entries still possible, ``rules_out`` how many of
    them the answer is expected to exclude, and ``why`` says so in words.
    """

    field: str
    title: str
    minutes: float
    candidates: int
    rules_out: float
    why: Sentence


def next_question(catalog: Catalog, kind: str, readings: Readings, skipped: Collection[str]) -> Question | None:
    """Return the field that rules out most entries in the least time, or None where nothing is left to ask.

    Every entry still possible is taken to be as likely as any other to be the one on the bench. Where the catalog
    tells nothing, the field comes next that the judge of fit needs most.

    Args:
        catalog: What is known.
        kind: ``pump``, ``driver`` or ``machine``.
        readings: What was measured, by field id; never asked again.
        skipped: Fields nobody wants to measure; skipping costs nothing.
    """
    fields = asked_in_order(kind, readings, skipped)
    if not fields:
        return None
    from xref_app.services.told_apart import StillPossible  # noqa: PLC0415 - numpy only when somebody asks

    possible = StillPossible.of(catalog, table_of_kind(catalog, kind), readings)
    off = off_already(readings)
    ruled_out = {field.field_id: possible.ruled_out(field) for field in fields}
    best = max(fields, key=lambda field: ruled_out[field.field_id] / max(minutes_of(field, off), _LEAST_MINUTES))
    return Question(
        field=best.field_id,
        title=best.title,
        minutes=minutes_of(best, off),
        candidates=possible.count,
        rules_out=ruled_out[best.field_id],
        why=_why(ruled_out[best.field_id], possible.count),
    )


def _why(rules_out: float, count: int) -> Sentence:
    if rules_out <= 0:
        return Sentence(FOR_THE_FIT)
    return Sentence(TELLS_APART, {"apart": math.ceil(rules_out - SAME_MM), "count": count})


def _in_order(kind: str) -> tuple[Field, ...]:
    """Return every field of a kind of entry, in the order to ask where the catalog does not help."""
    side = Side.PUMP if kind == "pump" else Side.MACHINE
    of_kind = [field for field in all_fields().values() if field.side is side]
    if kind == "driver":
        of_kind = [field for field in of_kind if field.field_id.startswith(_DRIVER_FIELDS)]
    first = _FIRST["pump" if kind == "pump" else "driver"]
    rank = {field_id: place for place, field_id in enumerate(first)}
    return tuple(sorted(of_kind, key=lambda field: rank.get(field.field_id, len(rank))))


def asked_in_order(kind: str, readings: Readings, skipped: Collection[str]) -> list[Field]:
    """Return the fields that are still to be asked, in the order to ask where the catalog does not help."""
    done = {*readings, *skipped}
    return [field for field in _in_order(kind) if field.field_id not in done and not _is_moot(field.field_id, readings)]


# Fields that ask for the size of something, and the word that says that it is not there.
_MOOT: Mapping[str, tuple[str, str]] = {
    "flange_pilot_mm": ("flange_pilot_kind", "none"),
    "flange_pilot_depth_mm": ("flange_pilot_kind", "none"),
    "face_pilot_mm": ("face_pilot_kind", "none"),
    "face_pilot_depth_mm": ("face_pilot_kind", "none"),
    "face_hole_mm": ("face_hole_kind", "tapped"),
    "face_tapped_depth_mm": ("face_hole_kind", "through"),
    "flange_seat_heights_mm": ("flange_seat_kind", "flat face"),
    "face_seat_heights_mm": ("face_seat_kind", "flat face"),
    "bore_keyway_width_mm": ("bore_form", "hollow plain"),
    "bore_keyway_floor_mm": ("bore_form", "hollow plain"),
    "bore_keyway_from_mm": ("bore_form", "hollow plain"),
    "bore_keyway_to_mm": ("bore_form", "hollow plain"),
    "shaft_key_width_mm": ("shaft_form", "straight plain"),
    "shaft_key_top_mm": ("shaft_form", "straight plain"),
    "shaft_keyseat_length_mm": ("shaft_form", "straight plain"),
    "shaft_keyseat_from_end_mm": ("shaft_form", "straight plain"),
}


def _is_moot(field_id: str, readings: Readings) -> bool:
    """Say whether a field asks for something known not to be there; a seal counts only with the thread that has two."""
    if field_id.endswith("_seal_mm"):
        return not _word(readings, field_id.replace("_seal_mm", "_thread")).startswith("M22")
    asked, word = _MOOT.get(field_id, ("", ""))
    return bool(asked) and _word(readings, asked) == word


def _word(readings: Readings, field_id: str) -> str:
    reading = readings.get(field_id)
    return str(reading.value) if isinstance(reading, Fact) else ""


def off_already(readings: Readings) -> frozenset[str]:
    """Return what has come off already: something was measured that it would hide."""
    off = {field_for(field_id).comes_off_first for field_id in readings}
    return frozenset(off).union(*(_ALSO_OFF.get(one, frozenset()) for one in off))


def minutes_of(field: Field, off: Collection[str]) -> float:
    """Return what a reading takes, with what must come off first unless that is ``off`` already."""
    first = field.comes_off_first
    return field.minutes + (0.0 if first in off else _BARING_MINUTES.get(first, _BARING))
