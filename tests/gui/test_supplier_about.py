"""What is said of a supplier's list as a whole, by keys: in which rows its headings stand, and its decimal mark."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.supplier_for_tests import SUPPLIER, messy_list
from tests.gui.test_supplier_sheet import (
    choose_in_dialog,
    column_words,
    counted,
    focus_name,
    give,
    offered,
    part_of,
    row_number,
    say_column,
    with_supplier,
)
from tests.gui.test_what_happened import CTRL, SHIFT
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_decimals import Decimals

__all__ = ["open_bench"]

Open = Callable[[], Hands]
_KEY = Qt.Key
_HEADINGS, _MARK = "supplier_headings_line", "supplier_decimals_combo"
WRONG = "Pump;Maker;Name\nBore mm;psi;l/min;Note\nNo.;Shaft mm;psi;x\nZQ-1;19,05;2700;a\nZQ-2;25,4;3000;b\n"
MIXED = 'No.;Bore mm;l/min\nZQ-1;19,05;10,5\nZQ-2;19.05;10.5\nZQ-3;25,400;10,500\nZQ-4;19,05";9\nZQ-5;25,400;9\n'


def opened(open_one: Open, folder: Path, text: str, name: str = "list.csv") -> Hands:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return with_supplier(open_one, path)


def go_to(hands: Hands, name: str) -> None:
    """Go to the whole list and by Tab to one of its fields."""
    part_of(hands).sheet.focus_columns()
    hands.press(_KEY.Key_Home)
    hands.press(_KEY.Key_F6)
    assert focus_name() == "supplier_name_line"
    for _ in range(12):
        if focus_name() == name:
            return
        hands.press(_KEY.Key_Tab)
    raise AssertionError(f"Tab does not reach {name}")


def say_rows(hands: Hands, text: str) -> None:
    """Type in which rows the headings stand, instead of what stands there, and press Enter."""
    go_to(hands, _HEADINGS)
    hands.press(_KEY.Key_A, CTRL)
    hands.type(text)
    hands.press(_KEY.Key_Return)


def columns_words(hands: Hands, count: int) -> list[str]:
    return [column_words(hands, one).partition(", “")[0].partition(": ")[2] for one in range(1, count + 1)]


def take(hands: Hands) -> None:
    hands.press(_KEY.Key_F12)
    hands.press(_KEY.Key_F12)
    assert hands.window.message.text.startswith("Taken: "), hands.window.message.text


def read_next(hands: Hands, path: Path) -> None:
    hands.press(_KEY.Key_R, CTRL | SHIFT)
    choose_in_dialog(hands, "read_supplier_dialog", path)
    hands.type(SUPPLIER)
    hands.press(_KEY.Key_Return)


def test_the_rows_of_the_headings_are_said_by_keys_and_come_up_with_the_next_list(
    open_bench: Open, tmp_path: Path
) -> None:
    hands = opened(open_bench, tmp_path, WRONG)
    about = part_of(hands).sheet.details.about
    assert about.headings_line.text() == "2"
    say_rows(hands, "3")
    assert focus_name() == _HEADINGS
    assert about.headings_line.text() == "3"
    assert "Headings in row 3." in part_of(hands).sheet.read_as
    assert columns_words(hands, 4) == [
        "No.: Number",
        "Shaft mm: Bore diameter (mm)",
        "psi: Rated pressure (psi)",
        "x: left out",
    ]
    assert counted(hands) == "2 good, 0 need a look, 0 refused"
    say_column(hands, 4, "Note", typed="note")
    take(hands)
    (tmp_path / "next.csv").write_text(WRONG + "ZQ-3;28,5;3000;c\n")
    read_next(hands, tmp_path / "next.csv")
    assert about.headings_line.text() == "3"
    assert columns_words(hands, 4)[3] == "x: Note"
    assert counted(hands) == "1 good, 0 need a look, 0 refused, 2 entered already"


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("5-4", "Rows 5 to 4 stand the wrong way round: say the upper one first."),
        ("4-99", "There is no row 99: this sheet has rows 1 to 36; say rows among these."),
        ("0", "There is no row 0: this sheet has rows 1 to 36; say rows among these."),
        ("top", "“top” names no rows: say in which rows the headings stand, like 4 or 4-5, or none."),
    ],
)
def test_what_names_no_rows_is_one_sentence_and_changes_nothing(
    open_bench: Open, tmp_path: Path, typed: str, sentence: str
) -> None:
    hands = with_supplier(open_bench, messy_list(tmp_path))
    before = part_of(hands).looked
    say_rows(hands, typed)
    assert hands.window.message.text == sentence
    assert part_of(hands).looked is before
    # What was typed can be corrected; once the line is left it shows what counts.
    assert part_of(hands).sheet.details.about.headings_line.text() == typed
    hands.press(_KEY.Key_Tab)
    assert part_of(hands).sheet.details.about.headings_line.text() == "4-5"
    assert part_of(hands).looked is before


def test_rows_typed_count_as_soon_as_the_line_is_left(open_bench: Open, tmp_path: Path) -> None:
    hands = opened(open_bench, tmp_path, WRONG)
    go_to(hands, _HEADINGS)
    hands.press(_KEY.Key_A, CTRL)
    hands.type("3 to 3")
    hands.press(_KEY.Key_Tab)
    assert focus_name() == _MARK
    assert part_of(hands).sheet.details.about.headings_line.text() == "3"
    assert column_words(hands, 1).startswith("Column 1: No.: Number")


def test_that_there_are_no_headings_is_said_and_taken_back(open_bench: Open, tmp_path: Path) -> None:
    hands = with_supplier(open_bench, messy_list(tmp_path))
    say_rows(hands, "NONE")
    about = part_of(hands).sheet.details.about
    assert about.headings_line.text() == "none"
    assert "No headings." in part_of(hands).sheet.read_as
    assert columns_words(hands, 2) == ["left out", "left out"]
    say_rows(hands, "4-5")
    assert counted(hands) == "25 good, 3 need a look, 3 refused"
    assert columns_words(hands, 1) == ["Part No.: Number"]


def test_another_kind_keeps_rows_and_mark(open_bench: Open, tmp_path: Path) -> None:
    hands = opened(open_bench, tmp_path, WRONG)
    say_rows(hands, "3")
    go_to(hands, _MARK)
    hands.press(_KEY.Key_Down)
    go_to(hands, "supplier_kind_combo")
    hands.press(_KEY.Key_Down)
    looked = part_of(hands).looked
    assert looked is not None
    columns = looked.preview.said.columns
    assert (columns.kind, columns.headings_from, columns.decimals) == (SheetKind.ENGINES, 2, Decimals.COMMA)


def test_the_decimal_mark_is_said_by_keys_and_comes_up_with_the_next_list(open_bench: Open, tmp_path: Path) -> None:
    hands = opened(open_bench, tmp_path, MIXED)
    assert counted(hands) == "2 good, 3 need a look, 0 refused"
    assert "decimal" not in part_of(hands).sheet.read_as
    go_to(hands, _MARK)
    hands.press(_KEY.Key_Down)
    assert "Numbers with a decimal comma, as was said." in part_of(hands).sheet.read_as
    assert counted(hands) == "3 good, 2 need a look, 0 refused"
    hands.press(_KEY.Key_F6)
    assert row_number(hands) == "ZQ-2"
    give(hands, "19.05 mm")
    assert offered(hands)[:2] == [
        "Rated flow “10.5” is not written with the decimal mark of this list. Is this meant?",
        "10.5 lpm",
    ]
    give(hands, "10.5 lpm")
    # An inch mark with a comma is asked about as before.
    assert row_number(hands) == "ZQ-4"
    assert offered(hands)[:3] == [
        'Bore diameter “19,05"”: an inch mark and a decimal comma. Which is meant?',
        "19.05 in",
        "19.05 mm",
    ]
    assert counted(hands) == "4 good, 1 needs a look, 0 refused"
    take(hands)
    (tmp_path / "next.csv").write_text("No.;Bore mm;l/min\nZQ-7;25,400;10,500\n")
    read_next(hands, tmp_path / "next.csv")
    assert part_of(hands).sheet.details.about.decimals_combo.currentData() == Decimals.COMMA
    assert counted(hands) == "1 good, 0 need a look, 0 refused"
    (tmp_path / "other.csv").write_text("No.;Bore mm;l/min\nZQ-8;25.4;10,500\n")
    read_next(hands, tmp_path / "other.csv")
    assert part_of(hands).sheet.details.about.decimals_combo.currentData() == Decimals.UNTOLD


def test_as_it_seems_takes_back_what_was_said(open_bench: Open, tmp_path: Path) -> None:
    hands = opened(open_bench, tmp_path, MIXED)
    before = counted(hands)
    go_to(hands, _MARK)
    hands.press(_KEY.Key_Down)
    hands.press(_KEY.Key_Down)
    assert "Numbers with a decimal point, as was said." in part_of(hands).sheet.read_as
    hands.press(_KEY.Key_Up)
    hands.press(_KEY.Key_Up)
    assert (counted(hands), focus_name()) == (before, _MARK)


def test_another_separator_keeps_the_mark(open_bench: Open, tmp_path: Path) -> None:
    hands = opened(open_bench, tmp_path, MIXED)
    go_to(hands, _MARK)
    hands.press(_KEY.Key_Down)
    go_to(hands, "supplier_separator_combo")
    hands.press(_KEY.Key_Down)
    assert part_of(hands).sheet.details.about.decimals_combo.currentData() == Decimals.COMMA
