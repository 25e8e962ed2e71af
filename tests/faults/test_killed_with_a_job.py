"""The whole window killed after a change of its job: what is older than a second is on the disk, nothing is torn."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.faults.killed_job import LONG_ENOUGH_MS, state_after
from tests.services.bench_store import sample_store
from xref_app.services.live_desk import LiveDesk
from xref_app.store.engine import open_engine
from xref_app.store.health import check_store


def kept_states(store: Path) -> list[tuple[str, str]]:
    engine = open_engine(store)
    last = LiveDesk(engine, "Shop").jobs.last()
    assert not last.aside
    assert check_store(engine).is_whole
    engine.dispose()
    return [(job.chosen_id, job.reference) for job in last.jobs]


def test_a_killed_window_loses_at_most_the_last_second_of_its_job(tmp_path: Path) -> None:
    killer = subprocess.Popen(
        [sys.executable, "-m", "tests.faults.killed_job"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert killer.stdin is not None
    assert killer.stdout is not None
    with killer:
        for changes, wait_ms in ((1, LONG_ENOUGH_MS), (2, 0), (3, 500), (3, LONG_ENOUGH_MS), (4, 900)):
            place = tmp_path / f"{changes}_{wait_ms}"
            place.mkdir()
            sample_store(place).dispose()
            killer.stdin.write(f"{place / 'shop.sqlite'} {changes} {wait_ms}\n")
            killer.stdin.flush()
            assert killer.stdout.readline() == "killed\n"
            (kept,) = kept_states(place / "shop.sqlite")
            late = () if wait_ms == LONG_ENOUGH_MS else (state_after(changes - 1),)
            assert kept in (state_after(changes), *late)
        killer.stdin.close()
