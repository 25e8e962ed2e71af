"""What happened, with the keyboard alone: written with the sizes blamed, judged anew, and taken back."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.conftest import Open as OpenWindow
from tests.gui.test_names import controls, unnamed
from tests.gui.test_scans import Keyboard
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.words import Result
from xref_app.gui.actions import Command
from xref_app.gui.happened_part import HappenedPart
from xref_app.gui.help_records import RECORDS_HELP
from xref_app.gui.scan_guard import event_ms
from xref_app.services.answers import Candidate, FactState
from xref_app.services.health_lines import HealthLine, LineKind
from xref_app.services.what_happened import BlameableSize

__all__ = ["open_bench"]

Open = Callable[[], Hands]
# A build of the sample on which P-002 fits with three spacers.
MACHINE, PUMP = "FL-54C3", "P-002"
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
# The row of each result in the list; the first is that nobody has said it yet.
ROW = {result: place for place, result in enumerate(Result, start=1)}


def happened_of(hands: Hands) -> HappenedPart:
    assert hands.window.happened is not None
    return hands.window.happened


def with_job(open_one: Open, pump: str = PUMP) -> Hands:
    """Open the job from a scan of the machine, and choose a pump."""
    hands = open_one()
    hands.window.memory.who = "Ilvane"
    hands.bench.flow.set_who("Ilvane")
    hands.window.entry.take_scan(MACHINE)
    hands.settle()
    builds = hands.window.panes.facts.view
    builds.activated.emit(builds.model().index(0, 0))
    hands.settle()
    hands.window.panes.candidates.choose(pump)
    hands.settle()
    return hands


def on_sheet(open_one: Open, pump: str = PUMP) -> Hands:
    hands = with_job(open_one, pump)
    hands.press(Qt.Key.Key_W, CTRL | SHIFT)
    assert happened_of(hands).is_shown
    return hands


def say_result(hands: Hands, result: Result) -> None:
    """Go down the list of results, which has the keys."""
    assert focus_name() == "happened_results_list"
    for _ in range(ROW[result]):
        hands.press(Qt.Key.Key_Down)
    assert happened_of(hands).sheet.result is result


def focus_name() -> str:
    focus = QApplication.focusWidget()
    return "" if focus is None else focus.objectName()


def chosen(hands: Hands) -> Candidate:
    candidate = happened_of(hands)._candidate
    assert candidate is not None
    return candidate


def verdict(hands: Hands) -> Verdict:
    assert chosen(hands).entry_id == PUMP
    return chosen(hands).judgement.verdict


def listed(hands: Hands) -> list[str]:
    model = happened_of(hands).sheet.details.list.model_of_sizes
    return [row.field if isinstance(row, BlameableSize) else row.words for row in model.rows]


def in_doubt(hands: Hands) -> list[str]:
    """Return the facts of the job that the list shows in doubt, with what is shown."""
    job = hands.window.flow.job
    assert job is not None
    model = hands.window.panes.facts._facts
    return [f"{one.title}: {model.value_text(one)}" for one in job.facts if one.state is FactState.IN_DOUBT]


def failed_fits(hands: Hands) -> list[HealthLine]:
    """Open the health sheet and return the fits that failed."""
    hands.press(Qt.Key.Key_E, CTRL | SHIFT)
    assert hands.window.health is not None
    found = [one for one in hands.window.health.sheet.lines if one.kind is LineKind.FAILED_FIT]
    hands.press(Qt.Key.Key_Escape)
    return found


def write_bound(hands: Hands) -> None:
    """Write by keys that it bound when turned by hand, with the first two sizes ticked."""
    say_result(hands, Result.BOUND)
    hands.press(Qt.Key.Key_F6)
    assert focus_name() == "happened_sizes_list"
    hands.press(Qt.Key.Key_Space)
    hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Space)
    hands.press(Qt.Key.Key_F6)
    assert focus_name() == "happened_note_line"
    hands.type("catches at one place")
    hands.press(Qt.Key.Key_F12)


def test_bound_with_two_sizes_ticked_makes_it_not_known_and_ctrl_z_brings_the_verdict_back(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    assert verdict(hands) is Verdict.FITS_WITH_PARTS
    assert not in_doubt(hands)
    write_bound(hands)
    assert hands.window.message.text.startswith("Written down: what happened with KO7-4410 on FL-54C3")
    assert hands.window.message.text.endswith("Ctrl+Z takes it back.")
    assert hands.window.panes.isVisible()
    assert verdict(hands) is Verdict.NOT_KNOWN_YET
    assert listed(hands)[:3] == ["Look at these first", "shaft_diameter_mm", "bore_diameter_mm"]
    # The bore is the pump's; the facts are the machine's.
    assert in_doubt(hands) == ["Shaft diameter: ? in doubt, was 22.225 mm (7/8 in)"]
    hands.press(Qt.Key.Key_Z, CTRL)
    hands.window.panes.candidates.choose(PUMP)
    hands.settle()
    assert verdict(hands) is Verdict.FITS_WITH_PARTS
    assert not in_doubt(hands)


def test_nothing_is_written_where_a_misfit_has_no_size_ticked_and_nothing_entered_is_lost(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    say_result(hands, Result.LEAKED)
    happened_of(hands).sheet.details.note.setText("drips at the inlet")
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == (
        "It was said to fit, so a size on file must be wrong: tick those that may be. With none ticked nothing would "
        "warn the next time."
    )
    assert happened_of(hands).is_shown
    assert happened_of(hands).sheet.result is Result.LEAKED
    assert happened_of(hands).sheet.details.note.text() == "drips at the inlet"
    hands.press(Qt.Key.Key_Escape)
    assert verdict(hands) is Verdict.FITS_WITH_PARTS
    assert not hands.bench.flow._saved_names.undo.startswith("what happened")


def test_nothing_is_chosen_beforehand_and_f12_says_so(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    assert happened_of(hands).sheet.result is None
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Choose first which it was, with the arrow keys in the list on the left."
    assert happened_of(hands).is_shown


def test_the_button_ticks_all_to_look_at_first_and_space_takes_one_away(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    say_result(hands, Result.EAR_BROKE)
    sheet = happened_of(hands).sheet
    sheet.details.suspects_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    first = {one.field for one in sheet.suspects}
    assert len(first) > 2
    assert sheet.ticked == first
    assert listed(hands)[1 : len(first) + 1] == [one.field for one in sheet.suspects]
    assert listed(hands)[len(first) + 1] == "The others"
    sheet.details.list.setFocus()
    hands.press(Qt.Key.Key_Space)
    assert sheet.ticked == first - {listed(hands)[1]}


def test_the_sheet_says_what_writing_does(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    sheet = happened_of(hands).sheet
    assert sheet.title.text() == "What happened: KO7-4410 on FL-54C3"
    assert sheet.details.does.text() == (
        "The verdict said “Fits with parts”. Sizes you tick count as not known until somebody measures them again."
    )
    hands.press(Qt.Key.Key_Down)
    assert sheet.details.does.text() == "It went well: no size is put in doubt."
    assert not sheet.details.list.isEnabled()


def test_where_it_was_not_said_to_fit_nothing_is_put_in_doubt(open_bench: Open) -> None:
    hands = on_sheet(open_bench, "P-004")
    assert chosen(hands).judgement.verdict is Verdict.DOES_NOT_FIT
    assert happened_of(hands).sheet.details.does.text() == (
        "Nothing is put in doubt, for the verdict did not say that it fits."
    )
    say_result(hands, Result.DID_NOT_FIT)
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text.startswith("Written down: what happened with")
    assert not in_doubt(hands)


def test_it_is_cautioned_before_anything_is_turned_or_opened(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    caution = happened_of(hands).sheet.caution
    assert caution.isVisible()
    for source in ("OSHA 29 CFR 1910.147", "CDC pressure-washer guidance", "maker's manual"):
        assert source in caution.text()


def test_what_was_entered_is_kept_for_this_pump_and_not_for_the_next(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    say_result(hands, Result.BOUND)
    hands.press(Qt.Key.Key_F6)
    hands.press(Qt.Key.Key_Space)
    ticked = happened_of(hands).sheet.ticked
    assert len(ticked) == 1
    hands.press(Qt.Key.Key_Escape)
    hands.press(Qt.Key.Key_W, CTRL | SHIFT)
    assert happened_of(hands).sheet.ticked == ticked
    assert happened_of(hands).sheet.result is Result.BOUND
    hands.press(Qt.Key.Key_Escape)
    hands.window.panes.candidates.choose("P-001")
    hands.settle()
    hands.press(Qt.Key.Key_W, CTRL | SHIFT)
    assert happened_of(hands).sheet.result is None
    assert not happened_of(hands).sheet.ticked


def test_what_is_lacking_is_said_in_one_sentence(open_bench: Open) -> None:
    hands = open_bench()
    said = []
    hands.press(Qt.Key.Key_W, CTRL | SHIFT)
    said.append(hands.window.message.text)
    hands.window.entry.take_scan("TR-61Q")
    hands.window.entry.take_scan(MACHINE)
    hands.settle()
    hands.press(Qt.Key.Key_W, CTRL | SHIFT)
    said.append(hands.window.message.text)
    hands.window.flow.new_job()
    hands.window.entry.take_scan("KO7-4410")
    hands.settle()
    hands.press(Qt.Key.Key_W, CTRL | SHIFT)
    said.append(hands.window.message.text)
    assert said == [
        "Open the job first: what happened is written down for a machine and a pump.",
        "Say first which build is here, then write down what happened.",
        "Say first which machine it is, then write down what happened.",
    ]
    assert not happened_of(hands).is_shown


def test_who_is_asked_once(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    hands.window.memory.who = ""
    say_result(hands, Result.WITH_PARTS)
    hands.press(Qt.Key.Key_F12)
    assert focus_name() == "ask_who_line"
    assert happened_of(hands).is_shown
    hands.type("Odrin")
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text.startswith("Written down:")
    assert hands.window.memory.who == "Odrin"
    assert verdict(hands) is Verdict.FITS_WITH_PARTS


def test_ctrl_z_with_the_sheet_in_front_shows_the_verdict_as_it_is_then(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    write_bound(hands)
    hands.press(Qt.Key.Key_W, CTRL | SHIFT)
    sheet = happened_of(hands).sheet
    assert sheet.details.does.text().startswith("Nothing is put in doubt")
    hands.press(Qt.Key.Key_Z, CTRL)
    assert happened_of(hands).is_shown
    assert verdict(hands) is Verdict.FITS_WITH_PARTS
    assert sheet.details.does.text().startswith("The verdict said “Fits with parts”.")


def test_the_sheet_stays_about_its_pump_whatever_is_chosen_behind_it(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    say_result(hands, Result.WITH_PARTS)
    hands.press(Qt.Key.Key_F3)
    assert chosen(hands).entry_id != PUMP
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == ("Written down: what happened with KO7-4410 on FL-54C3. Ctrl+Z takes it back.")
    assert chosen(hands).entry_id == PUMP


def test_nothing_is_written_about_another_job_than_the_sheet_says(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    say_result(hands, Result.WITH_PARTS)
    hands.window.flow.new_job()
    hands.window.flow.use_machine("M-006", "another machine")
    hands.settle()
    assert happened_of(hands).is_shown
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == (
        "This pump is not judged just now; leave with Esc, and choose it in the list again."
    )


def test_the_size_measured_anew_is_in_doubt_no_more(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    write_bound(hands)
    facts = hands.window.panes.facts
    doubted = next(place for place, one in enumerate(facts._facts.rows) if one.state is FactState.IN_DOUBT)
    facts.view.setFocus()
    facts.view.setCurrentIndex(facts._facts.index(doubted))
    hands.press(Qt.Key.Key_F2)
    assert hands.bench.is_on_bench
    hands.type("22.22 mm")
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_S, CTRL)
    assert not in_doubt(hands)
    hands.window.panes.candidates.choose(PUMP)
    hands.settle()
    # The bore is in doubt still: it is what F7 asks for.
    assert verdict(hands) is Verdict.NOT_KNOWN_YET
    assert chosen(hands).judgement.measure_next == ("bore_diameter_mm",)
    assert len(failed_fits(hands)) == 1
    hands.press(Qt.Key.Key_F7)
    hands.type("22.25 mm")
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_S, CTRL)
    hands.window.panes.candidates.choose(PUMP)
    hands.settle()
    assert verdict(hands) is Verdict.FITS_WITH_PARTS
    assert not failed_fits(hands)


def test_a_scan_over_the_sheet_changes_nothing(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    say_result(hands, Result.BOUND)
    sheet = happened_of(hands).sheet
    hands.window.guard._clock = event_ms
    keyboard = Keyboard()
    for place in (sheet.list, sheet.details.list, sheet.details.note, *sheet.details.buttons):
        for code in ("40029123", "4002 9123", " 4002912"):
            place.setFocus()
            before = (sheet.result, sheet.ticked, sheet.details.note.text())
            keyboard.type(code, gap_ms=8, end=Qt.Key.Key_Return)
            hands.settle()
            assert (sheet.result, sheet.ticked, sheet.details.note.text()) == before, place.objectName()
            assert happened_of(hands).is_shown
    assert verdict(hands) is Verdict.FITS_WITH_PARTS


def test_every_place_has_a_name_and_a_paragraph_of_help(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    assert not unnamed(hands.window)
    names = [one.objectName() for one in controls(hands.window)]
    assert len(names) == len(set(names))
    assert {one for one in names if one.startswith("happened_")} == {
        one for one in RECORDS_HELP if one.startswith("happened_")
    }


def test_tab_goes_through_the_sheet_without_a_trap(open_bench: Open) -> None:
    hands = on_sheet(open_bench)
    say_result(hands, Result.BOUND)
    seen = [focus_name()]
    while focus_name() != "happened_leave_button":
        hands.press(Qt.Key.Key_Tab)
        assert focus_name() not in seen, "a trap"
        seen.append(focus_name())
    assert [one for one in seen if one.startswith("happened_")] == [
        "happened_results_list",
        "happened_sizes_list",
        "happened_note_line",
        "happened_suspects_button",
        "happened_write_button",
        "happened_leave_button",
    ]


def cut(hands: Hands, prefix: str) -> list[str]:
    found = []
    for widget in (*hands.window.findChildren(QLabel), *hands.window.findChildren(QPushButton)):
        if not widget.isVisible() or not widget.objectName().startswith(prefix):
            continue
        if isinstance(widget, QLabel) and widget.wordWrap():
            if widget.heightForWidth(widget.width()) > widget.height():
                found.append(f"{widget.objectName()} {widget.height()}")
        elif widget.sizeHint().width() > widget.width():
            found.append(widget.objectName())
    return found


@pytest.mark.parametrize(("height", "percent"), [(690, 100), (690, 150), (642, 150), (690, 200)])
def test_nothing_is_cut_and_the_window_stays(open_bench: Open, qtbot: QtBot, height: int, percent: int) -> None:
    hands = with_job(open_bench)
    width = 1366 if height == 690 else 1280
    hands.window.resize(width, height)
    hands.window.look.set_text_percent(percent)
    hands.press(Qt.Key.Key_W, CTRL | SHIFT)
    qtbot.waitUntil(lambda: not cut(hands, "happened_"))
    assert (hands.window.width(), hands.window.height()) == (width, height)


def test_neither_sheet_is_built_before_it_is_wanted(open_bench: Open) -> None:
    hands = with_job(open_bench)
    names = {one.objectName() for one in controls(hands.window)}
    assert not {one for one in names if one.startswith(("happened_", "health_"))}


def test_where_only_one_side_has_room_f6_shows_the_other(open_bench: Open) -> None:
    hands = with_job(open_bench)
    hands.window.resize(960, 690)
    hands.window.look.set_text_percent(125)
    hands.press(Qt.Key.Key_W, CTRL | SHIFT)
    sheet = happened_of(hands).sheet
    say_result(hands, Result.BOUND)
    shown = []
    for _ in range(3):
        shown.append((focus_name(), sheet.list.isVisible(), sheet.details.list.isVisible()))
        hands.press(Qt.Key.Key_F6)
    assert shown == [
        ("happened_results_list", True, False),
        ("happened_sizes_list", False, True),
        ("happened_note_line", False, True),
    ]
    assert sheet.list.isVisible()
    sheet.on_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    assert focus_name() == "happened_sizes_list"
    sheet.details.back_button.setFocus()
    hands.press(Qt.Key.Key_Space)
    assert focus_name() == "happened_results_list"
    hands.window.resize(1366, 690)
    hands.window.look.set_text_percent(100)
    hands.settle()
    assert sheet.list.isVisible()
    assert sheet.details.list.isVisible()
    assert not sheet.on_button.isVisible()


def test_a_catalog_that_is_only_looked_at_says_so(open_window: OpenWindow) -> None:
    window = open_window()
    for command in (Command.WHAT_HAPPENED, Command.HEALTH):
        window.message.clear()
        window.actions_by_command[command].trigger()
        assert window.message.text == "This catalog is only looked at: nothing can be entered."
