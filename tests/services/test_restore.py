"""A copy put back: told first, the present copied aside, taken back by an undo, and no damaged value ever used."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.heard import Heard
from tests.store.rows import every_byte, small_catalog
from xref_app.core.model.catalog import Entry, Observation, OutcomeRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.progress import WorkCancelledError
from xref_app.services.copies_told import copy_lines, newest_good_copy
from xref_app.services.daily_copies import copy_before, daily_copy
from xref_app.services.kept_copies import Kind, kept_copies
from xref_app.services.mending import mend, offered_mending
from xref_app.services.restore import CannotRestoreError, restore, what_would_change
from xref_app.store import verified
from xref_app.store.connect import writing
from xref_app.store.copies import make_copy
from xref_app.store.edits import RowEdit, save_edits
from xref_app.store.engine import open_engine
from xref_app.store.health import check_store
from xref_app.store.history import last_serial, read_history
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.restore_plan import Way
from xref_app.store.undoing import next_undo, undo
from xref_app.store.writing import add_observation, withdraw

OLD = Path(__file__).parents[1] / "old_catalogs"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "shop" / "shop.sqlite"


@pytest.fixture
def engine(path: Path) -> Iterator[Engine]:
    opened = open_engine(path)
    import_catalog(opened, small_catalog(), who="Ana", why="first stock")
    yield opened
    opened.dispose()


@pytest.fixture
def copy(engine: Engine) -> Path:
    told = daily_copy(engine)
    assert told.copy is not None
    return told.copy.path


def everything(engine: Engine) -> CatalogRows:
    return CatalogRepository(engine).everything()


def standing(engine: Engine) -> CatalogRows:
    """Return what stands, as a person sees it."""
    rows = everything(engine)
    return replace(
        rows,
        entries=tuple(one for one in rows.entries if not one.withdrawn_on),
        observations=tuple(one for one in rows.observations if not one.withdrawn_on),
    )


LEAKED = OutcomeRow("OWN-O0001", "M001", "P002", "leaked")


def busy_day(engine: Engine) -> None:
    """Add an entry, a reading and an outcome, alter an entry, withdraw another."""
    new = [
        RowEdit("entries", None, Entry("OWN-0001", "pump", "Q", "New")),
        RowEdit("outcomes", None, LEAKED),
        RowEdit("entries", small_catalog().entries[5], replace(small_catalog().entries[5], name="Renamed")),
    ]
    save_edits(engine, lambda _numbers: new, name="New", who="Ana", why="x", save_id="1")
    add_observation(
        engine, Observation(0, "P001", "pump_length_mm", "9", 9.0, "", 1.0, "measured"), who="Ana", why="bench"
    )
    withdraw(engine, "entries", ("P004",), who="Ana", why="scrap")


def test_what_would_vanish_is_told_by_number_and_nothing_is_changed(engine: Engine, copy: Path) -> None:
    busy_day(engine)
    before = everything(engine)
    told = what_would_change(engine, copy, Way.ALL)
    # What happened on the bench is no part of a copy that is put back: it happened.
    assert told.vanish == {"entries": 1, "observations": 1}
    assert told.altered == {"entries": 1}
    assert told.back == {"entries": 1}
    assert not told.mended
    missing = what_would_change(engine, copy, Way.MISSING)
    assert (missing.vanish, missing.altered, missing.back) == ({}, {}, {"entries": 1})
    assert what_would_change(engine, copy, Way.DAMAGED).is_nothing
    assert everything(engine) == before


def test_put_back_all_is_one_act_that_an_undo_takes_back(engine: Engine, path: Path, copy: Path) -> None:
    busy_day(engine)
    before = everything(engine)
    acts = last_serial(engine)
    done = restore(path, copy, Way.ALL, who="Ben")
    assert not done.as_file
    assert standing(engine) == small_sorted(LEAKED)
    assert last_serial(engine) == acts + 1
    newest = read_history(engine, limit=1)[0].change
    assert (newest.who, newest.why.partition(":")[0]) == ("Ben", copy.name)
    assert check_store(engine).is_whole
    assert done.before is not None
    aside = open_engine(done.before, look_only=True)
    assert everything(aside) == before
    aside.dispose()
    step = next_undo(engine)
    assert step is not None
    assert step.name.startswith("Copy of ")
    undo(engine, who="Ben")
    assert everything(engine) == before
    assert check_store(engine).is_whole


def small_sorted(*happened: OutcomeRow) -> CatalogRows:
    """Return what was there at first, and what happened since."""
    rows = small_catalog()
    entries = tuple(sorted(rows.entries, key=lambda one: one.entry_id))
    return replace(rows, entries=entries, outcomes=(*rows.outcomes, *happened))


def test_only_what_is_missing_comes_back_and_nothing_else_changes(engine: Engine, path: Path, copy: Path) -> None:
    busy_day(engine)
    before = everything(engine)
    restore(path, copy, Way.MISSING, who="Ben")
    after = everything(engine)
    assert replace(after, entries=()) == replace(before, entries=())
    assert {one.entry_id for one in after.entries if one.withdrawn_on} == set()
    assert "Renamed" in {one.name for one in after.entries}
    assert "New" in {one.name for one in after.entries}
    undo(engine, who="Ben")
    assert everything(engine) == before


def test_a_reservation_that_was_taken_back_does_not_come_again_by_itself(
    engine: Engine, path: Path, copy: Path
) -> None:
    withdraw(engine, "reservations", ("R-001",), who="Ana", why="a slip")
    restore(path, copy, Way.MISSING, who="Ben")
    assert CatalogRepository(engine).reservations() == ()
    restore(path, copy, Way.ALL, who="Ben")
    assert CatalogRepository(engine).reservations() == small_catalog().reservations


def test_a_reading_that_was_withdrawn_as_wrong_does_not_come_again_by_itself(
    engine: Engine, path: Path, copy: Path
) -> None:
    withdraw(engine, "observations", (6,), who="Ana", why="measured again: it was wrong")
    withdraw(engine, "entries", ("P004",), who="Ana", why="scrap")
    restore(path, copy, Way.MISSING, who="Ben")
    assert next(one for one in everything(engine).observations if one.observation_id == 6).withdrawn_on
    assert not next(one for one in everything(engine).entries if one.entry_id == "P004").withdrawn_on
    restore(path, copy, Way.ALL, who="Ben")
    assert standing(engine) == small_sorted()


def test_a_copy_that_holds_the_same_adds_no_act(engine: Engine, path: Path, copy: Path) -> None:
    acts = last_serial(engine)
    assert restore(path, copy, Way.ALL, who="Ben").change is not None
    assert last_serial(engine) == acts


def test_a_copy_of_another_store_brings_what_is_missing_here(path: Path, engine: Engine, tmp_path: Path) -> None:
    other = open_engine(tmp_path / "other.sqlite")
    rows = CatalogRows(entries=(Entry("X001", "pump", "Q", "Theirs"),))
    import_catalog(other, rows, who="Ana", why="x")
    make_copy(other, tmp_path / "copy.sqlite")
    other.dispose()
    restore(path, tmp_path / "copy.sqlite", Way.MISSING, who="Ben")
    assert len(standing(engine).entries) == len(small_catalog().entries) + 1
    assert check_store(engine).is_whole
    undo(engine, who="Ben")
    assert standing(engine) == small_sorted()


@pytest.mark.parametrize("form", ["0001", "0002", "0003", "0004"])
def test_a_copy_of_an_older_format_is_upgraded_beside_and_stays_as_it_is(
    engine: Engine, path: Path, tmp_path: Path, form: str
) -> None:
    old = tmp_path / "old" / "old.sqlite"
    old.parent.mkdir()
    old.write_bytes((OLD / f"v{form}.sqlite").read_bytes())
    before = every_byte(old.parent)
    told = what_would_change(engine, old, Way.MISSING)
    restore(path, old, Way.MISSING, who="Ben")
    assert every_byte(old.parent) == before
    assert check_store(engine).is_whole
    assert told.back or told.is_nothing


def test_no_room_for_the_copy_aside_means_no_restore(engine: Engine, path: Path, copy: Path, tmp_path: Path) -> None:
    stick = tmp_path / "stick.sqlite"
    stick.write_bytes(copy.read_bytes())
    busy_day(engine)
    before = everything(engine)
    for one in path.with_name("copies").iterdir():
        one.unlink()
    path.with_name("copies").rmdir()
    path.with_name("copies").write_text("in the way")
    with pytest.raises(Exception, match="was not made because"):
        restore(path, stick, Way.ALL, who="Ben")
    assert everything(engine) == before


def test_a_damaged_copy_gives_back_its_sound_rows_only(engine: Engine, path: Path, tmp_path: Path) -> None:
    make_copy(engine, tmp_path / "copy.sqlite")
    hurt = open_engine(tmp_path / "copy.sqlite")
    with writing(hurt) as connection:
        connection.exec_driver_sql("UPDATE entries SET name = 'Altered' WHERE entry_id IN ('P001', 'P002')")
    hurt.dispose()
    withdraw(engine, "entries", ("P001",), who="Ana", why="x")
    withdraw(engine, "entries", ("P003",), who="Ana", why="x")
    restore(path, tmp_path / "copy.sqlite", Way.MISSING, who="Ben")
    names = {one.name for one in standing(engine).entries}
    assert "Altered" not in names
    assert "Pump 3" in names
    assert "Pump 1" not in names


def test_what_is_damaged_in_the_copy_alone_is_not_taken_away_here(engine: Engine, path: Path, tmp_path: Path) -> None:
    make_copy(engine, tmp_path / "copy.sqlite")
    hurt = open_engine(tmp_path / "copy.sqlite")
    with writing(hurt) as connection:
        connection.exec_driver_sql("UPDATE entries SET name = 'Altered' WHERE entry_id = 'P001'")
    hurt.dispose()
    before = standing(engine)
    assert what_would_change(engine, tmp_path / "copy.sqlite", Way.ALL).is_nothing
    restore(path, tmp_path / "copy.sqlite", Way.ALL, who="Ben")
    assert standing(engine) == before


def test_a_copy_nobody_can_read_is_one_sentence(path: Path, engine: Engine, tmp_path: Path) -> None:
    (tmp_path / "copy.sqlite").write_bytes(b"no store")
    before = everything(engine)
    with pytest.raises(CannotRestoreError, match=r"The copy “copy\.sqlite” cannot be read – take another one"):
        restore(path, tmp_path / "copy.sqlite", Way.ALL, who="Ben")
    assert everything(engine) == before


# -- damaged rows


def alter(engine: Engine, words: str) -> None:
    with writing(engine) as connection:
        connection.exec_driver_sql("PRAGMA defer_foreign_keys=ON")
        connection.exec_driver_sql(words)


def test_a_damaged_row_is_put_back_as_it_was_from_the_newest_good_copy(engine: Engine, copy: Path) -> None:
    busy_day(engine)
    before = everything(engine)
    alter(engine, "UPDATE observations SET value = 99 WHERE observation_id = 6")
    copy_before(engine, Kind.IMPORT)  # newer, and damaged like the store
    offered = offered_mending(engine)
    assert offered is not None
    assert (offered.copy, offered.same, offered.older, offered.left) == (copy, ("observations 6",), (), 0)
    assert mend(engine, offered, who="Ben") == offered
    assert everything(engine) == before
    assert check_store(engine).is_whole
    assert offered_mending(engine) is None
    undo(engine, who="Ben")  # the row was this one all the time: nothing of it is taken back
    assert everything(engine) == before
    assert check_store(engine).is_whole


def test_a_row_whose_hash_was_hit_is_put_back_and_the_count_proves_it(engine: Engine, copy: Path) -> None:
    before = everything(engine)
    alter(engine, f"UPDATE entries SET row_hash = '{'0' * 32}' WHERE entry_id = 'P003'")
    assert copy.exists()
    offered = offered_mending(engine)
    assert offered is not None
    mend(engine, offered, who="Ben")
    assert everything(engine) == before
    assert check_store(engine).is_whole


def test_a_lost_row_is_put_back(engine: Engine, copy: Path) -> None:
    before = everything(engine)
    alter(engine, "DELETE FROM observations WHERE observation_id IN (7, 8)")
    assert copy.exists()
    offered = offered_mending(engine)
    assert offered is not None
    assert offered.same == ("observations 7", "observations 8")
    mend(engine, offered, who="Ben")
    assert everything(engine) == before
    assert check_store(engine).is_whole


def test_a_row_that_was_changed_since_the_copy_is_said_to_be_older(engine: Engine, copy: Path) -> None:
    busy_day(engine)  # renames the entry at place 5
    changed = small_catalog().entries[5].entry_id
    alter(engine, f"UPDATE entries SET name = 'Altered' WHERE entry_id = '{changed}'")
    assert copy.exists()
    offered = offered_mending(engine)
    assert offered is not None
    assert (offered.same, offered.older) == ((), (f"entries {changed}",))
    mend(engine, offered, who="Ben")
    found = CatalogRepository(engine).entry(changed)
    assert found == small_catalog().entries[5]
    assert check_store(engine).is_whole


def test_a_lost_row_that_no_copy_has_is_told_for_good(engine: Engine, copy: Path) -> None:
    busy_day(engine)
    alter(engine, "DELETE FROM observations WHERE observation_id IN (7, 1000000000)")
    assert copy.exists()
    offered = offered_mending(engine)
    assert offered is not None
    mend(engine, offered, who="Ben")
    assert [(one.table, one.expected_rows - one.found_rows) for one in check_store(engine).tally_breaks] == [
        ("observations", 1)
    ]


def test_without_a_good_copy_nothing_is_offered(engine: Engine) -> None:
    alter(engine, "UPDATE observations SET value = 99 WHERE observation_id = 6")
    assert offered_mending(engine) is None
    copy_before(engine, Kind.IMPORT)
    assert offered_mending(engine) is None


def test_put_back_all_leaves_out_damage_and_counts_anew(engine: Engine, path: Path, copy: Path) -> None:
    busy_day(engine)
    alter(engine, "UPDATE observations SET value = 99 WHERE observation_id IN (6, 1000000000)")
    alter(engine, "DELETE FROM observations WHERE observation_id = 7")
    done = restore(path, copy, Way.ALL, who="Ben")
    assert done.change is not None
    assert done.change.left_damaged == 1  # the reading of this day: the copy has none of it
    assert standing(engine) == small_sorted(LEAKED)
    assert [one.key for one in check_store(engine).damaged] == [("1000000000",)]
    assert not check_store(engine).tally_breaks


# -- the list of copies


def test_copies_are_listed_by_the_history_and_a_store_that_lost_acts_is_told(
    engine: Engine, path: Path, copy: Path
) -> None:
    busy_day(engine)
    copy_before(engine, Kind.IMPORT)
    lines = copy_lines(path, serial=last_serial(engine))
    assert [(one.why, one.behind, one.good) for one in lines] == [("import", 0, True), ("daily", 3, True)]
    assert [one.holds.entries for one in lines if one.holds] == [14, 14]
    assert copy_lines(path, serial=1)[0].behind == -3
    hurt = kept_copies(path)[0].path
    hurt.write_bytes(hurt.read_bytes()[:-4096])
    assert [one.good for one in copy_lines(path, serial=None)] == [False, True]
    assert newest_good_copy(path) == copy


def test_looking_and_putting_back_can_be_stopped_anywhere_and_then_nothing_was_changed(
    engine: Engine, path: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(verified, "_ROWS_AT_ONCE", 1)
    busy_day(engine)
    before = (everything(engine), last_serial(engine))
    heard = Heard()
    what_would_change(engine, copy, Way.ALL, heard)
    assert heard.shares == sorted(heard.shares)
    assert len(heard.shares) > 100
    with pytest.raises(WorkCancelledError):
        what_would_change(engine, copy, Way.ALL, Heard(50))
    stopped = 0
    for patience in range(0, 1000, 60):
        try:
            restore(path, copy, Way.ALL, who="Ben", progress=Heard(patience))
        except WorkCancelledError:
            stopped += 1
            assert (everything(engine), last_serial(engine)) == before
        else:
            break
    assert stopped > 5
    assert standing(engine) == small_sorted(LEAKED)
    assert check_store(engine).is_whole
