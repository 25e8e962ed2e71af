"""The tables of the catalog in use: made once for the same rows, carried over a change, never told of another's."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.entry_by_entry import known_of_kind
from tests.services.test_value_table import deciding, values_of
from tests.services.tiny import entry, reading
from xref_app.core.model.catalog import Observation
from xref_app.services.catalog import Catalog, Damage
from xref_app.services.kept_tables import carry_over, table_of_kind

SAMPLE = catalog_of(sample_rows())
KINDS = ("pump", "driver", "machine")
_UNTOUCHED = {"pump": "inlet_thread", "driver": "shaft_form", "machine": "shaft_form"}


def said_more(catalog: Catalog, *rows: Observation) -> Catalog:
    """Return the catalog with other observations of the entries of ``rows``."""
    entries = {row.entry_id for row in rows}
    said = {entry_id: tuple(row for row in rows if row.entry_id == entry_id) for entry_id in entries}
    return replace(catalog, observations={**catalog.observations, **said})


def without(catalog: Catalog, entry_id: str) -> Catalog:
    return replace(catalog, entries={one: row for one, row in catalog.entries.items() if one != entry_id})


@pytest.mark.parametrize("kind", KINDS)
def test_a_table_is_made_once_for_the_same_rows(kind: str) -> None:
    catalog = replace(SAMPLE, entries=dict(SAMPLE.entries))
    table = table_of_kind(catalog, kind)
    assert table_of_kind(catalog, kind) is table
    assert table_of_kind(replace(catalog, bins=(), job_in_hand="J7", damaged=Damage(1, anywhere=True)), kind) is table
    other = table_of_kind(said_more(catalog, reading("P-001", "bore_depth_mm", 11.0)), kind)
    assert other is not table


def test_a_change_is_carried_over_as_if_the_table_were_new() -> None:
    engine = next(iter(SAMPLE.machines.values())).driver_id
    changes = {
        "P-001": said_more(SAMPLE, reading("P-001", "bore_depth_mm", 11.0)),
        engine: said_more(SAMPLE, reading(engine, "shaft_projection_mm", 77.0)),
        "P-002": without(SAMPLE, "P-002"),
        "P-new": replace(
            said_more(SAMPLE, reading("P-new", "bore_depth_mm", 12.0)),
            entries={**SAMPLE.entries, "P-new": entry("P-new", "pump")},
        ),
    }
    for entry_id, after in changes.items():
        before = {kind: table_of_kind(SAMPLE, kind) for kind in KINDS}
        carry_over(SAMPLE, after, [entry_id])
        tables = {kind: table_of_kind(after, kind) for kind in KINDS}
        for kind, table in tables.items():
            assert values_of(table) == deciding(known_of_kind(after, kind)), (entry_id, kind)
            # carried over, not made anew
            assert table.columns[_UNTOUCHED[kind]].distinct is before[kind].columns[_UNTOUCHED[kind]].distinct
        assert any(tables[kind].columns != before[kind].columns for kind in KINDS), entry_id


def test_an_engine_that_changes_changes_its_machines() -> None:
    row = next(iter(SAMPLE.machines.values()))
    table_of_kind(SAMPLE, "machine")
    after = said_more(SAMPLE, reading(row.driver_id, "shaft_projection_mm", 77.0))
    carry_over(SAMPLE, after, [row.driver_id])
    (said,) = values_of(table_of_kind(after, "machine"))[row.entry_id]["shaft_projection_mm"]
    assert getattr(said, "value", None) == 77.0


def test_nothing_is_carried_over_of_a_catalog_nobody_asked_about() -> None:
    before, after = replace(SAMPLE, entries=dict(SAMPLE.entries)), without(SAMPLE, "P-003")
    carry_over(before, after, ["P-003"])
    assert "P-003" not in table_of_kind(after, "pump").ids
