"""Health of the catalog with the keyboard alone: read, opened as a job, cleared with a reason, every row checked."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pysqlite3.dbapi2 as binding
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.test_names import controls, unnamed
from tests.gui.test_scans import Keyboard
from tests.gui.test_what_happened import CTRL, PUMP, SHIFT, cut, on_sheet, verdict, write_bound
from xref_app.core.fit.finding import Verdict
from xref_app.core.sentence import Sentence
from xref_app.gui.health_list import HealthDelegate
from xref_app.gui.health_part import HealthPart
from xref_app.gui.health_sheet import HealthSheet
from xref_app.gui.health_words import ADVICE, COUNTS, KINDS, NOTHING, SIGNS, check_text
from xref_app.gui.help_records import RECORDS_HELP
from xref_app.gui.messages import say
from xref_app.gui.scan_guard import event_ms
from xref_app.gui.theme import Look
from xref_app.services.health_lines import HealthLine, LineKind, WholeCheck

__all__ = ["open_bench"]

Open = Callable[[], Hands]


def health_of(hands: Hands) -> HealthPart:
    assert hands.window.health is not None
    return hands.window.health


def after_failure(open_one: Open) -> Hands:
    """Write down that the pump bound, with two sizes ticked, then open the health sheet."""
    hands = on_sheet(open_one)
    write_bound(hands)
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    assert health_of(hands).is_shown
    return hands


def focus_name() -> str:
    focus = QApplication.focusWidget()
    return "" if focus is None else focus.objectName()


def kinds(hands: Hands) -> list[LineKind]:
    return [one.kind for one in health_of(hands).sheet.lines]


def chosen_told(hands: Hands) -> str:
    line = health_of(hands).sheet.line
    return "" if line is None else say(line.told)


def test_a_failed_fit_stands_first_with_its_sizes_and_what_they_were(open_bench: Open) -> None:
    hands = after_failure(open_bench)
    sheet = health_of(hands).sheet
    # The sample holds three pumps whose readings contradict each other.
    assert kinds(hands) == [LineKind.FAILED_FIT, *[LineKind.CONFLICT] * 3]
    assert sheet.counted == "Fits that failed: 1; contradictions: 3"
    assert focus_name() == "health_lines_list"
    assert chosen_told(hands).startswith("KO7-4410 was said to fit FL-54C3 (M-001), and bound when turned by hand: ")
    assert sheet.line is not None
    assert {say(one) for one in sheet.line.sizes} == {
        "Bore diameter of KO7-4410 (P-002), was 22.25 mm (0.876 in)",
        "Shaft diameter of HD 012K (D-01), was 22.225 mm (7/8 in)",
    }


def test_enter_opens_machine_and_pump_as_a_job(open_bench: Open) -> None:
    hands = after_failure(open_bench)
    hands.window.flow.new_job()
    hands.settle()
    hands.press(Qt.Key.Key_Return)
    hands.settle()
    assert hands.window.panes.isVisible()
    assert [one.label for one in hands.window.flow.facts] == ["FL-54C3 (M-001)"]
    assert verdict(hands) is Verdict.NOT_KNOWN_YET


def test_a_contradiction_opens_its_pump(open_bench: Open) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    assert health_of(hands).sheet.line is not None
    assert chosen_told(hands) == "Readings of VW-473-87R (P-058) contradict each other."
    health_of(hands).sheet.details.open_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    hands.settle()
    assert [one.entry_id for one in hands.window.flow.facts] == ["P-058"]


def test_they_were_right_after_all_asks_why_and_takes_the_doubt_away(open_bench: Open) -> None:
    hands = after_failure(open_bench)
    health_of(hands).sheet.details.right_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    assert focus_name() == "ask_why_line"
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Say why the sizes are right after all: what else was the matter?"
    assert kinds(hands)[0] is LineKind.FAILED_FIT
    hands.type("the old key was still in the bore")
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Done: no doubt about bore diameter and 1 more. Ctrl+Z takes it back."
    assert kinds(hands) == [LineKind.CONFLICT] * 3
    hands.press(Qt.Key.Key_Z, CTRL)
    assert kinds(hands)[0] is LineKind.FAILED_FIT
    hands.press(Qt.Key.Key_Y, CTRL)
    hands.press(Qt.Key.Key_Escape)
    hands.window.panes.candidates.choose(PUMP)
    hands.settle()
    assert verdict(hands) is Verdict.FITS_WITH_PARTS


def test_only_a_failed_fit_can_be_called_right(open_bench: Open) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    assert not health_of(hands).sheet.details.right_button.isEnabled()
    assert health_of(hands).sheet.details.open_button.isEnabled()


def test_ctrl_z_of_the_outcome_takes_its_line_away(open_bench: Open) -> None:
    hands = after_failure(open_bench)
    hands.press(Qt.Key.Key_Z, CTRL)
    assert kinds(hands) == [LineKind.CONFLICT] * 3
    assert health_of(hands).is_shown


def test_every_row_is_checked_and_a_changed_one_is_told(open_bench: Open, tmp_path: Path) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    details = health_of(hands).sheet.details
    details.check_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    hands.settle()
    with binding.connect(tmp_path / "shop.sqlite") as store:
        store.execute("UPDATE entries SET maker = 'Somebody else' WHERE entry_id = 'P-001'")
    store.close()
    whole = details.checked.text()
    hands.press(Qt.Key.Key_Space)
    hands.settle()
    # As many as the sample's CSV files have (the test of the command line counts them).
    assert whole == "All 4,568 rows are what was written."
    assert details.checked.text() == "4,567 sound rows were read, and this is wrong: damaged rows: 1."


def test_every_kind_of_line_has_a_heading_a_sign_a_count_and_an_advice() -> None:
    for words in (KINDS, SIGNS, COUNTS, ADVICE):
        assert set(words) == set(LineKind)
        assert len(set(words.values())) == len(LineKind)


def test_nothing_wrong_is_said_in_one_sentence(qtbot: QtBot) -> None:
    sheet = HealthSheet(Look())
    qtbot.addWidget(sheet)
    sheet.show_lines((HealthLine(LineKind.DAMAGED, Sentence("P-1: damaged.")),))
    assert sheet.counted == "Damage: 1"
    sheet.show_lines(())
    assert sheet.counted == NOTHING == "Nothing is wrong that the program knows of."
    assert not sheet.details.open_button.isEnabled()
    assert not sheet.details.right_button.isEnabled()


def test_a_check_is_told_in_one_sentence() -> None:
    assert check_text(WholeCheck(4571, 0, (), (), history_is_whole=True)) == "All 4,571 rows are what was written."
    assert check_text(WholeCheck(4570, 1, ("page 3 is lost",), ("pumps", "units"), history_is_whole=False)) == (
        "4,570 sound rows were read, and this is wrong: damaged rows: 1; rows lost or added behind the program's back "
        "in pumps, units; the history is not whole; the file itself complains: page 3 is lost."
    )


def test_a_scan_over_the_sheet_changes_nothing(open_bench: Open) -> None:
    hands = after_failure(open_bench)
    sheet = health_of(hands).sheet
    lines, facts = sheet.lines, hands.window.flow.facts
    hands.window.guard._clock = event_ms
    keyboard = Keyboard()
    details = sheet.details
    for place in (sheet.list, details.open_button, details.right_button, details.check_button, details.leave_button):
        place.setFocus()
        keyboard.type("4002 9123", gap_ms=8, end=Qt.Key.Key_Return)
        hands.settle()
        assert (sheet.lines, hands.window.flow.facts) == (lines, facts), place.objectName()
        assert health_of(hands).is_shown
        assert hands.window.shelf is not None
        assert not hands.window.shelf.bar.is_open
        assert not details.checked.text()


def test_every_place_has_a_name_and_a_paragraph_of_help(open_bench: Open) -> None:
    hands = after_failure(open_bench)
    assert not unnamed(hands.window)
    names = [one.objectName() for one in controls(hands.window)]
    assert len(names) == len(set(names))
    assert {one for one in names if one.startswith("health_")} == {
        one for one in RECORDS_HELP if one.startswith("health_")
    }


def test_f6_and_tab_reach_everything(open_bench: Open) -> None:
    hands = after_failure(open_bench)
    hands.press(Qt.Key.Key_F6)
    assert focus_name() == "health_open_button"
    hands.press(Qt.Key.Key_F6)
    seen = [focus_name()]
    while focus_name() != "health_leave_button":
        hands.press(Qt.Key.Key_Tab)
        assert focus_name() not in seen, "a trap"
        seen.append(focus_name())
    assert {one for one in seen if one.startswith("health_")} == {
        "health_lines_list",
        "health_open_button",
        "health_right_button",
        "health_check_button",
        "health_leave_button",
    }


@pytest.mark.parametrize(("height", "percent"), [(690, 100), (642, 150), (690, 200)])
def test_nothing_is_cut_and_the_window_stays(open_bench: Open, qtbot: QtBot, height: int, percent: int) -> None:
    hands = open_bench()
    width = 1366 if height == 690 else 1280
    hands.window.resize(width, height)
    hands.window.look.set_text_percent(percent)
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    health_of(hands).check_everything()
    hands.settle()
    qtbot.waitUntil(lambda: not cut(hands, "health_"))
    assert (hands.window.width(), hands.window.height()) == (width, height)


def test_the_kinds_differ_in_grey_by_their_sign_alone(qtbot: QtBot) -> None:
    sheet = HealthSheet(Look())
    qtbot.addWidget(sheet)
    sheet.resize(900, 500)
    sheet.show_lines(tuple(HealthLine(kind, Sentence("The same words.")) for kind in LineKind))
    sheet.list.setCurrentIndex(sheet.list.model().index(-1, 0))
    sheet.show()
    assert isinstance(sheet.list.itemDelegate(), HealthDelegate)
    signs = []
    for row in range(3):
        rect = sheet.list.visualRect(sheet.list.model().index(row, 0))
        picture = sheet.list.viewport().grab(rect).toImage().convertToFormat(QImage.Format.Format_Grayscale8)
        signs.append([picture.pixel(x, y) & 0xFF for y in range(24) for x in range(6, 32)])
    for one in range(3):
        for other in range(one):
            strokes = sum(min(pixel, twin) < 200 for pixel, twin in zip(signs[one], signs[other], strict=True))
            differing = sum(abs(a - b) > 60 for a, b in zip(signs[one], signs[other], strict=True))
            assert differing > 0.2 * strokes, (one, other)
