"""Windows for the tests: offscreen, closed again, and nothing left over."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# Loaded on this thread: numpy starts threads of its own, which would bear our worker's name if it loaded on that one.
import numpy as np  # noqa: F401
import scipy.optimize  # noqa: F401 - so does scipy
from PySide6.QtCore import QCoreApplication, QEvent, QLocale
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.gui.desk_for_tests import DeskForTests
from xref_app.gui.desk import Desk
from xref_app.gui.desks import Desks
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import build_window
from xref_app.gui.tasks import THREAD_NAME

Open = Callable[..., MainWindow]


def worker_threads() -> int:
    """Return how many of our worker threads the operating system sees in this process."""
    return sum(thread_name(task).startswith(THREAD_NAME) for task in Path("/proc/self/task").iterdir())


def thread_name(task: Path) -> str:
    """Return the name the operating system has for a thread; empty when it ended meanwhile."""
    try:
        return (task / "comm").read_text()
    except (FileNotFoundError, ProcessLookupError):
        return ""


def delete_later_now() -> None:
    """Let Qt delete what was marked for deletion."""
    QCoreApplication.sendPostedEvents(None, int(QEvent.Type.DeferredDelete.value))
    QCoreApplication.processEvents()


@pytest.fixture(autouse=True)
def _english_numbers() -> Iterator[None]:
    before = QLocale()
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedStates))
    yield
    QLocale.setDefault(before)


@pytest.fixture(autouse=True)
def _nothing_left_over(qtbot: QtBot) -> Iterator[None]:
    """Fail a test that leaves a thread or a top-level widget behind (timers die with their widgets)."""
    widgets_before = len(QApplication.topLevelWidgets())
    threads_before = worker_threads()
    yield
    delete_later_now()
    left = [widget for widget in QApplication.topLevelWidgets() if not widget.isHidden()]
    assert not left, f"still on screen: {left}"
    assert len(QApplication.topLevelWidgets()) <= widgets_before
    qtbot.waitUntil(lambda: worker_threads() <= threads_before)


@contextmanager
def shown_windows(qtbot: QtBot) -> Iterator[Callable[[MainWindow], None]]:
    """Give a function that shows a window with the keys going to its field; close every one of them at the end."""
    opened: list[MainWindow] = []

    def show(window: MainWindow) -> None:
        opened.append(window)
        with qtbot.waitActive(window):
            window.show()
            window.activateWindow()
        window.entry.line.setFocus()

    yield show
    for window in opened:
        window.look.set_text_percent(100)
        window.close()
        window.deleteLater()
    delete_later_now()


@pytest.fixture
def open_window(qtbot: QtBot, tmp_path: Path) -> Iterator[Open]:
    """Return a function that opens a window on a desk, with a job where ``text`` is given."""
    with shown_windows(qtbot) as show:

        def open_one(desk: Desk | None = None, text: str = "") -> MainWindow:
            window = build_window(Desks(desk or DeskForTests()), tmp_path / "window.ini")
            show(window)
            if text:
                window.entry.take_scan(text)
                wait_until_idle(qtbot, window)
            return window

        yield open_one


def wait_until_idle(qtbot: QtBot, window: MainWindow) -> None:
    """Wait until nothing is asked any more."""
    qtbot.waitUntil(lambda: not window.flow.is_working and window.tasks.running == 0, timeout=20_000)
