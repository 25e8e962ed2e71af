"""Whether the catalog stands as a copy left it: by the history alone, through undo, redo, imports and many acts."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.store.rows import small_catalog
from xref_app.core.model.catalog import Observation
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.services.daily_copies import daily_copy
from xref_app.services.restore import Way, restore_as_act
from xref_app.store.connect import reading, writing
from xref_app.store.engine import open_engine
from xref_app.store.history import Change, append, read_head
from xref_app.store.importing import import_catalog
from xref_app.store.last_restore import last_restore
from xref_app.store.replacing import replace_store
from xref_app.store.undoing import redo, undo
from xref_app.store.writing import add_observation

LENGTH = Observation(0, "P001", "pump_length_mm", "9", 9.0, "", 1.0, "measured")


@pytest.fixture
def engine(tmp_path: Path) -> Iterator[Engine]:
    opened = open_engine(tmp_path / "shop.sqlite")
    import_catalog(opened, small_catalog(), who="Ana", why="first stock")
    yield opened
    opened.dispose()


@pytest.fixture
def copy(engine: Engine) -> Path:
    made = daily_copy(engine).copy
    assert made is not None
    add_observation(engine, LENGTH, who="Ana", why="bench")
    return made.path


def name(engine: Engine) -> str:
    found = last_restore(engine)
    return "" if found is None else found.name.split(" ")[0]


def test_a_whole_copy_is_named_until_it_is_taken_back_and_again_when_it_is_done_again(
    engine: Engine, copy: Path
) -> None:
    assert name(engine) == ""
    restore_as_act(engine, copy, Way.ALL, who="Ana")
    assert name(engine) == "Copy"
    for _ in range(2):
        undo(engine, who="Ana")
        assert name(engine) == ""
        redo(engine, who="Ana")
        assert name(engine) == "Copy"


def test_work_done_since_and_an_import_change_nothing_about_it(engine: Engine, copy: Path) -> None:
    restore_as_act(engine, copy, Way.ALL, who="Ana")
    add_observation(engine, LENGTH, who="Ana", why="bench")
    undo(engine, who="Ana")
    import_catalog(engine, CatalogRows(), who="Ana", why="nothing new")
    assert name(engine) == "Copy"


def test_what_only_brought_back_what_is_missing_is_none(engine: Engine, copy: Path) -> None:
    restore_as_act(engine, copy, Way.MISSING, who="Ana")
    assert name(engine) == ""


def test_after_two_hundred_acts_nobody_is_reminded(engine: Engine, copy: Path) -> None:
    restore_as_act(engine, copy, Way.ALL, who="Ana")
    for number in range(200):
        assert name(engine) == "Copy", number
        with writing(engine) as connection:
            head = read_head(connection)
            append(connection, head, Change(who="Ana", action="import", why=""), head.tallies)
    assert name(engine) == ""


def test_a_copy_in_the_place_of_the_file_is_named_too(engine: Engine, copy: Path, tmp_path: Path) -> None:
    engine.dispose()
    path = tmp_path / "shop.sqlite"
    replace_store(path, copy, name="Copy of a day", who="Ana", why="the file was gone")
    again = open_engine(path)
    found = last_restore(again)
    with reading(again) as connection:
        serial = read_head(connection).serial
    again.dispose()
    assert found is not None
    assert (found.serial, found.name) == (serial, "Copy of a day")
