"""The fields of data_schema are exactly what a machine and a pump of the model can hold, word for word."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import pytest

from xref_app.core.fields.fields import Field, Kind, Side, all_fields
from xref_app.core.fields.schema_files import schema_file
from xref_app.core.fields.table_schemas import TABLES, table_schema
from xref_app.core.model.assemble import paths
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.typed import word_type

FIELDS = tuple(all_fields().values())


def test_fields_are_the_slots_of_the_model_in_their_order() -> None:
    assert [field.case_field for field in FIELDS if field.side is Side.MACHINE] == list(paths(Machine, "machine"))
    assert [field.case_field for field in FIELDS if field.side is Side.PUMP] == list(paths(Pump, "pump"))


@pytest.mark.parametrize("field", [one for one in FIELDS if one.kind is Kind.WORD], ids=lambda one: one.field_id)
def test_a_word_field_has_the_members_of_the_slot_it_fills(field: Field) -> None:
    assert field.choices == tuple(word_type(field.case_field))


@pytest.mark.parametrize("table", TABLES)
def test_what_is_referred_to_stands_in_an_earlier_table(table: str) -> None:
    for key in table_schema(table).foreign_keys:
        assert TABLES.index(key.other_table) <= TABLES.index(table), key.column


@pytest.mark.parametrize("name", ["case", "finding"])
def test_every_object_refuses_names_it_does_not_know(name: str) -> None:
    found = list(_objects(schema_file(name)))
    assert len(found) >= 3
    assert all(one.get("additionalProperties") is False for one in found)


def _objects(value: object) -> Iterator[Mapping[str, object]]:
    if isinstance(value, Mapping):
        if "properties" in value and value.get("type") == "object":
            yield value
        for inner in value.values():
            yield from _objects(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _objects(inner)
