"""The process that window_start.py times: a window, a key typed as soon as its line has the focus, and how much memory.

Run: python -m tests.bench.start_child empty|own      ('own' is the program itself, on the store of the user's folder)

Nothing is imported here that the program would not import by itself. Prints one JSON text: the moment at which the
typed key stood in the line, by the clock that all processes share, the processor time and the memory up to then, and
the memory some seconds later.
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QMainWindow

KEY = "K"
LATER_MS = 3000


def memory_kb() -> dict[str, int]:
    """Return resident and proportional memory of this process, kB."""
    found = {}
    for file, name in (("status", "VmRSS:"), ("smaps_rollup", "Pss:")):
        for line in Path(f"/proc/self/{file}").read_text(encoding="utf-8").splitlines():
            if line.startswith(name):
                found[name.rstrip(":")] = int(line.split()[1])
    return found


class KeyProbe(QObject):
    """Types one key into the line that has the focus, and tells when it stands there."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._told: dict[str, object] = {}
        self._looking = QTimer(self)
        self._looking.timeout.connect(self._type)
        self._looking.start(1)

    @Slot()
    def _type(self) -> None:
        if QApplication.activeWindow() is None:  # a bare screen has nobody who gives a new window the keys
            for shown in QApplication.topLevelWidgets():
                if shown.isVisible():
                    shown.activateWindow()
        line = QApplication.focusWidget()
        if not isinstance(line, QLineEdit) or not line.hasFocus() or not line.isVisible():
            return
        window = line.window().windowHandle()
        self._looking.stop()
        line.textChanged.connect(self._note)
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            key = QKeyEvent(kind, Qt.Key.Key_K, Qt.KeyboardModifier.NoModifier, KEY)
            QCoreApplication.postEvent(window, key)

    @Slot(str)
    def _note(self, text: str) -> None:
        line = self.sender()
        if text != KEY or not isinstance(line, QLineEdit):
            return
        line.textChanged.disconnect(self._note)
        line.repaint()
        self._told = {"at_s": time.monotonic(), "cpu_s": time.process_time(), "then": memory_kb()}
        QTimer.singleShot(LATER_MS, self, self._end)

    @Slot()
    def _end(self) -> None:
        sys.stdout.write(json.dumps({**self._told, "later": memory_kb()}) + "\n")
        for window in QApplication.topLevelWidgets():
            window.close()
        QCoreApplication.quit()


class ProbedApplication(QApplication):
    """The application with the probe in it, from the moment its events run."""

    def exec(self) -> int:  # type: ignore[override] # Qt's own is static; the program calls it on the instance
        """Run the events."""
        KeyProbe(self)
        return super().exec()


def show_empty_window() -> int:
    """Show a window with one line in it until the probe is done."""
    application = ProbedApplication(sys.argv[:1])
    window = QMainWindow()
    line = QLineEdit(window)
    window.setCentralWidget(line)
    line.setFocus()
    window.show()
    return application.exec()


def run_own_window() -> int:
    """Run the program as it runs by itself, with the probe in its application, until the probe is done."""
    from xref_app import app  # noqa: PLC0415 - the empty window must not pay for it

    app.QApplication = ProbedApplication  # type: ignore[attr-defined] # a bench may look in
    return app.run_window(sample=False)


if __name__ == "__main__":
    sys.exit(show_empty_window() if sys.argv[1] == "empty" else run_own_window())
