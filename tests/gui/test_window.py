"""From typed text to drawing: what the window shows at each step, and in each empty or faulty state."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from tests.gui.conftest import Open, wait_until_idle
from tests.gui.desk_for_tests import NOTHING_FITS, DeskForTests, NoSuchPumpError
from xref_app.core.fit.finding import Verdict
from xref_app.gui.colours import ThemeName
from xref_app.gui.desks import Desks
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.main_window import MainWindow
from xref_app.gui.memory import WindowMemory
from xref_app.gui.start import build_window
from xref_app.sheets.shapes import Line


def label(window: MainWindow, name: str) -> QLabel:
    found = window.findChild(QLabel, name)
    assert found is not None
    return found


def type_slowly(qtbot: QtBot, window: MainWindow, text: str) -> None:
    """Type as a person does and wait for the hits."""
    for letter in text:
        QTest.keyClick(window.entry.line, ord(letter), Qt.KeyboardModifier.NoModifier, 40)
    qtbot.waitUntil(lambda: window.entry.is_dropped and not window.flow.is_working)


def look_at(window: MainWindow, qtbot: QtBot, number: str) -> None:
    model = window.panes.candidates.view.model()
    row = next(row for row in range(model.rowCount()) if number in str(model.index(row, 0).data()))
    window.panes.candidates.view.setCurrentIndex(model.index(row, 0))
    wait_until_idle(qtbot, window)


def test_a_scan_leads_to_the_first_verdict_without_another_key(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    assert label(window, "fit_verdict_label").text() == "Fits as is: K4872-20 Lowmarsh K series"
    assert label(window, "fit_counts_label").text() == "24 pass, 0 by parts, 0 not known, 0 fail"
    assert label(window, "candidates_count_label").text() == "5 of 9 not ruled out"
    assert window.entry.line.hasFocus()


def test_of_a_large_catalog_the_list_says_how_many_are_shown(open_window: Open) -> None:
    desk = DeskForTests(counted={Verdict.FITS: 1_234, Verdict.DOES_NOT_FIT: 98_766})
    window = open_window(desk, text="K4872-20")
    said = label(window, "candidates_count_label").text()
    assert said == "1,234 of 100,000 not ruled out, the best 9 shown"


def test_enter_takes_no_suggestion_that_was_not_highlighted(open_window: Open, qtbot: QtBot) -> None:
    window = open_window()
    type_slowly(qtbot, window, "K487")
    QTest.keyClick(window.entry.line, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier, 100)
    wait_until_idle(qtbot, window)
    assert window.entry.line.text() == "K487"
    assert not window.flow.facts
    assert window.entry.is_dropped


def test_down_highlights_and_enter_takes_the_highlighted_hit(open_window: Open, qtbot: QtBot) -> None:
    window = open_window()
    type_slowly(qtbot, window, "K487")
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Return):
        QTest.keyClick(window.entry.line, key, Qt.KeyboardModifier.NoModifier, 100)
    wait_until_idle(qtbot, window)
    assert [fact.label for fact in window.flow.facts] == ["K4872-25"]
    assert window.entry.line.text() == "K4872-25"
    assert not window.entry.is_dropped


def test_a_guessed_number_is_told_to_the_desk(open_window: Open, qtbot: QtBot) -> None:
    window = open_window()
    type_slowly(qtbot, window, "K4?72-20")
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Return):
        QTest.keyClick(window.entry.line, key, Qt.KeyboardModifier.NoModifier, 100)
    wait_until_idle(qtbot, window)
    assert "Number partly guessed." in label(window, "facts_title_label").text()
    assert not label(window, "fit_verdict_label").text().startswith("Fits as is")


def test_a_new_search_drops_the_old_one(open_window: Open, qtbot: QtBot) -> None:
    desk = DeskForTests()
    window = open_window(desk)
    desk.gate.clear()
    window.flow.find("D24")
    qtbot.waitUntil(lambda: desk.asked == ["find D24"])
    window.flow.find("F1000")
    desk.gate.set()
    wait_until_idle(qtbot, window)
    assert window.read_as.text() == "Read as: number or model “F1000”. Entries that could mean: 1."


def test_machine_and_pump_make_one_job_and_a_second_pump_a_new_one(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="Heron 40")
    window.entry.take_scan("K4872-20")
    wait_until_idle(qtbot, window)
    assert [fact.label for fact in window.flow.facts] == ["Heron 40", "K4872-20"]
    window.entry.take_scan("B2700-34")
    wait_until_idle(qtbot, window)
    assert [fact.label for fact in window.flow.facts] == ["B2700-34"]


def test_a_chip_takes_its_fact_away(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="Heron 40")
    window.entry.take_scan("K4872-20")
    wait_until_idle(qtbot, window)
    chip = window.findChild(QPushButton, "chips_machine_button")
    assert chip is not None
    qtbot.mouseClick(chip, Qt.MouseButton.LeftButton)
    wait_until_idle(qtbot, window)
    assert [fact.label for fact in window.flow.facts] == ["K4872-20"]


def test_builds_are_shown_with_what_tells_them_apart(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="Tern 27")
    assert label(window, "facts_builds_label").text() == "This model was built in 3 ways. Which one is here?"
    assert label(window, "candidates_count_label").text() == "Say first which build is here."
    builds = window.panes.facts.view
    assert str(builds.model().index(1, 0).data()).startswith("square air-filter cover")
    rectangle = builds.visualRect(builds.model().index(1, 0))
    qtbot.mouseClick(builds.viewport(), Qt.MouseButton.LeftButton, pos=rectangle.center())
    wait_until_idle(qtbot, window)
    assert window.flow.facts[0].is_build
    assert window.panes.facts.view.objectName() == "facts_rows_list"


def test_danger_has_a_line_of_its_own_that_stays_when_the_drawing_is_bigger(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    look_at(window, qtbot, "S1450")
    danger = label(window, "fit_danger_0_label")
    assert danger.text() == "Danger: the engine drives this pump faster than its limit."
    window.panes.fit.face.set_zoom(type(window.panes.fit.face.view.zoom)(2))
    assert danger.isVisible()
    assert danger.visibleRegion().boundingRect().size() == danger.size()


def test_what_is_needed_stands_in_the_table(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    look_at(window, qtbot, "B2700")
    model = window.panes.fit.needs_view.model()
    rows = [[str(model.index(row, column).data()) for column in range(4)] for row in range(model.rowCount())]
    assert rows == [
        ["Spacer 3.20 mm, one under every bolt", "4", "yes, bin A1", "1.60"],
        ["Fitting 3/8-18 NPT male to M22x1.5 male (14 mm seal)", "1", "yes, bin C3", "6.50"],
    ]


def test_why_follows_the_selected_check(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    look_at(window, qtbot, "F1000")
    said = window.panes.fit.why.toPlainText()
    assert said.startswith("Why bore: fail")
    assert "What would have to change: A pump with a bore for a 3/4 in shaft would go on." in said
    window.panes.fit.table.setCurrentIndex(window.panes.fit.table.model().index(1, 0))
    assert window.panes.fit.why.toPlainText().startswith("Why key: fail")


def test_cautions_are_one_key_away(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    button = window.findChild(QPushButton, "fit_cautions_button")
    assert button is not None
    assert button.text() == "Before you start: 7 cautions"
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert "spark-plug lead" in window.panes.fit.why.toPlainText()


def test_nothing_matches(open_window: Open) -> None:
    window = open_window(text="ZZ99-9")
    assert window.message.text == "Nothing matches “ZZ99-9”. Without its last character: 3."
    assert not window.flow.facts


def test_nothing_fits_names_the_nearest_three_and_what_would_have_to_change(open_window: Open) -> None:
    window = open_window(DeskForTests(numbers=NOTHING_FITS), text="K4872-20")
    lines = label(window, "candidates_nothing_fits_label").text().splitlines()
    assert lines[0] == "Nothing here fits. Nearest, and what would have to change:"
    assert lines[1] == "• F1000, bore: A pump with a bore for a 3/4 in shaft would go on."
    assert len(lines) == 4


def test_without_a_catalog_the_window_says_what_can_be_done(open_window: Open) -> None:
    window = open_window(DeskForTests(catalog_name=""))
    assert window.message.text == (
        "No catalog yet. Read a supplier's catalog file: Ctrl+Shift+G. Or read a folder: xref-app import FOLDER. "
        "Or look around with made-up pumps: xref-app --sample."
    )


def test_a_fault_of_the_person_is_one_sentence_and_no_box(open_window: Open, qtbot: QtBot) -> None:
    desk = DeskForTests(fails_with=NoSuchPumpError("The shop's file is locked: close the other program."))
    window = open_window(desk)
    window.flow.find("K4872")
    wait_until_idle(qtbot, window)
    assert window.message.text == "The shop's file is locked: close the other program."


def test_our_own_fault_leaves_the_window_working(
    open_window: Open, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    hooked: list[object] = []
    monkeypatch.setattr(sys, "excepthook", lambda *what: hooked.append(what[0]))
    desk = DeskForTests(fails_with=KeyError("x"))
    window = open_window(desk)
    window.flow.find("K4872")
    wait_until_idle(qtbot, window)
    assert window.message.text.startswith("A fault inside the program.")
    assert hooked == [KeyError]
    desk.fails_with = None
    window.entry.take_scan("K4872-20")
    wait_until_idle(qtbot, window)
    assert window.message.text == ""
    assert label(window, "fit_verdict_label").text().startswith("Fits as is")


def test_long_work_shows_progress_and_escape_stops_it(open_window: Open, qtbot: QtBot) -> None:
    desk = DeskForTests()
    window = open_window(desk)
    desk.gate.clear()
    window.entry.take_scan("K4872-20")
    qtbot.waitUntil(lambda: window.status.is_waiting_shown)
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: window.tasks.running == 0)
    assert not window.status.is_waiting_shown
    assert not window.flow.facts


def test_closing_waits_for_work_under_way(open_window: Open, qtbot: QtBot) -> None:
    desk = DeskForTests()
    window = open_window(desk)
    desk.gate.clear()
    window.flow.find("K4872")
    qtbot.waitUntil(lambda: desk.asked == ["find K4872"])
    window.close()
    assert window.isHidden()


def test_the_drawing_follows_the_pump_looked_at(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    look_at(window, qtbot, "H0050")
    drawing = window.panes.fit.face.view.drawing
    assert drawing is not None
    assert any(segment.line is Line.MISS for segment in drawing.segments)
    assert "4.0 mm off" in window.panes.fit.face.view.accessibleDescription()


def test_the_window_remembers_text_colours_and_unit(open_window: Open, tmp_path: Path) -> None:
    window = open_window()
    memory = WindowMemory(tmp_path / "window.ini")
    memory.theme, memory.text_percent, memory.length_first = ThemeName.DARK, 150, LengthFirst.INCH
    again = build_window(Desks(DeskForTests()), tmp_path / "window.ini")
    assert (again.look.theme, again.look.text_percent) == (ThemeName.DARK, 150)
    assert again.entry.unit.text() == "inch first"
    again.close()
    again.deleteLater()
    window.look.set_theme(ThemeName.LIGHT)


def test_an_unreadable_setting_falls_back_to_the_default(tmp_path: Path) -> None:
    (tmp_path / "window.ini").write_text("[window]\ntheme=purple\ntext_percent=a lot\nlength_first=cubit\n")
    memory = WindowMemory(tmp_path / "window.ini")
    assert (memory.theme, memory.text_percent, memory.length_first) == (ThemeName.LIGHT, 100, LengthFirst.MM)


def test_setting_text_loses_no_reference_to_none(open_window: Open) -> None:
    # ux.md section 0 row 1: PySide6 6.12.0 on Python 3.11 loses one per call and dies after some thousand.
    window = open_window()
    before = sys.getrefcount(None)
    for number in range(20_000):
        window.read_as.setText(str(number))
    assert abs(sys.getrefcount(None) - before) < 100
