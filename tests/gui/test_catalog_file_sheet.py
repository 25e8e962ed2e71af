"""A supplier's catalog file with the keyboard alone: looked at, taken and taken back, refused, and trusted by hand."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.conftest import Open as OpenWindow
from tests.gui.conftest import delete_later_now, shown_windows, wait_until_idle
from tests.gui.signed_files import (
    CHANGED_PUMP,
    GONE_PUMP,
    NEW_PUMP,
    SUPPLIER,
    key_folder,
    next_edition,
    sample_rows,
    strange_key_folder,
    trust,
    write_file,
    write_update,
)
from tests.gui.test_names import controls, unnamed
from tests.gui.test_scans import Keyboard
from tests.gui.test_what_happened import MACHINE, chosen, cut, with_job
from tests.gui.whole_window import whole_window
from tests.services.bench_store import sample_store
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import Entry
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.sentence import Sentence
from xref_app.exchange.signing_keys import load_supplier
from xref_app.gui.catalog_file_part import CatalogFilePart
from xref_app.gui.catalog_file_sheet import CatalogFileSheet
from xref_app.gui.catalog_file_words import COUNTED, KINDS, MEANS, SIGNS, in_use_text
from xref_app.gui.help_catalog import CATALOG_HELP
from xref_app.gui.messages import say
from xref_app.gui.scan_guard import event_ms
from xref_app.gui.theme import Look
from xref_app.services.catalog_file_lines import FileLine, LineKind
from xref_app.services.catalog_files import IS_SAMPLE, InUse
from xref_app.services.kept_copies import Kind, is_good, kept_copies
from xref_app.services.live_desk import LiveDesk
from xref_app.services.sample_name import SAMPLE_NAME
from xref_app.services.supplier_keys import known_suppliers
from xref_app.store.edits import RowEdit, save_edits
from xref_app.store.engine import open_engine
from xref_app.store.history import read_history
from xref_app.store.repository import CatalogRepository
from xref_app.store.row_changes import RowChange

__all__ = ["open_bench"]

Open = Callable[[], Hands]
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
OLDER = (
    "The catalog file has number 41, and number 42 was taken already; nothing was changed: ask for a newer one, or "
    "take it all the same."
)


@pytest.fixture
def open_shop(open_bench: Open, tmp_path: Path) -> Open:
    """Return a function that opens a window over the sample in a shop that trusts the supplier."""

    def open_one() -> Hands:
        store = sample_store(tmp_path)
        if not known_suppliers(store):
            trust(store)
        store.dispose()
        hands = open_bench()
        hands.window.memory.who = "Ilvane"
        hands.bench.flow.set_who("Ilvane")
        return hands

    return open_one


def files_of(hands: Hands) -> CatalogFilePart:
    assert hands.window.catalog_file is not None
    return hands.window.catalog_file


def sheet_of(hands: Hands) -> CatalogFileSheet:
    return files_of(hands).file_sheet


def choose(hands: Hands, path: Path) -> None:
    """Press the command, and type the file's name into the box of the system."""
    hands.press(Qt.Key.Key_G, CTRL | SHIFT)
    type_into_box(hands, "catalog_choose_dialog", path)


def type_into_box(hands: Hands, name: str, path: Path) -> None:
    dialog = hands.window.findChild(QFileDialog, name)
    assert dialog is not None
    line = dialog.findChild(QLineEdit)
    assert line is not None
    line.setText(str(path))
    QTest.keyClick(line, Qt.Key.Key_Return)
    back_from_box(hands)


def back_from_box(hands: Hands) -> None:
    """Give the keys back to the window, as a window system does when a box is closed."""
    delete_later_now()
    hands.window.activateWindow()
    hands._qtbot.waitUntil(hands.window.isActiveWindow)
    hands.settle()


def close_box(hands: Hands) -> None:
    dialog = hands.window.findChild(QFileDialog)
    assert dialog is not None
    dialog.reject()
    back_from_box(hands)


def take(hands: Hands, path: Path) -> None:
    choose(hands, path)
    hands.press(Qt.Key.Key_F12)
    hands.press(Qt.Key.Key_F12)


def press(hands: Hands, name: str) -> None:
    """Go to a button with the keys and press it."""
    button = hands.window.findChild(QPushButton, name)
    assert button is not None
    assert button.isVisible(), name
    button.setFocus()
    hands.press(Qt.Key.Key_Space)


def focus_name() -> str:
    focus = QApplication.focusWidget()
    return "" if focus is None else focus.objectName()


def lines(hands: Hands) -> list[tuple[LineKind, str]]:
    return [(one.kind, say(one.called)) for one in sheet_of(hands).shown]


def rows_of(tmp_path: Path) -> CatalogRows:
    store = sample_store(tmp_path)
    rows = CatalogRepository(store).everything()
    store.dispose()
    return rows


def bar_is_open(hands: Hands) -> bool:
    assert hands.window.shelf is not None
    return hands.window.shelf.bar.is_open


def status(hands: Hands) -> str:
    return hands.window.status._catalog.text()


# -- looking


def test_a_file_is_chosen_and_told_and_nothing_is_changed(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    sheet = sheet_of(hands)
    fingerprint = load_supplier(key_folder() / "public.pem", "").fingerprint
    assert sheet.title == f"Spring list, number 42 of {SUPPLIER}"
    assert sheet.about.splitlines() == [
        f"Signed by {SUPPLIER}; the signature is right. Number 42; no file of this supplier was taken before.",
        # The shelf and the used units of the sample are no supplier's to say.
        "Rows: 3 new, 1 changed, 4,272 stand here already; 258 left out, not the supplier's to say.",
        f"Fingerprint {fingerprint}",
    ]
    assert focus_name() == "catalog_lines_list"
    assert lines(hands) == [
        (LineKind.OUTCOME, "Pellawin KO7-4410 (P-002) on Frostlindel FL-54C3 (M-001): installed with parts"),
        (LineKind.OUTCOME, "Pellawin PL36V50 (P-004) on Frostlindel FL-54C3 (M-001): did not fit"),
        (LineKind.WITHDRAWN, "Pellawin PL36V50 (P-004)"),
        (LineKind.CHANGED, "Pellawin KO7-4410 (P-002)"),
        (LineKind.ADDED, "Pellawin PL77C02 (P-900)"),
    ]
    assert rows_of(tmp_path) == before
    assert status(hands) == "Catalog: Sample"


def test_a_changed_value_stands_beside_the_old_one(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    for _ in range(3):
        hands.press(Qt.Key.Key_Down)
    line = sheet_of(hands).line
    assert line is not None
    assert [say(one) for one in line.words()] == ["Bore diameter: .876 in → 28.0 mm"]
    assert "Bore diameter: .876 in → 28.0 mm" in sheet_of(hands).details.view.toPlainText()
    hands.press(Qt.Key.Key_Down)
    assert sheet_of(hands).details.view.toPlainText().splitlines() == [
        "Added: Pellawin PL77C02 (P-900)",
        "Pump: Pellawin, Pump vertical 7/8 in",
        "Number PL77C02: maker, sheet",
        "Bore diameter: 22.23 mm, sheet",
    ]


def test_a_button_leaves_one_kind_and_once_more_shows_all(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    texts = [one.text() for one in sheet_of(hands).filter.buttons.values()]
    assert texts == ["Ours 2", "Withdrawn 1", "Changed 1", "Added 1"]
    press(hands, "catalog_withdrawn_button")
    assert [kind for kind, _called in lines(hands)] == [LineKind.WITHDRAWN]
    press(hands, "catalog_ours_button")
    assert [kind for kind, _called in lines(hands)] == [LineKind.OUTCOME] * 2
    press(hands, "catalog_ours_button")
    assert len(lines(hands)) == 5


def test_a_job_that_the_file_touches_is_listed_and_opened(open_shop: Open, tmp_path: Path) -> None:
    hands = with_job(open_shop)
    hands.window.flow.set_reference("4711")
    assert hands.window.jobs is not None
    hands.window.jobs.keeper.keep_now()
    hands.settle()
    hands.press(Qt.Key.Key_N, CTRL)
    choose(hands, write_update(tmp_path))
    first = sheet_of(hands).line
    assert first is not None
    assert (first.kind, first.job is not None) == (LineKind.JOB, True)
    assert [say(one) for one in first.words()] == [
        "Pump chosen: KO7-4410",
        "Touched by the file: Pellawin KO7-4410 (P-002)",
    ]
    assert sheet_of(hands).state == (
        "It touches what you wrote down yourselves: kept jobs: 1, outcomes: 2. Look at these first."
    )
    hands.press(Qt.Key.Key_Return)
    assert hands.window.panes.isVisible()
    assert hands.window.flow.reference == "4711"


# -- taking


def test_a_file_is_taken_with_two_keys_and_ctrl_z_takes_it_back(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    assert bar_is_open(hands)
    assert hands.window.shelf is not None
    assert hands.window.shelf.bar._question.text() == (
        f"Take number 42 of {SUPPLIER}: 1 added, 1 changed, 1 withdrawn. A copy is made first; Ctrl+Z takes it back."
    )
    assert rows_of(tmp_path) == before
    hands.press(Qt.Key.Key_F12)
    copies = kept_copies(tmp_path / "shop.sqlite")
    assert [(one.kind, is_good(one)) for one in copies] == [(Kind.CATALOG, True)]
    assert hands.window.message.text == (
        f"Taken: number 42 of {SUPPLIER}: 1 added, 1 changed, 1 withdrawn. Copy made before: {copies[0].path.name}. "
        "Ctrl+Z takes it back."
    )
    now = rows_of(tmp_path)
    assert {one.entry_id for one in now.entries} - {one.entry_id for one in before.entries} == {NEW_PUMP}
    assert [one.entry_id for one in now.entries if one.withdrawn_on] == [GONE_PUMP]
    assert status(hands) == f"Catalog: Sample, {SUPPLIER} no. 42"
    assert hands.window.status._undo.text() == f"Undo: Spring list ({SUPPLIER}, 42)  Ctrl+Z"
    hands.press(Qt.Key.Key_Z, CTRL)
    back = rows_of(tmp_path)
    assert [one for one in back.entries if not one.withdrawn_on] == list(before.entries)
    assert [one for one in back.observations if one.entry_id != NEW_PUMP] == list(before.observations)
    assert hands.window.message.text == f"Taken back: Spring list ({SUPPLIER}, 42)."
    hands.press(Qt.Key.Key_Y, CTRL)
    assert rows_of(tmp_path) == now


def test_f12_twice_in_the_bar_takes_it_once(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    for _ in range(3):
        QTest.keyClick(hands.window, Qt.Key.Key_F12)
    hands.settle()
    assert len(kept_copies(tmp_path / "shop.sqlite")) == 1
    hands.press(Qt.Key.Key_F12)
    assert not bar_is_open(hands)
    assert hands.window.message.text == "Choose a good catalog file first: Ctrl+Shift+G."


def test_leaving_the_bar_takes_nothing(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    hands.press(Qt.Key.Key_Escape)
    assert not bar_is_open(hands)
    assert files_of(hands).is_shown
    hands.press(Qt.Key.Key_Escape)
    assert hands.window.panes.isVisible()
    assert rows_of(tmp_path) == before


def test_nobody_takes_it_namelessly(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    assert hands.window.shelf is not None
    hands.window.shelf.bar.lines["who"].clear()
    hands.press(Qt.Key.Key_F12)
    assert hands.window.message.text == "Say who takes the file; nothing was changed."
    assert rows_of(tmp_path) == before
    hands.type("Odrin")
    hands.press(Qt.Key.Key_F12)
    store = sample_store(tmp_path)
    assert read_history(store, limit=1)[0].change.who == "Odrin"
    store.dispose()


def test_the_job_on_screen_is_judged_anew(open_shop: Open, tmp_path: Path) -> None:
    hands = with_job(open_shop)
    assert chosen_verdict(hands) is Verdict.FITS_WITH_PARTS
    take(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_Escape)
    assert chosen_verdict(hands) is Verdict.DOES_NOT_FIT
    hands.press(Qt.Key.Key_Z, CTRL)
    hands.window.panes.candidates.choose(CHANGED_PUMP)
    hands.settle()
    assert chosen_verdict(hands) is Verdict.FITS_WITH_PARTS


def chosen_verdict(hands: Hands) -> Verdict:
    assert chosen(hands).entry_id == CHANGED_PUMP
    return chosen(hands).judgement.verdict


def test_a_job_about_what_is_withdrawn_goes_on_without_it(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    hands.window.entry.take_scan("PL36V50")
    hands.settle()
    assert [one.entry_id for one in hands.window.flow.facts] == [GONE_PUMP]
    take(hands, write_update(tmp_path))
    assert not hands.window.flow.facts
    assert hands.window.message.text.endswith("The job goes on without PL36V50, withdrawn.")


def test_the_first_file_of_an_empty_shop_is_a_catalog(qtbot: QtBot, tmp_path: Path) -> None:
    store = open_engine(tmp_path / "shop.sqlite")
    trust(store)
    with shown_windows(qtbot) as show:
        window = whole_window(LiveDesk(store, "Own catalog"), tmp_path / "window.ini")
        show(window)
        hands = Hands(qtbot, window)
        hands.settle()
        assert window.message.text.startswith("No catalog yet. Read a supplier's catalog file: Ctrl+Shift+G.")
        assert status(hands) == "No catalog"
        window.memory.who = "Ilvane"
        path = write_file(tmp_path, sample_rows(), 1)
        choose(hands, path)
        hands.press(Qt.Key.Key_F12)
        assert window.shelf is not None
        # There is nothing yet to copy.
        assert window.shelf.bar._question.text() == f"Take number 1 of {SUPPLIER}: 440 added. Ctrl+Z takes it back."
        hands.press(Qt.Key.Key_F12)
        assert window.message.text == f"Taken: number 1 of {SUPPLIER}: 440 added. Ctrl+Z takes it back."
        assert status(hands) == f"Catalog: Own catalog, {SUPPLIER} no. 1"
        window.entry.take_scan(MACHINE)
        hands.settle()
        assert hands.window.flow.facts
        hands.press(Qt.Key.Key_Z, CTRL)
        assert status(hands) == "No catalog"
    store.dispose()


def test_what_is_the_shops_own_is_never_overwritten(open_shop: Open, tmp_path: Path) -> None:
    store = sample_store(tmp_path)
    own = Entry("OWN-0001", "pump", "Quenna", "Ours")
    save_edits(store, lambda _numbers: [RowEdit("entries", None, own)], name="Ours", who="A", why="x", save_id="1")
    store.dispose()
    hands = open_shop()
    rows = next_edition()
    hostile = Entry("OWN-0001", "pump", "Harnwick", "Theirs")
    path = write_file(tmp_path, type(rows)(entries=(*rows.entries, hostile)), 50)
    choose(hands, path)
    assert not any("OWN-0001" in called for _kind, called in lines(hands))
    hands.press(Qt.Key.Key_F12)
    hands.press(Qt.Key.Key_F12)
    assert own in rows_of(tmp_path).entries


def test_a_file_too_large_for_ctrl_z_says_that_the_copy_is_the_way_back(
    open_shop: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("xref_app.store.catalog_act.MOST_UNDONE_ROWS", 3)
    hands = open_shop()
    choose(hands, write_update(tmp_path))
    hands.press(Qt.Key.Key_F12)
    assert hands.window.shelf is not None
    assert hands.window.shelf.bar._question.text().endswith(
        "A copy is made first: it is the way back, for so many rows are too many for Ctrl+Z."
    )
    hands.press(Qt.Key.Key_F12)
    assert "Ctrl+Z" not in hands.window.message.text
    assert kept_copies(tmp_path / "shop.sqlite")[0].path.name in hands.window.message.text


# -- refused


def test_an_older_number_is_refused_and_taken_only_as_an_act_of_its_own(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    take(hands, write_update(tmp_path))
    after = rows_of(tmp_path)
    choose(hands, write_file(tmp_path, sample_rows(), 41))
    assert sheet_of(hands).state == OLDER
    assert not sheet_of(hands).details.take_button.isEnabled()
    hands.press(Qt.Key.Key_F12)
    assert not bar_is_open(hands)
    assert hands.window.message.text == OLDER
    press(hands, "catalog_although_button")
    assert bar_is_open(hands)
    assert rows_of(tmp_path) == after
    hands.press(Qt.Key.Key_F12)
    assert rows_of(tmp_path) != after
    store = sample_store(tmp_path)
    assert read_history(store, limit=1)[0].change.why.endswith("; taken though number 42 was taken before")
    store.dispose()
    assert status(hands).endswith(f"{SUPPLIER} no. 42")


def test_the_same_file_again_has_nothing_to_take(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    path = write_update(tmp_path)
    take(hands, path)
    choose(hands, path)
    assert sheet_of(hands).state == "This very file was taken before: there is nothing left to change."
    hands.press(Qt.Key.Key_F12)
    assert not bar_is_open(hands)
    assert hands.window.message.text == "There is nothing left to take of this file."


def test_a_damaged_file_is_one_sentence(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    before = rows_of(tmp_path)
    path = write_update(tmp_path)
    path.write_bytes(path.read_bytes()[:-40_000])
    choose(hands, path)
    assert sheet_of(hands).state == (
        "The catalog file “list-42.xrefcat” is damaged in its part “observations.csv”; nothing was changed: copy it "
        "anew from where it came."
    )
    assert not sheet_of(hands).shown
    assert sheet_of(hands).details.trust_button.isHidden()
    hands.press(Qt.Key.Key_F12)
    assert not bar_is_open(hands)
    assert rows_of(tmp_path) == before


def test_a_stick_that_was_pulled_is_one_sentence(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    files_of(hands).read(str(tmp_path / "gone.xrefcat"))
    hands.settle()
    assert "cannot be read" in sheet_of(hands).state


def test_esc_stops_the_reading(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    hands.press(Qt.Key.Key_G, CTRL | SHIFT)
    close_box(hands)
    files_of(hands).read(str(write_update(tmp_path)))
    files_of(hands).leave()
    hands.settle()
    assert sheet_of(hands).state == "Stopped; nothing was changed. Ctrl+Shift+G chooses a file."
    assert not sheet_of(hands).shown
    assert files_of(hands).is_shown


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


# -- trusting


@pytest.fixture
def strange(open_shop: Open, tmp_path: Path) -> Hands:
    """A window that was shown a file of somebody unknown."""
    hands = open_shop()
    choose(hands, write_file(tmp_path, next_edition(), 7, keys=strange_key_folder()))
    return hands


def on_trust_sheet(hands: Hands) -> None:
    assert focus_name() == "catalog_trust_button"
    hands.press(Qt.Key.Key_Space)
    type_into_box(hands, "trust_choose_dialog", strange_key_folder() / "public.pem")
    assert focus_name() == "trust_typed_1_line"


def groups() -> list[str]:
    fingerprint = load_supplier(strange_key_folder() / "public.pem", "").fingerprint.split()
    return [" ".join(fingerprint[start : start + 4]) for start in range(0, 16, 4)]


def test_an_unknown_supplier_is_one_sentence_and_can_be_trusted_by_hand(strange: Hands, tmp_path: Path) -> None:
    sheet = sheet_of(strange)
    assert sheet.state == (
        "The catalog file “list-7.xrefcat” is not signed by any supplier whose keys this shop has; nothing was "
        "changed: take no file from it, or add the supplier's keys first."
    )
    assert sheet.details.view.toPlainText() == (
        f"Files are taken of {SUPPLIER}. If it is from one of them, it was changed or damaged on the way: ask for it "
        "again."
    )
    on_trust_sheet(strange)
    trust_sheet = files_of(strange).trust.sheet
    assert [one.text() for one in trust_sheet.shown] == [one.replace(" ", "  ") for one in groups()]
    for line in groups():
        strange.type(line.replace(" ", "").upper())
        strange.press(Qt.Key.Key_Return)
    assert focus_name() == "trust_name_line"
    strange.type("Quorley")
    strange.press(Qt.Key.Key_F12)
    assert strange.window.message.text == "Catalog files of Quorley are taken from now on."
    assert sheet.title == "Spring list, number 7 of Quorley"
    assert sheet.shown
    store = sample_store(tmp_path)
    assert [one.name for one in known_suppliers(store)] == [SUPPLIER, "Quorley"]
    store.dispose()


def test_another_fingerprint_adds_no_keys(strange: Hands, tmp_path: Path) -> None:
    on_trust_sheet(strange)
    for line in (*groups()[:3], "0000 0000 0000 0000"):
        strange.type(line)
        strange.press(Qt.Key.Key_Return)
    strange.type("Quorley")
    strange.press(Qt.Key.Key_F12)
    assert "which is not the one given" in files_of(strange).trust.sheet.state.text()
    assert files_of(strange).trust.is_shown
    store = sample_store(tmp_path)
    assert [one.name for one in known_suppliers(store)] == [SUPPLIER]
    store.dispose()
    strange.press(Qt.Key.Key_Escape)
    assert files_of(strange).is_shown
    assert not files_of(strange).trust.is_shown


def test_nothing_can_be_pasted_into_the_fingerprint(strange: Hands) -> None:
    on_trust_sheet(strange)
    QApplication.clipboard().setText(groups()[0])
    for key, modifier in ((Qt.Key.Key_V, CTRL), (Qt.Key.Key_Insert, SHIFT)):
        strange.press(key, modifier)
    line = files_of(strange).trust.sheet.typed[0]
    QTest.mouseClick(line, Qt.MouseButton.MiddleButton)
    assert line.text() == ""
    assert not line.acceptDrops()
    strange.type("6")
    assert line.text() == "6"


def test_without_a_name_or_a_fingerprint_one_sentence_says_so(strange: Hands) -> None:
    on_trust_sheet(strange)
    state = files_of(strange).trust.sheet.state
    strange.press(Qt.Key.Key_F12)
    assert state.text() == "No supplier was added because it has no name – say who it is."
    files_of(strange).trust.sheet.name.setText("Quorley")
    strange.press(Qt.Key.Key_F12)
    assert state.text() == (
        "No supplier was added because no fingerprint was typed – ask the supplier for it and type it."
    )


# -- the sheet


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
    assert seen == ["catalog_lines_list", "catalog_line_view", "catalog_take_button"]
    assert focus_name() == "catalog_lines_list"
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
    assert focus_name() == "catalog_lines_list"
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
