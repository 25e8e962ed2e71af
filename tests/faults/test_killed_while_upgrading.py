"""An upgrade killed at any moment leaves the old store whole or the new one, and the next upgrade goes through."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

from tests.store.rows import small_catalog
from xref_app.store.copies import make_copy
from xref_app.store.engine import open_engine
from xref_app.store.health import check_store
from xref_app.store.importing import import_catalog
from xref_app.store.migrate import upgrade_file
from xref_app.store.repository import CatalogRepository
from xref_app.store.sqlite_file import writable_engine
from xref_app.store.stamp import read_stamp

KILLS = 30
LATER_STEPS = Path(__file__).parents[1] / "store" / "later_steps" / "good"

# Waits for a line, so that the kill falls into the upgrade and not into Python's start.
UPGRADER = """
import sys
from pathlib import Path
import alembic.command
from xref_app.store.migrate import upgrade_file
sys.stdout.write("ready\\n")
sys.stdout.flush()
sys.stdin.readline()
upgrade_file(Path(sys.argv[1]), head="0006", more_steps=(Path(sys.argv[2]),))
"""


def killed_after(seconds: float, store: Path) -> float:
    """Start the upgrade of ``store``, kill it after ``seconds``, and return how long it ran, s."""
    command = [sys.executable, "-c", UPGRADER, str(store), str(LATER_STEPS)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as upgrader:
        assert upgrader.stdin is not None
        assert upgrader.stdout is not None
        assert upgrader.stdout.readline() == "ready\n"
        upgrader.stdin.write("go\n")
        upgrader.stdin.flush()
        started = time.monotonic()
        try:
            upgrader.wait(seconds)
        except subprocess.TimeoutExpired:
            upgrader.send_signal(signal.SIGKILL)
        return time.monotonic() - started


def stamp_of(store: Path) -> str:
    engine = writable_engine(store)
    try:
        assert check_store(engine).is_whole
        return read_stamp(engine)
    finally:
        engine.dispose()


def test_an_upgrade_killed_anywhere_leaves_a_whole_store(tmp_path: Path) -> None:
    engine = open_engine(tmp_path / "shop.sqlite")
    import_catalog(engine, small_catalog(), who="Ana", why="first stock")
    make_copy(engine, tmp_path / "undisturbed" / "shop.sqlite")
    whole_s = killed_after(60.0, tmp_path / "undisturbed" / "shop.sqlite")
    rng = random.Random(7)
    seen = []
    for run in range(KILLS):
        store = tmp_path / str(run) / "shop.sqlite"
        make_copy(engine, store)
        killed_after(rng.uniform(0.0, 2 * whole_s), store)
        seen.append(stamp_of(store))
        upgrade_file(store, head="0006", more_steps=(LATER_STEPS,))
        assert stamp_of(store) == "0006"
        upgraded = writable_engine(store)
        assert CatalogRepository(upgraded).everything() == CatalogRepository(engine).everything()
        upgraded.dispose()
    engine.dispose()
    assert set(seen) == {"0005", "0006"}  # kills fell before the commit and after it, or this test shows nothing
