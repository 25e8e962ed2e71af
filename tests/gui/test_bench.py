"""A pump measured, entered, taken back and settled with the keyboard alone, over the sample catalog."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QImage
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.test_names import controls, unnamed
from xref_app.core.fields.fields import all_fields
from xref_app.gui.actions import Command
from xref_app.gui.help_all import ALL_HELP
from xref_app.gui.help_bench import BENCH_HELP
from xref_app.gui.main_window import MainWindow
from xref_app.services.bench import LineState
from xref_app.services.unit_draft import Heading

__all__ = ["open_bench"]

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
# What is typed for each field that the card may ask: eight sizes are measured, all else cannot be reached.
ANSWERS = {
    "bore_form": "hollow k",
    "bore_diameter_mm": "19.06",
    "bore_keyway_width_mm": "4.8",
    "bore_depth_mm": "64.8",
    "flange_hole_mm": "8.7",
    "flange_thickness_mm": "12.1",
    "flange_seat_kind": "flat",
    "bore_axis": "horiz",
}
Open = Callable[[], Hands]


def focus_name() -> str:
    focus = QApplication.focusWidget()
    return "" if focus is None else focus.objectName()


def asked_field(hands: Hands) -> str:
    session = hands.bench.sheet.card.session
    return "" if session is None else session.card.field.field_id


def label(window: MainWindow, name: str) -> str:
    found = window.findChild(QLabel, name)
    assert isinstance(found, QLabel)
    return found.text()


def states(hands: Hands) -> dict[str, LineState]:
    rows = hands.bench.sheet.lines.rows
    return {row.field.field_id: row.state for row in rows if row.state is not LineState.BLANK}


def measure_depth(hands: Hands) -> None:
    """Begin a pump on the bench and take one size of it."""
    hands.press(Qt.Key.Key_F7)
    hands.bench.sheet.ask("bore_depth_mm")
    hands.type("64.8")
    hands.press(Qt.Key.Key_Return)


def measure_everything(hands: Hands) -> None:
    """Answer each question of the card, F4 for what cannot be reached, until eight sizes are read."""
    for _ in range(len(all_fields())):
        if sum(1 for state in states(hands).values() if state is LineState.READ) == len(ANSWERS):
            return
        answer = ANSWERS.get(asked_field(hands))
        if answer is None:
            hands.press(Qt.Key.Key_F4)
        else:
            hands.type(answer)
            hands.press(Qt.Key.Key_Return)


def test_a_whole_entry_of_eight_sizes_by_keyboard(open_bench: Open) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_F7)
    measure_everything(hands)
    hands.press(Qt.Key.Key_F6, SHIFT)
    assert focus_name() == "unit_number_line"
    hands.type("ZX77")
    for _ in range(4):
        hands.press(Qt.Key.Key_Tab)
    assert focus_name() == "unit_who_line"
    hands.type("Ana")
    hands.press(Qt.Key.Key_S, CTRL)
    assert not hands.bench.is_on_bench
    assert "Saved: ZX77" in hands.window.message.text
    assert [fact.label for fact in hands.window.flow.facts] == ["ZX77"]  # the measured pump is the one coming off
    typed = sum(len(answer) for answer in ANSWERS.values())
    print(f"\neight sizes entered and saved with {hands.keys} keys, {typed} of them the sizes themselves")  # noqa: T201
    assert hands.keys <= 100


def test_the_next_key_after_an_answer_belongs_to_the_next_question(open_bench: Open, qtbot: QtBot) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_F7)
    hands.bench.sheet.ask("bore_depth_mm")
    line = hands.bench.sheet.card.line
    qtbot.keyClicks(line, "64.8")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    qtbot.keyClicks(line, "12")  # no waiting: the draft is still on its way to the disk
    hands.settle()
    assert line.text() == "12"
    assert states(hands)["bore_depth_mm"] is LineState.READ
    assert asked_field(hands) != "bore_depth_mm"


def test_inch_or_mm_is_chosen_with_down_and_enter(open_bench: Open) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_F7)
    hands.bench.sheet.ask("bore_diameter_mm")
    hands.type(".75")
    hands.press(Qt.Key.Key_Return)
    assert "Inch or mm?" in label(hands.window, "card_reads_label")
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    row = next(one for one in hands.bench.sheet.lines.rows if one.field.field_id == "bore_diameter_mm")
    assert (row.state, row.shown) == (LineState.READ, "19.05 ± 0.1 mm = 3/4 in")


def test_the_windows_keys_work_while_one_types_a_reading(open_bench: Open) -> None:
    """Ctrl+U, Ctrl+E and Ctrl+D edit the line on some systems; here they are the window's."""
    hands = open_bench()
    hands.press(Qt.Key.Key_F7)
    hands.bench.sheet.ask("bore_diameter_mm")
    hands.type(".751")
    hands.press(Qt.Key.Key_U, CTRL)
    assert hands.window.entry.unit.text() == "inch first"
    assert hands.bench.sheet.card.line.text() == ".751"
    assert label(hands.window, "card_reads_label") == "= 19.075 ± 0.1 mm = 0.751 in"
    hands.press(Qt.Key.Key_Z, CTRL)  # typing that can be taken back stays the field's own
    assert hands.bench.sheet.card.line.text() != ".751"
    assert hands.bench.flow.draft is not None


def test_several_readings_are_taken_with_shift_enter(open_bench: Open) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_F7)
    hands.bench.sheet.ask("bore_diameter_mm")
    hands.type("19.04")
    hands.press(Qt.Key.Key_Return, SHIFT)
    hands.type("19.06")
    assert label(hands.window, "card_reads_label").startswith("1 taken. = 19.05 ± 0.11 mm")
    hands.press(Qt.Key.Key_Return)
    assert hands.bench.flow.draft is not None
    assert hands.bench.flow.draft.written["bore_diameter_mm"].texts == ("19.04", "19.06")


def test_shift_enter_goes_one_step_back_on_a_card_of_many_steps(open_bench: Open) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_F7)
    hands.bench.sheet.ask("flange_holes_xy_mm")
    for text in ("4", "all", "all"):
        hands.type(text)
        hands.press(Qt.Key.Key_Return)
    hands.type("2 7/8")
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_Return, SHIFT)
    assert label(hands.window, "card_title_label") == "Bolt holes of the pump: outer edges"
    assert hands.bench.sheet.card.line.text() == "2 7/8"


def test_a_draft_outlives_the_window_and_its_steps_are_taken_back_by_name(open_bench: Open) -> None:
    hands = open_bench()
    measure_depth(hands)
    hands.window.close()

    again = open_bench()
    assert "1 unfinished entry kept" in again.window.message.text
    again.press(Qt.Key.Key_N, CTRL | SHIFT)
    assert states(again) == {"bore_depth_mm": LineState.READ}
    undo = again.window.actions_by_command[Command.UNDO]
    assert undo.text().replace("&", "") == "Undo Bore depth"
    again.press(Qt.Key.Key_Z, CTRL)
    assert states(again) == {}
    assert again.window.actions_by_command[Command.REDO].text().replace("&", "") == "Redo Bore depth"
    again.press(Qt.Key.Key_Y, CTRL)
    assert states(again) == {"bore_depth_mm": LineState.READ}


def test_a_saved_entry_is_taken_back_and_done_again_from_the_work_sheet(open_bench: Open) -> None:
    hands = open_bench()
    measure_depth(hands)
    hands.bench.flow.set_who("Ana")
    hands.bench.sheet.unit.headings[Heading.NUMBER].setFocus()
    hands.type("ZX77")
    hands.press(Qt.Key.Key_S, CTRL)
    hands.press(Qt.Key.Key_Z, CTRL)
    assert hands.window.message.text == "Taken back: ZX77 entered."
    assert hands.window.flow.facts == ()  # the job does not go on about a pump that is there no more
    hands.press(Qt.Key.Key_Y, CTRL)
    assert hands.window.message.text == "Done again: ZX77 entered."


def test_a_number_that_is_entered_already_is_saved_only_when_asked_twice(open_bench: Open) -> None:
    hands = open_bench()
    measure_depth(hands)
    hands.bench.flow.set_who("Ana")
    hands.bench.sheet.unit.headings[Heading.NUMBER].setFocus()
    hands.type("K07-4410")
    hands.press(Qt.Key.Key_S, CTRL)
    assert hands.bench.is_on_bench
    assert hands.window.message.text.startswith("Not saved yet: it may be K07-4410")
    hands.press(Qt.Key.Key_S, CTRL)
    assert "Saved: K07-4410" in hands.window.message.text


def test_f7_in_a_job_measures_what_was_asked_and_the_verdicts_follow(open_bench: Open) -> None:
    hands = open_bench()
    open_machine(hands)
    assert hands.window.panes.candidates.view.model().rowCount() > 0
    hands.press(Qt.Key.Key_F7)
    assert hands.bench.is_on_bench
    draft = hands.bench.flow.draft
    assert draft is not None
    assert draft.entry_id
    assert asked_field(hands)
    hands.press(Qt.Key.Key_Escape)
    assert not hands.bench.is_on_bench


def test_a_guessed_number_is_confirmed_by_measuring_one_size(open_bench: Open) -> None:
    hands = open_bench()
    hands.window.entry.line.setFocus()
    hands.window.entry.line.setText("K?7-4410")
    hands.window.flow.find("K?7-4410")
    hands.settle()
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    assert hands.window.flow.facts[0].is_guessed
    pump = hands.window.flow.facts[0].entry_id
    hands.press(Qt.Key.Key_F7)
    assert asked_field(hands) == "bore_diameter_mm"
    assert hands.bench.flow.draft is not None
    assert hands.bench.flow.draft.entry_id == pump
    known = next(one for one in hands.bench.sheet.lines.rows if one.field.field_id == "bore_diameter_mm").known
    number = re.match(r"[\d.]+", known)
    assert number is not None
    hands.type(number.group())
    hands.press(Qt.Key.Key_Return)
    hands.bench.flow.set_who("Ana")
    hands.press(Qt.Key.Key_S, CTRL)
    assert [(fact.entry_id, fact.is_guessed) for fact in hands.window.flow.facts] == [(pump, False)]


def open_machine(hands: Hands) -> None:
    """Open the job of the sample's machine, its first build."""
    hands.window.entry.take_scan("FL-42H3")
    hands.settle()
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)


def contradict(hands: Hands, field: str, text: str) -> None:
    """Open the job of the sample's machine and measure one of its sizes otherwise than the catalog says."""
    open_machine(hands)
    hands.bench.flow.set_who("Ana")
    hands.bench.begin_readings(hands.window.flow.facts[0].entry_id, field)
    hands.settle()
    hands.type(text)
    hands.press(Qt.Key.Key_Return)
    line = next(one for one in hands.bench.sheet.lines.rows if one.field.field_id == field)
    assert line.state is LineState.DIFFERS
    hands.press(Qt.Key.Key_S, CTRL)


def test_two_versions_are_judged_side_by_side_and_settled_with_a_reason(open_bench: Open) -> None:
    hands = open_bench()
    contradict(hands, "shaft_projection_mm", "30")
    hands.press(Qt.Key.Key_B, CTRL)
    sheet = hands.bench.versions
    assert hands.bench.is_on_versions
    assert sheet.versions is not None
    assert len(sheet.versions.rows) == 2
    assert QApplication.focusWidget() is sheet.list
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Tab)
    hands.press(Qt.Key.Key_Tab)
    hands.press(Qt.Key.Key_Space)
    assert label(hands.window, "versions_trouble_label") == "Say why it is right: the reason goes into the record."
    sheet.reason.setFocus()
    hands.type("chips lay on the face")
    hands.press(Qt.Key.Key_Tab)
    hands.press(Qt.Key.Key_Space)
    assert not hands.bench.is_on_versions
    assert "the other version stays in the record" in hands.window.message.text
    hands.press(Qt.Key.Key_B, CTRL)
    assert hands.window.message.text == "Nothing known of this machine comes in two versions."


def test_photos_are_dropped_onto_the_sheet(open_bench: Open, tmp_path: Path) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_F7)
    picture = tmp_path / "plate.png"
    image = QImage(40, 30, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.gray)
    assert image.save(str(picture))
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(picture)), QUrl.fromLocalFile(str(tmp_path / "shop.sqlite"))])
    drop = QDropEvent(
        QPointF(5, 5), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    )
    hands.bench.sheet.unit.dropEvent(drop)
    hands.settle()
    assert label(hands.window, "unit_photos_label") == "Photos: 1. Drop files here."
    assert "shop.sqlite" in hands.window.message.text  # the other file is refused in one sentence, the photo stays


def test_without_a_store_to_write_the_keys_say_so(open_bench: Open, qtbot: QtBot) -> None:
    hands = open_bench()
    assert hands.window.actions_by_command[Command.SAVE_ENTRY].isEnabled() is False
    hands.press(Qt.Key.Key_F7)
    assert hands.window.actions_by_command[Command.SAVE_ENTRY].isEnabled()
    button = hands.window.findChild(QPushButton, "unit_discard_button")
    assert isinstance(button, QPushButton)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    hands.settle()
    assert not hands.bench.is_on_bench


def test_every_place_of_the_bench_has_a_name_and_a_paragraph_of_help(open_bench: Open) -> None:
    hands = open_bench()
    assert not unnamed(hands.window)
    names = [widget.objectName() for widget in controls(hands.window)]
    assert len(names) == len(set(names))
    popups = {"card_tool_list", "card_how_list", *(name for name in names if name.endswith("_choice_list"))}
    assert set(names) - popups - {"entry_hits_list"} <= set(ALL_HELP)
    assert set(BENCH_HELP) - {"card_tool_combo", "card_how_combo"} <= set(names)
