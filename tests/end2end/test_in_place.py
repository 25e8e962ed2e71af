"""A copy put in the place of a catalog that is open and beyond single rows: the window closes, the next one has it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pysqlite3.dbapi2 as binding

from tests.services.copied_shop import copied_shop
from xref_app.store.engine import open_engine
from xref_app.store.health import check_store
from xref_app.store.history import read_history


def test_the_next_window_opens_with_the_copy_and_says_so(tmp_path: Path) -> None:
    path = copied_shop(tmp_path / "data" / "xref_app" / "store")
    with binding.connect(path) as store:
        store.execute("DROP TRIGGER history_keeps_UPDATE")
        store.execute("UPDATE history SET who = 'nobody' WHERE serial = 2")
    store.close()
    lay_there = path.read_bytes()
    kinds = ("DATA", "CONFIG", "CACHE", "STATE")
    places = {"HOME": str(tmp_path), **{f"XDG_{kind}_HOME": str(tmp_path / kind.lower()) for kind in kinds}}
    done = subprocess.run(
        [sys.executable, "-m", "tests.end2end.in_place_child"],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", **places},
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    first, second = json.loads(done.stdout.splitlines()[-1])
    assert first["works_from"] == ""
    assert second["works_from"].startswith("Working from: Copy of ")
    engine = open_engine(path, create=False)
    assert check_store(engine).is_whole
    assert read_history(engine, limit=1)[0].change.who == "Ana"
    engine.dispose()
    (aside,) = (path.parent / "copies").glob("*.aside.1.sqlite")
    with binding.connect(aside) as before:
        assert before.execute("SELECT who FROM history WHERE serial = 2").fetchone() == ("nobody",)
    assert aside.stat().st_size >= len(lay_there)
