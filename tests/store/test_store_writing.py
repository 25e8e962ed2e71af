"""The shop's own changes: one history row each, nothing deleted, several counters at once."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from sqlalchemy import Engine

from xref_app.core.model.catalog import Observation
from xref_app.store.connect import reading, writing
from xref_app.store.engine import open_engine
from xref_app.store.errors import ChangeRefusedError, LostReferenceError, RowMissingError
from xref_app.store.health import check_store
from xref_app.store.history import first_break, read_history
from xref_app.store.numbers import OWN_OBSERVATIONS_FROM
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import add_observation, bring_back, withdraw


def measured(entry_id: str = "P001", value: float = 210.0) -> Observation:
    return Observation(0, entry_id, "pump_length_mm", f"{value} mm", value, "", 1.0, "measured", "Ana", "2026-11-25")


def test_an_observation_is_numbered_kept_and_told_in_the_history(filled: Engine) -> None:
    first = add_observation(filled, measured(), who="Ana", why="on the bench")
    second = add_observation(filled, measured(value=211.0), who="Ben", why="did not believe it")
    assert (first.observation_id, second.observation_id) == (OWN_OBSERVATIONS_FROM, OWN_OBSERVATIONS_FROM + 1)
    assert CatalogRepository(filled).observations_of(["P001"])["P001"][-2:] == (first, second)
    newest = read_history(filled, limit=1)[0].change
    assert (newest.who, newest.action, newest.table, newest.why) == ("Ben", "add", "observations", "did not believe it")
    assert newest.after is not None
    assert newest.after["value"] == 211.0
    assert check_store(filled).is_whole


def test_an_observation_of_an_unknown_entry_is_refused(filled: Engine) -> None:
    with pytest.raises(LostReferenceError, match="entry_id names “P999”, which is not in the catalog"):
        add_observation(filled, measured("P999"), who="Ana", why="typo")
    assert len(read_history(filled)) == 1


def test_a_number_given_by_the_caller_is_a_mistake_of_the_program(filled: Engine) -> None:
    with pytest.raises(ValueError, match="observation 1 has a number already"):
        add_observation(filled, CatalogRepository(filled).observations_of(["P000"])["P000"][0], who="", why="")


def test_withdrawing_marks_and_can_be_taken_back(filled: Engine) -> None:
    before = CatalogRepository(filled).everything()
    withdraw(filled, "numbers", ("P001", "QX-0001"), who="Ana", why="belongs to another pump")
    assert CatalogRepository(filled).numbers_of("P001") == ()
    with pytest.raises(RowMissingError) as caught:
        withdraw(filled, "numbers", ("P001", "QX-0001"), who="Ana", why="again")
    assert str(caught.value) == "numbers has no row P001 QX-0001; nothing was changed: look it up again."
    bring_back(filled, "numbers", ("P001", "QX-0001"), who="Ben", why="it was right")
    assert CatalogRepository(filled).everything() == before
    assert [row.change.action for row in read_history(filled)] == ["bring back", "withdraw", "import"]
    assert check_store(filled).is_whole


@pytest.mark.parametrize("words", ["UPDATE history SET who = 'Eve'", "DELETE FROM history"])
def test_the_database_itself_keeps_the_history(filled: Engine, words: str) -> None:
    with pytest.raises(ChangeRefusedError, match="history is only ever added to"), writing(filled) as connection:
        connection.exec_driver_sql(words)
    assert len(read_history(filled)) == 1


@pytest.mark.parametrize(
    ("words", "serial", "why"),
    [
        ("UPDATE history SET who = 'Eve' WHERE serial = 3", 3, "the row was altered"),
        ("UPDATE history SET at = '2026-01-01' WHERE serial = 1", 1, "the row was altered"),
        ("UPDATE history SET after = '{}' WHERE serial = 2", 2, "the row was altered"),
        ("DELETE FROM history WHERE serial = 2", 2, "the row is missing"),
        ("UPDATE history SET serial = -serial WHERE serial IN (2, 3)", 1, "the row is missing"),
        ("UPDATE history SET previous_hash = 'x' WHERE serial = 4", 4, "the row does not follow the one before"),
    ],
)
def test_an_edit_of_the_history_is_found(filled: Engine, words: str, serial: int, why: str) -> None:
    for value in (1.0, 2.0, 3.0):
        add_observation(filled, measured(value=value), who="Ana", why="on the bench")
    with writing(filled) as connection:
        connection.exec_driver_sql("DROP TRIGGER history_keeps_UPDATE")
        connection.exec_driver_sql("DROP TRIGGER history_keeps_DELETE")
    with reading(filled) as connection:
        assert first_break(connection) is None
    with writing(filled) as connection:
        connection.exec_driver_sql(words)
    with reading(filled) as connection:
        found = first_break(connection)
    assert found is not None
    assert (found.serial, found.why) == (serial, why)


def test_a_history_cut_off_at_the_end_disagrees_with_the_tables(filled: Engine) -> None:
    add_observation(filled, measured(), who="Ana", why="on the bench")
    with writing(filled) as connection:
        connection.exec_driver_sql("DROP TRIGGER history_keeps_DELETE")
        connection.exec_driver_sql("DELETE FROM history WHERE serial = 2")
    report = check_store(filled)
    assert report.chain_break is None
    assert [one.table for one in report.tally_breaks] == ["observations"]
    assert not report.is_whole


def test_two_counters_lose_nothing(path: Path, filled: Engine) -> None:
    """Two Engines on one file, four threads: every change is there once, and the chain is whole."""
    other = open_engine(path)

    def add(number: int) -> int:
        engine = filled if number % 2 else other
        return add_observation(engine, measured(value=float(number)), who="Ana", why=str(number)).observation_id

    with ThreadPoolExecutor(4) as pool:
        numbers = list(pool.map(add, range(80)))
    other.dispose()
    assert sorted(numbers) == list(range(OWN_OBSERVATIONS_FROM, OWN_OBSERVATIONS_FROM + 80))
    kept = CatalogRepository(filled).observations_of(["P001"])["P001"]
    assert sorted(one.value or 0.0 for one in kept if one.field == "pump_length_mm") == [float(n) for n in range(80)]
    assert check_store(filled).is_whole
