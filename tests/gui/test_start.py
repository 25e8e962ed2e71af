"""The window before it is whole: every key is kept, what is entered is carried out once, and closing it is clean."""

from __future__ import annotations

import json
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.gui.conftest import shown_windows, wait_until_idle, worker_threads
from tests.gui.desk_for_tests import MODELS, DeskForTests
from xref_app.core.errors import XrefError
from xref_app.core.progress import Progress
from xref_app.gui.actions import Command
from xref_app.gui.desks import Desks
from xref_app.gui.filling import fill
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import first_window
from xref_app.gui.window_start import WindowStart

# Loads what is needed up to the first paint, and paints it.
_FIRST_PAINT = """
import json, sys
from PySide6.QtWidgets import QApplication
import xref_app.app
from xref_app.gui.start import first_window
from pathlib import Path
application = QApplication([])
window = first_window(Path(sys.argv[1]))
window.painted.connect(application.quit)
window.show()
application.exec()
print(json.dumps(sorted(sys.modules)))
"""
_HEAVY = ("sqlalchemy", "alembic", "numpy", "PIL", "asyncio", "jsonschema", "pysqlite3")
_HEAVY_OWN = ("core.plan", "core.fit", "core.parts", "sheets", "store", "search", "exchange", "services", "cli")


class StoreLostError(XrefError):
    """A store that cannot be opened."""


class Start:
    """A window whose parts come when the test lets them, and only as far as it says."""

    def __init__(self, window: MainWindow, desk: DeskForTests) -> None:
        self.window = window
        self.desk = desk
        self.allowed = threading.Event()
        self.error: Exception | None = None
        self.close_after_step = -1
        self.start = WindowStart(window, self._bring)

    def _bring(self, progress: Progress) -> Iterator[None]:
        while not self.allowed.wait(0.005):
            progress.step(0, 1)
        if self.error is not None:
            raise self.error
        return self._steps()

    def _steps(self) -> Iterator[None]:
        for number, _ in enumerate(fill(self.window, Desks(self.desk))):
            if number == self.close_after_step:
                self.window.close()
            yield

    @property
    def asked(self) -> list[str]:
        """What the catalog was asked, without what follows from it."""
        return [one for one in self.desk.asked if one.startswith("find")]


Begin = Callable[[], Start]


@pytest.fixture
def begin(qtbot: QtBot, tmp_path: Path) -> Iterator[Begin]:
    """Return a function that shows a first window, with the keys going to its line."""
    with shown_windows(qtbot) as show:

        def begin_one() -> Start:
            start = Start(first_window(tmp_path / "window.ini"), DeskForTests())
            show(start.window)
            return start

        yield begin_one


def made_whole(start: Start, qtbot: QtBot) -> None:
    with qtbot.waitSignal(start.start.done):
        start.allowed.set()


def entry_place(window: MainWindow) -> QRect:
    line = window.entry.line
    return QRect(line.mapTo(window, line.rect().topLeft()), line.size())


def scan(window: MainWindow, code: str) -> None:
    """Scan as a scanner does: quicker than any person."""
    for letter in code:
        QTest.keyClicks(window.entry.line, letter)
    QTest.keyClick(window.entry.line, Qt.Key.Key_Return)


def test_the_first_paint_loads_neither_store_nor_search_nor_judge(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", _FIRST_PAINT, str(tmp_path / "window.ini")], capture_output=True, text=True, check=True
    )
    loaded = json.loads(done.stdout)
    assert "xref_app.gui.window_frame" in loaded
    heavy = (*_HEAVY, *(f"xref_app.{name}" for name in _HEAVY_OWN))
    assert not [name for name in loaded for one in heavy if name == one or name.startswith(f"{one}.")]


def test_every_key_typed_while_the_window_fills_stands_in_the_line_in_order(begin: Begin, qtbot: QtBot) -> None:
    start = begin()
    window = start.window
    place, size = entry_place(window), window.size()
    QTest.keyClicks(window.entry.line, "K487-0")
    QTest.keyClick(window.entry.line, Qt.Key.Key_Left)
    QTest.keyClick(window.entry.line, Qt.Key.Key_Left)
    made_whole(start, qtbot)
    assert window.entry.line.text() == "K487-0"
    assert window.entry.line.cursorPosition() == 4
    assert window.focusWidget() is window.entry.line
    QTest.keyClicks(window.entry.line, "2")
    QTest.keyClick(window.entry.line, Qt.Key.Key_Right)
    QTest.keyClicks(window.entry.line, "2")
    assert window.entry.line.text() == "K4872-20"
    assert (entry_place(window), window.size()) == (place, size)
    qtbot.waitUntil(lambda: window.entry.is_dropped)
    assert window.panes.isVisible()


def test_keys_between_any_two_steps_are_kept(begin: Begin, qtbot: QtBot) -> None:
    start = begin()
    typed = iter("K4872-20")
    start.start._between.timeout.connect(lambda: QTest.keyClicks(start.window.entry.line, next(typed, "")))
    made_whole(start, qtbot)
    QTest.keyClicks(start.window.entry.line, "".join(typed))
    assert start.window.entry.line.text() == "K4872-20"


def test_what_was_typed_is_asked_once_the_window_is_whole(begin: Begin, qtbot: QtBot) -> None:
    start = begin()
    QTest.keyClicks(start.window.entry.line, "K4872")
    qtbot.waitUntil(lambda: start.start._early._is_typed)
    made_whole(start, qtbot)
    wait_until_idle(qtbot, start.window)
    assert start.asked == ["find K4872"]
    assert start.window.entry.is_dropped


def test_enter_before_the_window_is_whole_is_carried_out_once(begin: Begin, qtbot: QtBot) -> None:
    start = begin()
    for letter in "K4872-20":  # slower than a scanner, as typed
        qtbot.wait(40)
        QTest.keyClicks(start.window.entry.line, letter)
    qtbot.wait(40)
    QTest.keyClick(start.window.entry.line, Qt.Key.Key_Return)
    made_whole(start, qtbot)
    for _ in range(2):  # nothing comes after it either
        wait_until_idle(qtbot, start.window)
        QApplication.processEvents()
    assert start.asked == ["find K4872-20"]
    assert [fact.label for fact in start.window.flow.facts] == ["K4872-20"]


def test_two_scans_before_the_window_is_whole_are_carried_out_in_their_order(begin: Begin, qtbot: QtBot) -> None:
    start = begin()
    scan(start.window, "K4872-20")
    scan(start.window, MODELS[0])
    made_whole(start, qtbot)
    qtbot.waitUntil(lambda: len(start.window.flow.facts) == 2)
    wait_until_idle(qtbot, start.window)
    assert start.asked == ["find K4872-20", f"find {MODELS[0]}"]
    assert [fact.label for fact in start.window.flow.facts] == ["K4872-20", MODELS[0]]


def test_commands_pressed_too_early_do_nothing_and_leave_no_mark(begin: Begin, qtbot: QtBot) -> None:
    start = begin()
    window = start.window
    QTest.keyClicks(window.entry.line, "K48")
    actions = window.actions_by_command
    for command in (Command.NEW_JOB, Command.LENGTH_FIRST, Command.DARK, Command.FULL_SCREEN, Command.LEAVE):
        actions[command].trigger()
    made_whole(start, qtbot)
    assert window.entry.line.text() == "K48"
    checked = {command for command, action in actions.items() if action.isChecked()}
    assert checked == {Command.LIGHT}
    assert not window.isFullScreen()


def test_typing_after_an_early_enter_replaces_it(begin: Begin, qtbot: QtBot) -> None:
    start = begin()
    scan(start.window, "K4872-20")
    start.window.entry._pause.setInterval(60_000)  # still typing when the window is whole
    start.window.entry.line.clear()
    QTest.keyClicks(start.window.entry.line, "D24")
    made_whole(start, qtbot)
    qtbot.waitUntil(lambda: start.window.entry.is_dropped)
    assert (start.window.entry.line.text(), start.window.flow.facts) == ("D24", ())
    assert set(start.asked) == {"find D24"}


def test_a_store_that_cannot_be_opened_says_why_and_leaves_only_closing(begin: Begin, qtbot: QtBot) -> None:
    start = begin()
    start.error = StoreLostError("The store is damaged – restore a copy.")
    with qtbot.waitSignal(start.start.failed):
        start.allowed.set()
    window = start.window
    assert (start.start.fault, window.message.text) == (str(start.error), str(start.error))
    assert not window.entry.line.isEnabled()
    usable = [command for command, action in window.actions_by_command.items() if action.isEnabled()]
    assert usable == [Command.QUIT]
    window.actions_by_command[Command.QUIT].trigger()
    assert window.isHidden()


def test_a_fault_of_the_program_while_it_loads_is_told_too(
    begin: Begin, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[object] = []
    monkeypatch.setattr(sys, "excepthook", lambda *trouble: seen.append(trouble[1]))
    start = begin()
    start.error = ValueError("a slip")
    with qtbot.waitSignal(start.start.failed):
        start.allowed.set()
    assert start.window.message.text == start.start.fault != ""
    assert seen == [start.error]


def test_a_fault_while_the_window_is_built_is_told_and_ends_the_building(
    begin: Begin, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    start = begin()
    monkeypatch.setattr(start, "window", None)  # the first step trips over it
    window = start.start._window
    with qtbot.captureExceptions() as raised, qtbot.waitSignal(start.start.failed):
        start.allowed.set()
    assert len(raised) == 1
    assert window.message.text == start.start.fault != ""
    assert not start.start._between.isActive()


@pytest.mark.parametrize("step", range(-1, 2))
def test_a_window_closed_before_it_is_whole_leaves_no_thread(begin: Begin, qtbot: QtBot, step: int) -> None:
    start = begin()
    if step < 0:
        start.window.close()
    else:
        start.close_after_step = step
        start.allowed.set()
        qtbot.waitUntil(start.window.isHidden)
    qtbot.waitUntil(lambda: worker_threads() == 0)
    qtbot.waitUntil(lambda: not start.start._between.isActive())
    assert start.asked == []
