"""How long the window stands still while somebody types a number, beyond the same window when nobody does, in one run.

Run: python -m tests.bench.typing_stall [ENTRIES [FOLDER]]      (1000000, and a folder for the stores)

A timer of one millisecond in the GUI thread notes the longest time between two of its ticks, for every stretch between
two keys; idle stretches of the same length take turns with typed ones. Offscreen unless QT_QPA_PLATFORM says otherwise.
The first round is a fresh window's: what is loaded at the first key counts. Never a gate.
"""

from __future__ import annotations

import os
import random
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import cycle, islice
from pathlib import Path
from typing import Final

import pysqlite3.dbapi2 as binding
from PySide6.QtCore import QEventLoop, QObject, Qt, QTimer, Slot
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.bench.corruption import corrupted
from tests.bench.large_store import large_store
from tests.bench.rows import Row, at_most, say, say_how_busy, say_rows
from tests.bench.window_start import STORES
from xref_app.gui.desks import Desks
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import build_window
from xref_app.services.open_catalog import open_own

ENTRIES: Final = 1_000_000
KEYS, KEY_EVERY_MS = 30, 120
ROUNDS: Final = 6
SETTLE_MS, MOST_SETTLE_MS = 1000, 60_000
MOST_EXCESS_MS: Final = 16.0

Key = tuple[str, bool]  # a character, and whether a new number begins with it


@dataclass(frozen=True, slots=True)
class Stalls:
    """The longest time between two ticks in each stretch, and the GUI thread's own work between two ticks, ms."""

    idle_ms: tuple[float, ...]
    typed_ms: tuple[float, ...]
    worked_ms: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Wait:
    """The longest wait of the timer, and the most the GUI thread worked (processor time) between two ticks, ms."""

    waited_ms: float
    worked_ms: float


class Ticks(QObject):
    """Notes how long the GUI thread lets a timer of 1 ms wait."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._last_s, self._last_worked_s = time.perf_counter(), time.thread_time()
        self._longest_s = self._most_worked_s = 0.0
        self._timer = QTimer(self)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._tick)
        self._timer.start(1)

    def taken(self) -> Wait:
        """Return the longest since this was asked last."""
        self._tick()
        wait = Wait(self._longest_s * 1000, self._most_worked_s * 1000)
        self._longest_s = self._most_worked_s = 0.0
        return wait

    @Slot()
    def _tick(self) -> None:
        now_s, worked_s = time.perf_counter(), time.thread_time()
        self._longest_s = max(self._longest_s, now_s - self._last_s)
        self._most_worked_s = max(self._most_worked_s, worked_s - self._last_worked_s)
        self._last_s, self._last_worked_s = now_s, worked_s


class Typist(QObject):
    """Types one key after the other, or only lets the same time pass, and gathers the stall of every stretch."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._line = window.entry.line
        self._ticks = Ticks(self)
        self._loop = QEventLoop(self)
        self._keys: list[Key | None] = []
        self._stalls: list[Wait] = []
        self._beat = QTimer(self)
        self._beat.setTimerType(Qt.TimerType.PreciseTimer)
        self._beat.setInterval(KEY_EVERY_MS)
        self._beat.timeout.connect(self._next)

    def stalls(self, keys: Sequence[Key | None]) -> tuple[Wait, ...]:
        """Type ``keys`` (None: no key) and return the longest wait after each up to the next."""
        self._keys, self._stalls = list(keys), []
        self._ticks.taken()
        self._press()
        self._beat.start()
        self._loop.exec()
        return tuple(self._stalls)

    @Slot()
    def _next(self) -> None:
        self._stalls.append(self._ticks.taken())
        if self._keys:
            self._press()
        else:
            self._beat.stop()
            self._loop.quit()

    def _press(self) -> None:
        key = self._keys.pop(0)
        if key is not None:
            character, is_first = key
            if is_first:
                self._line.selectAll()
            QTest.keyClicks(self._line, character)


def typed_keys(numbers: Sequence[str], rng: random.Random) -> list[Key]:
    """Return the keys of one round: numbers with slips, as many as it takes."""
    texts = (corrupted(one, rng) for one in cycle(numbers))
    keys = ((character, place == 0) for text in texts for place, character in enumerate(text))
    return list(islice(keys, KEYS))


def some_numbers(store: Path, count: int, rng: random.Random) -> list[str]:
    """Return numbers from all over the store."""
    driver = binding.connect(f"{store.as_uri()}?mode=ro", uri=True)
    try:
        (last,) = driver.execute("SELECT max(rowid) FROM numbers").fetchone()
        rows = [rng.randint(1, last) for _ in range(count)]
        found = driver.execute(f"SELECT number FROM numbers WHERE rowid IN ({','.join('?' * count)})", rows).fetchall()
    finally:
        driver.close()
    return [str(number) for (number,) in found]


def let_pass(milliseconds: int, until: Callable[[], bool] = lambda: True) -> None:
    """Let the window work this long, then on until something holds (or patience ends)."""
    end_s = time.monotonic() + MOST_SETTLE_MS / 1000
    loop = QEventLoop()
    while True:
        QTimer.singleShot(milliseconds, loop.quit)
        loop.exec()
        if until() or time.monotonic() > end_s:
            return


def measured(window: MainWindow, numbers: Sequence[str], rng: random.Random) -> Stalls:
    """Return the stalls of all rounds, and say each."""
    answers: list[object] = []
    window.flow.found.connect(answers.append)
    typist, idle, typed = Typist(window), list[Wait](), list[Wait]()
    for round_at in range(ROUNDS):
        shuffled = rng.sample(numbers, len(numbers))
        answers.clear()
        by_round = typist.stalls(typed_keys(shuffled, rng))
        let_pass(SETTLE_MS, lambda: not window.flow.is_working)
        quiet = typist.stalls([None] * KEYS)
        say(
            f"round {round_at + 1}: typed {max(one.waited_ms for one in by_round):.1f} ms at most, idle "
            f"{max(one.waited_ms for one in quiet):.1f} ms; {len(answers)} lists of hits"
        )
        typed += by_round
        idle += quiet
    return Stalls(
        idle_ms=tuple(one.waited_ms for one in idle),
        typed_ms=tuple(one.waited_ms for one in typed),
        worked_ms=tuple(one.worked_ms for one in typed),
    )


def figures(entries: int, stalls: Stalls) -> tuple[Row, ...]:
    """Return what typing adds to the longest and to the 99th percentile of the idle window's stalls."""
    at = f"{entries:,} entries: "
    longest = max(stalls.typed_ms), max(stalls.idle_ms)
    high = _p99(stalls.typed_ms), _p99(stalls.idle_ms)
    return (
        Row(f"{at}longest stall per key, typed / idle", f"{longest[0]:.1f} / {longest[1]:.1f} ms"),
        at_most(f"{at}longest stall beyond idle", longest[0] - longest[1], MOST_EXCESS_MS, "ms"),
        Row(f"{at}p99 of the stall per key, typed / idle", f"{high[0]:.1f} / {high[1]:.1f} ms"),
        at_most(f"{at}p99 of the stall beyond idle", high[0] - high[1], MOST_EXCESS_MS, "ms"),
        # What the neighbours on a busy machine take away does not count here, nor does waiting for another thread.
        Row(
            f"{at}the GUI thread's own work at a stretch, longest / p99",
            f"{max(stalls.worked_ms):.1f} / {_p99(stalls.worked_ms):.1f} ms",
        ),
    )


def _p99(values: Sequence[float]) -> float:
    return statistics.quantiles(values, n=100, method="inclusive")[-1]


def main(arguments: Sequence[str]) -> int:
    """Print the figures of one size; return 0."""
    entries = int(arguments[0]) if arguments else ENTRIES
    store = large_store(entries, Path(arguments[1]) if len(arguments) > 1 else STORES)
    rng = random.Random()  # fresh slips each time; the store stays
    numbers = some_numbers(store, KEYS, rng)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    os.environ.setdefault("QT_LOGGING_RULES", "default.warning=false")  # offscreen says at every layout what it lacks
    with tempfile.TemporaryDirectory() as folder:
        for kind in ("DATA", "CONFIG", "CACHE", "STATE"):
            os.environ[f"XDG_{kind}_HOME"] = str(Path(folder) / kind.lower())
        desk = open_own(store)
        application = QApplication(sys.argv[:1])
        window = build_window(Desks(desk, bench=desk, shelf=desk.shelf, pairs=desk.pairs), Path(folder) / "window.ini")
        window.show()
        window.activateWindow()
        let_pass(SETTLE_MS, window.entry.line.hasFocus)
        say_how_busy()
        stalls = measured(window, numbers, rng)
        window.close()
        application.processEvents()
    say_rows(figures(entries, stalls))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
