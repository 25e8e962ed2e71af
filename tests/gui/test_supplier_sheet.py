"""A supplier's messy list with the keyboard alone: read, its columns said, its questions answered, taken, undone."""

from __future__ import annotations

import time
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.supplier_for_tests import NAME, SUPPLIER, messy_list
from tests.gui.test_names import controls, unnamed
from tests.gui.test_scans import Keyboard
from tests.gui.test_what_happened import CTRL, SHIFT, cut
from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.exchange.supplier_sheet import HowToRead, RawFile
from xref_app.gui.help_supplier import SUPPLIER_HELP
from xref_app.gui.scan_guard import event_ms
from xref_app.gui.supplier_offers import AnswerCells, Question
from xref_app.gui.supplier_part import SupplierPart
from xref_app.gui.supplier_words import SIGNS, STANDINGS
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_looked import Standing

__all__ = ["open_bench"]

Open = Callable[[], Hands]
_KEY = Qt.Key
# Of the list as it is read first: numbers 1 to 24 without 17 and 18, then two rows more.
_GOOD = 25


def part_of(hands: Hands) -> SupplierPart:
    assert hands.window.suppliers is not None
    return hands.window.suppliers


def focus_name() -> str:
    focus = QApplication.focusWidget()
    return "" if focus is None else focus.objectName()


def choose_in_dialog(hands: Hands, name: str, path: Path) -> None:
    """Type a path into the system's own box and press Enter."""
    dialog = hands.window.findChild(QFileDialog, name)
    assert dialog is not None
    line = dialog.findChild(QLineEdit)
    assert line is not None
    dialog.setDirectory(str(path.parent))
    dialog.selectFile(path.name)
    line.setText(path.name)
    QTest.keyClick(line, _KEY.Key_Return)
    hands.window.activateWindow()
    hands.settle()


def with_list(open_one: Open, path: Path) -> Hands:
    """Open the window and read a list by keys."""
    hands = open_one()
    hands.window.memory.who = "Ilvane"
    hands.press(_KEY.Key_R, CTRL | SHIFT)
    choose_in_dialog(hands, "read_supplier_dialog", path)
    assert part_of(hands).is_shown
    assert part_of(hands).looked is not None, hands.window.message.text
    return hands


def with_supplier(open_one: Open, path: Path) -> Hands:
    hands = with_list(open_one, path)
    assert focus_name() == "supplier_name_line"
    hands.type(SUPPLIER)
    hands.press(_KEY.Key_Return)
    assert focus_name() == "supplier_columns_list"
    return hands


def on_rows(open_one: Open, path: Path) -> Hands:
    """Go to the rows, the first of which needs a look."""
    hands = with_supplier(open_one, path)
    hands.press(_KEY.Key_F6)
    hands.press(_KEY.Key_F6)
    assert focus_name() == "supplier_rows_list"
    return hands


def counted(hands: Hands) -> str:
    return part_of(hands).sheet.counted


def row_number(hands: Hands) -> str:
    listed = part_of(hands).sheet.row
    return "" if listed is None else listed.row.number


def offered(hands: Hands) -> list[str]:
    return [one.words for one in part_of(hands).sheet.details.row.offered]


def give(hands: Hands, words: str) -> None:
    """Go down the answers to the one that reads so, and give it."""
    if focus_name() == "supplier_rows_list":
        hands.press(_KEY.Key_Return)
    assert focus_name() == "supplier_answers_list"
    view = part_of(hands).sheet.details.row.list
    for _ in range(40):
        hands.press(_KEY.Key_Down)
        if view.currentIndex().data() == words:
            hands.press(_KEY.Key_Return)
            return
    raise AssertionError(f"{words!r} is not among {offered(hands)}")


def store_bytes(folder: Path) -> dict[str, bytes]:
    names = (one for one in folder.iterdir() if one.name.startswith("shop.sqlite"))
    return {one.name: sha256(one.read_bytes()).digest() for one in names}


def numbers_found(hands: Hands, number: str) -> list[str]:
    desk = hands.window.flow._desk
    return [one.number for one in desk.find(number, NO_PROGRESS).hits if one.number == number]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return messy_list(tmp_path)


def answer_all_but_one(hands: Hands) -> None:
    """Answer what is asked, in each way there is; the row without a number stays refused."""
    assert counted(hands) == f"{_GOOD} good, 3 need a look, 3 refused"
    assert row_number(hands) == "ZQ-017"
    give(hands, "All 2: 19.05 mm, 25.4 mm")
    assert counted(hands) == f"{_GOOD + 2} good, 1 needs a look, 3 refused"
    assert row_number(hands) == "ZQ-001"
    give(hands, "Take the row as it is")
    assert counted(hands) == f"{_GOOD + 2} good, 1 accepted, 0 need a look, 3 refused"
    assert row_number(hands) == "ZQ-090"
    give(hands, "Type what is meant…")
    assert focus_name() == "supplier_instead_line"
    hands.type("27000")
    hands.press(_KEY.Key_Return)
    assert offered(hands)[0].startswith("Rated pressure “27000 psi” lies outside")
    give(hands, "Type what is meant…")
    hands.type("2700 psi")
    hands.press(_KEY.Key_Return)
    assert counted(hands) == f"{_GOOD + 3} good, 1 accepted, 0 need a look, 2 refused"
    give(hands, "Not known: leave it out")


def test_a_messy_list_is_worked_end_to_end_by_keys_and_one_undo_takes_it_back(open_bench: Open, path: Path) -> None:
    hands = on_rows(open_bench, path)
    answer_all_but_one(hands)
    hands.press(_KEY.Key_F12)
    bar = hands.window.shelf.bar if hands.window.shelf else None
    assert bar is not None
    assert bar.is_open
    assert bar._question.text() == f"Take 30 rows of {SUPPLIER}, {NAME}? Ctrl+Z takes all of them back."
    assert bar.do_button.text() == "Take 29 good and 1 accepted  F12"
    assert not numbers_found(hands, "ZQ-090")
    hands.press(_KEY.Key_F12)
    told = f"Taken: 30 rows of {SUPPLIER}; new entries: 29. Ctrl+Z takes it all back."
    assert hands.window.message.text == told
    assert counted(hands) == "0 good, 0 need a look, 1 refused, 30 entered already"
    assert numbers_found(hands, "ZQ-090") == ["ZQ-090"]
    hands.press(_KEY.Key_Z, CTRL)
    assert not numbers_found(hands, "ZQ-090")
    assert counted(hands) == f"{_GOOD + 4} good, 1 accepted, 0 need a look, 1 refused"
    hands.press(_KEY.Key_Y, CTRL)
    assert numbers_found(hands, "ZQ-090") == ["ZQ-090"]


def test_the_head_says_how_the_file_was_read(open_bench: Open, path: Path) -> None:
    hands = with_list(open_bench, path)
    sheet = part_of(hands).sheet
    assert sheet._title.text() == f"Supplier file: {NAME}"
    assert sheet._whose.text() == "List of pumps, claimed by a seller. Whose list is it?"
    assert sheet.read_as == (
        "Text, parted by semicolon, utf-8. 2 title rows left out. Headings in rows 4 to 5. "
        "Numbers with a decimal comma."
    )


def test_nothing_is_written_before_the_take(open_bench: Open, path: Path, tmp_path: Path) -> None:
    hands = open_bench()
    hands.window.memory.who = "Ilvane"
    before = store_bytes(tmp_path)
    hands.press(_KEY.Key_R, CTRL | SHIFT)
    choose_in_dialog(hands, "read_supplier_dialog", path)
    hands.type(SUPPLIER)
    hands.press(_KEY.Key_Return)
    part_of(hands).sheet.focus_rows()
    give(hands, "All 2: 19.05 mm, 25.4 mm")
    hands.press(_KEY.Key_F12)
    assert store_bytes(tmp_path) == before


def test_the_take_says_what_must_be_said_first(open_bench: Open, path: Path) -> None:
    hands = with_list(open_bench, path)
    details = part_of(hands).sheet.details
    assert not details.take_button.isEnabled()
    assert details.why.text() == "Say first whose list it is: type the supplier."
    hands.press(_KEY.Key_F12)
    assert hands.window.message.text == details.why.text()
    assert hands.window.shelf is not None
    assert not hands.window.shelf.bar.is_open
    hands.type(SUPPLIER)
    hands.press(_KEY.Key_Return)
    assert details.take_button.isEnabled()
    assert details.take_button.text() == f"Take {_GOOD} good rows  F12"
    assert not details.why.isVisible()
    say_column(hands, 1, "left out", typed="left")
    assert details.why.text() == "Say first which column is the number: without it nobody could find a row."


def say_column(hands: Hands, number: int, words: str, *, typed: str) -> None:
    """Go to column ``number``, find what it is and take it, all by keys."""
    part_of(hands).sheet.focus_columns()
    hands.press(_KEY.Key_Home)
    for _ in range(number):
        hands.press(_KEY.Key_Down)
    hands.press(_KEY.Key_Return)
    assert focus_name() == "supplier_filter_line"
    hands.type(typed)
    hands.press(_KEY.Key_Return)
    assert focus_name() == "supplier_taken_list"
    view = part_of(hands).sheet.details.column.list
    while view.currentIndex().data() != words:
        before = view.currentIndex()
        hands.press(_KEY.Key_Down)
        assert view.currentIndex() != before, words
    hands.press(_KEY.Key_Return)
    assert focus_name() == "supplier_columns_list"


def column_words(hands: Hands, number: int) -> str:
    model = part_of(hands).sheet.columns.columns_model
    return str(model.index(number).data())


def test_a_column_is_said_once_and_comes_up_with_the_next_list_of_that_supplier(
    open_bench: Open, path: Path, tmp_path: Path
) -> None:
    hands = with_supplier(open_bench, path)
    assert column_words(hands, 4).startswith("Column 4: Shaft mm: Bore diameter (mm), “")
    say_column(hands, 4, "Bore depth (inch)", typed="depth inch")
    assert column_words(hands, 4).startswith("Column 4: Shaft mm: Bore depth (inch), “")
    say_column(hands, 4, "Bore diameter (mm)", typed="bore diam mm")
    say_column(hands, 7, "Note", typed="note")
    assert counted(hands) == f"{_GOOD} good, 3 need a look, 3 refused"
    hands.press(_KEY.Key_F12)
    hands.press(_KEY.Key_F12)
    assert hands.window.message.text.startswith(f"Taken: {_GOOD} rows")
    hands.press(_KEY.Key_R, CTRL | SHIFT)
    choose_in_dialog(hands, "read_supplier_dialog", messy_list(tmp_path, good=27, name="liste_2027.csv"))
    assert column_words(hands, 7) == "Column 7: Form: left out, “round”"
    assert focus_name() == "supplier_name_line"
    hands.type("inv")
    assert part_of(hands).sheet.details.about.line.text().casefold() == SUPPLIER.casefold()
    hands.press(_KEY.Key_Return)
    assert column_words(hands, 7) == "Column 7: Form: Note, “round”"
    assert counted(hands) == f"3 good, 3 need a look, 3 refused, {_GOOD} entered already"


def test_the_same_file_again_adds_nothing_and_says_so(open_bench: Open, path: Path, tmp_path: Path) -> None:
    hands = with_supplier(open_bench, path)
    hands.press(_KEY.Key_F12)
    hands.press(_KEY.Key_F12)
    details = part_of(hands).sheet.details
    words = "Nothing new is in it: all that is good was entered already."
    assert details.why.text() == words
    before = store_bytes(tmp_path)
    hands.press(_KEY.Key_R, CTRL | SHIFT)
    choose_in_dialog(hands, "read_supplier_dialog", path)
    hands.type(SUPPLIER)
    hands.press(_KEY.Key_Return)
    assert (details.why.text(), details.take_button.isEnabled()) == (words, False)
    hands.press(_KEY.Key_F12)
    assert hands.window.message.text == words
    assert store_bytes(tmp_path) == before


def test_both_readings_are_offered_with_the_text_of_the_file(open_bench: Open, path: Path) -> None:
    hands = on_rows(open_bench, path)
    assert offered(hands) == [
        'Bore diameter “19,05"”: an inch mark and a decimal comma. Which is meant?',
        "19.05 in",
        "19.05 mm",
        "Type what is meant…",
        "Not known: leave it out",
        "The same for all 2 cells of this column asked about in this way:",
        "All 2: 19.05 in, 25.4 in",
        "All 2: 19.05 mm, 25.4 mm",
        "All 2: not known, leave them out",
    ]
    give(hands, "19.05 in")
    # Half a metre is no bore: it is asked again, and what was just said is no answer to that.
    assert row_number(hands) == "ZQ-017"
    assert offered(hands) == [
        "Bore diameter “19.05 in”: inch or mm?",
        "19.05 mm",
        "Type what is meant…",
        "Not known: leave it out",
        "Take back what was answered of this row",
    ]
    give(hands, "Take back what was answered of this row")
    assert offered(hands)[1:3] == ["19.05 in", "19.05 mm"]


def test_no_answer_is_chosen_beforehand_and_questions_cannot_be(open_bench: Open, path: Path) -> None:
    hands = on_rows(open_bench, path)
    hands.press(_KEY.Key_Return)
    view = part_of(hands).sheet.details.row.list
    assert not view.currentIndex().isValid()
    hands.press(_KEY.Key_Return)
    assert counted(hands) == f"{_GOOD} good, 3 need a look, 3 refused"
    hands.press(_KEY.Key_Down)
    assert view.currentIndex().data() == "19.05 in"
    rows = part_of(hands).sheet.details.row.offered
    assert isinstance(rows[0], Question)
    assert isinstance(rows[1], AnswerCells)


def test_a_double_click_answers_one_row_only(open_bench: Open, path: Path, qtbot: QtBot) -> None:
    hands = on_rows(open_bench, path)
    view = part_of(hands).sheet.details.row.list
    view._since_shown.invalidate()
    place = view.visualRect(view.model().index(2, 0)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place)
    hands.settle()
    assert row_number(hands) == "ZQ-018"
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place)
    hands.settle()
    assert counted(hands) == f"{_GOOD + 1} good, 2 need a look, 3 refused"


def test_sizes_that_are_entered_otherwise_stand_side_by_side(open_bench: Open, tmp_path: Path) -> None:
    hands = open_bench()
    number = hands.window.flow._desk.find("KO7-4410", NO_PROGRESS).hits[0].number
    path = tmp_path / "one.csv"
    path.write_text(f"No.;Bore mm;psi\n{number};55;2700\nZQ-1;19;2700\n")
    hands.press(_KEY.Key_R, CTRL | SHIFT)
    choose_in_dialog(hands, "read_supplier_dialog", path)
    hands.type(SUPPLIER)
    hands.press(_KEY.Key_Return)
    part_of(hands).sheet.focus_rows()
    hands.settle()
    assert offered(hands)[0] == f"{number} is already entry P-002, Bore diameter differs."
    assert offered(hands)[1].startswith("Bore diameter: the list says 55 ± ")
    assert offered(hands)[1].endswith("entered is 22.25 mm (0.876 in).")
    assert "Take the row as it is" in offered(hands)


def test_escape_goes_back_and_the_list_is_kept(open_bench: Open, path: Path) -> None:
    hands = on_rows(open_bench, path)
    give(hands, "19.05 mm")
    hands.press(_KEY.Key_Escape)
    assert hands.window.panes.isVisible()
    assert hands.window.message.text == (
        f"{NAME} is kept as it stands until another file is read; Ctrl+Shift+R goes on with it."
    )
    hands.press(_KEY.Key_R, CTRL | SHIFT)
    assert part_of(hands).is_shown
    assert hands.window.findChild(QFileDialog) is None
    assert counted(hands) == f"{_GOOD + 1} good, 2 need a look, 3 refused"


def test_a_refused_file_is_one_sentence_and_the_list_stays(open_bench: Open, path: Path, tmp_path: Path) -> None:
    hands = with_supplier(open_bench, path)
    bad = tmp_path / "none.csv"
    bad.write_bytes(b"")
    hands.press(_KEY.Key_R, CTRL | SHIFT)
    choose_in_dialog(hands, "read_supplier_dialog", bad)
    assert hands.window.message.text.startswith("“none.csv” is empty")
    assert counted(hands) == f"{_GOOD} good, 3 need a look, 3 refused"
    assert part_of(hands).sheet.details.take_button.isEnabled()


class _SlowDesk:
    """The real desk, but the look goes on until somebody stops it."""

    def __init__(self, desk: object) -> None:
        self._desk = desk
        self.stopped_after_s = -1.0
        self.began_at_s = 0.0

    def __getattr__(self, name: str) -> object:
        return getattr(self._desk, name)

    def read(self, _path: Path, progress: Progress, _how: HowToRead | None = None) -> RawFile:
        self.began_at_s = time.monotonic()
        try:
            for done in range(10_000_000):
                progress.step(done, 10_000_000)
        finally:
            self.stopped_after_s = time.monotonic() - self.began_at_s
        raise AssertionError("nobody stopped it")


def test_escape_stops_reading(open_bench: Open, path: Path, tmp_path: Path, qtbot: QtBot) -> None:
    hands = with_supplier(open_bench, path)
    part = part_of(hands)
    slow = _SlowDesk(part._desk)
    part._desk = slow  # type: ignore[assignment] # it hands everything else on
    part.read(messy_list(tmp_path, name="slow.csv"))
    qtbot.waitUntil(lambda: slow.began_at_s > 0)
    assert counted(hands) == "Reading slow.csv… Esc stops."
    assert not part.sheet.details.take_button.isEnabled()
    pressed_at_s = time.monotonic()
    qtbot.keyClick(QApplication.focusWidget(), _KEY.Key_Escape)
    hands.settle()
    print(f"\nstopped after {slow.began_at_s + slow.stopped_after_s - pressed_at_s:.3f} s")  # noqa: T201
    assert slow.stopped_after_s > 0
    assert part.is_shown
    assert hands.window.message.text == "Stopped. Nothing was changed."
    assert counted(hands) == f"{_GOOD} good, 3 need a look, 3 refused"
    assert part.sheet.details.take_button.isEnabled()


def test_a_change_that_is_stopped_leaves_what_is_shown(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    part = part_of(hands)
    before = part.looked
    part.sheet.details.about.kind_combo.setFocus()
    QTest.keyClick(part.sheet.details.about.kind_combo, _KEY.Key_Down)
    assert part.sheet.details.about.kind_combo.currentData() == SheetKind.ENGINES
    part.leave()
    hands.settle()
    assert part.looked is before
    assert part.sheet.details.about.kind_combo.currentData() == SheetKind.PUMPS
    part.say_how("sheet")
    hands.settle()
    after = part.looked
    assert after is not None
    assert (after.preview.said.columns.kind, after.preview.said.how) == (SheetKind.PUMPS, "sheet")


def test_after_the_last_answer_the_keys_are_in_the_rows(open_bench: Open, tmp_path: Path) -> None:
    path = tmp_path / "one.csv"
    path.write_text('No.;Bore mm;psi\nZQ-2;25,4;2700\nZQ-1;19,05";2700\n')
    hands = on_rows(open_bench, path)
    give(hands, "19.05 mm")
    assert counted(hands) == "2 good, 0 need a look, 0 refused"
    assert focus_name() == "supplier_rows_list"


def test_what_it_lists_and_how_it_is_known_are_chosen_by_arrow_keys(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    about = part_of(hands).sheet.details.about
    about.kind_combo.setFocus()
    hands.press(_KEY.Key_Down)
    looked = part_of(hands).looked
    assert looked is not None
    assert looked.preview.said.columns.kind is SheetKind.ENGINES
    about.how_combo.setFocus()
    hands.press(_KEY.Key_Down)
    looked = part_of(hands).looked
    assert looked is not None
    assert looked.preview.said.how == "sheet"
    words = f"List of petrol engines of {SUPPLIER}, the maker's own list."
    assert part_of(hands).sheet._whose.text() == words


def test_another_separator_reads_the_file_anew(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    about = part_of(hands).sheet.details.about
    about.separator_combo.setFocus()
    hands.press(_KEY.Key_Down)
    assert part_of(hands).sheet.read_as.startswith("Text, parted by comma, ")
    assert part_of(hands).sheet._whose.text() == f"List of pumps of {SUPPLIER}, claimed by a seller."


def test_a_letter_in_a_box_of_choices_chooses_nothing(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    about = part_of(hands).sheet.details.about
    about.kind_combo.setFocus()
    hands.press("e")
    assert about.kind_combo.currentData() == SheetKind.PUMPS


def test_only_f12_takes_the_rows(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    hands.press(_KEY.Key_F12)
    for key in (_KEY.Key_Return, _KEY.Key_Space, _KEY.Key_Tab, _KEY.Key_Return):
        hands.press(key)
    looked = part_of(hands).looked
    assert looked is not None
    assert looked.counts[Standing.KNOWN] == 0


def test_a_take_without_a_name_asks_for_one_and_keeps_the_question(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    hands.press(_KEY.Key_F12)
    assert hands.window.shelf is not None
    hands.window.shelf.bar.lines["who"].clear()
    hands.press(_KEY.Key_F12)
    assert hands.window.message.text == "Say who you are first."
    assert hands.window.shelf.bar.is_open
    assert not numbers_found(hands, "ZQ-001")


def test_a_number_entered_meanwhile_stops_the_take_and_the_list_is_looked_at_again(
    open_bench: Open, path: Path
) -> None:
    hands = with_supplier(open_bench, path)
    part = part_of(hands)
    hands.press(_KEY.Key_F12)
    assert part.looked is not None
    # Somebody else takes the same list while the question stands.
    part._desk.take(part.looked.preview, "Somebody else")
    hands.press(_KEY.Key_F12)
    assert hands.window.message.text == ("Nothing was taken: one of these numbers was entered meanwhile. Look again.")
    assert counted(hands) == f"0 good, 3 need a look, 3 refused, {_GOOD} entered already"


def test_rows_that_were_not_taken_are_saved_with_their_reasons(open_bench: Open, path: Path, tmp_path: Path) -> None:
    hands = with_supplier(open_bench, path)
    target = tmp_path / "back.csv"
    part_of(hands).sheet.details.refused_button.setFocus()
    hands.press(_KEY.Key_Space)
    choose_in_dialog(hands, "save_refused_dialog", target)
    assert hands.window.message.text == f"6 rows that were not taken are in {target}, each with its reasons."
    lines = target.read_text("utf-8-sig").splitlines()
    assert len(lines) == 7
    assert lines[-1].startswith('"22","needs a look"') or '"refused"' in lines[1]


def test_a_file_dropped_on_the_window_is_read(open_bench: Open, path: Path, tmp_path: Path) -> None:
    hands = open_bench()
    for dropped, is_taken in ((tmp_path / "photo.jpg", False), (path, True)):
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(dropped))])
        keys, buttons = Qt.KeyboardModifier.NoModifier, Qt.MouseButton.LeftButton
        enter = QDragEnterEvent(QPoint(5, 5), Qt.DropAction.CopyAction, data, buttons, keys)
        enter.ignore()
        hands.window.dragEnterEvent(enter)
        assert enter.isAccepted() == is_taken
        hands.window.dropEvent(QDropEvent(QPoint(5, 5), Qt.DropAction.CopyAction, data, buttons, keys))
        hands.settle()
    assert part_of(hands).is_shown
    assert counted(hands) == f"{_GOOD} good, 3 need a look, 3 refused"


def test_a_scan_over_the_sheet_changes_and_accepts_nothing(open_bench: Open, path: Path) -> None:
    hands = on_rows(open_bench, path)
    give(hands, "Type what is meant…")
    part, sheet = part_of(hands), part_of(hands).sheet
    hands.window.guard._clock = event_ms
    keyboard = Keyboard()
    looked = part.looked
    about, details = sheet.details.about, sheet.details
    pages = (
        (sheet.focus_rows, (sheet.rows, details.row.list, details.row.line, details.take_button)),
        (sheet.focus_rows, (sheet.columns_button, sheet.rows_button, details.refused_button, details.other_button)),
        (sheet.focus_columns, (sheet.columns, about.line, about.kind_combo, about.how_combo, about.separator_combo)),
        (sheet.focus_columns, (sheet.columns, about.headings_line, about.decimals_combo)),
        (sheet.focus_columns, (details.column.line, details.column.list, details.leave_button)),
    )
    for show, places in pages:
        show()
        for place in places:
            if place is details.column.line:
                sheet.columns.setCurrentIndex(sheet.columns.columns_model.index(4))
            place.setFocus()
            keyboard.type("4002 9123", gap_ms=8, end=_KEY.Key_Return)
            hands.settle()
            assert part.looked is looked, place.objectName()
            assert part.is_shown
            assert hands.window.shelf is not None
            assert not hands.window.shelf.bar.is_open
            assert hands.window.findChild(QFileDialog) is None
    assert about.headings_line.text() == "4-5"
    assert (about.line.text(), details.row.line.text(), details.column.line.text()) == (SUPPLIER, "", "")


def test_a_scan_into_the_bar_takes_nothing(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    hands.press(_KEY.Key_F12)
    hands.window.guard._clock = event_ms
    Keyboard().type("4002 9123", gap_ms=8, end=_KEY.Key_Return)
    hands.settle()
    assert not numbers_found(hands, "ZQ-001")
    assert hands.window.shelf is not None
    assert hands.window.shelf.bar.lines["who"].text() == "Ilvane"


def test_a_change_closes_the_question_whether_to_take(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    hands.press(_KEY.Key_F12)
    assert hands.window.shelf is not None
    assert hands.window.shelf.bar.is_open
    part_of(hands).say_how("sheet")
    hands.settle()
    assert not hands.window.shelf.bar.is_open


def test_every_place_has_a_name_and_a_paragraph_of_help(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    assert not unnamed(hands.window)
    names = [one.objectName() for one in controls(hands.window)]
    assert len(names) == len(set(names))
    combos = {one for one in SUPPLIER_HELP if one.endswith("_combo")}
    assert {one for one in names if one.startswith("supplier_")} | combos == set(SUPPLIER_HELP)


def test_f6_goes_round_columns_and_rows_with_what_is_chosen_of_each(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    seen = []
    for _ in range(4):
        hands.press(_KEY.Key_F6)
        seen.append(focus_name())
    assert seen == ["supplier_name_line", "supplier_rows_list", "supplier_answers_list", "supplier_columns_list"]
    hands.press(_KEY.Key_F6, SHIFT)
    assert focus_name() == "supplier_answers_list"


def test_tab_reaches_everything(open_bench: Open, path: Path) -> None:
    hands = with_supplier(open_bench, path)
    seen = [focus_name()]
    while True:
        hands.press(_KEY.Key_Tab)
        if focus_name() == seen[0]:
            break
        assert focus_name() not in seen, "a trap"
        seen.append(focus_name())
    assert {one for one in seen if one.startswith("supplier_")} == {
        *("supplier_columns_list", "supplier_columns_button", "supplier_name_line", "supplier_kind_combo"),
        *("supplier_how_combo", "supplier_separator_combo", "supplier_take_button", "supplier_refused_button"),
        *("supplier_headings_line", "supplier_decimals_combo"),
        *("supplier_other_button", "supplier_leave_button"),
    } | ({"supplier_rows_button"} & set(seen))


@pytest.mark.parametrize("percent", [100, 150, 200])
@pytest.mark.parametrize("asks", [False, True])
def test_nothing_is_cut_and_the_window_stays(
    open_bench: Open, path: Path, qtbot: QtBot, percent: int, *, asks: bool
) -> None:
    hands = open_bench()
    hands.window.memory.who = "Ilvane"
    hands.window.resize(1366, 690)
    hands.window.look.set_text_percent(percent)
    hands.press(_KEY.Key_R, CTRL | SHIFT)
    choose_in_dialog(hands, "read_supplier_dialog", path)
    hands.type(SUPPLIER)
    hands.press(_KEY.Key_Return)
    for _ in range(5):
        hands.press(_KEY.Key_F6)
        if asks:
            hands.press(_KEY.Key_F12)
        qtbot.waitUntil(lambda: not cut(hands, "supplier_"))
        assert (hands.window.width(), hands.window.height()) == (1366, 690)
        if asks:
            hands.press(_KEY.Key_Escape)


def test_ten_thousand_rows_are_laid_out_without_measuring_each(open_bench: Open, tmp_path: Path) -> None:
    hands = with_supplier(open_bench, messy_list(tmp_path, good=2_000))
    view = part_of(hands).sheet.rows
    assert view.uniformItemSizes()
    assert view.model().rowCount() > 1_900
    hands.press(_KEY.Key_F6)
    hands.press(_KEY.Key_F6)
    hands.press(_KEY.Key_End)
    assert view.currentIndex().row() == view.model().rowCount() - 1


def test_every_standing_has_its_own_word_and_sign(open_bench: Open, path: Path) -> None:
    for words in (STANDINGS, SIGNS):
        assert set(words) == set(Standing)
        assert len(set(words.values())) == len(Standing)
    hands = on_rows(open_bench, path)
    sheet = part_of(hands).sheet
    signs = []
    for standing in (Standing.LOOK, Standing.REFUSED, Standing.GOOD):
        place = next(number for number, one in enumerate(sheet.rows.rows_model.rows) if one.standing is standing)
        index = sheet.rows.model().index(place, 0)
        sheet.rows.scrollTo(index)
        sheet.rows.setCurrentIndex(sheet.rows.model().index(sheet.rows.model().rowCount() - 1, 0))
        sheet.rows.scrollTo(index)
        picture = sheet.rows.viewport().grab(sheet.rows.visualRect(index)).toImage()
        grey = picture.convertToFormat(QImage.Format.Format_Grayscale8)
        signs.append([grey.pixel(x, y) & 0xFF for y in range(4, 26) for x in range(6, 30)])
    for one in range(3):
        for other in range(one):
            strokes = sum(min(pixel, twin) < 200 for pixel, twin in zip(signs[one], signs[other], strict=True))
            differing = sum(abs(a - b) > 60 for a, b in zip(signs[one], signs[other], strict=True))
            assert differing > 0.2 * strokes, (one, other)
