"""What goes into the store comes out the same, and a changed value is noticed when it is read."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine

from tests.store.rows import PUMPS, small_catalog
from xref_app.core.model.catalog import Entry, Observation, PartRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.connect import writing
from xref_app.store.engine import open_engine
from xref_app.store.errors import UnstorableValueError
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import withdraw

TEXTS = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=40)
NUMBERS = st.none() | st.floats(allow_nan=False, allow_infinity=False)


def test_everything_comes_back_as_it_went_in(filled: Engine) -> None:
    back = CatalogRepository(filled).everything()
    for name in CatalogRows.__dataclass_fields__:
        assert sorted(getattr(back, name), key=repr) == sorted(getattr(small_catalog(), name), key=repr)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=TEXTS, value=NUMBERS, doubt=NUMBERS, swivel=st.none() | st.booleans(), number=st.integers(1, 2**31 - 1))
def test_any_text_and_any_finite_number_comes_back(
    path: Path, *, text: str, value: float | None, doubt: float | None, swivel: bool | None, number: int
) -> None:
    path.unlink(missing_ok=True)
    engine = open_engine(path)
    rows = CatalogRows(
        entries=(Entry("P1", "pump", text, text),),
        observations=(Observation(number, "P1", "x", text, value, text, doubt, "measured"),),
        parts=(PartRow("a", "fitting", text, thickness_mm=value, end_1_swivel=swivel),),
    )
    import_catalog(engine, rows, who="Ana", why="round trip")
    repository = CatalogRepository(engine)
    back = repository.everything()
    engine.dispose()
    assert repository.damaged() == ()
    assert back == rows


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        (
            Observation(1, "P1", "x", "", math.nan, "", None, "measured"),
            "observations, value: nan cannot be stored because it is not a finite number; nothing was changed.",
        ),
        (
            Observation(1, "P1", "x", "a\0b", 1.0, "", None, "measured"),
            "observations, as_typed: 'a\\x00b' cannot be stored because it holds a NUL character; nothing was changed.",
        ),
        (
            Observation(1, "P1", "x", "\ud800", 1.0, "", None, "measured"),
            (
                "observations, as_typed: '\\ud800' cannot be stored because it holds half a character; "
                "nothing was changed."
            ),
        ),
    ],
)
def test_a_value_that_would_not_come_back_is_refused(engine: Engine, row: Observation, sentence: str) -> None:
    rows = CatalogRows(entries=(Entry("P1", "pump", "", ""),), observations=(row,))
    with pytest.raises(UnstorableValueError) as caught:
        import_catalog(engine, rows, who="Ana", why="bad")
    assert str(caught.value) == sentence
    assert CatalogRepository(engine).entries() == ()


def test_a_row_altered_behind_the_programs_back_is_set_aside_and_named(filled: Engine) -> None:
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE observations SET value = 99 WHERE observation_id = 6")
    repository = CatalogRepository(filled)
    seen = repository.all_observations("pump")
    assert 6 not in {one.observation_id for rows in seen.values() for one in rows}
    assert sum(map(len, seen.values())) == 4 * PUMPS - 1
    (damaged,) = repository.damaged()
    assert (damaged.table, damaged.key, damaged.values["entry_id"]) == ("observations", ("6",), "P001")
    assert repository.missing() == ()


@pytest.mark.parametrize(
    "words",
    [
        "UPDATE observations SET how = 'plate' WHERE observation_id = 6",
        "UPDATE observations SET doubt = NULL WHERE observation_id = 6",
        "UPDATE observations SET withdrawn_on = '2026-01-01' WHERE observation_id = 6",
        "UPDATE observations SET entry_id = 'P002' WHERE observation_id = 6",
        "UPDATE observations SET as_typed = CAST(x'ff41' AS TEXT) WHERE observation_id = 6",
        "UPDATE observations SET value = x'00' WHERE observation_id = 6",
        "UPDATE observations SET row_hash = 'zz' WHERE observation_id = 6",
    ],
)
def test_any_altered_column_is_noticed(filled: Engine, words: str) -> None:
    with writing(filled) as connection:
        connection.exec_driver_sql(words)
    repository = CatalogRepository(filled)
    seen = repository.all_observations("pump")
    assert [one.key for one in repository.damaged()] == [("6",)]
    assert sum(map(len, seen.values())) == 4 * PUMPS - 1


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("DELETE FROM observations WHERE observation_id = 6", 4 * PUMPS - 1),
        (
            (
                "INSERT INTO observations SELECT 999, entry_id, field, as_typed, value, text, doubt, how, seen_by, "
                "seen_on, source, withdrawn_on, row_hash FROM observations WHERE observation_id = 6"
            ),
            4 * PUMPS + 1,
        ),
    ],
)
def test_a_row_taken_out_or_put_in_is_noticed(filled: Engine, words: str, found: int) -> None:
    with writing(filled) as connection:
        connection.exec_driver_sql(words)
    (missing,) = CatalogRepository(filled).missing()
    assert (missing.table, missing.expected_rows, missing.found_rows) == ("observations", 4 * PUMPS, found)


def test_readers_by_concept(filled: Engine) -> None:
    catalog, repository = small_catalog(), CatalogRepository(filled)
    assert [one.entry_id for one in repository.entries("pump")] == [f"P{n:03}" for n in range(PUMPS)]
    assert len(repository.entries()) == PUMPS + 2
    assert repository.entry("P003") == catalog.entries[3]
    assert repository.entry("nobody") is None
    assert repository.all_numbers() == catalog.numbers
    assert repository.numbers_of("P004") == (catalog.numbers[4],)
    assert repository.observations_of(["P002", "M001"]) == {"M001": (), "P002": catalog.observations[8:12]}
    assert repository.ports_of(["P002"]) == {"P002": (catalog.ports[2],)}
    assert repository.all_observations("machine") == {"M001": ()}
    assert repository.all_observations("pump")["P002"] == catalog.observations[8:12]
    assert repository.all_ports("pump")["P005"] == (catalog.ports[5],)
    assert repository.machines() == catalog.machines
    assert repository.machine("M001") == catalog.machines[0]
    assert repository.machine("P001") is None
    assert repository.machines_with_pump("P001") == catalog.machines
    assert repository.machines_with_pump("P002") == ()
    assert repository.drivers() == catalog.drivers
    assert repository.driver("D001") == catalog.drivers[0]
    assert repository.parts() == catalog.parts
    assert repository.shelf() == catalog.shelf
    assert repository.salvaged() == catalog.salvaged_units
    assert repository.replaced_by() == catalog.replaced_by
    assert repository.outcomes(pump_id="P001") == catalog.outcomes
    assert repository.outcomes(machine_id="M001", pump_id="P002") == ()


def test_what_hangs_on_a_withdrawn_entry_is_left_out_with_it(filled: Engine) -> None:
    withdraw(filled, "entries", ("P001",), who="Ana", why="never existed")
    repository = CatalogRepository(filled)
    assert "P001" not in {one.entry_id for one in repository.entries("pump")}
    assert "P001" not in {one.entry_id for one in repository.all_numbers()}
    assert "P001" not in repository.all_observations("pump")
    assert "P001" not in repository.all_ports("pump")
    shown = repository.entry("P001")
    assert shown is not None
    assert shown.withdrawn_on != ""


def test_a_damaged_entry_is_not_judged(filled: Engine) -> None:
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE entries SET kind = 'pump' WHERE entry_id = 'D001'")
    repository = CatalogRepository(filled)
    assert "D001" not in repository.all_observations("pump")
    assert repository.drivers() == ()
    assert [one.key for one in repository.damaged()] == [("D001",)]


def test_five_thousand_observations_are_read_in_one_query_and_checked(engine: Engine) -> None:
    entries = tuple(Entry(f"P{n}", "pump", "x", "x") for n in range(100))
    sample = small_catalog().observations[0]
    observed = tuple(
        replace(sample, observation_id=n, entry_id=f"P{n % 100}", field=f"field {n // 100}") for n in range(1, 5001)
    )
    import_catalog(engine, CatalogRows(entries=entries, observations=observed), who="Ana", why="many")
    repository = CatalogRepository(engine)
    assert sum(map(len, repository.all_observations("pump").values())) == 5000
    assert repository.damaged() == ()
