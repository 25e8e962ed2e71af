"""Is it the pump, with the keyboard alone: what is asked, answered, given up, kept, cleared, and concluded."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QFontMetrics, QWheelEvent
from PySide6.QtWidgets import QApplication, QComboBox, QWidget

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.test_names import controls, unnamed
from tests.gui.test_scans import Keyboard
from tests.services.pump_cases import CLOGGED_WAND, PLATE, WAND_SWAPPED, WORN_PUMP, typed
from xref_app.core.diagnose.steps import step
from xref_app.core.diagnose.words import Try
from xref_app.gui.actions import Command
from xref_app.gui.help_bench import BENCH_HELP
from xref_app.gui.help_is_it import IS_IT_HELP
from xref_app.gui.help_shelf import SHELF_HELP
from xref_app.gui.help_texts import HELP
from xref_app.gui.is_it_part import IsItPart
from xref_app.gui.is_it_questions import QuestionRow
from xref_app.gui.scan_guard import event_ms
from xref_app.services.answers import Hit
from xref_app.services.is_it_the_pump import Caution, consider
from xref_app.services.pump_questions import questions

__all__ = ["open_bench"]

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
# A build of the sample with its engine and a pump whose plate is on record.
MACHINE = "M-001"
Open = Callable[[], Hands]


def part_of(hands: Hands) -> IsItPart:
    assert hands.window.is_it is not None
    return hands.window.is_it


def on_sheet(open_one: Open, *, machine: str = "") -> Hands:
    """Open the sheet, over the job of ``machine`` where one is named."""
    hands = open_one()
    if machine:
        hands.window.flow.use_machine(machine, machine)
        hands.settle()
    hands.press(Qt.Key.Key_D, CTRL | SHIFT)
    return hands


def asked_now() -> str:
    """Return the question that has the keys."""
    focus = QApplication.focusWidget()
    name = "" if focus is None else focus.objectName()
    return name.removeprefix("is_it_").removesuffix("_line").removesuffix("_choice")


def row_of(hands: Hands, question_id: str) -> QuestionRow:
    return part_of(hands).sheet.questions.rows[question_id]


def answer_by_keys(hands: Hands, text: str) -> None:
    """Answer the question that has the keys, as a person does, and go on."""
    question = questions()[asked_now()]
    if question.amount is not None:
        hands.type(text)
    else:
        for _ in range(1 + question.words.index(text)):
            hands.press(Qt.Key.Key_Right)
    hands.press(Qt.Key.Key_Return)


def walk(hands: Hands, known: Mapping[str, str]) -> list[str]:
    """Answer what is asked from ``known``, give up the rest, until nothing more is asked; return what was asked."""
    walked: list[str] = []
    while (name := asked_now()) not in walked:
        walked.append(name)
        if name in known:
            answer_by_keys(hands, known[name])
        else:
            hands.press(Qt.Key.Key_F4)
        if not said(hands).startswith("Cannot tell yet"):
            break
    return walked


def said(hands: Hands) -> str:
    return part_of(hands).sheet.answer.text()


def read(hands: Hands) -> str:
    return part_of(hands).sheet.reading.toPlainText()


# -- what it comes to


def test_a_clogged_wand_ends_as_not_the_pump(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    walked = walk(hands, {**CLOGGED_WAND, **WAND_SWAPPED})
    assert said(hands) == "Not the pump. Another wand, gun and hose cured it."
    assert walked[-1] == "tried_wand_and_hose"
    assert set(walked) > {"bucket_l", "bucket_s", "screen", "rated_rpm"}
    assert "Run it at work for a while" in read(hands)


def test_a_pump_that_loses_its_flow_inside_ends_as_the_pump(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    walk(hands, WORN_PUMP)
    assert said(hands).startswith("It is the pump. The water is there")
    text = read(hands)
    assert "Price its valves and seals" in text
    assert "pump valves worn or stuck (in the pump)" in text
    assert "Delivered: 9.70 to 10.30 L in 109.50 to 110.50 s, times 60 s/min" in text


def test_too_little_evidence_ends_as_cannot_tell_yet(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    walk(hands, {"does_low_pressure": "yes", "leak": "nowhere", **PLATE})
    assert said(hands).startswith("Cannot tell yet. Nothing shows the pump bad")
    assert "Open the pump by its maker's manual" in read(hands)


def test_nothing_typed_asks_the_cheapest_question_first(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    assert asked_now() == next(iter(questions()))
    assert "Look for water at hose, gun, supply joint" in read(hands)
    assert "About 1 to 3 minutes" in read(hands)
    assert row_of(hands, "leak").label.text() == "▸ Water comes out at"
    assert "next thing to try" in row_of(hands, "leak").field.accessibleDescription()


# -- the keys


def test_every_question_is_reached_with_down_and_the_first_again_with_up(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    seen = [asked_now()]
    for _ in range(len(questions()) - 1):
        hands.press(Qt.Key.Key_Down)
        seen.append(asked_now())
    assert seen == list(questions())
    hands.press(Qt.Key.Key_Up)
    assert asked_now() == seen[-2]
    area = part_of(hands).sheet.questions
    assert area.rect().contains(row_of(hands, seen[-2]).field.mapTo(area, QPoint(0, 0)))


def test_left_and_right_choose_and_no_other_key_does(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    field = row_of(hands, "does_low_pressure").field
    assert isinstance(field, QComboBox)
    for key in ("n", "y", "1", " ", Qt.Key.Key_PageDown, Qt.Key.Key_Home):
        hands.press(key)
        assert (field.currentText(), asked_now()) == ("? not known", "does_low_pressure")
    for key, word in ((Qt.Key.Key_Right, "yes"), (Qt.Key.Key_Right, "no"), (Qt.Key.Key_Left, "yes")):
        hands.press(key)
        assert field.currentText() == word
        assert part_of(hands).answers.answer("does_low_pressure").text == word
    hands.press(Qt.Key.Key_Left)
    hands.press(Qt.Key.Key_Left)
    assert part_of(hands).answers.is_empty


def test_the_wheel_scrolls_and_chooses_nothing(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    field = row_of(hands, "does_low_pressure").field
    spot = QPointF(5, 5)
    turn = QWheelEvent(
        spot,
        QPointF(field.mapToGlobal(QPoint(5, 5))),
        QPoint(),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(field, turn)
    assert part_of(hands).answers.is_empty


def test_f4_gives_up_and_goes_on_and_arrows_take_it_back(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    part_of(hands).sheet.focus_question("leak")
    hands.press(Qt.Key.Key_F4)
    assert part_of(hands).answers.answer("leak").cannot_say
    assert asked_now() == "low_pressure_nozzle"
    field = row_of(hands, "leak").field
    assert isinstance(field, QComboBox)
    assert field.currentText() == "cannot say"
    part_of(hands).sheet.focus_question("leak")
    hands.press(Qt.Key.Key_Left)
    assert not part_of(hands).answers.answer("leak").cannot_say


def test_f4_means_the_sheet_only_while_it_is_in_front(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    action = hands.window.actions_by_command[Command.CANNOT_REACH]
    assert action.isEnabled()
    hands.press(Qt.Key.Key_Escape)
    assert not action.isEnabled()
    hands.press(Qt.Key.Key_P, CTRL | SHIFT)
    assert action.isEnabled()
    hands.press(Qt.Key.Key_F4)
    assert part_of(hands).answers.is_empty


def test_f6_goes_to_the_reading_and_back_to_the_question(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_F6)
    assert part_of(hands).sheet.reading.hasFocus()
    hands.press(Qt.Key.Key_F6)
    assert asked_now() == "does_no_pressure"


def test_a_scan_over_the_sheet_answers_nothing(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    hands.window.guard._clock = event_ms
    keyboard = Keyboard()
    part_of(hands).sheet.questions.written.emit("bucket_l", "10 L")
    before = part_of(hands).answers
    for name in ("bucket_l", "bucket_s", "leak", "does_noisy", "rated_bar", "tried_screen"):
        part_of(hands).sheet.focus_question(name)
        keyboard.type("40029123", gap_ms=8, end=Qt.Key.Key_Return)
        hands.settle()
        assert part_of(hands).answers == before, name
    assert hands.window.entry.line.text() == "40029123"


# -- bad input


def test_bad_input_is_told_once_it_is_typed_and_kept(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    part_of(hands).sheet.focus_question("bucket_l")
    row = row_of(hands, "bucket_l")
    hands.type("10")
    assert row.trouble.isHidden()
    hands.press(Qt.Key.Key_Return)
    assert asked_now() == "bucket_l"
    assert row.trouble.text() == "“10” is not a volume with a unit. Write it like 10 L or 5 gal."
    assert row.trouble.text() in row.field.accessibleDescription()
    hands.type(" L")
    assert row.note.text() == "read as 9.7 to 10.3 L (2.56 to 2.72 gal)"
    hands.press(Qt.Key.Key_Return)
    assert row.trouble.isHidden()
    assert asked_now() != "bucket_l"


# -- kept, cleared, prefilled


def test_esc_leaves_and_what_was_typed_is_kept_for_the_job(open_bench: Open) -> None:
    hands = on_sheet(open_bench, machine=MACHINE)
    part_of(hands).sheet.focus_question("bucket_s")
    hands.type("62")
    hands.press(Qt.Key.Key_Escape)
    assert not part_of(hands).is_shown
    assert hands.window.panes.isVisible()
    hands.press(Qt.Key.Key_N, CTRL)
    hands.press(Qt.Key.Key_D, CTRL | SHIFT)
    assert part_of(hands).answers.is_empty
    assert row_of(hands, "bucket_s").field.property("text") == ""
    hands.press(Qt.Key.Key_Escape)
    hands.press(Qt.Key.Key_Tab, CTRL)
    hands.press(Qt.Key.Key_D, CTRL | SHIFT)
    assert row_of(hands, "bucket_s").field.property("text") == "62"


def test_a_second_machine_begins_with_no_answers_of_the_first(open_bench: Open) -> None:
    hands = on_sheet(open_bench, machine=MACHINE)
    hands.press(Qt.Key.Key_Right)
    hands.press(Qt.Key.Key_Escape)
    hands.window.flow.take(Hit("M-002", "machine", "M-002", "", "", (), (), 100.0))
    hands.settle()
    hands.press(Qt.Key.Key_D, CTRL | SHIFT)
    assert part_of(hands).answers.is_empty


def test_clear_empties_and_brings_back(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    part_of(hands).sheet.focus_question("gauge_bar")
    hands.type("150 bar")
    hands.press(Qt.Key.Key_A, CTRL | SHIFT)
    assert row_of(hands, "gauge_bar").field.property("text") == ""
    assert hands.window.message.text == "Cleared. Ctrl+Shift+A again brings it back."
    hands.press(Qt.Key.Key_A, CTRL | SHIFT)
    assert row_of(hands, "gauge_bar").field.property("text") == "150 bar"
    hands.press(Qt.Key.Key_Escape)
    hands.press(Qt.Key.Key_A, CTRL | SHIFT)
    assert part_of(hands).answers.answer("gauge_bar").text == "150 bar"


def test_what_was_cleared_in_one_job_is_not_brought_back_into_another(open_bench: Open) -> None:
    hands = on_sheet(open_bench, machine=MACHINE)
    hands.press(Qt.Key.Key_Right)
    hands.press(Qt.Key.Key_A, CTRL | SHIFT)
    hands.press(Qt.Key.Key_Escape)
    hands.window.flow.take(Hit("M-002", "machine", "M-002", "", "", (), (), 100.0))
    hands.settle()
    hands.press(Qt.Key.Key_D, CTRL | SHIFT)
    hands.press(Qt.Key.Key_A, CTRL | SHIFT)
    assert part_of(hands).answers.is_empty
    assert hands.window.message.text == "Nothing is answered yet."


def test_what_the_job_tells_stands_below_its_question_and_typing_goes_before_it(open_bench: Open) -> None:
    hands = on_sheet(open_bench, machine=MACHINE)
    note = row_of(hands, "rated_lpm").note
    assert note.text().startswith("known: 9.")
    assert "sheet" in note.text() or "plate" in note.text()
    assert "Told by the catalog, not read here: Plate: flow 9." in read(hands)
    part_of(hands).sheet.focus_question("rated_lpm")
    hands.type("3 gpm")
    assert "Told by the catalog, not read here: Plate: pressure" in read(hands)
    assert note.text() == "read as 11.36 lpm (3 gpm)"
    for _ in range(5):
        hands.press(Qt.Key.Key_Backspace)
    assert note.text().startswith("known: 9.")


# -- seen and heard


def test_all_cautions_of_every_step_are_seen_without_scrolling(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    hands.window.resize(1366, 768)
    hands.settle()
    sheet, view = part_of(hands).sheet, consider(typed({}))
    for what in Try:
        one = step(what)
        cautions = tuple(Caution(said, f"source {place}") for place, said in enumerate(one.cautions))
        sheet.reading.show_view(replace(view, diagnosis=replace(view.diagnosis, next_step=one), cautions=cautions))
        cursor = sheet.reading.document().find(f"[source {len(cautions) - 1}]")
        assert not cursor.isNull()
        assert sheet.reading.viewport().rect().contains(sheet.reading.cursorRect(cursor)), what


@pytest.mark.parametrize("percent", [100, 150, 200])
def test_nothing_is_cut_off(open_bench: Open, percent: int) -> None:
    hands = on_sheet(open_bench, machine=MACHINE)
    hands.window.resize(1366, 768)
    hands.window.look.set_text_percent(percent)
    for name, text in WORN_PUMP.items():
        part_of(hands).sheet.questions.written.emit(name, text)
    for _ in range(5):
        QApplication.processEvents()
    for row in part_of(hands).sheet.questions.rows.values():
        for label in (row.label, row.note, row.trouble):
            if not label.isHidden():
                assert label.heightForWidth(label.width()) <= label.height(), label.objectName()
                assert QFontMetrics(label.font()).horizontalAdvance(label.text().split()[0]) <= label.width()
        assert row.field.width() >= row.field.minimumSizeHint().width(), row.field.objectName()
        inside = row.geometry().adjusted(0, 0, 1, 1)
        assert inside.width() >= row.field.geometry().right(), row.field.objectName()
    assert hands.window.width() == 1366


def test_every_place_of_the_sheet_has_a_name_and_a_paragraph_of_help(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    fields: list[QWidget] = [row.field for row in part_of(hands).sheet.questions.rows.values()]
    assert not [one.objectName() for one in fields if not one.accessibleName() or one.objectName().count("_") < 2]
    assert not unnamed(hands.window)
    places = {one.objectName() for one in (*fields, *controls(hands.window)) if one.objectName().startswith("is_it_")}
    dropped = {f"{one.objectName()}_list" for one in fields}
    assert set(IS_IT_HELP) == places - dropped
    assert not set(IS_IT_HELP) & {*HELP, *BENCH_HELP, *SHELF_HELP}
