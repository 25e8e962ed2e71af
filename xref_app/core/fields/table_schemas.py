"""The Table Schema of every table of the catalog, parsed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from xref_app.core.fields.errors import UnknownTableError
from xref_app.core.fields.schema_files import Json, as_list, as_number_or_none, as_object, as_texts, schema_file

# In the order in which rows may be put into a store: what is referred to comes first.
TABLES = (
    "entries",
    "numbers",
    "observations",
    "drivers",
    "machines",
    "ports",
    "parts",
    "shelf",
    "reservations",
    "salvaged_units",
    "unit_reservations",
    "replaced_by",
    "outcomes",
    "blamed_sizes",
    "photos",
)


class ColumnType(StrEnum):
    """The Table Schema types that the catalog uses."""

    STRING = "string"
    NUMBER = "number"
    INTEGER = "integer"
    BOOLEAN = "boolean"
    DATE = "date"


@dataclass(frozen=True, slots=True)
class Column:
    """One column. ``minimum`` and ``maximum`` are in ``unit``; ``max_length`` counts characters."""

    name: str
    title: str
    type: ColumnType
    unit: str
    description: str
    required: bool
    unique: bool
    minimum: float | None
    maximum: float | None
    max_length: int | None
    choices: tuple[str, ...]
    pattern: str
    is_field_id: bool


@dataclass(frozen=True, slots=True)
class ForeignKey:
    """``column`` holds a value of ``other_column`` of ``other_table``, or nothing."""

    column: str
    other_table: str
    other_column: str


@dataclass(frozen=True, slots=True)
class TableSchema:
    """One table; ``columns`` in the order of its file, ``primary_key`` the columns that together are unique."""

    name: str
    title: str
    description: str
    columns: tuple[Column, ...]
    primary_key: tuple[str, ...]
    foreign_keys: tuple[ForeignKey, ...]

    @property
    def column_names(self) -> tuple[str, ...]:
        """Return the names of the columns in order."""
        return tuple(column.name for column in self.columns)


@cache
def table_schema(table: str) -> TableSchema:
    """Return the schema of ``table``.

    Raises:
        UnknownTableError: the catalog has no such table.
    """
    if table not in TABLES:
        raise UnknownTableError(table, TABLES)
    raw = schema_file(table)
    return TableSchema(
        name=table,
        title=str(raw["title"]),
        description=str(raw["description"]),
        columns=tuple(_column(as_object(one)) for one in as_list(raw["fields"])),
        primary_key=as_texts(raw["primaryKey"]),
        foreign_keys=tuple(_foreign_key(as_object(one)) for one in as_list(raw.get("foreignKeys", []))),
    )


@cache
def all_table_schemas() -> Mapping[str, TableSchema]:
    """Return every table's schema by name, what is referred to before what refers to it."""
    return MappingProxyType({name: table_schema(name) for name in TABLES})


def _column(raw: Json) -> Column:
    constraints = as_object(raw["constraints"])
    max_length = as_number_or_none(constraints.get("maxLength"))
    return Column(
        name=str(raw["name"]),
        title=str(raw["title"]),
        type=ColumnType(str(raw["type"])),
        unit=str(raw.get("unit", "")),
        description=str(raw["description"]),
        required=constraints.get("required") is True,
        unique=constraints.get("unique") is True,
        minimum=as_number_or_none(constraints.get("minimum")),
        maximum=as_number_or_none(constraints.get("maximum")),
        max_length=None if max_length is None else int(max_length),
        choices=as_texts(constraints.get("enum", [])),
        pattern=str(constraints.get("pattern", "")),
        is_field_id=raw.get("fieldOf") == "sizes",
    )


def _foreign_key(raw: Json) -> ForeignKey:
    reference = as_object(raw["reference"])
    (column,), (other,) = as_texts(raw["fields"]), as_texts(reference["fields"])
    return ForeignKey(column, str(reference["resource"]), other)
