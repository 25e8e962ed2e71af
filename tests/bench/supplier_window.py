"""How long the window stands still while it reads, corrects, takes and undoes a supplier's list. Prints, no gate.

``python -m tests.bench.supplier_window [rows]``; offscreen unless QT_QPA_PLATFORM says otherwise.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.bench.rows import say, say_how_busy
from tests.bench.supplier_rows import HEADINGS, made_up
from tests.bench.typing_stall import Ticks, let_pass
from tests.gui.whole_window import whole_window
from tests.services.bench_store import sample_desk
from xref_app.gui.main_window import MainWindow
from xref_app.gui.supplier_columns import TakenAs
from xref_app.gui.supplier_part import SupplierPart

ROWS: Final = 10_000
_LOOK_MS: Final = 20


class _Stopwatch:
    """Prints of each step how long it took, and the longest wait of a timer of 1 ms meanwhile."""

    def __init__(self, window: MainWindow) -> None:
        self._ticks = Ticks(window)

    def step(self, what: str, do: Callable[[], object], until: Callable[[], bool]) -> None:
        self._ticks.taken()
        began_s = time.perf_counter()
        do()
        let_pass(_LOOK_MS, until)
        took_s = time.perf_counter() - began_s
        wait = self._ticks.taken()
        say(f"{what:<34} {took_s:6.2f} s, longest stall {wait.waited_ms:6.1f} ms, own work {wait.worked_ms:6.1f} ms")


def _keys(part: SupplierPart, key: Qt.Key, times: int) -> None:
    for _ in range(times):
        QTest.keyClick(part.sheet.rows, key)
        QApplication.processEvents()


def measure(window: MainWindow, part: SupplierPart, path: Path) -> None:
    """Go through the whole work with one list."""
    watch, idle = _Stopwatch(window), lambda: not part.is_working and not window.flow.is_working
    watch.step("nothing, for a second", lambda: let_pass(1000), idle)
    watch.step("read and look", lambda: part.read(path), idle)
    watch.step("whose list", lambda: part.say_supplier("Invented"), idle)
    watch.step("a column corrected", lambda: part.say_column(3, TakenAs("", "", "left out")), idle)
    watch.step("and back", lambda: part.say_column(3, TakenAs("rating_pressure_bar", "psi", "")), idle)
    watch.step("to the rows", part.sheet.focus_rows, idle)
    watch.step("to the last row", lambda: _keys(part, Qt.Key.Key_End, 1), idle)
    watch.step("200 rows by keys", lambda: _keys(part, Qt.Key.Key_Up, 200), idle)

    def begin_and_stop() -> None:
        part.say_how("sheet")
        let_pass(50)
        part.leave()

    watch.step("a look begun and stopped", begin_and_stop, idle)
    window.memory.who = "bench"
    part.take()
    bar = window.shelf.bar if window.shelf else None
    watch.step("the take, and looked at again", bar.press if bar else part.take, idle)
    say(part.sheet.counted)
    undo = window.bench.flow.undo if window.bench else part.take
    watch.step("the undo, and looked at again", undo, lambda: idle() and not window.bench.is_working)  # type: ignore[union-attr]
    say(part.sheet.counted)


def main() -> None:
    """Print the stalls of each step."""
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else ROWS
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    os.environ.setdefault("QT_LOGGING_RULES", "default.warning=false")
    with TemporaryDirectory() as folder:
        path = Path(folder) / "list.csv"
        path.write_text("\n".join(";".join(row) for row in (HEADINGS, *made_up(rows))))
        application = QApplication(sys.argv[:1])
        window = whole_window(sample_desk(Path(folder)), Path(folder) / "window.ini")
        window.resize(1366, 690)
        window.show()
        window.activateWindow()
        let_pass(500)
        say_how_busy()
        say(f"{rows:,} rows")
        if window.suppliers is not None:
            measure(window, window.suppliers, path)
        window.close()
        application.processEvents()


if __name__ == "__main__":
    main()
