"""Which size of a unit on the bench to measure next, so that the catalog soon leaves one entry."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from xref_app.core.fields.fields import Field, Kind, Side, all_fields, field_for
from xref_app.core.model.known import Dimension, Fact, Known
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked
from xref_app.services.catalog import Catalog
from xref_app.services.machine_side import Values
from xref_app.services.size_search import (
    CHANGEABLE,
    Match,
    Readings,
    entries_meeting,
    known_of_kind,
    limits_met,
    match_of,
    widened,
)

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

# House rule: of words, threads and hole patterns so many different ones are compared each with each.
_MOST_COMPARED = 64

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
    fields = [field for field in _in_order(kind) if _is_to_ask(field, readings, skipped)]
    if not fields:
        return None
    known = known_of_kind(catalog, kind)
    possible = [known[hit.entry_id] for hit in entries_meeting(catalog, kind, readings)]
    off = _off(readings)
    ruled_out = {field.field_id: _ruled_out(field, possible) for field in fields}
    best = max(fields, key=lambda field: ruled_out[field.field_id] / max(_minutes(field, off), _LEAST_MINUTES))
    return Question(
        field=best.field_id,
        title=best.title,
        minutes=_minutes(best, off),
        candidates=len(possible),
        rules_out=ruled_out[best.field_id],
        why=_why(ruled_out[best.field_id], len(possible)),
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


def _is_to_ask(field: Field, readings: Readings, skipped: Collection[str]) -> bool:
    return field.field_id not in readings and field.field_id not in skipped and not _is_moot(field.field_id, readings)


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


def _off(readings: Readings) -> frozenset[str]:
    """Return what has come off already: something was measured that it would hide."""
    off = {field_for(field_id).comes_off_first for field_id in readings}
    return frozenset(off).union(*(_ALSO_OFF.get(one, frozenset()) for one in off))


def _minutes(field: Field, off: Collection[str]) -> float:
    first = field.comes_off_first
    return field.minutes + (0.0 if first in off else _BARING_MINUTES.get(first, _BARING))


def _ruled_out(field: Field, possible: Sequence[Values]) -> float:
    """Return how many of the entries a reading of ``field`` is expected to exclude.

    The reading is as one of the entries says, each as likely; those that say nothing exclude nobody and stay.
    """
    if len(possible) < 2 or field.field_id in CHANGEABLE:
        return 0.0
    said = Counter(versions for values in possible if (versions := _deciding(values.get(field.field_id, ()))))
    if field.kind is Kind.NUMBER:
        return _apart_by_size(field, said) / len(possible)
    return _apart_by_pairs(field, said) / len(possible)


def _deciding(versions: Iterable[Known]) -> tuple[Known, ...]:
    return tuple(one for one in versions if one.how.decides)


def _apart_by_size(field: Field, said: Counter[tuple[Known, ...]]) -> float:
    """Return how many ordered pairs of entries lie so far apart that a reading of one excludes the other."""
    spans = [(_span(field, versions), count) for versions, count in said.items()]
    lows = sorted(span.low for span, count in spans for _ in range(count))
    highs = sorted(span.high for span, count in spans for _ in range(count))
    below = sum(count * bisect_left(highs, span.low - SAME_MM) for span, count in spans)
    above = sum(count * (len(lows) - bisect_right(lows, span.high + SAME_MM)) for span, count in spans)
    return float(below + above)


def _span(field: Field, versions: Sequence[Known]) -> Range:
    """Return from the least to the most that a reading of this entry can be, all its versions and its limits held."""
    sizes = [
        Range.around(one.value, max(one.doubt, field.default_doubt)) for one in versions if isinstance(one, Dimension)
    ]
    held = [widened(field, size) for size in sizes] + [limits for size in sizes for limits in limits_met(field, size)]
    return Range(min(one.low for one in held), max(one.high for one in held))


def _apart_by_pairs(field: Field, said: Counter[tuple[Known, ...]]) -> float:
    """Return the same for words, threads and patterns; beyond the most compared, as if the rest were like those."""
    compared = said.most_common(_MOST_COMPARED)
    pairs = 0
    for place, (ours, our_count) in enumerate(compared):
        for theirs, their_count in compared[place + 1 :]:
            if all(match_of(field, one, theirs) is Match.CONTRADICTS for one in ours):
                pairs += 2 * our_count * their_count
    share = said.total() / max(1, sum(count for _, count in compared))
    return pairs * share * share
