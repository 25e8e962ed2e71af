"""The panes fold by need, and no word is cut at any text size (ux.md 2.1)."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from tests.gui.conftest import Open, wait_until_idle
from xref_app.gui.main_window import MainWindow
from xref_app.gui.pane_area import Fold

# The window on the smallest screen served, title and task bar taken off.
SMALL = QSize(1366, 690)


def resized(window: MainWindow, percent: int, size: QSize = SMALL) -> MainWindow:
    window.look.set_text_percent(percent)
    window.resize(size)
    for _ in range(3):
        QApplication.processEvents()
    return window


@pytest.mark.parametrize(
    ("percent", "fold"),
    [
        (100, Fold.THREE),
        (110, Fold.THREE),
        (125, Fold.STRIP),
        (150, Fold.STRIP),
        (175, Fold.SINGLE),
        (200, Fold.SINGLE),
    ],
)
def test_the_text_size_decides_how_the_panes_lie(open_window: Open, percent: int, fold: Fold) -> None:
    window = resized(open_window(text="K4872-20"), percent)
    assert window.size() == SMALL
    assert window.panes.fold is fold


def test_room_gained_unfolds_again(open_window: Open) -> None:
    window = resized(open_window(text="K4872-20"), 150)
    assert window.panes.fold is Fold.STRIP
    assert resized(window, 150, QSize(1920, 1010)).panes.fold is Fold.THREE
    assert resized(window, 150, QSize(1280, 690)).panes.fold is Fold.SINGLE
    assert resized(window, 100, QSize(1280, 690)).panes.fold is Fold.THREE


@pytest.mark.parametrize("percent", [100, 125, 150, 175, 200])
@pytest.mark.parametrize("pane", [0, 1, 2])
def test_no_label_and_no_button_is_cut(open_window: Open, qtbot: QtBot, percent: int, pane: int) -> None:
    window = resized(open_window(text="K4872-20"), percent)
    window.panes.focus_pane(pane)
    wait_until_idle(qtbot, window)
    QApplication.processEvents()
    cut = []
    for widget in (*window.findChildren(QLabel), *window.findChildren(QPushButton)):
        if not widget.isVisible() or not widget.objectName():
            continue
        needed = widget.sizeHint().width()
        if isinstance(widget, QLabel) and widget.wordWrap():
            if widget.heightForWidth(widget.width()) > widget.height():
                cut.append((widget.objectName(), "height", widget.heightForWidth(widget.width()), widget.height()))
        elif needed > widget.width():
            cut.append((widget.objectName(), "width", needed, widget.width()))
    assert not cut


@pytest.mark.parametrize("percent", [100, 150, 200])
def test_every_pane_lies_inside_the_window(open_window: Open, percent: int) -> None:
    window = resized(open_window(text="K4872-20"), percent)
    page = window.centralWidget()
    assert page is not None
    inside = QRect(0, 0, page.width(), page.height())
    for number, pane in enumerate(window.panes.panes):
        window.panes.focus_pane(number)
        QApplication.processEvents()
        place = QRect(pane.mapTo(page, pane.rect().topLeft()), pane.size())
        assert inside.contains(place), (pane.objectName(), place)
        assert pane.isVisible()


def test_one_pane_at_a_time_shows_the_one_worked_in(open_window: Open) -> None:
    window = resized(open_window(text="K4872-20"), 200)
    window.entry.line.setFocus()
    for number in range(3):
        window.panes.focus_pane(number)
        assert [pane.isVisible() for pane in window.panes.panes] == [place == number for place in range(3)]


def test_the_verdict_row_is_56_px_and_targets_are_at_least_32(open_window: Open) -> None:
    window = resized(open_window(text="K4872-20"), 100)
    assert window.panes.candidates.view.sizeHintForRow(0) == 56
    for button in window.findChildren(QPushButton):
        if button.isVisible():
            assert button.height() >= 32, button.objectName()
            assert button.width() >= 32, button.objectName()
