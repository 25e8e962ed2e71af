"""Each Table Schema agrees with the class of its rows: names, order, types, and the closed lists of words."""

from __future__ import annotations

from dataclasses import MISSING, fields
from typing import get_type_hints

import pytest

from xref_app.core.fields.errors import UnknownTableError
from xref_app.core.fields.schema_files import as_list, as_number_or_none, as_object, folder
from xref_app.core.fields.table_schemas import TABLES, ColumnType, all_table_schemas, table_schema
from xref_app.core.model import words
from xref_app.core.model.catalog_rows import ROW_CLASSES, CatalogRows
from xref_app.core.model.known import How
from xref_app.core.quantity.quantities import FIELD_UNITS

TYPES = {
    ColumnType.STRING: str,
    ColumnType.DATE: str,
    ColumnType.NUMBER: float | None,
    ColumnType.INTEGER: int,
    ColumnType.BOOLEAN: bool | None,
}
HOWS = tuple(how.word for how in How)
CLOSED_LISTS = {
    ("parts", "kind"): tuple(kind.value for kind in words.PartKind),
    ("drivers", "power_kind"): tuple(kind.value for kind in words.PowerKind),
    ("ports", "gender"): tuple(gender.value for gender in words.Gender),
    ("outcomes", "result"): tuple(result.value for result in words.Result),
    ("numbers", "how"): HOWS,
    ("observations", "how"): HOWS,
    ("ports", "how"): HOWS,
    ("replaced_by", "how"): HOWS,
}


@pytest.mark.parametrize("table", TABLES)
def test_columns_are_the_attributes_of_the_row(table: str) -> None:
    assert table_schema(table).column_names == tuple(field.name for field in fields(ROW_CLASSES[table]))


@pytest.mark.parametrize("table", TABLES)
def test_types_are_those_of_the_row(table: str) -> None:
    row_class: type = ROW_CLASSES[table]
    hints = get_type_hints(row_class)
    for column in table_schema(table).columns:
        given = TYPES[column.type]
        assert hints[column.name] == (given if column.required or given is not int else int | None), column.name


@pytest.mark.parametrize("table", TABLES)
def test_what_may_be_left_out_of_the_row_is_not_required_in_the_file(table: str) -> None:
    columns = {column.name: column for column in table_schema(table).columns}
    for field in fields(ROW_CLASSES[table]):
        if field.default in {"", None}:
            assert not columns[field.name].required, field.name
        if columns[field.name].type is ColumnType.INTEGER:
            assert columns[field.name].required == (field.default is MISSING)


@pytest.mark.parametrize("table", TABLES)
def test_keys_name_columns_that_are_there(table: str) -> None:
    schema = table_schema(table)
    assert set(schema.primary_key) <= set(schema.column_names)
    for key in schema.foreign_keys:
        assert key.column in schema.column_names
        assert (key.other_column,) == table_schema(key.other_table).primary_key


@pytest.mark.parametrize("table", TABLES)
def test_sizes_carry_their_unit(table: str) -> None:
    for column in table_schema(table).columns:
        ending = column.name.rsplit("_", 1)[-1]
        assert column.unit == (ending if ending in FIELD_UNITS else ""), column.name


@pytest.mark.parametrize(("place", "choices"), CLOSED_LISTS.items())
def test_closed_lists_are_the_words_of_the_program(place: tuple[str, str], choices: tuple[str, ...]) -> None:
    table, name = place
    assert {column.choices for column in table_schema(table).columns if column.name == name} == {choices}


def test_gender_at_every_end_of_a_fitting_is_a_gender() -> None:
    ends = [column for column in table_schema("parts").columns if column.name.endswith("_gender")]
    assert [column.choices for column in ends] == [tuple(words.Gender)] * 3


def test_a_catalog_has_one_tuple_for_each_table_and_one_file_describes_each() -> None:
    assert {field.name for field in fields(CatalogRows)} == set(TABLES) == set(ROW_CLASSES) == set(all_table_schemas())
    described = {file.name for file in folder().iterdir()}
    others = ("sizes", "case", "finding", "readings", "identified")
    assert described == {f"{name}.schema.json" for name in (*TABLES, *others)}


def test_every_table_comes_after_those_it_refers_to() -> None:
    for place, table in enumerate(TABLES):
        assert {key.other_table for key in table_schema(table).foreign_keys} <= set(TABLES[:place])


def test_unknown_table_is_refused() -> None:
    with pytest.raises(UnknownTableError) as caught:
        table_schema("people")
    assert str(caught.value) == f"“people” is not a table of the catalog: take one of {', '.join(TABLES)}."


def test_our_own_damaged_schema_is_our_mistake() -> None:
    with pytest.raises(TypeError):
        as_object([])
    with pytest.raises(TypeError):
        as_list({})
    with pytest.raises(TypeError):
        as_number_or_none("5")
