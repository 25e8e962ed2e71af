"""Copies are made when they are due, kept by the history's count, and a damaged one never pushes a good one out."""

from __future__ import annotations

import stat
import subprocess
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from random import SystemRandom

import pytest
from sqlalchemy import Engine

from tests.exchange.damaged_folders import ROWS
from tests.store.rows import small_catalog
from xref_app.core.model.catalog import Observation
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.data_package import write_data_package
from xref_app.services import daily_copies
from xref_app.services.daily_copies import (
    ACTS_OF_A_DAY,
    DAILY_COPIES,
    OTHER_COPIES,
    WEEKLY_COPIES,
    copy_before,
    daily_copy,
    to_drop,
)
from xref_app.services.kept_copies import KeptCopy, Kind, is_good, kept_copies
from xref_app.services.open_catalog import import_folder
from xref_app.store.connect import writing
from xref_app.store.engine import open_engine
from xref_app.store.errors import CopyFailedError
from xref_app.store.importing import import_catalog
from xref_app.store.writing import add_observation

FIRST = date(2026, 1, 5)  # a Monday


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "shop" / "shop.sqlite"


@pytest.fixture
def engine(path: Path) -> Iterator[Engine]:
    opened = open_engine(path)
    import_catalog(opened, small_catalog(), who="Ana", why="first stock")
    yield opened
    opened.dispose()


def made(days: int, kind: Kind = Kind.DAILY) -> tuple[KeptCopy, ...]:
    """Return copies of so many days in a row, newest first; each holds ten acts more than the one before."""
    return tuple(
        KeptCopy(Path(f"{kind}{day}"), 10 * day, kind, (FIRST + timedelta(days=day)).isoformat(), 1)
        for day in reversed(range(days))
    )


def good(_copy: KeptCopy) -> bool:
    return True


def test_one_copy_a_day_is_made_checked_and_private(
    engine: Engine, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = daily_copy(engine)
    assert told.copy is not None
    assert daily_copy(engine).copy is None  # there is one of today
    assert stat.S_IMODE(told.copy.path.stat().st_mode) == 0o600
    assert stat.S_IMODE(told.copy.path.parent.stat().st_mode) == 0o700
    monkeypatch.setattr(daily_copies, "today", lambda: "2099-01-01")
    assert daily_copy(engine).copy is not None
    assert len(kept_copies(path)) == 2


def test_the_first_copy_of_a_week_tries_one_of_those_before(
    engine: Engine, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(daily_copies, "today", lambda: "2026-01-05")  # a Monday
    first = daily_copy(engine).copy
    assert first is not None
    content = bytearray(first.path.read_bytes())
    place = content.rindex(b"P001")
    content[place] ^= 1
    first.path.write_bytes(bytes(content))
    warnings = []
    for day in ("2026-01-06", "2026-01-11", "2026-01-12", "2026-01-13"):
        monkeypatch.setattr(daily_copies, "today", lambda of=day: of)
        monkeypatch.setattr(SystemRandom, "choice", lambda _self, copies: copies[-1])  # the oldest
        told = daily_copy(engine)
        assert told.copy is not None
        warnings.append(told.warning)
    assert [bool(one) for one in warnings] == [False, False, True, False]
    assert warnings[2].startswith(f"The copy “{first.path.name}” was tried and is damaged")
    assert first.path in [one.path for one in kept_copies(path)]


def test_anybody_can_check_a_copy_with_sha256sum(engine: Engine) -> None:
    told = daily_copy(engine)
    assert told.copy is not None
    folder, name = told.copy.path.parent, told.copy.path.name
    assert subprocess.run(["sha256sum", "-c", f"{name}.sha256"], cwd=folder, check=False).returncode == 0


def test_a_clock_that_stands_still_does_not_end_the_copies(
    engine: Engine, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    daily_copy(engine)
    monkeypatch.setattr(daily_copies, "ACTS_OF_A_DAY", 3)
    for turn in range(3):
        seen = Observation(0, "P001", "pump_length_mm", str(turn), 9.0 + turn, "", 1.0, "measured")
        assert daily_copy(engine).copy is None
        add_observation(engine, seen, who="Ana", why="bench")
    assert daily_copy(engine).copy is not None
    assert [one.serial for one in kept_copies(path)] == [4, 1]
    assert ACTS_OF_A_DAY > 100


def test_fourteen_days_and_eight_weeks_are_kept() -> None:
    copies = made(100)
    kept = [one for one in copies if one not in to_drop(copies, good)]
    assert len(kept) == DAILY_COPIES + WEEKLY_COPIES
    assert kept[:DAILY_COPIES] == list(copies[:DAILY_COPIES])
    weeks = [date.fromisoformat(one.day).isocalendar()[1] for one in kept[DAILY_COPIES:]]
    assert weeks == sorted(set(weeks), reverse=True)
    assert len(weeks) == WEEKLY_COPIES
    # Day by day, as it happens: nothing is dropped that a later day still wants.
    stock: list[KeptCopy] = []
    for one in reversed(copies):
        stock.insert(0, one)
        gone = to_drop(stock, good)
        stock = [each for each in stock if each not in gone]
    assert stock == kept


def test_the_clock_does_not_decide_which_copy_is_the_newest() -> None:
    """The clock goes back to 1980 after 60 days: the copies made since have the higher count and stay."""
    before = made(60)
    wrong = tuple(
        KeptCopy(Path(f"x{day}"), 10_000 + day, Kind.DAILY, (date(1980, 1, 1) + timedelta(days=day)).isoformat(), 1)
        for day in reversed(range(20))
    )
    copies = (*wrong, *before)
    gone = to_drop(copies, good)
    assert not set(wrong[:DAILY_COPIES]) & set(gone)
    assert len(copies) - len(gone) == DAILY_COPIES + WEEKLY_COPIES


def test_a_damaged_copy_never_pushes_a_good_one_out() -> None:
    copies = made(60)
    damaged = set(copies[:10])
    gone = to_drop(copies, lambda one: one not in damaged)
    kept_good = [one for one in copies if one not in gone and one not in damaged]
    assert kept_good[:DAILY_COPIES] == list(copies[10 : 10 + DAILY_COPIES])
    assert not damaged & set(gone)  # they are newer than the oldest that is kept
    few_good = set(copies[-5:])
    assert to_drop(copies, lambda one: one in few_good) == ()


def test_copies_before_acts_do_not_push_the_daily_ones_out() -> None:
    daily, acts = made(10), made(40, Kind.RESTORE)
    gone = to_drop((*acts, *daily), good)
    assert set(gone) == set(acts[OTHER_COPIES:])


def test_the_files_of_dropped_copies_go_and_all_others_stay(
    engine: Engine, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(daily_copies, "OTHER_COPIES", 2)
    folder = path.with_name("copies")
    for _ in range(4):
        copy_before(engine, Kind.RESTORE)
    (folder / "shop.format-0001.1.sqlite").write_bytes(b"made before an upgrade")
    (folder / "letter.txt").write_text("mine")
    last = kept_copies(path)[0]
    last.path.write_bytes(b"damaged")
    assert not is_good(last)
    copy_before(engine, Kind.RESTORE)
    left = kept_copies(path)
    assert [one.turn for one in left] == [5, 4, 3]  # of which 4 is damaged, so 3 stays
    assert {one.name for one in folder.iterdir()} == {
        "letter.txt",
        "shop.format-0001.1.sqlite",
        *(one.path.name for one in left),
        *(f"{one.path.name}.sha256" for one in left),
    }


def test_a_copy_of_a_damaged_store_counts_as_damaged(engine: Engine) -> None:
    with writing(engine) as connection:
        connection.exec_driver_sql("UPDATE observations SET value = 99 WHERE observation_id = 6")
    copy = copy_before(engine, Kind.RESTORE)
    assert copy is not None
    assert not is_good(copy)


def test_a_copy_without_its_check_sum_is_read_through(engine: Engine) -> None:
    copy = copy_before(engine, Kind.RESTORE)
    assert copy is not None
    copy.path.with_name(f"{copy.path.name}.sha256").unlink()
    assert is_good(copy)
    content = bytearray(copy.path.read_bytes())
    copy.path.write_bytes(content.replace("José".encode(), "Xosé".encode()))
    assert not is_good(copy)


def test_a_folder_that_cannot_be_written_is_one_sentence_and_nothing_is_lost(engine: Engine, path: Path) -> None:
    path.with_name("copies").write_text("in the way")
    told = daily_copy(engine)
    assert told.copy is None
    assert told.warning.startswith("The copy “")
    assert told.warning.endswith("; the store itself is untouched.")
    with pytest.raises(CopyFailedError):
        copy_before(engine, Kind.IMPORT)


def test_a_full_disk_is_one_sentence_and_the_good_copies_stay(
    engine: Engine, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The system refuses to write more, as on a full disk: by the limit of what this process may write to a file."""
    resource = pytest.importorskip("resource")
    first = copy_before(engine, Kind.IMPORT)
    assert first is not None
    signal = pytest.importorskip("signal")
    usual = resource.getrlimit(resource.RLIMIT_FSIZE)
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    monkeypatch.setattr(daily_copies, "today", lambda: "2099-01-01")
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (8192, usual[1]))
        told = daily_copy(engine)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, usual)
        signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
    assert told.copy is None
    assert told.warning
    assert kept_copies(path) == (first,)
    assert is_good(first)
    assert not [one for one in path.with_name("copies").iterdir() if one.suffix == ".part"]


def test_an_import_makes_a_copy_first(engine: Engine, path: Path, tmp_path: Path) -> None:
    write_data_package(CatalogRows(entries=ROWS.entries), tmp_path / "package")
    engine.dispose()
    import_folder(tmp_path / "package", who="Ana", store=path)
    assert [(one.kind, one.serial) for one in kept_copies(path)] == [(Kind.IMPORT, 1)]


def test_an_empty_store_needs_no_copy(tmp_path: Path) -> None:
    empty = open_engine(tmp_path / "empty.sqlite")
    assert daily_copy(empty).copy is None
    assert copy_before(empty, Kind.IMPORT) is None
    empty.dispose()
    assert [one.name for one in tmp_path.iterdir()] == ["empty.sqlite"]
