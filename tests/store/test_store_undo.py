"""Undo and redo: named, new acts of their own, across restarts, never further than an import, never over other work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Connection, Engine, event

from xref_app.core.model.catalog import Entry, Number, Observation
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.connect import reading, writing
from xref_app.store.edits import Numbers, RowEdit, next_redo, next_undo, redo, save_edits, undo
from xref_app.store.engine import open_engine
from xref_app.store.errors import CannotUndoError, DamagedStoreError
from xref_app.store.health import check_store
from xref_app.store.history import first_break, read_history
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import add_observation, bring_back, withdraw

SEEN = Observation(0, "P001", "pump_length_mm", "210 mm", 210.0, "", 1.0, "measured", "Ana", "2026-11-25")


def save(engine: Engine, name: str, *edits: RowEdit, who: str = "Ana") -> None:
    save_edits(engine, lambda _: edits, name=name, who=who, why="on the bench", save_id=f"{name} {len(edits)}")


def rename(engine: Engine, name: str) -> None:
    entry = CatalogRepository(engine).entry("P001")
    assert entry is not None
    save(engine, name, RowEdit("entries", entry, replace(entry, name=name)))


def name_of(engine: Engine) -> str:
    entry = CatalogRepository(engine).entry("P001")
    assert entry is not None
    return entry.name


def names(engine: Engine) -> tuple[str | None, str | None]:
    """Return what would be undone and redone next."""
    before, after = next_undo(engine), next_redo(engine)
    return before.name if before else None, after.name if after else None


def test_nothing_can_be_undone_in_a_new_store_or_after_an_import(filled: Engine) -> None:
    assert names(filled) == (None, None)
    rename(filled, "one")
    import_catalog(filled, CatalogRows(entries=(Entry("P900", "pump", "Nobody", "x"),)), who="Ana", why="more")
    assert names(filled) == (None, None)
    assert (undo(filled, who="Ana"), redo(filled, who="Ana")) == (None, None)
    assert len(read_history(filled)) == 3
    rename(filled, "two")
    assert undo(filled, who="Ana") is not None
    assert names(filled) == (None, "two")  # the act before the import is out of reach


def test_steps_are_named_and_are_acts_of_their_own_across_restarts(path: Path, filled: Engine) -> None:
    for name in ("one", "two", "three"):
        rename(filled, name)
    shown = []
    for act in (undo, undo, redo, undo, undo, undo, redo, redo, redo, redo):
        filled.dispose()
        filled = open_engine(path)
        step = act(filled, who="Ben")
        shown.append((step and step.name, name_of(filled), *names(filled)))
    assert shown == [
        ("three", "two", "two", "three"),
        ("two", "one", "one", "two"),
        ("two", "two", "two", "three"),
        ("two", "one", "one", "two"),
        ("one", "Pump 1", None, "one"),
        (None, "Pump 1", None, "one"),
        ("one", "one", "one", "two"),
        ("two", "two", "two", "three"),
        ("three", "three", "three", None),
        (None, "three", "three", None),
    ]
    acts = [(one.change.action, one.change.who, one.change.why) for one in reversed(read_history(filled))][4:]
    assert acts == [
        *(("undo", "Ben", "three"), ("undo", "Ben", "two"), ("redo", "Ben", "two"), ("undo", "Ben", "two")),
        *(("undo", "Ben", "one"), ("redo", "Ben", "one"), ("redo", "Ben", "two"), ("redo", "Ben", "three")),
    ]
    assert check_store(filled).is_whole
    filled.dispose()


def test_a_step_tells_who_did_what_is_undone_and_when(filled: Engine) -> None:
    rename(filled, "one")
    act = read_history(filled, limit=1)[0]
    step = undo(filled, who="Ben")
    assert step is not None
    assert (step.serial, step.name, step.who, step.at) == (act.serial, "one", "Ana", act.at)
    assert next_redo(filled) == step


def test_a_new_save_clears_what_could_be_redone(filled: Engine) -> None:
    for name in ("one", "two"):
        rename(filled, name)
    undo(filled, who="Ana")
    rename(filled, "three")
    assert names(filled) == ("three", None)
    undo(filled, who="Ana")
    assert (name_of(filled), *names(filled)) == ("one", "one", "three")


def test_added_changed_and_withdrawn_rows_of_one_act_go_back_together(filled: Engine) -> None:
    repository = CatalogRepository(filled)
    before = repository.everything()
    entry, number = repository.entry("P001"), repository.numbers_of("P001")[0]
    assert entry is not None
    new = Number("P001", "NEW 1", "seller", "sheet")
    save(
        filled,
        "Much",
        RowEdit("entries", entry, replace(entry, note="dent")),
        RowEdit("numbers", number, None),
        RowEdit("numbers", None, new),
    )
    after = repository.everything()
    assert repository.numbers_of("P001") == (new,)
    undo(filled, who="Ana")
    assert repository.everything() == before
    redo(filled, who="Ana")
    assert repository.everything() == after
    assert check_store(filled).is_whole


def test_the_older_kinds_of_acts_can_be_undone_too(filled: Engine) -> None:
    repository = CatalogRepository(filled)
    before = repository.observations_of(["P001"])
    seen = add_observation(filled, SEEN, who="Ana", why="on the bench")
    withdraw(filled, "numbers", ("P001", "QX-0001"), who="Ana", why="of another pump")
    bring_back(filled, "numbers", ("P001", "QX-0001"), who="Ben", why="it was right")
    undone = [undo(filled, who="Ana") for _ in range(4)]
    assert [one and one.name for one in undone] == ["P001 QX-0001", "P001 QX-0001", "Pump length", None]
    assert repository.observations_of(["P001"]) == before
    assert len(repository.numbers_of("P001")) == 1
    for _ in range(3):
        redo(filled, who="Ana")
    assert seen in repository.observations_of(["P001"])["P001"]
    assert check_store(filled).is_whole


def test_what_another_program_changed_is_not_undone(filled: Engine) -> None:
    """The row is sound, so that only its hash tells that it is not as the act left it."""
    rename(filled, "one")
    rename(filled, "two")
    before = {one.entry_id: one for one in CatalogRepository(filled).entries()}
    with writing(filled) as connection:
        connection.exec_driver_sql(
            "UPDATE entries SET (name, row_hash) = (SELECT name, row_hash FROM entries AS o WHERE o.entry_id = 'P001')"
            " WHERE entry_id = 'P001'"
        )
        _put_row_of_act(connection, 2)
    history = read_history(filled)
    with pytest.raises(CannotUndoError) as caught:
        undo(filled, who="Ana")
    assert str(caught.value) == (
        "Undo of “two” was refused because entries P001 was changed since by another way; "
        "nothing was changed: check the store."
    )
    assert read_history(filled) == history
    assert {**before, "P001": replace(before["P001"], name="one")} == {
        one.entry_id: one for one in CatalogRepository(filled).entries()
    }


def _put_row_of_act(connection: Connection, serial: int) -> None:
    """Put P001 back as act ``serial`` left it, behind the program's back."""
    words = "SELECT json_extract(after, '$.entries[0].name'), json_extract(after, '$.entries[0].row_hash') FROM history"
    row = connection.exec_driver_sql(f"{words} WHERE serial = {serial}").one()
    connection.exec_driver_sql("UPDATE entries SET name = ?, row_hash = ? WHERE entry_id = 'P001'", tuple(row))


def test_a_damaged_act_is_not_undone(filled: Engine) -> None:
    rename(filled, "one")
    before = CatalogRepository(filled).everything()
    with writing(filled) as connection:
        connection.exec_driver_sql("DROP TRIGGER history_keeps_UPDATE")
        connection.exec_driver_sql("UPDATE history SET before = replace(before, 'Pump 1', 'Pump 9') WHERE serial = 2")
    with pytest.raises(DamagedStoreError, match="row 2 of the history is not what was written"):
        undo(filled, who="Ana")
    assert CatalogRepository(filled).everything() == before


@contextmanager
def statements(engine: Engine) -> Iterator[list[tuple[str, Sequence[object]]]]:
    """Collect what is sent to the database meanwhile."""
    sent: list[tuple[str, Sequence[object]]] = []

    def note(*args: object) -> None:
        values = args[3]
        sent.append((str(args[2]), values if isinstance(values, tuple) else ()))

    event.listen(engine, "before_cursor_execute", note)
    yield sent
    event.remove(engine, "before_cursor_execute", note)


def test_a_step_costs_the_same_however_long_the_history_is(filled: Engine) -> None:
    """Counted in statements, and every one that reads does so by a key: no query walks a table."""
    rename(filled, "first")
    counts = []
    for length in (3, 300):
        for place in range(length):
            rename(filled, f"{length} {place}")
        for _ in range(2):
            undo(filled, who="Ana")
        for act in (undo, redo, next_undo, next_redo):
            with statements(filled) as sent:
                act(filled, **({"who": "Ana"} if act in (undo, redo) else {}))
            counts.append(len(sent))
            _refuse_walks(filled, sent)
    assert counts[:4] == counts[4:]


def _refuse_walks(engine: Engine, sent: list[tuple[str, Sequence[object]]]) -> None:
    with reading(engine) as connection:
        for words, values in sent:
            if words.startswith("SELECT"):
                plan = [str(row[3]) for row in connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {words}", tuple(values))]
                last = "ORDER BY history.serial DESC" in words and "LIMIT" in words
                assert last or not [one for one in plan if one.startswith("SCAN")], words


@pytest.mark.parametrize("act", ["save", "undo", "redo"])
def test_the_chain_notices_an_undo_that_was_altered_cut_out_or_moved(filled: Engine, act: str) -> None:
    rename(filled, "one")
    rename(filled, "two")
    undo(filled, who="Ana")
    redo(filled, who="Ana")
    rename(filled, "three")
    serial = {"save": 3, "undo": 4, "redo": 5}[act]
    with writing(filled) as connection:
        connection.exec_driver_sql("DROP TRIGGER history_keeps_UPDATE")
        connection.exec_driver_sql("DROP TRIGGER history_keeps_DELETE")
    with reading(filled) as connection:
        assert first_break(connection) is None
    for words in (
        f"UPDATE history SET row_key = replace(row_key, '1', '7') || ' ' WHERE serial = {serial}",
        f"UPDATE history SET who = 'Eve' WHERE serial = {serial}",
        f"DELETE FROM history WHERE serial = {serial}",
        f"UPDATE history SET serial = 900 WHERE serial = {serial}",
    ):
        assert break_after(filled, words) == serial


def break_after(engine: Engine, words: str) -> int:
    """Return where the chain breaks after ``words`` are carried out, which is not kept."""
    with engine.connect() as connection, connection.begin() as transaction:
        connection.exec_driver_sql("PRAGMA defer_foreign_keys=ON")
        connection.exec_driver_sql(words)
        found = first_break(connection)
        transaction.rollback()
    return found.serial if found else 0


def test_numbers_are_not_used_up_by_an_undo(filled: Engine) -> None:
    def entry(numbers: Numbers) -> list[RowEdit]:
        return [RowEdit("entries", None, Entry(numbers.entry_id(), "pump", "Nobody", "x"))]

    save_edits(filled, entry, name="x", who="Ana", why="", save_id="1")
    undo(filled, who="Ana")
    save_edits(filled, entry, name="x", who="Ana", why="", save_id="2")
    assert [one.entry_id for one in CatalogRepository(filled).entries() if one.name == "x"] == ["OWN-0002"]
