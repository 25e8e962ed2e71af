"""From an older format: copy first, then all steps or none. The step to 0005 here is real, but only tests know it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.store.rows import every_byte, small_catalog
from xref_app.store.connect import writing
from xref_app.store.engine import open_engine
from xref_app.store.errors import CopyFailedError, DamagedStoreError, NewerStoreError, StoreError
from xref_app.store.health import check_store
from xref_app.store.migrate import upgrade_file
from xref_app.store.repository import CatalogRepository
from xref_app.store.sqlite_file import writable_engine
from xref_app.store.stamp import read_stamp

LATER_STEPS = Path(__file__).parent / "later_steps"
OLD_CATALOGS = Path(__file__).parents[1] / "old_catalogs"


def stamp_of(path: Path) -> str:
    engine = writable_engine(path)
    try:
        return read_stamp(engine)
    finally:
        engine.dispose()


def columns_of(path: Path, table: str) -> list[str]:
    engine = writable_engine(path)
    try:
        with writing(engine) as connection:
            return [row[1] for row in connection.exec_driver_sql(f"PRAGMA table_info({table})")]
    finally:
        engine.dispose()


def test_an_older_store_is_copied_and_brought_up(path: Path, filled: Engine) -> None:
    everything = CatalogRepository(filled).everything()
    filled.dispose()
    copy = upgrade_file(path, head="0006", more_steps=(LATER_STEPS / "good",))
    assert copy == path.parent / "copies" / "shop.format-0005.1.sqlite"
    assert (stamp_of(path), stamp_of(copy)) == ("0006", "0005")
    assert "poles" in columns_of(path, "drivers")
    kept = open_engine(copy)
    assert CatalogRepository(kept).everything() == everything
    kept.dispose()


def test_a_store_of_this_format_is_left_alone(path: Path, filled: Engine) -> None:
    filled.dispose()
    before = every_byte(path.parent)
    assert upgrade_file(path) is None
    assert every_byte(path.parent) == before


@pytest.mark.parametrize("steps", ["breaks_in_the_middle", "loses_a_reference"])
def test_a_step_that_fails_leaves_the_old_store_whole(path: Path, filled: Engine, steps: str) -> None:
    """The first rebuilds a table and then meets a fault: with the driver's own transactions half of it would stay."""
    everything = CatalogRepository(filled).everything()
    filled.dispose()
    before = path.read_bytes()
    with pytest.raises(StoreError) as caught:
        upgrade_file(path, head="0006", more_steps=(LATER_STEPS / steps,))
    assert path.read_bytes() == before
    assert stamp_of(path) == "0005"
    if steps == "loses_a_reference":
        assert isinstance(caught.value, DamagedStoreError)
        assert caught.value.detail == "the upgrade would leave a row of drivers that names a lost entries"
    upgrade_file(path, head="0006", more_steps=(LATER_STEPS / "good",))  # nothing was left in the way
    assert (path.parent / "copies" / "shop.format-0005.2.sqlite").exists()
    engine = writable_engine(path)
    assert CatalogRepository(engine).everything() == everything
    engine.dispose()


def test_no_copy_no_upgrade(path: Path, filled: Engine) -> None:
    filled.dispose()
    (path.parent / "copies").write_text("a file where the folder should be")
    before = path.read_bytes()
    with pytest.raises(CopyFailedError):
        upgrade_file(path, head="0006", more_steps=(LATER_STEPS / "good",))
    assert path.read_bytes() == before
    assert stamp_of(path) == "0005"


def test_there_is_no_way_back_down(path: Path, filled: Engine) -> None:
    filled.dispose()
    upgrade_file(path, head="0006", more_steps=(LATER_STEPS / "good",))
    with pytest.raises(NewerStoreError):
        upgrade_file(path)
    with pytest.raises(NewerStoreError):
        open_engine(path)


@pytest.mark.parametrize("old", sorted(OLD_CATALOGS.glob("*.sqlite")), ids=lambda one: one.stem)
@pytest.mark.parametrize("look_only", [False, True])
def test_every_format_ever_released_opens(tmp_path: Path, old: Path, *, look_only: bool) -> None:
    path = tmp_path / "shop.sqlite"
    shutil.copyfile(old, path)
    engine = open_engine(path, look_only=look_only)
    assert check_store(engine).is_whole
    everything, given = CatalogRepository(engine).everything(), small_catalog()
    assert set(everything.entries) == set(given.entries)
    assert (everything.observations, everything.parts) == (given.observations, given.parts)
    engine.dispose()


def test_there_is_one_file_for_each_format() -> None:
    assert [one.name for one in sorted(OLD_CATALOGS.glob("*"))] == [
        "v0001.sqlite",
        "v0002.sqlite",
        "v0003.sqlite",
        "v0004.sqlite",
        "v0005.sqlite",
    ]
