"""A copy is whole under its name, or not there."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.store.rows import every_byte
from xref_app.core.model.catalog import Observation
from xref_app.core.progress import Progress
from xref_app.store import copies
from xref_app.store.connect import writing
from xref_app.store.copies import make_copy
from xref_app.store.engine import open_engine
from xref_app.store.errors import CopyFailedError
from xref_app.store.repository import CatalogRepository
from xref_app.store.sqlite_file import immutable_engine, pragma, writable_engine
from xref_app.store.writing import add_observation, withdraw


def test_a_copy_holds_everything_and_can_live_on_a_stick(tmp_path: Path, filled: Engine) -> None:
    seen = Observation(0, "P001", "pump_length_mm", "9", 9.0, "", 1.0, "measured")
    add_observation(filled, seen, who="Ana", why="still in the WAL")
    target = tmp_path / "copies" / "copy.sqlite"
    report = make_copy(filled, target)
    assert report.health.is_whole
    assert (report.rows, report.serial) == (sum(report.health.rows.values()), 2)
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    assert [one.name for one in target.parent.iterdir()] == ["copy.sqlite"]
    looked = immutable_engine(target)
    assert pragma(looked, "journal_mode") == "delete"
    assert CatalogRepository(looked).everything() == CatalogRepository(filled).everything()
    looked.dispose()
    opened = open_engine(target)
    assert CatalogRepository(opened).everything() == CatalogRepository(filled).everything()
    opened.dispose()


def test_a_copy_never_replaces_a_file(tmp_path: Path, filled: Engine) -> None:
    target = tmp_path / "copy.sqlite"
    target.write_text("precious")
    with pytest.raises(CopyFailedError) as caught:
        make_copy(filled, target)
    assert str(caught.value) == (
        f"The copy “{target}” was not made because a file of that name is there already; the store itself is untouched."
    )
    with pytest.raises(CopyFailedError):
        copies.name_finished(tmp_path / "store" / "shop.sqlite", target)
    assert target.read_text() == "precious"


def test_a_copy_that_did_not_come_out_equal_is_thrown_away(
    tmp_path: Path, filled: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The fault is planted between writing and checking, where a bad disk would put it."""

    def write_and_damage(source: Engine, part: Path, *rest: Progress) -> None:
        honest(source, part, *rest)
        # Everywhere, for pages also hold stale bytes of rows that have moved on.
        part.write_bytes(part.read_bytes().replace("José".encode(), "Xosé".encode()))

    honest = copies.vacuum_into
    monkeypatch.setattr(copies, "vacuum_into", write_and_damage)
    with pytest.raises(CopyFailedError, match="what was written does not equal the catalog"):
        make_copy(filled, tmp_path / "copies" / "copy.sqlite")
    assert every_byte(tmp_path / "copies") == {}


def test_a_store_with_a_damaged_row_can_still_be_copied(tmp_path: Path, filled: Engine) -> None:
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE observations SET value = 99 WHERE observation_id = 6")
    report = make_copy(filled, tmp_path / "copy.sqlite")
    assert [one.key for one in report.health.damaged] == [("6",)]


def test_a_place_that_cannot_be_written_is_a_sentence(tmp_path: Path, filled: Engine) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(CopyFailedError, match="was not made because the system refused"):
        make_copy(filled, tmp_path / "file" / "copy.sqlite")


def test_a_copy_that_is_whole_but_of_an_earlier_moment_is_thrown_away(
    tmp_path: Path, filled: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    earlier = tmp_path / "earlier.sqlite"
    make_copy(filled, earlier)
    withdraw(filled, "entries", ("P001",), who="Ana", why="scrap")
    monkeypatch.setattr(copies, "vacuum_into", lambda _source, part, *_rest: part.write_bytes(earlier.read_bytes()))
    with pytest.raises(CopyFailedError, match="what was written does not equal the catalog"):
        make_copy(filled, tmp_path / "copy.sqlite")


def test_a_copy_of_a_damaged_store_may_have_no_other_damage(
    tmp_path: Path, filled: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    def write_and_damage(source: Engine, part: Path, *rest: Progress) -> None:
        honest(source, part, *rest)
        damage(writable_engine(part), 7)

    honest = copies.vacuum_into
    damage(filled, 6)
    monkeypatch.setattr(copies, "vacuum_into", write_and_damage)
    with pytest.raises(CopyFailedError, match="what was written does not equal the catalog"):
        make_copy(filled, tmp_path / "copies" / "copy.sqlite")
    damage(filled, 7)
    assert make_copy(filled, tmp_path / "copies" / "copy.sqlite").health.damaged


def damage(engine: Engine, observation_id: int) -> None:
    with writing(engine) as connection:
        connection.exec_driver_sql(f"UPDATE observations SET value = 99 WHERE observation_id = {observation_id}")
    pragma(engine, "wal_checkpoint(TRUNCATE)")
