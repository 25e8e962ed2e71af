"""Every command by keyboard alone, each key once, and no trap for the focus."""

from __future__ import annotations

from collections import Counter

import pytest
from PySide6.QtCore import QKeyCombination, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.gui.conftest import Open, wait_until_idle
from xref_app.gui.actions import SPECS, Command, keys_text, plain_text
from xref_app.gui.colours import ThemeName
from xref_app.gui.face_view import Zoom
from xref_app.gui.help_window import HelpWindow
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.main_window import MainWindow

CTRL, SHIFT, NONE = (
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.NoModifier,
)


def press(window: MainWindow, key: Qt.Key, modifiers: Qt.KeyboardModifier = NONE) -> None:
    """Press a key as the window system would."""
    QTest.keyClick(window.windowHandle(), key, modifiers)


def first_key(keys: str) -> QKeyCombination:
    """Return the keys of a one-step shortcut."""
    combination: QKeyCombination = QKeySequence(keys)[0]  # type: ignore[index]  # PySide6's stubs leave indexing out
    return combination


def all_keys() -> list[str]:
    return [keys for spec in SPECS for keys in spec.keys]


def test_no_key_has_two_commands() -> None:
    doubled = [
        keys for keys, times in Counter(QKeySequence(keys).toString() for keys in all_keys()).items() if times > 1
    ]
    assert not doubled


def test_every_command_is_declared_once_and_has_words() -> None:
    assert Counter(spec.command for spec in SPECS) == Counter(Command)
    assert all(plain_text(spec).strip() for spec in SPECS)


def test_no_bare_character_and_no_alt_digit_is_a_command() -> None:
    # ux.md 2.5: a scanner types letters, digits, Space and Enter; some send Alt codes.
    for keys in all_keys():
        combination = first_key(keys)
        modifiers, key = combination.keyboardModifiers(), combination.key()
        is_function = Qt.Key.Key_F1 <= key <= Qt.Key.Key_F35 or key == Qt.Key.Key_Escape
        assert is_function or modifiers & CTRL, keys
        assert not modifiers & Qt.KeyboardModifier.AltModifier, keys


def test_no_two_entries_of_a_menu_share_a_letter(open_window: Open) -> None:
    window = open_window()
    for top in window.menuBar().actions():
        menu = top.menu()
        texts = [action.text() for action in menu.actions() if not action.isSeparator()]  # type: ignore[attr-defined]
        letters = [text[text.index("&") + 1].lower() for text in texts]
        assert len(letters) == len(set(letters)), texts


def test_every_menu_entry_works_and_every_action_hangs_in_a_menu(open_window: Open) -> None:
    window = open_window()
    hung = [
        action
        for top in window.menuBar().actions()
        for action in top.menu().actions()  # type: ignore[attr-defined]  # PySide6 types an action's menu as QObject
        if not action.isSeparator()
    ]
    assert {action.objectName() for action in hung} == {f"action_{command}" for command in Command}
    assert all(action.isEnabled() for action in hung)


def test_tab_goes_round_and_comes_back(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    window.entry.line.setFocus()
    seen: list[QWidget] = []
    for _ in range(60):
        press(window, Qt.Key.Key_Tab)
        focus = window.focusWidget()
        if focus is window.entry.line:
            break
        assert focus not in seen, f"{focus.objectName()} traps the focus"
        seen.append(focus)
    assert window.focusWidget() is window.entry.line
    names = {widget.objectName() for widget in seen}
    assert {
        "entry_unit_button",
        "chips_pump_button",
        "facts_rows_list",
        "candidates_rows_list",
        "fit_checks_table",
        "fit_why_text",
        "face_drawing_view",
        "face_fit_button",
        "fit_cautions_button",
    } <= names
    for expected in reversed(seen):
        press(window, Qt.Key.Key_Backtab, SHIFT)
        assert window.focusWidget() is expected


def test_the_focus_shows_as_a_ring(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    for widget in (window.entry.line, window.entry.unit, window.panes.facts.view, window.panes.fit.table):
        widget.clearFocus()
        QApplication.processEvents()
        before = widget.grab().toImage()
        widget.setFocus()
        QApplication.processEvents()
        after = widget.grab().toImage()
        width, height = before.width(), before.height()
        edge = [(x, height // 2) for x in range(4)] + [(width // 2, y) for y in range(4)]
        changed = sum(before.pixel(x, y) != after.pixel(x, y) for x, y in edge)
        assert changed >= 4, widget.objectName()


def test_f6_goes_round_the_entry_line_and_the_panes(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    window.entry.line.setFocus()
    names = []
    for _ in range(4):
        press(window, Qt.Key.Key_F6)
        names.append(window.focusWidget().objectName())
    assert names == ["facts_rows_list", "candidates_rows_list", "fit_checks_table", "entry_text_line"]
    press(window, Qt.Key.Key_F6, SHIFT)
    assert window.focusWidget().objectName() == "fit_checks_table"


def test_ctrl_l_selects_the_entry_line(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    window.panes.fit.table.setFocus()
    press(window, Qt.Key.Key_L, CTRL)
    assert window.entry.line.hasFocus()
    assert window.entry.line.selectedText() == "K4872-20"


def test_escape_leaves_and_twice_begins_a_new_job_that_can_be_undone(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    window.panes.fit.table.setFocus()
    press(window, Qt.Key.Key_Escape)
    assert window.entry.line.hasFocus()
    assert window.flow.facts
    press(window, Qt.Key.Key_Escape)
    assert not window.flow.facts
    assert window.entry.line.text() == ""
    press(window, Qt.Key.Key_Tab, CTRL)
    wait_until_idle(qtbot, window)
    assert window.flow.facts[0].label == "K4872-20"


def test_f3_visits_only_what_is_not_ruled_out(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    model = window.panes.candidates.view.model()
    visited = []
    for _ in range(5):
        press(window, Qt.Key.Key_F3)
        visited.append(str(model.index(window.panes.candidates.view.currentIndex().row(), 0).data()))
    assert not any("Does not fit" in row for row in visited)
    assert len(set(visited)) == 5
    press(window, Qt.Key.Key_F3, SHIFT)
    assert window.panes.candidates.view.currentIndex().row() == 4
    wait_until_idle(qtbot, window)


def test_ctrl_e_reads_the_reason(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    press(window, Qt.Key.Key_E, CTRL)
    assert window.focusWidget() is window.panes.fit.why
    assert "Source:" in window.panes.fit.why.toPlainText()


def test_ctrl_d_goes_through_the_three_sizes(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    zooms = []
    for _ in range(3):
        press(window, Qt.Key.Key_D, CTRL)
        zooms.append(window.panes.fit.face.view.zoom)
    assert zooms == [Zoom.TRUE_SIZE, Zoom.BIGGER, Zoom.FIT]


def test_ctrl_u_changes_the_unit_shown_first(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    press(window, Qt.Key.Key_U, CTRL)
    assert window.memory.length_first is LengthFirst.INCH
    assert window.entry.unit.text() == "inch first"
    assert "3/4 in (19.05 mm)" in str(window.panes.facts.view.model().index(0, 0).data())
    press(window, Qt.Key.Key_U, CTRL)
    assert window.entry.unit.text() == "mm first"


def test_text_size_goes_up_down_and_back(open_window: Open) -> None:
    window = open_window()
    press(window, Qt.Key.Key_Plus, CTRL)
    press(window, Qt.Key.Key_Equal, CTRL)
    assert window.look.text_percent == 125
    assert QApplication.font().pointSizeF() == pytest.approx(11 * 1.25)
    press(window, Qt.Key.Key_Minus, CTRL)
    assert window.look.text_percent == 110
    press(window, Qt.Key.Key_0, CTRL)
    assert window.look.text_percent == 100


def test_f11_fills_the_screen_and_gives_it_back(open_window: Open) -> None:
    window = open_window()
    press(window, Qt.Key.Key_F11)
    assert window.isFullScreen()
    press(window, Qt.Key.Key_F11)
    assert not window.isFullScreen()


def test_f1_tells_about_the_place_and_all_keys(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    window.panes.fit.table.setFocus()
    press(window, Qt.Key.Key_F1)
    help_window = window.findChild(HelpWindow)
    assert help_window is not None
    assert "One row per check" in help_window.text
    for spec in SPECS:
        if spec.keys:
            assert keys_text(spec) in help_window.text
            assert plain_text(spec) in help_window.text
    help_window.close()
    window.activateWindow()
    press(window, Qt.Key.Key_Slash, CTRL)
    assert "One row per check" not in help_window.text


def test_enter_in_the_builds_chooses_and_none_is_chosen_before(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="Tern 27")
    builds = window.panes.facts.view
    assert builds.objectName() == "facts_builds_list"
    assert builds.hasFocus()
    assert not builds.currentIndex().isValid()
    assert not builds.selectionModel().hasSelection()
    press(window, Qt.Key.Key_Down)
    press(window, Qt.Key.Key_Down)
    press(window, Qt.Key.Key_Return)
    wait_until_idle(qtbot, window)
    assert window.flow.facts[0].entry_id == "M27B"
    assert window.panes.candidates.view.model().rowCount() == 9


def test_copying_the_reason_puts_it_on_the_clipboard(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    press(window, Qt.Key.Key_C, CTRL | SHIFT)
    assert "Why identity: pass" in QApplication.clipboard().text()


@pytest.mark.parametrize(
    ("command", "theme"),
    [(Command.DARK, ThemeName.DARK), (Command.CONTRAST, ThemeName.CONTRAST), (Command.LIGHT, ThemeName.LIGHT)],
)
def test_colours_are_chosen_and_remembered(open_window: Open, command: Command, theme: ThemeName) -> None:
    window = open_window()
    window.actions_by_command[command].trigger()
    assert window.look.theme is theme
    assert window.memory.theme is theme
    window.look.set_theme(ThemeName.LIGHT)
