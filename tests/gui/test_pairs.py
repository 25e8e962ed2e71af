"""Pairing up with the keyboard alone (A10): seen, filtered, wanted, refused, reserved, released, undone by name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics, QImage, QPainter
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QStyleOptionViewItem
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.conftest import Open as OpenWindow
from tests.gui.conftest import shown_windows
from tests.gui.test_names import controls, unnamed
from tests.gui.test_scans import Keyboard
from tests.sample.make_sample_catalog import sample_rows
from tests.services.bench_store import sample_desk
from xref_app.core.fit.finding import Verdict
from xref_app.gui.actions import Command
from xref_app.gui.desks import Desks
from xref_app.gui.help_bench import BENCH_HELP
from xref_app.gui.help_pairs import PAIRS_HELP
from xref_app.gui.help_shelf import SHELF_HELP
from xref_app.gui.help_texts import HELP
from xref_app.gui.pair_list import PutBy
from xref_app.gui.pair_memory import PairMemory
from xref_app.gui.pair_part import PairPart
from xref_app.gui.pair_table import PairCell, Standing
from xref_app.gui.scan_guard import event_ms
from xref_app.gui.start import build_window
from xref_app.services.best_pairs import MadePair
from xref_app.services.live_desk import LiveDesk
from xref_app.services.pair_matrix import BOTH_FIT
from xref_app.store.engine import open_engine
from xref_app.store.importing import import_catalog

__all__ = ["open_bench"]

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
Open = Callable[[], Hands]


def pairs_of(hands: Hands) -> PairPart:
    assert hands.window.pairs is not None
    return hands.window.pairs


def paired(open_one: Open, who: str = "Ana") -> Hands:
    """Open the pair sheet of the sample with ``who`` at the counter."""
    hands = open_one()
    if who:
        hands.window.memory.who = who
    hands.press(Qt.Key.Key_U, CTRL | SHIFT)
    return hands


def cell_of(hands: Hands) -> PairCell:
    cell = pairs_of(hands).cell
    assert cell is not None
    return cell


def made(hands: Hands) -> dict[tuple[str, str], MadePair]:
    return {(one.engine.unit_id, one.pump.unit_id): one for one in pairs_of(hands).pairing.pairs}


def go_to(hands: Hands, pair: tuple[str, str]) -> None:
    """Walk to a cell with the arrow keys."""
    table = pairs_of(hands).sheet.table
    place = pairs_of(hands).sheet.model.place_of(pair)
    assert place.isValid()
    while (steps := place.row() - table.currentIndex().row()) != 0:
        hands.press(Qt.Key.Key_Down if steps > 0 else Qt.Key.Key_Up)
    while (steps := place.column() - table.currentIndex().column()) != 0:
        hands.press(Qt.Key.Key_Right if steps > 0 else Qt.Key.Key_Left)


def text(hands: Hands, name: str) -> str:
    label = pairs_of(hands).sheet.findChild(QLabel, name)
    assert isinstance(label, QLabel)
    return label.text()


def focus_name() -> str:
    focus = QApplication.focusWidget()
    return "" if focus is None else focus.objectName()


def test_a10_pairs_are_seen_filtered_wanted_and_refused_by_keyboard_alone(open_bench: Open) -> None:
    hands = paired(open_bench)
    assert focus_name() == "pairs_matrix_table"
    assert text(hands, "pairs_count_label").startswith("14 engines by 22 pumps: 10 pairs fit as is, 23 with parts,")
    best = pairs_of(hands).pairing
    assert cell_of(hands).pair == (best.pairs[0].engine.unit_id, best.pairs[0].pump.unit_id)
    any_fit = made(hands)
    hands.press(Qt.Key.Key_V, CTRL | SHIFT)
    assert all(one.parts.all_on_shelf for one in made(hands).values())
    hands.press(Qt.Key.Key_V, CTRL | SHIFT)
    assert {one.found.verdict for one in made(hands).values()} == {Verdict.FITS}
    hands.press(Qt.Key.Key_V, CTRL | SHIFT)
    assert made(hands).keys() == any_fit.keys()

    go_to(hands, ("U-041", "U-052"))
    hands.press(Qt.Key.Key_F, CTRL | SHIFT)
    assert cell_of(hands).standing is Standing.FORCED
    assert made(hands)["U-041", "U-052"].is_forced
    refused = next(pair for pair in made(hands) if pair != ("U-041", "U-052"))
    go_to(hands, refused)
    hands.press(Qt.Key.Key_X, CTRL | SHIFT)
    assert cell_of(hands).standing is Standing.FORBIDDEN
    assert refused not in made(hands)


def test_a10_both_sides_are_reserved_and_taken_back_by_keyboard_alone(open_bench: Open) -> None:
    hands = paired(open_bench)
    go_to(hands, ("U-041", "U-052"))
    hands.press(Qt.Key.Key_F, CTRL | SHIFT)
    hands.press(Qt.Key.Key_R, CTRL)
    assert hands.window.message.text == "Done: reserve U-041 with U-052. Ctrl+Z takes it back."
    matrix = pairs_of(hands).sheet.model.matrix
    assert "U-041" not in {one.unit_id for one in matrix.engines}
    assert "U-052" not in {one.unit_id for one in matrix.pumps}
    assert {unit.unit_id for _, unit in matrix.put_by} == {"U-016", "U-041", "U-052"}
    hands.press(Qt.Key.Key_Z, CTRL)
    assert "U-041" in {one.unit_id for one in pairs_of(hands).sheet.model.matrix.engines}
    assert ("U-041", "U-052") in made(hands)
    hands.press(Qt.Key.Key_Escape)
    hands.press(Qt.Key.Key_Escape)
    assert not pairs_of(hands).is_shown


def test_the_pair_looked_at_is_told_with_its_sum(open_bench: Open) -> None:
    hands = paired(open_bench)
    go_to(hands, ("U-040", "U-051"))
    assert text(hands, "pairs_name_label") == "U-040 MD65.77 with U-051 PL38P31"
    assert text(hands, "pairs_verdict_label") == "Fits with parts: needs 3 spacers"
    assert text(hands, "pairs_sum_label") == (
        "228.62 left: sells for 300.00 − parts 1.38 − time 45.00 − both units 25.00. "
        "One unit has no price and counts as 0."
    )
    go_to(hands, ("U-040", "U-052"))
    assert text(hands, "pairs_verdict_label").startswith("Does not fit: ")
    assert text(hands, "pairs_sum_label") == ""


def test_the_list_leads_to_the_pair(open_bench: Open) -> None:
    hands = paired(open_bench)
    hands.press(Qt.Key.Key_F6)
    assert focus_name() == "pairs_made_list"
    hands.press(Qt.Key.Key_Down)
    second = pairs_of(hands).pairing.pairs[1]
    assert cell_of(hands).pair == (second.engine.unit_id, second.pump.unit_id)
    hands.press(Qt.Key.Key_F6)
    assert focus_name() == "pairs_sells_line"
    hands.press(Qt.Key.Key_F6)
    assert focus_name() == "pairs_matrix_table"


def test_what_does_not_surely_fit_is_neither_wanted_nor_reserved(open_bench: Open) -> None:
    hands = paired(open_bench)
    open_pair = next(
        (engine.unit_id, pump.unit_id)
        for engine, pump, found in pairs_of(hands).sheet.model.matrix.pairs()
        if found.verdict is Verdict.NOT_KNOWN_YET
    )
    go_to(hands, open_pair)
    hands.press(Qt.Key.Key_F, CTRL | SHIFT)
    assert hands.window.message.text == "These two do not surely fit, so they are not paired."
    assert cell_of(hands).standing is Standing.OPEN
    hands.press(Qt.Key.Key_R, CTRL)
    assert hands.window.message.text == "These two do not surely fit: nothing is reserved."
    assert len(pairs_of(hands).sheet.model.matrix.put_by) == 1


def test_the_figures_are_typed_and_remembered(open_bench: Open) -> None:
    hands = paired(open_bench)
    sheet = pairs_of(hands).sheet
    count = len(made(hands))
    sheet.sells_line.setFocus()
    sheet.sells_line.selectAll()
    hands.type("120")
    hands.press(Qt.Key.Key_Return)
    assert 0 < len(made(hands)) < count  # most lose money now
    assert PairMemory(hands.window.memory).figures.sells_for == 120.0
    pair = next(iter(made(hands)))
    sheet.table.setFocus()
    go_to(hands, pair)
    sheet.engine_line.setFocus()
    hands.type("20")
    hands.press(Qt.Key.Key_Return)
    assert pair[0] not in {engine for engine, _ in made(hands)}
    sheet.engine_line.selectAll()
    hands.press(Qt.Key.Key_Delete)
    hands.press(Qt.Key.Key_Return)
    assert pair in made(hands)
    sheet.rate_line.setFocus()
    sheet.rate_line.selectAll()
    hands.type("dear")
    hands.press(Qt.Key.Key_Return)
    assert hands.window.message.text == "“dear” is no sum of money; type it like 120 or 120.50."
    assert sheet.rate_line.text() == "50.00"


def test_who_is_asked_once(open_bench: Open) -> None:
    hands = paired(open_bench, who="")
    pair = cell_of(hands).pair
    hands.press(Qt.Key.Key_R, CTRL)
    assert focus_name() == "ask_who_line"
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Say who you are first."
    hands.type("Ana")
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == f"Done: reserve {pair[0]} with {pair[1]}. Ctrl+Z takes it back."
    assert hands.window.memory.who == "Ana"


def test_what_is_reserved_is_released_with_the_other_of_its_job(open_bench: Open) -> None:
    hands = paired(open_bench)
    hands.press(Qt.Key.Key_G, CTRL)
    assert hands.window.message.text == "Choose a reserved unit in the list first, then Ctrl+G releases it."
    hands.press(Qt.Key.Key_R, CTRL)
    hands.press(Qt.Key.Key_F6)
    hands.press(Qt.Key.Key_End)
    hands.press(Qt.Key.Key_Up)
    line = pairs_of(hands).sheet.details.chosen_line
    assert isinstance(line, PutBy)
    assert line.unit.unit_id != "U-016"
    hands.press(Qt.Key.Key_G, CTRL)
    assert hands.window.message.text.startswith("Done: release U-")
    assert [unit.unit_id for _, unit in pairs_of(hands).sheet.model.matrix.put_by] == ["U-016"]


def test_a_unit_that_another_counter_has_just_taken_is_told(open_bench: Open, tmp_path: Path) -> None:
    hands = paired(open_bench)
    pair = cell_of(hands)
    sample_desk(tmp_path).pairs.reserve(pair.engine, pair.pump, "Ben", job="131")
    hands.press(Qt.Key.Key_R, CTRL)
    assert hands.window.message.text == (
        f"Unit {pair.engine.unit_id} is reserved for job 131 by Ben; nothing was changed: take another pair."
    )


def test_esc_stops_judging_and_the_key_goes_on(open_bench: Open, qtbot: QtBot) -> None:
    hands = open_bench()
    window = hands.window
    pairs = pairs_of(hands)
    window.actions_by_command[Command.PAIR_UP].trigger()
    qtbot.waitUntil(lambda: window.status._progress.value() > 0, timeout=20_000)
    assert text(hands, "pairs_count_label") == "Judging every engine with every pump… Esc stops."
    window.actions_by_command[Command.LEAVE].trigger()
    assert window.message.text == "Stopped. Ctrl+Shift+U goes on; what was judged is kept."
    assert pairs.is_shown
    hands.settle()
    assert pairs.sheet.model.rowCount() == 0
    assert text(hands, "pairs_count_label") == "Not judged yet."
    hands.press(Qt.Key.Key_U, CTRL | SHIFT)
    assert pairs.sheet.model.rowCount() == 14
    assert not window.status.is_waiting_shown


def test_without_good_units_one_sentence_says_so(qtbot: QtBot, tmp_path: Path) -> None:
    store = open_engine(tmp_path / "none.sqlite")
    worn = tuple(replace(one, condition="worn") for one in sample_rows().salvaged_units)
    import_catalog(store, replace(sample_rows(), salvaged_units=worn), who="test", why="worn")
    desk = LiveDesk(store, "Worn")
    with shown_windows(qtbot) as show:
        window = build_window(Desks(desk, bench=desk, shelf=desk.shelf, pairs=desk.pairs), tmp_path / "w.ini")
        show(window)
        hands = Hands(qtbot, window)
        hands.settle()
        window.actions_by_command[Command.PAIR_UP].trigger()
        hands.settle()
        assert text(hands, "pairs_count_label").startswith("No good engine is free to pair up: ")
        assert text(hands, "pairs_name_label") == "No pair chosen."
        for command in (Command.PAIR_SURELY, Command.PAIR_NEVER, Command.RESERVE):
            window.actions_by_command[command].trigger()
            assert window.message.text == "Choose a pair first."


def test_scans_change_no_pair(open_bench: Open) -> None:
    hands = paired(open_bench)
    hands.window.guard._clock = event_ms
    keyboard = Keyboard()
    before = (made(hands).keys(), cell_of(hands), len(pairs_of(hands).sheet.model.matrix.put_by))
    for code in ("RFX-4872", "GRY 2020", "XFV-77"):
        pairs_of(hands).show()
        hands.settle()
        pairs_of(hands).sheet.table.setFocus()
        keyboard.type(code, gap_ms=2, end=Qt.Key.Key_Return)
        hands.settle()
        assert (made(hands).keys(), cell_of(hands), len(pairs_of(hands).sheet.model.matrix.put_by)) == before


def test_a_cell_tells_verdict_and_standing_without_colour(open_bench: Open) -> None:
    """Rendered in grey, no two kinds of cell look alike."""
    hands = paired(open_bench)
    sheet = pairs_of(hands).sheet
    go_to(hands, ("U-045", "U-021"))
    hands.press(Qt.Key.Key_X, CTRL | SHIFT)
    go_to(hands, ("U-040", "U-051"))
    hands.press(Qt.Key.Key_F, CTRL | SHIFT)
    hands.press(Qt.Key.Key_V, CTRL | SHIFT)
    seen: dict[tuple[Verdict, Standing, bool], bytes] = {}
    for row in range(sheet.model.rowCount()):
        for column in range(sheet.model.columnCount()):
            cell = sheet.model.cell(row, column)
            seen.setdefault((cell.found.verdict, cell.standing, cell.passes), grey(hands, row, column))
    assert {standing for _, standing, _ in seen} == set(Standing)
    assert {verdict for verdict, _, _ in seen} == set(Verdict)
    assert {passes for _, _, passes in seen} == {True, False}
    looks = list(seen.values())
    for place, one in enumerate(looks):
        for other in looks[place + 1 :]:
            differing = sum(abs(a - b) > 40 for a, b in zip(one, other, strict=True))
            assert differing > len(one) * 0.02


def grey(hands: Hands, row: int, column: int) -> bytes:
    """Return one cell as painted, unselected, in grey."""
    table = pairs_of(hands).sheet.table
    image = QImage(56, 38, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.white)
    option = QStyleOptionViewItem()
    option.rect = image.rect()
    painter = QPainter(image)
    table.itemDelegate().paint(painter, option, table.model().index(row, column))
    painter.end()
    in_grey = image.convertToFormat(QImage.Format.Format_Grayscale8)  # kept: its bytes go with it
    return bytes(in_grey.constBits())


def test_a_cell_is_said_in_words(open_bench: Open) -> None:
    hands = paired(open_bench)
    go_to(hands, ("U-040", "U-051"))
    spoken = pairs_of(hands).sheet.table.currentIndex().data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "U-040 MD65.77 with U-051 PL38P31, Fits with parts, to be made"


def test_every_control_of_the_pairs_is_named_and_explained(open_bench: Open) -> None:
    hands = paired(open_bench)
    assert not unnamed(hands.window)
    places = {one.objectName() for one in controls(hands.window) if one.objectName().startswith("pairs_")}
    assert places == set(PAIRS_HELP)
    assert not PAIRS_HELP.keys() & {*HELP, *BENCH_HELP, *SHELF_HELP}


def cut(hands: Hands) -> list[str]:
    sheet = pairs_of(hands).sheet
    buttons = [one for one in sheet.findChildren(QAbstractButton) if one.isVisible() and one.text()]
    assert buttons
    found = [one.text() for one in buttons if one.width() < QFontMetrics(one.font()).horizontalAdvance(one.text()) + 16]
    labels = [one for one in sheet.findChildren(QLabel) if one.isVisible() and not one.wordWrap()]
    return found + [one.text() for one in labels if one.width() < one.sizeHint().width()]


@pytest.mark.parametrize("percent", [100, 150, 200])
def test_nothing_of_the_pairs_is_cut_and_the_window_stays(open_bench: Open, qtbot: QtBot, percent: int) -> None:
    hands = paired(open_bench)
    hands.window.resize(1366, 690)
    hands.window.look.set_text_percent(percent)
    hands.settle()
    qtbot.waitUntil(lambda: not cut(hands))
    assert hands.window.minimumSizeHint().width() <= 1366
    assert hands.window.minimumSizeHint().height() <= 690
    assert (hands.window.width(), hands.window.height()) == (1366, 690)


def test_tab_goes_round_the_pair_sheet_and_comes_back(open_bench: Open) -> None:
    hands = paired(open_bench)
    seen = []
    for _ in range(40):
        hands.press(Qt.Key.Key_Tab)
        if focus_name() == "pairs_matrix_table":
            break
        seen.append(focus_name())
    assert focus_name() == "pairs_matrix_table"
    assert len(seen) == len(set(seen))
    assert {"pairs_made_list", "pairs_sells_line", "pairs_reserve_button", "entry_text_line"} <= set(seen)


def test_a_catalog_that_is_only_looked_at_pairs_nothing(open_window: OpenWindow) -> None:
    window = open_window()
    window.actions_by_command[Command.PAIR_UP].trigger()
    assert window.message.text == "This catalog is only looked at: nothing can be entered."
    assert not window.findChildren(QLineEdit, "pairs_sells_line")


def test_only_what_fits_is_among_the_pairs_to_be_made(open_bench: Open) -> None:
    hands = paired(open_bench)
    assert {one.found.verdict for one in made(hands).values()} <= BOTH_FIT


def test_what_to_mind_first_stands_on_the_sheet_with_its_sources(open_bench: Open) -> None:
    hands = paired(open_bench)
    label = pairs_of(hands).sheet.findChild(QLabel, "pairs_cautions_label")
    assert isinstance(label, QLabel)
    assert label.isVisible()
    assert label.visibleRegion().boundingRect().height() >= label.heightForWidth(label.width())
    for source in ("OSHA 29 CFR 1910.147", "CDC pressure-washer guidance", "maker's manual"):
        assert source in label.text()
