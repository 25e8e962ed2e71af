"""Restore after each kind of damage: the present state is never lost, and no altered value is ever handed out."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.store.rows import every_byte, small_catalog
from xref_app.core.model.catalog import Observation
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.services.copies_told import newest_good_copy
from xref_app.services.daily_copies import copy_before, daily_copy
from xref_app.services.kept_copies import Kind, copies_folder
from xref_app.services.restore import CannotRestoreError, restore
from xref_app.store.engine import open_engine
from xref_app.store.errors import StoreError
from xref_app.store.health import check_store
from xref_app.store.history import read_history
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.restore_plan import Way
from xref_app.store.sqlite_file import pragma, writable_engine
from xref_app.store.undoing import undo
from xref_app.store.writing import add_observation

FLIPS = 60
KILLS = 24
TABLES = tuple(CatalogRows.__dataclass_fields__)
TRUE = {name: set(getattr(small_catalog(), name)) for name in TABLES}
SEEN = Observation(1_000_000_000, "P001", "pump_length_mm", "9", 9.0, "", 1.0, "measured")


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Return the path of a store with a copy of it and one reading since, open nowhere."""
    path = tmp_path / "shop" / "shop.sqlite"
    engine = open_engine(path)
    import_catalog(engine, small_catalog(), who="Ana", why="first stock")
    assert daily_copy(engine).copy is not None
    add_observation(engine, unnumbered(), who="Ana", why="bench")
    engine.dispose()
    return path


def unnumbered() -> Observation:
    return Observation(0, "P001", "pump_length_mm", "9", 9.0, "", 1.0, "measured")


def newest(path: Path) -> Path:
    copy = newest_good_copy(path)
    assert copy is not None
    return copy


def rows(path: Path) -> dict[str, set[object]]:
    """Return what stands in the store, by table."""
    engine = open_engine(path, create=False)
    try:
        everything = CatalogRepository(engine).everything()
        found = {name: set(getattr(everything, name)) for name in TABLES}
        found["observations"] = {one for one in everything.observations if not one.withdrawn_on}
        return found
    finally:
        engine.dispose()


def flip(content: bytes, at: int, bit: int) -> bytes:
    return content[:at] + bytes([content[at] ^ (1 << bit)]) + content[at + 1 :]


def is_kept(path: Path, present: bytes) -> bool:
    """Say whether what lay at ``path`` lies in the folder of the copies byte by byte, or is what can be undone to."""
    return present in every_byte(copies_folder(path)).values()


def test_after_any_flipped_bit_all_is_back_and_the_present_is_kept(shop: Path) -> None:
    whole = shop.read_bytes()
    copy = newest(shop)
    rng = random.Random(4)
    as_file = 0
    for _ in range(FLIPS):
        page = rng.randrange(len(whole) // 4096) * 4096
        at = page + rng.randrange(20) if rng.random() < 0.5 else rng.randrange(len(whole))
        hurt = flip(whole, at, rng.randrange(8))
        shop.write_bytes(hurt)
        done = restore(shop, copy, Way.ALL, who="Ana")
        as_file += done.as_file
        assert done.before is not None
        if done.as_file:
            assert is_kept(shop, hurt), f"byte {at}: what lay there is gone"
        for name, found in rows(shop).items():
            assert found == TRUE[name], f"byte {at}: {name} is not as in the copy"
        clean_up(shop, copy)
    assert FLIPS / 20 < as_file < FLIPS  # both ways were gone


def clean_up(shop: Path, copy: Path) -> None:
    for one in shop.parent.rglob("shop.*"):
        if one.is_file() and not one.name.startswith(copy.name):
            one.unlink()


# Each kind of damage to what lies there.
DAMAGES: dict[str, Callable[[Path], object]] = {
    "gone": lambda path: path.unlink(),
    "empty": lambda path: path.write_bytes(b""),
    "cut in the middle": lambda path: path.write_bytes(path.read_bytes()[: len(path.read_bytes()) // 2]),
    "cut by a page": lambda path: path.write_bytes(path.read_bytes()[:-4096]),
    "cut within a page": lambda path: path.write_bytes(path.read_bytes()[:-1000]),
    "head gone": lambda path: path.write_bytes(bytes(100) + path.read_bytes()[100:]),
    "schema gone": lambda path: path.write_bytes(path.read_bytes()[:100] + bytes(3996) + path.read_bytes()[4096:]),
    "all zeros": lambda path: path.write_bytes(bytes(len(path.read_bytes()))),
    "another program's": lambda path: path.write_bytes(b"a letter to somebody " * 100),
}


def newer(path: Path) -> None:
    engine = writable_engine(path)
    with engine.begin() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '9999'")
    pragma(engine, "wal_checkpoint(TRUNCATE)")
    engine.dispose()


DAMAGES["of a later version"] = newer


@pytest.mark.parametrize("kind", DAMAGES)
def test_after_each_kind_of_damage_all_is_back_and_the_present_is_kept(shop: Path, kind: str) -> None:
    copy = newest(shop)
    DAMAGES[kind](shop)
    present = shop.read_bytes() if shop.exists() else None
    with pytest.raises(StoreError):
        check_whole(shop)
    done = restore(shop, copy, Way.ALL, who="Ana")
    assert done.as_file
    assert rows(shop) == TRUE
    assert present is None or is_kept(shop, present)
    engine = open_engine(shop)
    assert check_store(engine).is_whole
    assert read_history(engine, limit=1)[0].change.action == "restore"
    add_observation(engine, unnumbered(), who="Ana", why="and it can be worked with")
    engine.dispose()


def check_whole(path: Path) -> None:
    """Raise where the damage shows only when rows are read."""
    engine = open_engine(path, create=False)
    try:
        CatalogRepository(engine).everything()
        report = check_store(engine)
    finally:
        engine.dispose()
    if not report.is_whole:
        raise StoreError(f"{report}")


@pytest.mark.parametrize("kind", ["cut in the middle", "head gone"])
def test_single_rows_are_not_brought_into_a_store_beyond_that(shop: Path, kind: str) -> None:
    copy = newest(shop)
    DAMAGES[kind](shop)
    before = every_byte(shop.parent)
    with pytest.raises(CannotRestoreError, match="too badly damaged to bring back single rows – put all back"):
        restore(shop, copy, Way.MISSING, who="Ana")
    assert before.items() <= every_byte(shop.parent).items()


def with_wal(shop: Path) -> tuple[bytes, bytes]:
    """Return file and WAL of the store with one reading that lies in the WAL alone, as after a power cut."""
    engine = open_engine(shop)
    add_observation(engine, unnumbered(), who="Ana", why="in the WAL")
    found = shop.read_bytes(), shop.with_name("shop.sqlite-wal").read_bytes()
    engine.dispose()
    return found


def test_a_lost_wal_is_told_by_the_copies_and_nothing_else_is_lost(shop: Path) -> None:
    file, wal = with_wal(shop)
    assert wal
    engine = open_engine(shop)
    copied = copied_now(engine)
    engine.dispose()
    shop.write_bytes(file)
    for ending in ("-wal", "-shm"):
        shop.with_name(shop.name + ending).unlink(missing_ok=True)
    without = rows(shop)
    done = restore(shop, copied, Way.ALL, who="Ana")
    assert not done.as_file
    back = rows(shop)
    assert without["observations"] < back["observations"]
    engine = open_engine(shop)
    assert check_store(engine).is_whole
    undo(engine, who="Ana")
    engine.dispose()
    assert rows(shop) == without


def copied_now(engine: Engine) -> Path:
    made = copy_before(engine, Kind.IMPORT)
    assert made is not None
    return made.path


def test_a_damaged_wal_never_hands_out_an_altered_value_and_is_set_aside_with_its_file(shop: Path) -> None:
    copy = newest(shop)
    file, wal = with_wal(shop)
    rng = random.Random(9)
    beside = shop.with_name("shop.sqlite-wal")
    for _ in range(20):
        clean_up(shop, copy)
        shop.write_bytes(file)
        beside.write_bytes(flip(wal, rng.randrange(len(wal)), rng.randrange(8)))
        done = restore(shop, copy, Way.ALL, who="Ana")
        assert rows(shop) == TRUE
        if done.as_file:
            assert is_kept(shop, file)


@pytest.mark.parametrize("left", [True, False])
def test_a_wal_that_was_left_beside_a_lost_file_is_not_read_into_the_copy(shop: Path, left: bool) -> None:
    """The WAL holds whole pages of the old file; read into another one they would be put among its own."""
    copy = newest(shop)
    file, wal = with_wal(shop)
    shop.with_name("shop.sqlite-wal").write_bytes(wal)
    if left:
        shop.write_bytes(file[:4096] + bytes(len(file) - 4096))
    else:
        shop.unlink()
    done = restore(shop, copy, Way.ALL, who="Ana")
    assert done.as_file
    assert done.before is not None
    assert done.before.exists() == left
    assert done.before.with_name(f"{done.before.name}-wal").read_bytes() == wal
    assert rows(shop) == TRUE
    engine = open_engine(shop)
    assert check_store(engine).is_whole
    assert read_history(engine, limit=1)[0].change.action == "restore"
    engine.dispose()


def test_what_was_set_aside_before_is_never_touched_again(shop: Path) -> None:
    copy = newest(shop)
    _file, wal = with_wal(shop)
    shop.unlink()
    shop.with_name("shop.sqlite-wal").write_bytes(wal)  # of the first, only a WAL is left to set aside
    restore(shop, copy, Way.ALL, who="Ana")
    first = every_byte(copies_folder(shop))
    shop.write_bytes(bytes(5000))
    restore(shop, copy, Way.ALL, who="Ana")
    assert first.items() < every_byte(copies_folder(shop)).items()
    assert is_kept(shop, bytes(5000))


RESTORER = """
import sys
from pathlib import Path
from xref_app.services.restore import restore
from xref_app.store.restore_plan import Way
sys.stdout.write("ready\\n")
sys.stdout.flush()
for turn in range(1000):
    for copy in sys.argv[2:]:
        restore(Path(sys.argv[1]), Path(copy), Way.ALL, who="Ana")
        sys.stdout.write("done\\n")
        sys.stdout.flush()
"""


def test_a_process_killed_while_it_restores_leaves_one_state_or_the_other(shop: Path, tmp_path: Path) -> None:
    engine = open_engine(shop)
    later = tmp_path / "later.sqlite"
    later.write_bytes(copied_now(engine).read_bytes())
    engine.dispose()
    copies = [later, tmp_path / "first.sqlite"]
    copies[1].write_bytes(newest_daily(shop).read_bytes())
    states = [{**TRUE, "observations": TRUE["observations"] | {SEEN}}, TRUE]
    rng = random.Random(12)
    for _ in range(KILLS):
        killed(["-c", RESTORER, str(shop), *map(str, copies)], rng.randrange(4), rng.random() * 0.2)
        assert rows(shop) in states
        engine = open_engine(shop)
        assert check_store(engine).is_whole
        engine.dispose()


def newest_daily(shop: Path) -> Path:
    return next(one for one in copies_folder(shop).glob("*-daily-*.sqlite"))


def test_a_process_killed_while_it_replaces_a_file_loses_nothing(shop: Path, tmp_path: Path) -> None:
    copy = tmp_path / "first.sqlite"
    copy.write_bytes(newest_daily(shop).read_bytes())
    hurt = shop.read_bytes()[: len(shop.read_bytes()) // 2]
    rng = random.Random(13)
    for _ in range(KILLS):
        for one in shop.parent.rglob("shop.*"):
            if one.is_file():
                one.unlink()
        shop.write_bytes(hurt)
        killed(["-c", RESTORER, str(shop), str(copy)], 0, rng.random() * 0.25)
        now = shop.read_bytes()
        assert now == hurt or is_kept(shop, hurt)
        assert now == hurt or rows(shop) == TRUE


def killed(arguments: list[str], after_lines: int, seconds: float) -> None:
    """Kill the process so many lines and seconds after it is ready."""
    with subprocess.Popen([sys.executable, *arguments], stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        for _ in range(after_lines + 1):
            process.stdout.readline()
        try:
            process.wait(timeout=seconds)
        except subprocess.TimeoutExpired:
            process.send_signal(signal.SIGKILL)
