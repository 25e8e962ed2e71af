"""How long the program's window takes to the first typed key, and its memory, beside an empty window in the same run.

Run: python -m tests.bench.window_start [ENTRIES [FOLDER]]      (100000, and a folder for the stores)

Both windows are started by turns, as processes of their own, offscreen unless QT_QPA_PLATFORM says otherwise. The
first start of each is told apart and not counted: it fills the system's caches, and the program may file what it needs
at the next. Ratios, not times, are what the lines are for. Never a gate.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.bench.large_store import large_store
from tests.bench.rows import Row, at_most, say, say_how_busy, say_rows

ENTRIES: Final = 100_000
STORES: Final = Path(tempfile.gettempdir()) / "xref-bench-stores"
ROUNDS: Final = 7
PATIENCE_S: Final = 600
MOST_TIMES_START, MOST_TIMES_MEMORY = 2.0, 2.2


@dataclass(frozen=True, slots=True)
class Start:
    """One start: s to the typed key, by the clock and of the processor; memory then and 3 s later, MB, RSS and PSS."""

    taken_s: float
    processor_s: float
    resident_mb: float
    proportional_mb: float
    later_resident_mb: float
    later_proportional_mb: float


def started(kind: str, environment: Mapping[str, str]) -> Start:
    """Start one window as a process of its own and return what it told."""
    begin_s = time.monotonic()
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.start_child", kind],
        capture_output=True,
        text=True,
        check=False,
        env=environment,
        timeout=PATIENCE_S,
    )
    if done.returncode or not done.stdout.strip():
        raise RuntimeError(f"the {kind} window ended with {done.returncode}: {done.stderr[-2000:]}")
    told = json.loads(done.stdout.splitlines()[-1])
    then, later = told["then"], told["later"]
    return Start(
        told["at_s"] - begin_s,
        told["cpu_s"],
        then["VmRSS"] / 1024,
        then["Pss"] / 1024,
        later["VmRSS"] / 1024,
        later["Pss"] / 1024,
    )


def own_environment(store: Path, folder: Path) -> dict[str, str]:
    """Return the environment of a user whose folders lie in ``folder`` and whose own store is ``store``."""
    kinds = ("DATA", "CONFIG", "CACHE", "STATE")
    own = {f"XDG_{kind}_HOME": str(folder / kind.lower()) for kind in kinds}
    place = folder / "data" / "xref_app" / "store" / "shop.sqlite"
    place.parent.mkdir(parents=True, mode=0o700)
    place.symlink_to(store)
    # Without what the shell says of bytecode: the program as installed has its own compiled.
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {"QT_QPA_PLATFORM": "offscreen", **kept, **own}


def figures(entries: int, empty: Sequence[Start], own: Sequence[Start]) -> tuple[Row, ...]:
    """Return the medians and what is asked of them."""

    def middle(starts: Sequence[Start], of: Callable[[Start], float]) -> float:
        return statistics.median(map(of, starts))

    def times(of: Callable[[Start], float]) -> float:
        return middle(own, of) / middle(empty, of)

    def both(of: Callable[[Start], float], unit: str) -> str:
        return f"{middle(own, of):.2f} / {middle(empty, of):.2f} {unit}"

    at = f"{entries:,} entries: "
    return (
        Row(f"{at}start to a typed key, own / empty window", both(lambda one: one.taken_s, "s")),
        at_most(f"{at}start, times an empty window", times(lambda one: one.taken_s), MOST_TIMES_START, "x"),
        # What the neighbours on a busy machine take away does not count here.
        Row(f"{at}processor time to the key, own / empty window", both(lambda one: one.processor_s, "s")),
        Row(f"{at}processor time to the key", f"{times(lambda one: one.processor_s):.2f} x"),
        Row(f"{at}memory then, own / empty window", both(lambda one: one.resident_mb, "MB")),
        at_most(f"{at}memory then (RSS)", times(lambda one: one.resident_mb), MOST_TIMES_MEMORY, "x"),
        at_most(f"{at}memory then (PSS)", times(lambda one: one.proportional_mb), MOST_TIMES_MEMORY, "x"),
        Row(f"{at}memory 3 s later, own / empty window", both(lambda one: one.later_resident_mb, "MB")),
        at_most(f"{at}memory 3 s later (RSS)", times(lambda one: one.later_resident_mb), MOST_TIMES_MEMORY, "x"),
        at_most(f"{at}memory 3 s later (PSS)", times(lambda one: one.later_proportional_mb), MOST_TIMES_MEMORY, "x"),
    )


def main(arguments: Sequence[str]) -> int:
    """Print the figures of one size; return 0."""
    entries = int(arguments[0]) if arguments else ENTRIES
    store = large_store(entries, Path(arguments[1]) if len(arguments) > 1 else STORES)
    with tempfile.TemporaryDirectory() as folder:
        environment = own_environment(store, Path(folder))
        first = started("empty", environment), started("own", environment)
        say(f"first start, not counted: own {first[1].taken_s:.2f} s, empty window {first[0].taken_s:.2f} s")
        say_how_busy()
        empty, own = [], []
        for _ in range(ROUNDS):
            empty.append(started("empty", environment))
            own.append(started("own", environment))
    say_rows(figures(entries, empty, own))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
