"""A scan from anywhere reaches the entry line and changes nothing else; typing is never taken for a scan."""

from __future__ import annotations

import random
import string

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from tests.gui.conftest import Open, wait_until_idle
from xref_app.gui.main_window import MainWindow
from xref_app.gui.scan_guard import SCAN_GAP_MS, SCAN_LENGTH

# ux.md section 0 row 7 and 2.5: what shop scanners send.
LETTERS = string.ascii_uppercase + string.ascii_lowercase + string.digits + "-/. "


class Keyboard:
    """Sends real key events with the time stamps a window system would put on them."""

    def __init__(self) -> None:
        self.at_ms = 1_000_000

    def press(self, key: int, text: str, *, gap_ms: int) -> None:
        self.at_ms += gap_ms
        receiver = QApplication.activePopupWidget() or QApplication.focusWidget()
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            if receiver is not None:
                event = QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, text)
                event.setTimestamp(self.at_ms)
                QCoreApplication.sendEvent(receiver, event)

    def type(self, text: str, *, gap_ms: int, end: Qt.Key | None = None) -> None:
        self.at_ms += 500
        for letter in text:
            self.press(ord(letter.upper()), letter, gap_ms=gap_ms)
        if end is not None:
            self.press(int(end), "\t" if end == Qt.Key.Key_Tab else "\r", gap_ms=gap_ms)


@pytest.fixture
def keyboard() -> Keyboard:
    return Keyboard()


def state(window: MainWindow) -> tuple[object, ...]:
    """All that a stray scan could have changed."""
    panes = window.panes
    return (
        panes.facts.view.currentIndex().row(),
        panes.candidates.view.currentIndex().row(),
        panes.fit.table.currentIndex().row(),
        panes.fit.face.view.zoom,
        window.memory.length_first,
        window.look.text_percent,
        window.look.theme,
        window.flow.facts,
        window.isFullScreen(),
        QApplication.activePopupWidget(),
    )


def focusable(window: MainWindow) -> list[QWidget]:
    kept = Qt.FocusPolicy.TabFocus
    found = [widget for widget in window.findChildren(QWidget) if widget.focusPolicy() & kept and widget.isVisible()]
    return [widget for widget in found if widget.isEnabled() and not isinstance(widget, type(window.menuBar()))]


def test_two_hundred_scans_change_nothing_but_the_entry_line(
    open_window: Open, qtbot: QtBot, keyboard: Keyboard
) -> None:
    window = open_window(text="K4872-20")
    places = focusable(window)
    assert len(places) >= 9
    rng = random.Random(20261125)
    codes: list[str] = []
    window.guard.scanned.connect(codes.append)
    for number in range(200):
        place = places[number % len(places)]
        place.setFocus()
        before = state(window)
        code = "#" + "".join(rng.choice(LETTERS) for _ in range(rng.randint(SCAN_LENGTH, 20))) + "#"
        end = rng.choice([Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab])
        keyboard.type(code, gap_ms=rng.randint(0, SCAN_GAP_MS), end=end)
        assert codes[-1:] == [code]
        assert window.entry.line.text() == code
        assert window.focusWidget() is place
        assert state(window) == before
    wait_until_idle(qtbot, window)
    assert len(codes) == 200


def test_a_scan_that_begins_with_a_space_presses_no_button(open_window: Open, keyboard: Keyboard) -> None:
    window = open_window(text="K4872-20")
    before = state(window)
    for button in window.findChildren(QAbstractButton):
        if button.isVisible():
            button.setFocus()
            keyboard.type(" K4 872 20", gap_ms=5, end=Qt.Key.Key_Return)
            assert state(window) == before


def test_a_scan_into_another_field_leaves_it_as_it_was(open_window: Open, qtbot: QtBot, keyboard: Keyboard) -> None:
    window = open_window()
    other = QLineEdit(window.centralWidget())
    other.show()
    other.setText("shaft 19.05")
    other.setSelection(6, 2)
    other.setFocus(Qt.FocusReason.OtherFocusReason)
    other.setSelection(6, 2)
    keyboard.type("K4872-20", gap_ms=8, end=Qt.Key.Key_Return)
    assert (other.text(), other.selectedText(), other.hasFocus()) == ("shaft 19.05", "19", True)
    assert window.entry.line.text() == "K4872-20"
    wait_until_idle(qtbot, window)
    assert [fact.label for fact in window.flow.facts] == ["K4872-20"]


def test_a_scan_over_an_open_menu_chooses_nothing(open_window: Open, qtbot: QtBot, keyboard: Keyboard) -> None:
    window = open_window()
    menu = window.menuBar().actions()[2].menu()
    assert menu is not None
    menu.popup(window.pos())  # type: ignore[attr-defined]  # PySide6 types an action's menu as QObject
    qtbot.waitUntil(lambda: QApplication.activePopupWidget() is menu)
    theme = window.look.theme
    keyboard.type("ADGLNP11", gap_ms=4, end=Qt.Key.Key_Return)
    assert window.look.theme is theme
    assert window.entry.line.text() == "ADGLNP11"
    menu.close()  # type: ignore[attr-defined]  # as above


def test_a_person_typing_is_no_scan(open_window: Open, qtbot: QtBot, keyboard: Keyboard) -> None:
    window = open_window()
    codes: list[str] = []
    window.guard.scanned.connect(codes.append)
    other = QLineEdit(window.centralWidget())
    other.show()
    other.setFocus()
    keyboard.type("K4872-20", gap_ms=SCAN_GAP_MS + 1, end=Qt.Key.Key_Return)
    assert other.text() == "K4872-20"
    assert not codes
    assert window.entry.line.text() == ""
    wait_until_idle(qtbot, window)


def test_five_quick_characters_are_no_scan(open_window: Open, qtbot: QtBot, keyboard: Keyboard) -> None:
    window = open_window()
    window.entry.line.setFocus()
    codes: list[str] = []
    window.guard.scanned.connect(codes.append)
    keyboard.type("K4872", gap_ms=5, end=Qt.Key.Key_Return)
    assert not codes
    assert window.entry.line.text() == "K4872"
    wait_until_idle(qtbot, window)


def test_a_lone_space_still_presses_a_button(open_window: Open, qtbot: QtBot, keyboard: Keyboard) -> None:
    window = open_window()
    window.entry.unit.setFocus()
    first = window.memory.length_first
    keyboard.type(" ", gap_ms=5)
    assert window.memory.length_first is first
    qtbot.waitUntil(lambda: window.memory.length_first is not first)


def test_a_key_held_down_is_no_scan(open_window: Open, qtbot: QtBot) -> None:
    window = open_window()
    codes: list[str] = []
    window.guard.scanned.connect(codes.append)
    for number in range(12):
        event = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_A, Qt.KeyboardModifier.NoModifier, "a", autorep=number > 0)
        event.setTimestamp(5000 + 30 * number)
        QCoreApplication.sendEvent(window.entry.line, event)
    end = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier, "\r")
    end.setTimestamp(5000 + 30 * 12)
    QCoreApplication.sendEvent(window.entry.line, end)
    assert not codes
    wait_until_idle(qtbot, window)


def test_a_scan_through_the_window_system_arrives_too(open_window: Open, qtbot: QtBot) -> None:
    window = open_window()
    window.panes.candidates.view.setFocus()
    handle = window.windowHandle()
    for letter in "K4872-20":
        QTest.keyClick(handle, ord(letter), Qt.KeyboardModifier.NoModifier, 1)
    QTest.keyClick(handle, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier, 1)
    qtbot.waitUntil(lambda: bool(window.flow.facts))
    wait_until_idle(qtbot, window)
    assert window.flow.facts[0].entry_id == "K4872-20"
    assert window.panes.candidates.view.hasFocus()
