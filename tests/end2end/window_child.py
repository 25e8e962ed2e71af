"""The program itself, with somebody in front of it who types at the first paint, or closes the window at some moment.

Run: python -m tests.end2end.window_child type TEXT | close AFTER_MS      (on the sample; 'own' in front: the own store)

Prints one JSON text: what stood in the line and in the job, how often the text was taken, and the threads left.
"""

from __future__ import annotations

import json
import sys
import threading

from PySide6.QtCore import QObject, Qt, QTimer, Slot
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from xref_app import app
from xref_app.gui.main_window import MainWindow

_LOOK_EVERY_MS = 5


class Person(QObject):
    """Sits in front of the window from its first paint on."""

    def __init__(self, window: MainWindow, wish: str, what: str) -> None:
        super().__init__(window)
        self._window = window
        self._text = what if wish == "type" else ""
        self._after_ms = int(what) if wish == "close" else 0
        self.told: dict[str, object] = {}
        self._taken: list[str] = []
        self._looking = QTimer(self)
        self._looking.timeout.connect(self._look)
        window.painted.connect(self._begin)

    @Slot()
    def _begin(self) -> None:
        if not self._text:
            QTimer.singleShot(self._after_ms, self._window, self._window.close)
            return
        for letter in self._text:
            QTest.keyClicks(self._window.entry.line, letter)
        QTest.keyClick(self._window.entry.line, Qt.Key.Key_Return)
        self.told["loaded_then"] = "sqlalchemy" in sys.modules
        self._looking.start(_LOOK_EVERY_MS)

    @Slot()
    def _look(self) -> None:
        window = self._window
        if self._window.message.text and not window.is_whole:
            self.told |= {"message": window.message.text}
        elif not window.is_whole or window.flow.job is None or window.flow.is_working:
            return
        else:
            facts = [fact.label for fact in window.flow.facts]
            self.told |= {"facts": facts, "line": window.entry.line.text(), "title": window.windowTitle()}
        self._looking.stop()
        window.close()


class WatchedApplication(QApplication):
    """The application with a person in front of it."""

    told: dict[str, object] = {}  # noqa: RUF012 - of the one application there is

    def exec(self) -> int:  # type: ignore[override] # Qt's own is static; the program calls it on the instance
        """Run the events."""
        window = next(one for one in self.topLevelWidgets() if isinstance(one, MainWindow))
        person = Person(window, *sys.argv[-2:])
        code = super().exec()
        WatchedApplication.told = person.told
        return code


def main() -> int:
    """Run the program; return its exit code."""
    app.QApplication = WatchedApplication  # type: ignore[attr-defined] # a test may look in
    code = app.run_window(sample="own" not in sys.argv)
    left = [one.name for one in threading.enumerate() if one is not threading.main_thread()]
    sys.stdout.write(json.dumps({**WatchedApplication.told, "threads": left}) + "\n")
    return code


if __name__ == "__main__":
    sys.exit(main())
