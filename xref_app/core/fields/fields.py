"""Every measured field: what it is called, its unit and limits, and how to measure it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from xref_app.core.fields.errors import UnknownFieldError
from xref_app.core.fields.schema_files import Json, as_list, as_number_or_none, as_object, as_texts, folder, schema_file
from xref_app.core.fields.table_schemas import table_schema

__all__ = ["Field", "Kind", "Side", "all_fields", "field_for", "field_for_case", "folder", "table_schema"]


class Kind(StrEnum):
    """What a field holds."""

    NUMBER = "number"
    WORD = "word"
    THREAD = "thread"
    HOLES = "holes"
    HEIGHTS = "heights"
    SECTORS = "sectors"
    YES_NO = "yesno"


class Side(StrEnum):
    """Whose field it is."""

    MACHINE = "machine"
    PUMP = "pump"


@dataclass(frozen=True, slots=True)
class Field:
    """One measured field.

    ``case_field`` is its dotted path in a case; ``unit`` one of the canonical units without the underscore, or
    empty; ``minimum`` and ``maximum`` bound what is plausible, None where the kind has no size; ``choices`` the
    closed list of a word; ``pattern`` what a text must look like (the whole of it), or empty; ``default_doubt`` the
    half-width of a bare number, in ``unit``; ``minutes`` what measuring takes once ``comes_off_first`` is off.
    """

    field_id: str
    title: str
    unit: str
    kind: Kind
    side: Side
    case_field: str
    minimum: float | None
    maximum: float | None
    choices: tuple[str, ...]
    default_doubt: float
    doubt_source: str
    how_to_measure: str
    minutes: float
    comes_off_first: str
    description: str
    pattern: str = ""


@cache
def all_fields() -> Mapping[str, Field]:
    """Return every measured field by its id, in the order of the schema."""
    rows = [as_object(one) for one in as_list(schema_file("sizes")["fields"])]
    fields = [_field(row) for row in rows if "caseField" in row]
    return MappingProxyType({field.field_id: field for field in fields})


def field_for(field_id: str) -> Field:
    """Return the field called ``field_id``.

    Raises:
        UnknownFieldError: there is none.
    """
    fields = all_fields()
    if field_id not in fields:
        raise UnknownFieldError(field_id, tuple(fields))
    return fields[field_id]


def field_for_case(case_path: str) -> Field:
    """Return the field that stands at ``case_path`` of a case, such as ``machine.shaft.diameter_mm``.

    What the pump coming off has built in (``old_pump.has.unloader``) is the same field as the new pump's.

    Raises:
        UnknownFieldError: no field stands there.
    """
    path = case_path.removeprefix("old_") if case_path.startswith("old_pump.has.") else case_path
    by_path = _by_case_path()
    if path not in by_path:
        raise UnknownFieldError(case_path, tuple(by_path))
    return by_path[path]


@cache
def _by_case_path() -> Mapping[str, Field]:
    return {field.case_field: field for field in all_fields().values()}


def _field(row: Json) -> Field:
    constraints = as_object(row["constraints"])
    return Field(
        field_id=str(row["name"]),
        title=str(row["title"]),
        unit=str(row["unit"]),
        kind=Kind(str(row["kind"])),
        side=Side(str(row["side"])),
        case_field=str(row["caseField"]),
        minimum=as_number_or_none(constraints.get("minimum")),
        maximum=as_number_or_none(constraints.get("maximum")),
        choices=as_texts(constraints.get("enum", [])),
        default_doubt=as_number_or_none(row["defaultDoubt"]) or 0.0,
        doubt_source=str(row["doubtSource"]),
        how_to_measure=str(row["howToMeasure"]),
        minutes=as_number_or_none(row["minutes"]) or 0.0,
        comes_off_first=str(row["comesOffFirst"]),
        description=str(row["description"]),
        pattern=str(constraints.get("pattern", "")),
    )
