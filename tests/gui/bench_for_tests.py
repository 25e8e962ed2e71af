"""A window over the sample catalog in a store of its own: the real services, the real disk."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.gui.conftest import shown_windows
from tests.gui.whole_window import whole_window
from tests.services.bench_store import sample_desk
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.main_window import MainWindow


class Hands:
    """Two hands on the keyboard: every key goes to the widget with the focus, and is counted."""

    def __init__(self, qtbot: QtBot, window: MainWindow) -> None:
        self._qtbot = qtbot
        self.window = window
        self.keys = 0

    @property
    def bench(self) -> BenchPart:
        """The bench of the window."""
        assert self.window.bench is not None
        return self.window.bench

    def type(self, text: str) -> None:
        """Type ``text``, one key a character, as slowly as a person does for the guard against scans."""
        for character in text:
            self.press(character)

    def press(self, key: str | Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press one key, then wait until the program has done with it."""
        self.keys += 1
        focus: QWidget = QApplication.focusWidget() or self.window
        self._qtbot.keyClick(focus, key, modifier)
        self.settle()

    def settle(self) -> None:
        """Wait until nothing is on its way any more."""
        self._qtbot.waitUntil(
            lambda: (
                not self.window.guard.is_holding
                and not self.window.flow.is_working
                and not self.bench.is_working
                and not (self.window.shelf is not None and self.window.shelf.is_working)
                and not (self.window.fix is not None and self.window.fix.is_working)
                and not (self.window.is_it is not None and self.window.is_it.is_working)
                and not (self.window.pairs is not None and self.window.pairs.is_working)
                and not (self.window.jobs is not None and self.window.jobs.is_working)
                and not (self.window.happened is not None and self.window.happened.is_working)
                and not (self.window.health is not None and self.window.health.is_working)
                and not (self.window.paper is not None and self.window.paper.is_working)
                and not (self.window.catalog_file is not None and self.window.catalog_file.is_working)
                and not (self.window.export is not None and self.window.export.is_working)
                and self.window.tasks.running == 0
            ),
            timeout=20_000,
        )


@pytest.fixture
def open_bench(qtbot: QtBot, tmp_path: Path) -> Iterator[Callable[[], Hands]]:
    """Return a function that opens a window over the store of this test, the same store each time."""
    with shown_windows(qtbot) as show:

        def open_one() -> Hands:
            desk = sample_desk(tmp_path)
            window = whole_window(desk, tmp_path / "window.ini")
            # The guard against scans sees the keys a tenth of a second apart, as a person types.
            beats = count(0, 100)
            window.guard._clock = lambda _event: float(next(beats))
            show(window)
            hands = Hands(qtbot, window)
            hands.settle()
            return hands

        yield open_one
