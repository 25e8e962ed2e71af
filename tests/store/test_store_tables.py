"""The tables, the classes of the core, the packaged schemas and the migrations all say the same."""

from __future__ import annotations

import json
from dataclasses import fields
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Column, Engine, Float, Integer, MetaData, Table, Text

from xref_app.core.model.catalog_rows import ROW_CLASSES
from xref_app.core.resources import folder
from xref_app.store.connect import reading
from xref_app.store.migrate import alembic_config
from xref_app.store.stamp import HEAD
from xref_app.store.tables import CATALOG_TABLES, METADATA, AnyTable

OWN_COLUMNS = {"row_hash", "withdrawn_on"}


def test_there_is_one_table_for_each_class_of_the_core() -> None:
    assert {one.name: one.row_type for one in CATALOG_TABLES} == ROW_CLASSES


@pytest.mark.parametrize("table", CATALOG_TABLES, ids=lambda one: one.name)
def test_columns_are_those_of_the_class_and_two_of_the_stores_own(table: AnyTable) -> None:
    columns = [one.name for one in fields(table.row_type)]
    assert [name for name in list(table.table.c.keys()) if name in columns] == columns
    assert set(table.table.c.keys()) - set(columns) <= OWN_COLUMNS
    assert set(table.table.c.keys()) >= OWN_COLUMNS


@pytest.mark.parametrize("table", CATALOG_TABLES, ids=lambda one: one.name)
def test_keys_and_references_are_those_of_the_packaged_schema(table: AnyTable) -> None:
    schema = json.loads((folder("data_schema") / f"{table.name}.schema.json").read_text("utf-8"))
    assert [one["name"] for one in schema["fields"]] == list(table.columns)
    assert tuple(schema["primaryKey"]) == table.key
    references = {
        key["fields"][0]: f"{key['reference']['resource']}.{key['reference']['fields'][0]}"
        for key in schema.get("foreignKeys", [])
    }
    assert table.references == references


def test_migrations_build_exactly_the_tables(engine: Engine) -> None:
    with reading(engine) as connection:
        assert compare_metadata(MigrationContext.configure(connection, opts={"compare_type": True}), METADATA) == []


def test_that_comparison_sees_a_changed_type_and_a_forgotten_column(engine: Engine) -> None:
    changed = MetaData()
    for one in METADATA.sorted_tables:
        one.to_metadata(changed)
    drivers = changed.tables["drivers"]
    Table("drivers", changed, Column("frame", Float()), Column("poles", Integer()), extend_existing=True)
    assert isinstance(drivers.c.entry_id.type, Text)
    with reading(engine) as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        differences = str(compare_metadata(context, changed))
    assert "modify_type" in differences
    assert "add_column" in differences


def test_every_constraint_has_a_name_by_the_convention(engine: Engine) -> None:
    with reading(engine) as connection:
        words = connection.exec_driver_sql("SELECT sql FROM sqlite_schema WHERE type = 'table'").scalars().all()
    for sql in words:
        assert sql.count("PRIMARY KEY") == sql.count("CONSTRAINT pk_") or "alembic_version" in sql
        assert sql.count("FOREIGN KEY") == sql.count("CONSTRAINT fk_")


def test_the_known_format_is_the_last_step() -> None:
    script = ScriptDirectory.from_config(alembic_config())
    assert script.get_heads() == [HEAD]
    assert [Path(one.path).name[1:5] for one in script.walk_revisions()] == [HEAD, "0004", "0003", "0002", "0001"]
