"""What is known of a job as rows ready to show: value, how known, by whom, when; and what is not known."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from xref_app.core.fields.fields import Field, Kind, Side, all_fields
from xref_app.core.fit.show import TURN_WORDS
from xref_app.core.model.catalog import Observation, PortRow
from xref_app.core.model.known import Dimension, Fact, How, Known, Pattern, Seats
from xref_app.core.model.words import Turn
from xref_app.core.quantity.show import show_inch, show_mm, show_range, show_value
from xref_app.services.answers import FactRow, FactState
from xref_app.services.catalog import Catalog
from xref_app.services.doubtful_sizes import told_range, told_value
from xref_app.services.doubts import Doubt
from xref_app.services.machine_side import Values

NOT_KNOWN = "? not known"
_FROM_OLD_PUMP = "claimed, told by the old pump"


def fact_rows(
    catalog: Catalog, values: Values, sources: Iterable[str], *, inch_first: bool = False
) -> tuple[FactRow, ...]:
    """Return one row per machine-side field, the known ones first, each in the order of the schema.

    Args:
        catalog: Where the readings come from.
        values: What is known by field.
        sources: The entries whose own readings count (machine and engine); what comes from elsewhere was told by the
            old pump.
        inch_first: Show inches before millimetres.
    """
    entries = tuple(sources)
    doubts = {one.blamed.field: one for entry in entries for one in catalog.doubts.get(entry, ())}
    rows = [
        _row(field, values.get(field.field_id, ()), known_by(catalog, entries, field.field_id), inch_first=inch_first)
        if field.field_id in values or field.field_id not in doubts
        else _row_in_doubt(catalog, field, doubts[field.field_id], inch_first=inch_first)
        for field in all_fields().values()
        if field.side is Side.MACHINE and not _is_moot(field, values)
    ]
    return tuple(sorted(rows, key=lambda row: row.state is FactState.UNKNOWN))


def shown_value(field: Field, known: Known, *, inch_first: bool = False, is_told: bool = False) -> str:
    """Return one value in words, lengths in both units.

    Args:
        field: What it is a value of.
        known: The value.
        inch_first: Show inches before millimetres.
        is_told: The old pump tells it: no digit is shown that its doubt does not support.
    """
    match known:
        case Dimension():
            return _size(field, known, inch_first=inch_first, is_told=is_told)
        case Pattern():
            radii = [math.hypot(hole.x_mm, hole.y_mm) for hole in known.holes]
            circle = sum(radii) / len(radii) * 2
            if is_told:
                return f"{len(known.holes)} on {told_value(circle, known.doubt_mm, inch_first=inch_first)}"
            return f"{len(known.holes)} on {_in_units(circle, 'mm', inch_first=inch_first)}"
        case Seats():
            return ", ".join(f"{height:g}" for height in known.heights_mm) + " mm"
        case Fact():
            return _worded(field, known.value)


def _size(field: Field, known: Dimension, *, inch_first: bool, is_told: bool) -> str:
    is_coarse = known.doubt > field.default_doubt
    if is_told and field.unit == "mm":
        if is_coarse:
            return told_range(known.range, inch_first=inch_first)
        return told_value(known.value, known.doubt, inch_first=inch_first)
    if is_coarse:
        return show_range(known.range, field.unit)
    return _in_units(known.value, field.unit, inch_first=inch_first)


def _in_units(value: float, unit: str, *, inch_first: bool) -> str:
    if unit == "mm" and inch_first:
        return f"{show_inch(value)} ({show_mm(value)})"
    return show_value(value, unit)


def _row(field: Field, known: Sequence[Known], who: str, *, inch_first: bool) -> FactRow:
    if not known:
        return FactRow(field.field_id, field.title, NOT_KNOWN, "", FactState.UNKNOWN)
    shown = " / ".join(shown_value(field, one, inch_first=inch_first, is_told=not who) for one in known)
    state = FactState.CONFLICT if len(known) > 1 else FactState.KNOWN
    if known[0].how is How.TYPICAL:
        state = FactState.HINT
    return FactRow(field.field_id, field.title, shown, who or _FROM_OLD_PUMP, state)


def _row_in_doubt(catalog: Catalog, field: Field, doubt: Doubt, *, inch_first: bool) -> FactRow:
    """Return the row of a size that was blamed: what it was, and what for, beside that it is not known now."""
    shown = " / ".join(shown_value(field, one, inch_first=inch_first) for one in doubt.was)
    outcome = next((one for one in catalog.outcomes if one.outcome_id == doubt.blamed.outcome_id), None)
    blamed = ", ".join(text for text in (outcome.result, outcome.seen_on) if text) if outcome else ""
    return FactRow(field.field_id, field.title, shown or NOT_KNOWN, f"blamed: {blamed}", FactState.IN_DOUBT)


def _worded(field: Field, value: object) -> str:
    if field.kind is Kind.YES_NO:
        return "yes" if value else "no"
    if field.kind is Kind.SECTORS and isinstance(value, tuple):
        return ", ".join(f"{begin:g}° to {end:g}°" for begin, end in value)
    return TURN_WORDS[Turn(str(value))] if field.field_id.endswith("_turn") else str(value)


def _is_moot(field: Field, values: Values) -> bool:
    """Say whether a field asks for a size of something that is known not to be there."""
    through = _is(values, "face_hole_kind", "through")
    if field.field_id in {"face_hole_mm", "face_thickness_mm"}:
        return not through
    if field.field_id in {"face_pilot_mm", "face_pilot_depth_mm"}:
        return _is(values, "face_pilot_kind", "none")
    if field.field_id.endswith("_seal_mm"):
        thread = values.get(field.field_id.replace("_seal_mm", "_thread"), ())
        return not any(isinstance(one, Fact) and str(one.value).startswith("M22") for one in thread)
    return field.field_id == "face_hole_kind" and not through


def _is(values: Values, field: str, word: str) -> bool:
    return any(isinstance(one, Fact) and str(one.value) == word for one in values.get(field, ()))


def known_by(catalog: Catalog, entries: Sequence[str], field: str) -> str:
    """Return how the strongest reading of a field is known, by whom and when; empty where no entry has one."""
    readings = [one for entry in entries for one in catalog.observations.get(entry, ()) if one.field == field]
    ports = [one for entry in entries for one in catalog.ports.get(entry, ()) if field.startswith(f"{one.port}_")]
    return " / ".join(dict.fromkeys(_told(one) for one in _strongest([*readings, *ports])))


def _strongest(readings: Sequence[Observation | PortRow]) -> list[Observation | PortRow]:
    ranks = [How[one.how.upper()] for one in readings]
    return [one for one, rank in zip(readings, ranks, strict=True) if rank is min(ranks)]


def _told(reading: Observation | PortRow) -> str:
    return ", ".join(text for text in (reading.how, reading.seen_by, reading.seen_on) if text)
