"""The whole window killed after each keystroke of an entry: at most the field that was being typed is lost."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.faults.killed_typing import ANSWERS, answered, script
from xref_app.services.live_desk import LiveDesk
from xref_app.store.engine import open_engine
from xref_app.store.health import check_store


def kept_fields(store: Path) -> list[str]:
    engine = open_engine(store)
    drafts = LiveDesk(engine, "Shop").unfinished()
    assert check_store(engine).is_whole
    engine.dispose()
    return [] if not drafts else list(drafts[0].written)


def test_a_window_killed_after_each_keystroke_loses_at_most_the_field_in_hand(tmp_path: Path) -> None:
    order = [field for field, _ in ANSWERS]
    killer = subprocess.Popen(
        [sys.executable, "-m", "tests.faults.killed_typing"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert killer.stdin is not None
    assert killer.stdout is not None
    lost = []
    with killer:
        for keys in range(1, len(script()) + 1):
            store = tmp_path / f"{keys}.sqlite"
            open_engine(store).dispose()
            killer.stdin.write(f"{store} {keys}\n")
            killer.stdin.flush()
            assert int(killer.stdout.readline()) == answered(keys)
            kept = kept_fields(store)
            assert kept == order[: len(kept)]
            # The answer whose Enter was the very last key may still have been on its way.
            sure = answered(keys - 1)
            lost += [keys] if len(kept) < sure else []
        killer.stdin.close()
    assert lost == []
