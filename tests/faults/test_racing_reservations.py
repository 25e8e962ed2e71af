"""Two processes reserve the last pieces at the same instant: exactly one has them, and the other is told who."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections import Counter
from contextlib import ExitStack
from pathlib import Path

from tests.store.rows import small_catalog
from xref_app.core.model.catalog import ShelfRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.engine import open_engine
from xref_app.store.health import check_store
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository

# XREF_ALL_RACES=1 runs as many as a release asks for.
ALL_RACES = 1_000
RACES = ALL_RACES if os.environ.get("XREF_ALL_RACES") else 200
PEOPLE = ("Ana", "Ben")


def racer(stack: ExitStack, store: Path, who: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "tests.faults.racing_reserver", str(store), who]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1)
    stack.enter_context(process)
    assert heard(process) == "ready"
    return process


def heard(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    return process.stdout.readline().strip()


def race(racers: list[subprocess.Popen[str]], place: str) -> list[str]:
    instant = time.time() + 0.004
    for process in racers:
        assert process.stdin is not None
        process.stdin.write(f"{place} {instant}\n")
        process.stdin.flush()
    return [heard(process) for process in racers]


def test_exactly_one_of_two_gets_the_last_pieces(tmp_path: Path) -> None:
    store = tmp_path / "shop.sqlite"
    engine = open_engine(store)
    import_catalog(engine, small_catalog(), who="Ana", why="first stock")
    places = [f"RACE-{number:03}" for number in range(RACES)]
    rows = tuple(ShelfRow(one, "S32", "", one.removeprefix("RACE-"), 4) for one in places)
    import_catalog(engine, CatalogRows(shelf=rows), who="Ana", why="last pieces")
    winners = Counter[str]()
    with ExitStack() as stack:
        racers = [racer(stack, store, who) for who in PEOPLE]
        for place in places:
            said = race(racers, place)
            assert said.count("won") == 1, said
            winner = PEOPLE[said.index("won")]
            label = place.removeprefix("RACE-")
            words = f"Bin {label} has 0 free and 4 are wanted; 4 are reserved for job of {winner} by {winner}."
            assert said[1 - said.index("won")] == words
            winners[winner] += 1
        for process in racers:
            assert process.stdin is not None
            process.stdin.close()
            assert process.wait(30) == 0
    assert min(winners[who] for who in PEOPLE) > 0  # or they took turns in one order, and this test shows nothing
    held = Counter(one.shelf_id for one in CatalogRepository(engine).reservations())
    assert all(held[place] == 1 for place in places)
    assert check_store(engine).is_whole
    engine.dispose()
