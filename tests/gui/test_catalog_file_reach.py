"""The sheets of catalog files: no scan changes them, every place is named and reached, nothing is cut."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.catalog_hands import (
    CTRL,
    SHIFT,
    Open,
    bar_is_open,
    choose,
    close_box,
    files_of,
    focus_name,
    groups,
    lines,
    open_shop,
    press,
    rows_of,
    sheet_of,
    strange,
)
from tests.gui.conftest import Open as OpenWindow
from tests.gui.conftest import shown_windows, wait_until_idle
from tests.gui.signed_files import next_edition, strange_key_folder, write_file, write_update
from tests.gui.test_names import controls, unnamed
from tests.gui.test_scans import Keyboard
from tests.gui.test_what_happened import cut
from tests.gui.whole_window import whole_window
from tests.services.bench_store import sample_store
from xref_app.core.sentence import Sentence
from xref_app.gui.catalog_file_sheet import CatalogFileSheet
from xref_app.gui.catalog_file_words import COUNTED, KINDS, MEANS, SIGNS, in_use_text
from xref_app.gui.help_catalog import CATALOG_HELP
from xref_app.gui.scan_guard import event_ms
from xref_app.gui.theme import Look
from xref_app.services.catalog_file_lines import FileLine, LineKind
from xref_app.services.catalog_files import IS_SAMPLE, InUse
from xref_app.services.live_desk import LiveDesk
from xref_app.services.sample_name import SAMPLE_NAME
from xref_app.store.row_changes import RowChange

__all__ = ["open_bench", "open_shop", "strange"]


def scan_everywhere(hands: Hands, prefix: str) -> None:
    """Scan into every place of a sheet, and see that nothing in it is another afterwards."""
    hands.window.guard._clock = event_ms
    part, keyboard = files_of(hands), Keyboard()

    def seen() -> tuple[object, ...]:
        texts = [one.text() for one in part.trust.sheet.findChildren(QLineEdit)]
        checked = [one.isChecked() for one in sheet_of(hands).filter.buttons.values()]
        return part.sheet, bar_is_open(hands), hands.window.findChild(QFileDialog), texts, checked, lines(hands)

    for place in controls(hands.window):
        if place.objectName().startswith(prefix) and place.isVisible() and place.isEnabled():
            place.setFocus()
            before = seen()
            keyboard.type(" 4002 9123", gap_ms=8, end=Qt.Key.Key_Return)
            hands.settle()
            assert seen() == before, place.objectName()


def test_a_scan_over_the_sheets_changes_and_confirms_nothing(strange: Hands, tmp_path: Path) -> None:
    hands = strange
    part = files_of(hands)
    before = rows_of(tmp_path)
    scan_everywhere(hands, "catalog_")
    part.read(str(write_update(tmp_path)))
    hands.settle()
    scan_everywhere(hands, "catalog_")
    part.trust.show()
    close_box(hands)
    part.trust.read(str(strange_key_folder() / "public.pem"))
    hands.settle()
    scan_everywhere(hands, "trust_")
    part.leave()
    part.ask()
    for name in ("ask_who_line", "ask_do_button"):
        place = hands.window.findChild(QWidget, name)
        assert place is not None
        place.setFocus()
        Keyboard().type(" 4002 9123", gap_ms=8, end=Qt.Key.Key_Return)
        hands.settle()
        assert bar_is_open(hands)
    assert rows_of(tmp_path) == before


def test_every_place_has_a_name_and_a_paragraph_of_help(strange: Hands) -> None:
    files_of(strange).trust.sheet.show_keys("public.pem", " ".join(groups()))
    assert strange.window.export is not None
    strange.window.export.show()
    assert not unnamed(strange.window)
    names = [one.objectName() for one in controls(strange.window)]
    assert len(names) == len(set(names))
    ours = {one for one in names if one.startswith(("catalog_", "trust_", "export_"))}
    assert ours == set(CATALOG_HELP)


def test_f6_and_tab_reach_everything(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    seen = []
    for _ in range(3):
        seen.append(focus_name())
        hands.press(Qt.Key.Key_F6)
    assert seen == ["catalog_lines_table", "catalog_line_view", "catalog_take_button"]
    assert focus_name() == "catalog_lines_table"
    hands.press(Qt.Key.Key_F6, SHIFT)
    assert focus_name() == "catalog_take_button"
    hands.window.entry.line.setFocus()
    reached: list[str] = []
    for _ in range(60):
        hands.press(Qt.Key.Key_Tab)
        if focus_name() == "entry_text_line":
            break
        assert focus_name() not in reached, "a trap"
        reached.append(focus_name())
    wanted = {one for one in CATALOG_HELP if one.startswith("catalog_")}
    hidden = {"catalog_although_button", "catalog_trust_button", "catalog_job_button"}
    assert wanted - hidden - {"catalog_on_button", "catalog_back_button"} <= set(reached)


@pytest.mark.parametrize(("height", "percent"), [(690, 100), (642, 150), (690, 200)])
def test_nothing_is_cut_and_the_window_stays(
    open_shop: Open, qtbot: QtBot, tmp_path: Path, height: int, percent: int
) -> None:
    hands = open_shop()
    width = 1366 if height == 690 else 1280
    hands.window.resize(width, height)
    hands.window.look.set_text_percent(percent)
    choose(hands, write_update(tmp_path))
    for _ in range(3):
        qtbot.waitUntil(lambda: not cut(hands, "catalog_"))
        hands.press(Qt.Key.Key_F6)
    choose(hands, write_file(tmp_path, next_edition(), 7, keys=strange_key_folder()))
    qtbot.waitUntil(lambda: not cut(hands, "catalog_"))
    files_of(hands).trust.show()
    close_box(hands)
    files_of(hands).trust.read(str(strange_key_folder() / "public.pem"))
    hands.settle()
    qtbot.waitUntil(lambda: not cut(hands, "trust_"))
    assert hands.window.export is not None
    hands.window.export.show()
    qtbot.waitUntil(lambda: not cut(hands, "export_"))
    assert (hands.window.width(), hands.window.height()) == (width, height)


def test_where_both_sides_have_no_room_one_is_shown_and_f6_goes_over(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    hands.window.resize(960, 690)
    hands.window.look.set_text_percent(125)
    choose(hands, write_update(tmp_path))
    sheet = sheet_of(hands)
    assert (sheet.list.isVisible(), sheet.details.isVisible()) == (True, False)
    hands.press(Qt.Key.Key_F6)
    assert (sheet.list.isVisible(), sheet.details.isVisible()) == (False, True)
    assert "the signature is right" in sheet.details.view.toPlainText()
    press(hands, "catalog_back_button")
    assert focus_name() == "catalog_lines_table"
    press(hands, "catalog_on_button")
    assert focus_name() == "catalog_line_view"


def test_every_kind_of_line_has_words_and_a_sign() -> None:
    for words in (KINDS, SIGNS):
        assert set(words) == set(LineKind)
        assert len(set(words.values())) == len(LineKind)
    assert set(MEANS) == set(LineKind)
    assert set(COUNTED) == {one for one in LineKind if not one.is_ours}


class _Asked(tuple[RowChange, ...]):
    """Changes that count how often somebody reads them."""

    times = 0

    def __iter__(self) -> Iterator[RowChange]:
        type(self).times += 1
        return super().__iter__()


def test_of_fifty_thousand_lines_only_those_in_sight_are_put_into_words(qtbot: QtBot) -> None:
    sheet = CatalogFileSheet(Look())
    qtbot.addWidget(sheet)
    sheet.resize(1300, 600)
    sheet.show()
    _Asked.times = 0
    made = [FileLine(LineKind.ADDED, Sentence("P-{n}", {"n": n}), _Asked()) for n in range(50_000)]
    sheet._show_lines(tuple(made))
    QApplication.processEvents()
    assert len(sheet.shown) == 50_000
    sheet.list.setCurrentIndex(sheet.list.model().index(49_999, 0))
    sheet.list.scrollToBottom()
    QApplication.processEvents()
    assert 10 < _Asked.times < 200


def test_the_status_line_names_two_files_and_counts_the_rest() -> None:
    files = [InUse("Harnwick", 42), InUse("Quorley", 7), InUse("Odrin", 1)]
    assert in_use_text(files[:1]) == "Harnwick no. 42"
    assert in_use_text(files) == "Harnwick no. 42, Quorley no. 7, and 1 more"
    assert in_use_text(()) == ""


def test_the_sample_takes_no_files_and_says_so(qtbot: QtBot, tmp_path: Path) -> None:
    store = sample_store(tmp_path)
    with shown_windows(qtbot) as show:
        window = whole_window(LiveDesk(store, SAMPLE_NAME), tmp_path / "window.ini")
        show(window)
        hands = Hands(qtbot, window)
        hands.settle()
        hands.press(Qt.Key.Key_G, CTRL | SHIFT)
        assert window.message.text == IS_SAMPLE
        assert not files_of(hands).is_shown
        assert window.findChild(QFileDialog) is None
    store.dispose()


def test_a_catalog_that_is_only_looked_at_takes_no_files(open_window: OpenWindow, qtbot: QtBot) -> None:
    window = open_window()
    for key in (Qt.Key.Key_G, Qt.Key.Key_T):
        window.message.clear()
        QTest.keyClick(window.windowHandle(), key, CTRL | SHIFT)
        assert window.message.text == "This catalog is only looked at: nothing can be entered."
    wait_until_idle(qtbot, window)
