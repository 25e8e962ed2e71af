"""A window with a job, changed by script and killed some time after a change; run as a program of its own.

Reads ``STORE CHANGES WAIT_MS`` lines on standard input. For each it forks: the child opens the real window on the
store, opens a job, makes so many changes a second and more apart, one at least, lets the window go on for
so long after the last one, and kills itself with SIGKILL, nothing flushed. The parent writes ``killed`` afterwards.
"""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QDeadlineTimer
from PySide6.QtWidgets import QApplication

from xref_app.gui.desks import Desks
from xref_app.gui.job_keeper import KEEP_AFTER_MS
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import build_window
from xref_app.services.live_desk import LiveDesk
from xref_app.store.engine import open_engine

MACHINE, FIRST = "M-001", "P-001"
# What is done to the job, one after the other: a pump chosen, or a reference said.
CHANGES = ("P-002", "=4711", "P-004", "=4712")
# A change and the disk of a busy machine, ms.
LONG_ENOUGH_MS = KEEP_AFTER_MS + 1500


def state_after(changes: int) -> tuple[str, str]:
    """Return pump chosen and reference after so many changes."""
    done = CHANGES[:changes]
    pumps = [FIRST, *(one for one in done if not one.startswith("="))]
    references = ["", *(one[1:] for one in done if one.startswith("="))]
    return pumps[-1], references[-1]


def go_on(app: QApplication, wait_ms: int) -> None:
    """Let the window work for so long."""
    deadline = QDeadlineTimer(wait_ms)
    while not deadline.hasExpired():
        app.processEvents()


def change_and_die(store: Path, changes: int, wait_ms: int) -> None:
    """Open the window, make the changes, and be gone."""
    app = QApplication([])
    desk = LiveDesk(open_engine(store), "Shop")
    window = build_window(Desks(desk, bench=desk, jobs=desk.jobs), store.with_suffix(".ini"))
    window.show()
    window.flow.use_machine(MACHINE, MACHINE)
    while window.flow.is_working:
        app.processEvents()
    for change in CHANGES[: changes - 1]:
        _change(window, change)
        go_on(app, LONG_ENOUGH_MS)
    _change(window, CHANGES[changes - 1])
    go_on(app, wait_ms)
    os.kill(os.getpid(), signal.SIGKILL)


def _change(window: MainWindow, change: str) -> None:
    if change.startswith("="):
        window.flow.set_reference(change[1:])
    else:
        window.panes.candidates.choose(change)


def main() -> None:
    """Answer each line with a killed window."""
    for line in sys.stdin:
        store, changes, wait_ms = line.rsplit(maxsplit=2)
        child = os.fork()
        if child == 0:
            change_and_die(Path(store), int(changes), int(wait_ms))
        os.waitpid(child, 0)
        sys.stdout.write("killed\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
