"""A window over a store, typed into by script and killed right after one keystroke; run as a program of its own.

Reads ``STORE KEYS`` lines on standard input. For each it forks: the child opens the real window on the store, presses
so many keys of the script and kills itself with SIGKILL, nothing flushed, nothing waited for after the last key. The
parent writes how many answers the script had given with an Enter by then.
"""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from xref_app.gui.desks import Desks
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import build_window
from xref_app.services.live_desk import LiveDesk
from xref_app.store.engine import open_engine

# What is typed for each field, in this order; the last of each is Enter.
ANSWERS = (
    ("bore_diameter_mm", "19.06"),
    ("bore_keyway_width_mm", "4.8"),
    ("bore_depth_mm", "64,8"),
    ("flange_hole_mm", "8.7"),
    ("inlet_thread", "3/4-11.5 NH"),
)


def script() -> list[tuple[str, str]]:
    """Return every keystroke with the field it answers; an empty key is Enter."""
    return [(field, key) for field, text in ANSWERS for key in (*text, "")]


def answered(keys: int) -> int:
    """Return how many fields have been answered whole after so many keystrokes."""
    return sum(1 for _, key in script()[:keys] if key == "")


def settle(app: QApplication, window: MainWindow) -> None:
    """Let the window go on until nothing is on its way: a person needs longer for the next key."""
    assert window.bench is not None
    app.processEvents()
    while window.bench.is_working or window.flow.is_working:
        app.processEvents()


def type_and_die(store: Path, keys: int) -> None:
    """Open the window, press ``keys`` keys, and be gone."""
    app = QApplication([])
    desk = LiveDesk(open_engine(store), "Shop")
    window = build_window(Desks(desk, bench=desk), store.with_suffix(".ini"))
    window.show()
    assert window.bench is not None
    window.bench.enter_pump()
    settle(app, window)
    sheet = window.bench.sheet
    for place, (field, key) in enumerate(script()[:keys], 1):
        if sheet.card.session is None or sheet.card.session.card.field.field_id != field:
            sheet.ask(field)
        if key:
            QTest.keyClicks(sheet.card.line, key)
        else:
            QTest.keyClick(sheet.card.line, Qt.Key.Key_Return)
        if place < keys:
            settle(app, window)
    os.kill(os.getpid(), signal.SIGKILL)


def main() -> None:
    """Answer each line with a killed window."""
    for line in sys.stdin:
        store, keys = line.rsplit(maxsplit=1)
        child = os.fork()
        if child == 0:
            type_and_die(Path(store), int(keys))
        os.waitpid(child, 0)
        sys.stdout.write(f"{answered(int(keys))}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
