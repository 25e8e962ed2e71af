"""The shelf with the keyboard alone: found, reserved, released, taken out, put in, counted; undone by name."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.conftest import Open as OpenWindow
from tests.gui.test_names import controls, unnamed
from tests.gui.test_scans import Keyboard
from tests.services.bench_store import sample_desk
from xref_app.core.fit.finding import Verdict
from xref_app.gui.actions import Command
from xref_app.gui.help_bench import BENCH_HELP
from xref_app.gui.help_shelf import SHELF_HELP
from xref_app.gui.help_texts import HELP
from xref_app.gui.needs_model import NeedsColumn
from xref_app.gui.scan_guard import event_ms
from xref_app.gui.shelf_part import ShelfPart
from xref_app.services.shelf_lines import ShelfLine

__all__ = ["open_bench"]

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
# A build of the sample on which the best pump that fits with parts needs one chemical inlet, which lies in C12.
MACHINE = "M-001"
Open = Callable[[], Hands]


def shelf_of(hands: Hands) -> ShelfPart:
    assert hands.window.shelf is not None
    return hands.window.shelf


def chosen(hands: Hands) -> ShelfLine:
    line = shelf_of(hands).sheet.line
    assert line is not None
    return line


def on_shelf(open_one: Open, typed: str = "5/16 3.2") -> Hands:
    """Open the shelf with ``typed`` in its filter; the sample has 16 spacers 3.2 mm in B4, four of them for job 118."""
    hands = open_one()
    hands.window.memory.who = "Ana"
    hands.press(Qt.Key.Key_H, CTRL | SHIFT)
    hands.type(typed)
    return hands


def focus_name() -> str:
    focus = QApplication.focusWidget()
    return "" if focus is None else focus.objectName()


def test_the_shelf_opens_and_closes_and_is_filtered_as_one_types(open_bench: Open) -> None:
    hands = on_shelf(open_bench, "")
    sheet = shelf_of(hands).sheet
    assert focus_name() == "shelf_filter_line"
    assert len(sheet.shown) > 100
    hands.type("3.2 spacer")
    assert {one.name for one in sheet.shown} == {"Spacer 3.2 mm for 5/16 in", "Spacer 3.2 mm for 3/8 in"}
    hands.press(Qt.Key.Key_Return)
    assert focus_name() == "shelf_places_list"
    hands.press(Qt.Key.Key_Escape)
    assert not shelf_of(hands).is_shown
    assert hands.window.panes.isVisible()


def test_low_only_shows_the_bins_to_fill_up(open_bench: Open) -> None:
    hands = on_shelf(open_bench, "")
    everything = len(shelf_of(hands).sheet.shown)
    hands.press(Qt.Key.Key_L, CTRL | SHIFT)
    assert {one.is_low for one in shelf_of(hands).sheet.shown} == {True}
    hands.press(Qt.Key.Key_L, CTRL | SHIFT)
    assert len(shelf_of(hands).sheet.shown) == everything


def test_pieces_are_reserved_by_keys_and_the_act_is_undone_by_name(open_bench: Open) -> None:
    hands = on_shelf(open_bench)
    assert (chosen(hands).free, chosen(hands).reserved) == (12, 4)
    hands.press(Qt.Key.Key_R, CTRL)
    assert (focus_name(), shelf_of(hands).bar.lines["job"].text()) == ("ask_pieces_line", "118")
    hands.type("3")
    hands.press(Qt.Key.Key_Return)
    hands.type("120")
    hands.press(Qt.Key.Key_Return)
    assert focus_name() == "ask_who_line"
    hands.press(Qt.Key.Key_F12)
    name = "reserve 3 x Spacer 3.2 mm for 5/16 in for job 120"
    assert hands.window.message.text == f"Done: {name}. Ctrl+Z takes it back."
    assert [(one.quantity, one.job, one.reserved_by) for one in chosen(hands).held][1:] == [(3, "120", "Ana")]
    assert hands.window.actions_by_command[Command.UNDO].text() == f"&Undo {name}"
    hands.window.actions_by_command[Command.UNDO].trigger()
    hands.settle()
    assert (chosen(hands).free, chosen(hands).reserved) == (12, 4)
    assert hands.window.message.text == f"Taken back: {name}."


def test_more_than_is_free_is_refused_in_one_sentence_and_can_be_mended(open_bench: Open) -> None:
    hands = on_shelf(open_bench)
    hands.press(Qt.Key.Key_R, CTRL)
    hands.type("13")
    hands.press(Qt.Key.Key_F12)
    said = "Bin B4 has 12 free and 13 are wanted; 4 are reserved for job 118 by Ilvane."
    assert hands.window.message.text == said
    assert shelf_of(hands).bar.is_open
    hands.press(Qt.Key.Key_Backspace)
    hands.press(Qt.Key.Key_F12)
    assert chosen(hands).reserved == 5


def test_f12_twice_does_it_once(open_bench: Open) -> None:
    hands = on_shelf(open_bench)
    hands.press(Qt.Key.Key_R, CTRL)
    bar = shelf_of(hands).bar
    bar.press()
    bar.press()
    hands.settle()
    assert chosen(hands).reserved == 5


@pytest.mark.parametrize(
    ("key", "typed", "count", "reserved", "low_at", "name"),
    [
        (Qt.Key.Key_G, "", 16, 0, 6, "release 4 x Spacer 3.2 mm for 5/16 in for job 118"),
        (Qt.Key.Key_T, "", 12, 0, 6, "take out 4 x Spacer 3.2 mm for 5/16 in for job 118"),
        (Qt.Key.Key_I, "9", 25, 4, 6, "put 9 x Spacer 3.2 mm for 5/16 in into bin B4"),
        (Qt.Key.Key_K, "3", 3, 4, 6, "count 3 x Spacer 3.2 mm for 5/16 in, bin B4"),
        (Qt.Key.Key_M, "20", 16, 4, 20, "low mark at 20 for Spacer 3.2 mm for 5/16 in, bin B4"),
        (Qt.Key.Key_J, "Z9", 16, 4, 6, "move Spacer 3.2 mm for 5/16 in from bin B4 to bin Z9"),
    ],
)
def test_every_other_act_has_its_key(
    open_bench: Open, key: Qt.Key, typed: str, *, count: int, reserved: int, low_at: int, name: str
) -> None:
    hands = on_shelf(open_bench)
    hands.press(key, CTRL)
    hands.type(typed)
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == f"Done: {name}. Ctrl+Z takes it back."
    line = chosen(hands)
    assert (line.place.count, line.reserved, line.place.low_at) == (count, reserved, low_at)
    assert (line.is_short, line.is_low) == (reserved > count, count <= low_at)
    hands.window.actions_by_command[Command.UNDO].trigger()
    hands.settle()
    assert (chosen(hands).place.count, chosen(hands).reserved, chosen(hands).place.low_at) == (16, 4, 6)


def test_free_pieces_are_taken_out_where_nothing_is_reserved(open_bench: Open) -> None:
    hands = on_shelf(open_bench, "3/8 3.2")
    before = chosen(hands).place.count
    hands.press(Qt.Key.Key_T, CTRL)
    hands.type("2")
    hands.press(Qt.Key.Key_F12)
    assert chosen(hands).place.count == before - 2
    hands.press(Qt.Key.Key_G, CTRL)
    assert hands.window.message.text == "Nothing of this place is reserved."


def test_leaving_the_bar_changes_nothing_and_gives_the_focus_back(open_bench: Open) -> None:
    hands = on_shelf(open_bench)
    hands.press(Qt.Key.Key_K, CTRL)
    hands.type("99")
    hands.press(Qt.Key.Key_Escape)
    assert (shelf_of(hands).bar.is_open, shelf_of(hands).is_shown, focus_name()) == (False, True, "shelf_filter_line")
    hands.press(Qt.Key.Key_F12)
    assert chosen(hands).place.count == 16


def test_a_scan_over_the_shelf_changes_nothing(open_bench: Open) -> None:
    hands = on_shelf(open_bench)
    hands.press(Qt.Key.Key_R, CTRL)
    hands.window.guard._clock = event_ms
    keyboard, before = Keyboard(), shelf_of(hands).sheet.shown
    bar = shelf_of(hands).bar
    for place in (*bar.lines.values(), bar.do_button, shelf_of(hands).sheet.list, shelf_of(hands).sheet.filter):
        shown = [line.text() for line in bar.lines.values()]
        place.setFocus()
        keyboard.type("40029123", gap_ms=8, end=Qt.Key.Key_Return)
        hands.settle()
        assert [line.text() for line in bar.lines.values()] == shown
        assert shelf_of(hands).sheet.shown == before
    assert hands.window.entry.line.text() == "40029123"


def test_what_somebody_else_reserved_meanwhile_is_told(open_bench: Open, tmp_path: Path) -> None:
    hands = on_shelf(open_bench)
    other = sample_desk(tmp_path)
    theirs = next(one for one in other.shelf.lines() if one.place == chosen(hands).place)
    other.shelf.reserve(theirs, 12, "130", "Ben")
    hands.press(Qt.Key.Key_R, CTRL)
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == (
        "Bin B4 has 0 free and 1 is wanted; 4 are reserved for job 118 by Ilvane and 12 for job 130 by Ben."
    )


def with_parts(hands: Hands) -> str:
    """Open a job of the sample in which a pump fits with one listed part, look at it and return its number."""
    flow, panes = hands.window.flow, hands.window.panes
    flow.use_machine(MACHINE, "FL-54C3")
    hands.settle()
    model = panes.candidates.view.model()
    rows = [model.index(row, 0).data(Qt.ItemDataRole.UserRole) for row in range(model.rowCount())]
    candidate = next(
        one
        for one in rows
        if one.judgement.verdict is Verdict.FITS_WITH_PARTS
        and all(need.listed and not need.listed.to_order for need in one.judgement.needs)
    )
    panes.candidates.choose(candidate.entry_id)
    hands.settle()
    return str(candidate.number)


def shelf_cells(hands: Hands) -> list[str]:
    model = hands.window.panes.fit.needs_view.model()
    return [str(model.index(row, NeedsColumn.SHELF).data()) for row in range(model.rowCount())]


def test_what_a_pump_needs_is_reserved_in_one_act_and_stays_its_own(open_bench: Open) -> None:
    hands = open_bench()
    hands.window.memory.who = "Ana"
    number = with_parts(hands)
    lay = shelf_cells(hands)
    assert all(cell.startswith("yes, bin ") for cell in lay)
    hands.press(Qt.Key.Key_R, CTRL)
    hands.type("131")
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text.startswith("Reserved for job 131: ")
    assert shelf_cells(hands) == [cell.replace("yes, ", "reserved, ") for cell in lay]
    assert number in hands.window.panes.fit.header.accessibleName() + str(
        hands.window.panes.candidates.view.currentIndex().data()
    )
    hands.press(Qt.Key.Key_R, CTRL)
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text.startswith("All of it was reserved for job 131 before.")
    hands.press(Qt.Key.Key_N, CTRL)
    with_parts(hands)
    assert not [cell for cell in shelf_cells(hands) if cell.startswith("reserved")]


def test_nothing_is_reserved_without_a_job_or_a_pump(open_bench: Open) -> None:
    hands = open_bench()
    hands.press(Qt.Key.Key_R, CTRL)
    assert hands.window.message.text == "Choose a pump that fits with parts first, then Ctrl+R reserves them."
    with_parts(hands)
    hands.press(Qt.Key.Key_R, CTRL)
    line = shelf_of(hands).bar.lines["job"]
    line.clear()
    shelf_of(hands).bar.lines["who"].setText("Ana")
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Say which job it is for: a number or a name."


def test_every_control_of_the_shelf_is_named_and_explained(open_bench: Open) -> None:
    hands = on_shelf(open_bench)
    hands.press(Qt.Key.Key_R, CTRL)
    assert not unnamed(hands.window)
    places = {one.objectName() for one in controls(hands.window) if one.objectName().startswith(("shelf_", "ask_"))}
    assert places == {name for name in SHELF_HELP if not name.startswith("fit_")}
    assert not SHELF_HELP.keys() & {*HELP, *BENCH_HELP}


def cut_buttons(hands: Hands) -> list[str]:
    buttons = [one for one in shelf_of(hands).sheet.findChildren(QAbstractButton) if one.isVisible()]
    assert buttons
    return [one.text() for one in buttons if one.width() < QFontMetrics(one.font()).horizontalAdvance(one.text()) + 16]


@pytest.mark.parametrize("percent", [100, 150, 200])
def test_no_button_of_the_shelf_is_cut_and_the_window_stays(open_bench: Open, qtbot: QtBot, percent: int) -> None:
    hands = on_shelf(open_bench)
    hands.window.resize(1366, 690)
    hands.window.look.set_text_percent(percent)
    hands.settle()
    qtbot.waitUntil(lambda: not cut_buttons(hands))
    assert hands.window.minimumSizeHint().width() <= 1366
    assert hands.window.minimumSizeHint().height() <= 690
    assert (hands.window.width(), hands.window.height()) == (1366, 690)
    hands.press(Qt.Key.Key_R, CTRL)
    qtbot.waitUntil(lambda: not cut_buttons(hands))
    assert hands.window.minimumSizeHint().width() <= 1366
    assert hands.window.minimumSizeHint().height() <= (768 if percent < 200 else 800)


def test_a_catalog_that_is_only_looked_at_has_no_shelf_acts(open_window: OpenWindow) -> None:
    window = open_window()
    window.actions_by_command[Command.SHELF].trigger()
    assert window.message.text == "This catalog is only looked at: nothing can be entered."
    assert not window.findChildren(QLineEdit, "shelf_filter_line")
