"""The print page with the keyboard alone: no printer, a printer that hangs or jams, PDF files, labels scanned again."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrinterInfo
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.test_names import controls, unnamed
from tests.services.bench_store import sample_store
from xref_app.core.fit.finding import Verdict
from xref_app.gui import paper_printers
from xref_app.gui.desks import Desks
from xref_app.gui.help_paper import PAPER_HELP
from xref_app.gui.paper_painter import PaperFailedError
from xref_app.gui.paper_part import PaperPart
from xref_app.gui.paper_sheet import SheetKind
from xref_app.gui.start import build_window
from xref_app.services.live_desk import LiveDesk
from xref_app.services.sample_name import SAMPLE_NAME, is_sample
from xref_app.sheets.label_code import label_code, readable
from xref_app.sheets.page import Paper

__all__ = ["open_bench"]

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
MACHINE = "M-001"
NO_PRINTER = "No printer found: save a PDF, or show it on the screen."
Open = Callable[[], Hands]


def part_of(hands: Hands) -> PaperPart:
    assert hands.window.paper is not None
    return hands.window.paper


def on_page(open_one: Open) -> Hands:
    """Open the fit sheet of the best pump for a machine."""
    hands = open_one()
    hands.window.flow.use_machine(MACHINE, MACHINE)
    hands.settle()
    hands.press(Qt.Key.Key_P, CTRL)
    return hands


def text_of(hands: Hands) -> str:
    return "\n".join(page.text for page in part_of(hands).sheet.view.pages)


def focus_name() -> str:
    focus = QApplication.focusWidget()
    return "" if focus is None else focus.objectName()


def press_button(hands: Hands, name: str) -> None:
    button = part_of(hands).sheet.findChild(QPushButton, f"paper_{name}_button")
    assert button is not None
    button.setFocus()
    hands.press(Qt.Key.Key_Space)


def save_by_keys(hands: Hands, path: Path) -> None:
    hands.press(Qt.Key.Key_Space)
    dialog = hands.window.findChild(QFileDialog, "paper_save_dialog")
    assert dialog is not None
    line = dialog.findChild(QLineEdit)
    assert line is not None
    line.setText(str(path))
    QTest.keyClick(line, Qt.Key.Key_Return)
    hands.settle()


def test_without_a_printer_the_sheet_is_shown_and_saved_with_two_more_keys(open_bench: Open, tmp_path: Path) -> None:
    assert not QPrinterInfo.availablePrinterNames()
    hands = on_page(open_bench)
    sheet = part_of(hands).sheet
    assert part_of(hands).is_shown
    assert sheet.printer_line.text() == NO_PRINTER
    assert not sheet.print_button.isEnabled()
    assert focus_name() == "paper_save_button"
    save_by_keys(hands, tmp_path / "sheet")
    document = pypdfium2.PdfDocument(tmp_path / "sheet.pdf")
    assert len(document) == len(sheet.view.pages)
    assert hands.window.message.text == f"The sheet is saved: {tmp_path / 'sheet.pdf'}"


def test_ctrl_p_without_a_pump_says_what_to_do(open_bench: Open) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_P, CTRL)
    assert not part_of(hands).is_shown
    assert hands.window.message.text == "Choose a pump first: Ctrl+P shows its fit sheet as it will be printed."


def test_a_printer_that_does_not_answer_holds_nobody_up(
    open_bench: Open, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    gate = threading.Event()
    monkeypatch.setattr(paper_printers, "printer_names", lambda: (gate.wait(20), ("Bench",))[1])
    hands = open_bench()
    hands.window.flow.use_machine(MACHINE, MACHINE)
    hands.settle()
    qtbot.keyClick(hands.window, Qt.Key.Key_P, CTRL)
    sheet = part_of(hands).sheet
    qtbot.waitUntil(lambda: bool(sheet.view.pages), timeout=20_000)
    assert sheet.printer_line.text() == "Looking for printers…"
    assert sheet.save_button.isEnabled()
    gate.set()
    hands.settle()
    assert sheet.printers.currentText() == "Bench"
    assert focus_name() == "paper_print_button"


def test_a_printer_that_jams_is_told_and_the_sheet_stays(open_bench: Open, monkeypatch: pytest.MonkeyPatch) -> None:
    sent: list[int] = []

    def jam(name: str, pages: tuple[object, ...], _title: str) -> str:
        sent.append(len(pages))
        raise PaperFailedError(name)

    monkeypatch.setattr(paper_printers, "printer_names", lambda: ("Bench",))
    monkeypatch.setattr(paper_printers, "print_on", jam)
    hands = on_page(open_bench)
    before = part_of(hands).sheet.view.pages
    hands.press(Qt.Key.Key_Space)
    assert sent == [len(before)]
    assert hands.window.message.text == ("Bench did not take the sheet – save it as a PDF, or choose another printer.")
    assert part_of(hands).is_shown
    assert part_of(hands).sheet.view.pages == before
    hands.press(Qt.Key.Key_Space)
    assert sent == [len(before)] * 2


def test_each_kind_of_sheet_is_shown_and_the_paper_is_remembered(open_bench: Open) -> None:
    hands = on_page(open_bench)
    sheet = part_of(hands).sheet
    assert "Order of assembly" in text_of(hands)
    for kind, words in ((SheetKind.GAUGE, "Paper gauge: the pump's face"), (SheetKind.CARD, "Questions about part")):
        press_button(hands, kind.value)
        assert words in text_of(hands)
    for paper in (Paper.LETTER, Paper.A4):
        press_button(hands, paper.name.lower())
        assert (sheet.view.pages[0].width_mm, sheet.view.pages[0].height_mm) == paper.value
        assert part_of(hands).paper is paper
    assert hands.window.memory.text("paper/size", "") == "A4"


def test_another_pump_chosen_is_another_sheet_and_escape_goes_back(open_bench: Open) -> None:
    hands = on_page(open_bench)
    first = hands.window.panes.candidates.view.model().rowCount()
    assert first > 2
    before = text_of(hands)
    hands.press(Qt.Key.Key_F3)
    assert text_of(hands) != before
    hands.press(Qt.Key.Key_Escape)
    assert not part_of(hands).is_shown


def test_a_pump_that_does_not_fit_gives_a_sheet_nobody_builds_from(open_bench: Open) -> None:
    hands = on_page(open_bench)
    candidates = hands.window.panes.candidates
    model = candidates.view.model()
    for row in range(model.rowCount()):
        candidate = model.index(row, 0).data(int(Qt.ItemDataRole.UserRole))
        if getattr(candidate, "judgement", None) and candidate.judgement.verdict is Verdict.DOES_NOT_FIT:
            candidates.choose(candidate.entry_id)
            break
    hands.settle()
    assert "DO NOT BUILD FROM THIS SHEET" in text_of(hands)
    assert "Order of assembly" not in text_of(hands)


def test_the_pages_move_by_key_and_are_read_by_a_screen_reader(open_bench: Open) -> None:
    hands = on_page(open_bench)
    view = part_of(hands).sheet.view
    view.setFocus()
    hands.press(Qt.Key.Key_End)
    assert view.current == len(view.pages) - 1
    assert part_of(hands).sheet.title.text().endswith(f"page {len(view.pages)} of {len(view.pages)}")
    hands.press(Qt.Key.Key_Home)
    assert view.current == 0
    hands.press(Qt.Key.Key_PageDown)
    assert view.verticalScrollBar().value() > 0
    assert "Order of assembly" in view.accessibleDescription()


def test_every_place_of_the_print_page_has_a_name_and_a_paragraph_of_help(open_bench: Open) -> None:
    hands = on_page(open_bench)
    assert not unnamed(hands.window)
    ours = part_of(hands).sheet.findChildren(QWidget)
    places = {widget.objectName() for widget in controls(hands.window) if widget in ours}
    assert len(places) > 8
    assert places <= {*PAPER_HELP, "paper_printer_list"}
    assert set(PAPER_HELP) <= {widget.objectName() for widget in ours}


@pytest.mark.parametrize("typed", [lambda code: code, readable, lambda code: f" {readable(code).lower()} "])
def test_a_label_printed_from_the_shelf_is_found_again_by_its_code(
    open_bench: Open, typed: Callable[[str], str]
) -> None:
    hands = open_bench()
    shelf = hands.window.shelf
    assert shelf is not None
    hands.press(Qt.Key.Key_H, CTRL | SHIFT)
    shelf.sheet.list.setCurrentIndex(shelf.sheet.list.model().index(7, 0))
    line = shelf.sheet.line
    assert line is not None
    hands.press(Qt.Key.Key_P, CTRL)
    code = label_code(line.place.shelf_id)
    assert readable(code) in text_of(hands)
    assert f"Bin {line.place.bin}" in text_of(hands)
    hands.press(Qt.Key.Key_Escape)
    shelf.sheet.list.setCurrentIndex(shelf.sheet.list.model().index(0, 0))
    hands.window.entry.take_scan(typed(code))
    hands.settle()
    assert shelf.is_shown
    assert shelf.sheet.line is not None
    assert shelf.sheet.line.place.shelf_id == line.place.shelf_id


def test_a_label_read_wrong_is_told_and_shows_no_place(open_bench: Open) -> None:
    hands = open_bench()
    code = label_code("S-001")
    wrong = code.replace("001", "002")
    hands.window.entry.take_scan(wrong)
    hands.settle()
    assert hands.window.shelf is not None
    assert not hands.window.shelf.is_shown
    assert hands.window.message.text == (
        f"“{wrong}” was read wrong: its characters do not belong together – scan the label again."
    )


def test_a_label_of_no_place_here_is_told(open_bench: Open) -> None:
    hands = open_bench()
    code = label_code("ELSEWHERE-1")
    hands.window.entry.take_scan(code)
    hands.settle()
    assert hands.window.message.text == (
        f"No place of this shelf has the label “{code}” – it was taken away, or is another shop's."
    )


@pytest.mark.parametrize("name", [SAMPLE_NAME, "Own catalog"])
def test_only_what_the_sample_prints_is_marked(qtbot: QtBot, tmp_path: Path, name: str) -> None:
    desk = LiveDesk(sample_store(tmp_path), name)
    window = build_window(Desks(desk, bench=desk, shelf=desk.shelf), tmp_path / "window.ini")
    qtbot.addWidget(window)
    hands = Hands(qtbot, window)
    window.show()
    window.flow.use_machine(MACHINE, MACHINE)
    hands.settle()
    part_of(hands).show()
    hands.settle()
    pages = part_of(hands).sheet.view.pages
    assert pages
    assert [("SAMPLE" in page.text) for page in pages] == [is_sample(name)] * len(pages)
    window.close()
