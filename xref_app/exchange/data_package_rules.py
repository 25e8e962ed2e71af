"""What must hold between the rows of a catalog: keys, and observations that agree with their field's definition."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache

from xref_app.core.fields.fields import Field, Kind, Side, all_fields
from xref_app.core.fields.table_schemas import ForeignKey
from xref_app.core.progress import NO_PROGRESS, Progress, stretches, told_through
from xref_app.exchange.data_package_problems import Problem, Problems
from xref_app.exchange.table_schema_cells import MOST_REMEMBERED, Cell, bounds_text, cell_text
from xref_app.exchange.table_schema_rows import ReadTable

Tables = Mapping[str, ReadTable]

# Which side's fields an entry of each kind may carry.
SIDE_OF_KIND = {"pump": Side.PUMP, "driver": Side.MACHINE, "machine": Side.MACHINE}


def check_rules(tables: Tables, problems: Problems, progress: Progress = NO_PROGRESS) -> None:
    """Add to ``problems`` every row that breaks a key or a field's definition.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    keys, sizes = stretches(progress, 1, 1)
    for place, table in enumerate(tables.values()):
        keys.step(2 * place, 2 * len(tables))
        _check_unique(table, problems)
        keys.step(2 * place + 1, 2 * len(tables))
        for key in table.schema.foreign_keys:
            if not problems.in_table(key.other_table):
                _check_foreign_key(table, key, tables[key.other_table], problems)
    if not problems.in_table("entries"):
        _check_observations(tables, problems, sizes)
    _check_shelf(tables["shelf"], problems)


def _check_unique(table: ReadTable, problems: Problems) -> None:
    keys = {table.schema.primary_key} | {(column.name,) for column in table.schema.columns if column.unique}
    for key in sorted(keys):
        columns = [table.column(name) for name in key]
        together = columns[0] if len(columns) == 1 else zip(*columns, strict=True)
        if len(set(together)) == len(table.rows):
            continue
        first: dict[tuple[Cell, ...], int] = {}
        for row_number, *values in zip(table.row_numbers, *columns, strict=True):
            earlier = first.setdefault(tuple(values), row_number)
            if earlier != row_number:
                found = ", ".join(cell_text(value) for value in values)
                advice = f"stands in row {earlier} already: take one of the two out"
                problems.add(Problem(table.schema.name, row_number, " and ".join(key), found, advice))


def _check_foreign_key(table: ReadTable, key: ForeignKey, other: ReadTable, problems: Problems) -> None:
    known = set(other.column(key.other_column)) | {""}
    if known.issuperset(table.column(key.column)):
        return
    for row_number, value in zip(table.row_numbers, table.column(key.column), strict=True):
        if value not in known:
            advice = f"is not in {key.other_table}.csv: add it there or mend it here"
            problems.add(Problem(table.schema.name, row_number, key.column, cell_text(value), advice))


def _check_shelf(shelf: ReadTable, problems: Problems) -> None:
    both = zip(shelf.row_numbers, shelf.column("part_id"), shelf.column("entry_id"), strict=True)
    for row_number, part_id, entry_id in both:
        if bool(part_id) == bool(entry_id):
            found = ", ".join(text for text in (cell_text(part_id), cell_text(entry_id)) if text)
            advice = "is not one thing: name either a part or an entry"
            problems.add(Problem("shelf", row_number, "part_id", found, advice))


def _check_observations(tables: Tables, problems: Problems, progress: Progress) -> None:
    observed = tables["observations"]
    entries = tables["entries"]
    kinds = dict(zip(entries.column("entry_id"), entries.column("kind"), strict=True))
    told = zip(
        map(kinds.get, observed.column("entry_id")),
        *(observed.column(name) for name in ("field", "value", "text")),
        strict=True,
    )
    sound: set[tuple[Cell, ...]] = set()  # most sizes are said of many entries
    numbered = zip(observed.row_numbers, told, strict=True)
    for row_number, (kind, field_id, value, text) in told_through(numbered, progress, len(observed.rows)):
        if (kind, field_id, value, text) in sound:
            continue
        faults = tuple(_faults(cell_text(kind or ""), cell_text(field_id), value, cell_text(text)))
        for column, found, advice in faults:
            problems.add(Problem("observations", row_number, column, found, advice))
        if not faults and len(sound) < MOST_REMEMBERED:
            sound.add((kind, field_id, value, text))


def _faults(entry_kind: str, field_id: str, value: Cell, text: str) -> Iterator[tuple[str, str, str]]:
    """Yield column, what stood there and the advice for each fault of one observation."""
    field = all_fields().get(field_id)
    if field is None:
        yield "field", field_id, "is not a field of data_schema/sizes.schema.json: mend the name"
        return
    if entry_kind in SIDE_OF_KIND and SIDE_OF_KIND[entry_kind] is not field.side:
        yield (
            "field",
            field_id,
            f"is a size of the {field.side}, and the entry is a {entry_kind}: give it to the other one",
        )
    if field.kind is Kind.NUMBER:
        yield from _faults_of_number(field, value, text)
    else:
        yield from _faults_of_text(field, value, text)


def _faults_of_number(field: Field, value: Cell, text: str) -> Iterator[tuple[str, str, str]]:
    if text:
        yield "text", text, f"stands where a number belongs: give {field.title.lower()} as a value"
    if not isinstance(value, float):
        yield "value", cell_text(value), f"stands where a number must stand: give {field.title.lower()} as a value"
    elif (field.minimum is not None and value < field.minimum) or (field.maximum is not None and value > field.maximum):
        bounds = bounds_text(field.minimum, field.maximum, field.unit)
        yield "value", cell_text(value), f"is outside {bounds} for {field.title.lower()}: look for a typing slip"


def _faults_of_text(field: Field, value: Cell, text: str) -> Iterator[tuple[str, str, str]]:
    if value is not None:
        yield "value", cell_text(value), f"stands where words belong: give {field.title.lower()} as a text"
    choices = ("yes", "no") if field.kind is Kind.YES_NO else field.choices
    if choices and text not in choices:
        yield "text", text, f"is not a word for {field.title.lower()}: take one of {', '.join(choices)}"
    elif field.pattern and _pattern(field.pattern).fullmatch(text) is None:
        yield "text", text, f"does not look like {field.title.lower()}: it must match {field.pattern}"


@cache
def _pattern(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)
