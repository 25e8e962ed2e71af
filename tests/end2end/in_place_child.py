"""The program on a catalog that is beyond single rows, and somebody who has a copy put in its place.

Run: python -m tests.end2end.in_place_child     (on the own store, which has copies)

Prints one JSON text: for each window that was opened, what it worked from and which sentence stood in it.
"""

from __future__ import annotations

import json
import sys

from PySide6.QtCore import QObject, QTimer, Slot
from PySide6.QtWidgets import QApplication

from xref_app import app
from xref_app.gui.main_window import MainWindow
from xref_app.services.kept_copies import kept_copies
from xref_app.services.own_store import own_store_path

_LOOK_EVERY_MS = 20


class Person(QObject):
    """Sits in front of one window until it is whole and quiet."""

    def __init__(self, window: MainWindow, told: list[dict[str, object]]) -> None:
        super().__init__(window)
        self._window, self._told = window, told
        self._looking = QTimer(self)
        self._looking.timeout.connect(self._look)
        self._looking.start(_LOOK_EVERY_MS)

    @Slot()
    def _look(self) -> None:
        window = self._window
        if not window.is_whole or window.is_working or window.copies is None:
            return
        self._looking.stop()
        works_from = window.status.works_from_button
        self._told.append(
            {"works_from": works_from.toolTip() if works_from.isVisible() else "", "said": window.message.text}
        )
        if len(self._told) == 1:
            window.copies.put_in_place.emit(kept_copies(own_store_path())[0].path, "Ana")
        else:
            window.close()


class WatchedApplication(QApplication):
    """The application with a person in front of every window of it."""

    told: list[dict[str, object]] = []  # noqa: RUF012 - of the one application there is

    def exec(self) -> int:  # type: ignore[override] # Qt's own is static; the program calls it on the instance
        """Run the events."""
        windows = [one for one in self.topLevelWidgets() if isinstance(one, MainWindow) and not one.is_closed]
        Person(windows[-1], WatchedApplication.told)
        return super().exec()


def main() -> int:
    """Run the program; return its exit code."""
    app.QApplication = WatchedApplication  # type: ignore[attr-defined] # a test may look in
    code = app.run_window(sample=False)
    sys.stdout.write(json.dumps(WatchedApplication.told) + "\n")
    return code


if __name__ == "__main__":
    sys.exit(main())
