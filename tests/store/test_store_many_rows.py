"""An act of many rows is held against the store by hundreds, and word for word as one of few rows is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest
from sqlalchemy import Engine

from xref_app.core.model.catalog import Entry, Number, Observation
from xref_app.store.connect import reading, writing
from xref_app.store.edits import Numbers, RowEdit, Saved, save_edits
from xref_app.store.errors import CannotUndoError, ChangedMeanwhileError, DamagedStoreError
from xref_app.store.repository import CatalogRepository
from xref_app.store.row_changes import find_row, find_rows
from xref_app.store.tables import TABLES_BY_NAME, AnyTable
from xref_app.store.undoing import undo

MANY = 900


def many_pumps(numbers: Numbers) -> list[RowEdit]:
    """Return so many new pumps, each with a number and a size, that they are asked for in several questions."""
    rows: list[RowEdit] = []
    for place in range(MANY):
        entry = numbers.entry_id()
        rows.append(RowEdit("entries", None, Entry(entry, "pump", "Invented", f"Pump {place}")))
        rows.append(RowEdit("numbers", None, Number(entry, f"ZQ-{place}", "seller", "claimed")))
        observation = Observation(numbers.observation_id(), entry, "bore_diameter_mm", "20", 20.0, "", 0.05, "claimed")
        rows.append(RowEdit("observations", None, observation))
    return rows


def save(engine: Engine, given: list[RowEdit] | None = None, save_id: str = "s1") -> Saved:
    def build(numbers: Numbers) -> list[RowEdit]:
        return many_pumps(numbers) if given is None else given

    return save_edits(engine, build, name="many", who="Ana", why="a list", save_id=save_id)


def renamed(engine: Engine) -> list[RowEdit]:
    """Return an act that renames each of the pumps."""
    entries = [one for one in CatalogRepository(engine).entries() if one.entry_id.startswith("OWN-")]
    return [RowEdit("entries", one, replace(one, name="Another")) for one in entries]


def test_many_rows_are_saved_read_back_and_undone(filled: Engine) -> None:
    before = CatalogRepository(filled).entries()
    saved = save(filled)
    assert len(saved.edits) == 3 * MANY
    assert len(CatalogRepository(filled).entries()) == len(before) + MANY
    assert undo(filled, who="Ana") is not None
    assert [one for one in CatalogRepository(filled).entries() if not one.withdrawn_on] == list(before)


def test_what_stands_there_is_found_together_as_it_is_one_by_one(filled: Engine) -> None:
    save(filled)
    wanted: list[tuple[AnyTable, Mapping[str, object]]] = []
    for place in range(1, 60):
        entry = f"OWN-{place:04}"
        wanted.append((TABLES_BY_NAME["entries"], {"entry_id": entry}))
        wanted.append((TABLES_BY_NAME["numbers"], {"entry_id": entry, "number": f"ZQ-{place - 1}"}))
        wanted.append((TABLES_BY_NAME["numbers"], {"entry_id": entry, "number": "nobody's"}))
        wanted.append((TABLES_BY_NAME["entries"], {"entry_id": f"NO-{place}"}))
    with reading(filled) as connection:
        together = find_rows(connection, wanted)
        assert list(together) == [find_row(connection, table, key) for table, key in wanted]
    assert sum(one is not None for one in together) == 2 * 59


def test_a_damaged_row_among_many_is_not_built_upon(filled: Engine) -> None:
    save(filled)
    act = renamed(filled)
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE entries SET note = 'altered' WHERE entry_id = 'OWN-0500'")
    with pytest.raises(DamagedStoreError, match="row OWN-0500 of entries does not match its check sum"):
        save(filled, act, "s2")


def test_somebody_elses_work_among_many_rows_is_not_overwritten(filled: Engine) -> None:
    save(filled)
    act = renamed(filled)
    save(filled, [replace(act[700], after=replace(act[700].after, name="Theirs"))], "s2")  # type: ignore[type-var] # an entry
    with pytest.raises(ChangedMeanwhileError):
        save(filled, act, "s3")


def test_an_act_of_many_rows_is_not_undone_over_a_row_that_changed_by_another_hand(filled: Engine) -> None:
    save(filled)
    with writing(filled) as connection:
        connection.exec_driver_sql("DELETE FROM observations WHERE observation_id = 1000000500")
    with pytest.raises(CannotUndoError):
        undo(filled, who="Ana")
