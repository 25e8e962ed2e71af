"""The catalog taken out with the keyboard alone: whole or in part, as a folder or a workbook, and what was left out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog, QPushButton
from pytestqt.qtbot import QtBot

from tests.gui.bench_for_tests import Hands
from tests.gui.catalog_hands import back_from_box, type_into_box
from tests.gui.conftest import shown_windows
from tests.gui.signed_files import sample_rows
from tests.gui.test_names import controls
from tests.gui.test_scans import Keyboard
from tests.gui.whole_window import whole_window
from tests.services.test_export_catalog import OWN_AFFAIRS
from xref_app.core.fields.table_schemas import TABLES
from xref_app.core.model.catalog import Entry
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.data_package import read_data_package
from xref_app.gui.export_part import ExportPart
from xref_app.gui.export_sheet import ExportSheet, Form, What
from xref_app.gui.scan_guard import event_ms
from xref_app.gui.theme import Look
from xref_app.services.live_desk import LiveDesk
from xref_app.store.connect import writing
from xref_app.store.edits import RowEdit, save_edits
from xref_app.store.engine import Store, open_engine
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository

Open = Callable[[], Hands]
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
MACHINE, ITS_PUMP = "M-001", "P-005"


def own_rows() -> CatalogRows:
    """Return the sample as if it were a shop's own: no entry is told as the sample tells it."""
    rows = sample_rows()
    return replace(rows, entries=tuple(replace(one, maker=f"{one.maker} Works") for one in rows.entries))


@pytest.fixture
def open_shop(qtbot: QtBot, tmp_path: Path) -> Iterator[Open]:
    """Return a function that opens a window over a shop with entries of its own, on the export sheet."""
    store = open_engine(tmp_path / "shop.sqlite")
    import_catalog(store, own_rows(), who="Ilvane", why="own")
    with shown_windows(qtbot) as show:

        def open_one() -> Hands:
            window = whole_window(LiveDesk(store, "Own catalog"), tmp_path / "window.ini")
            show(window)
            hands = Hands(qtbot, window)
            hands.settle()
            # As slowly as a person types.
            beats = iter(range(0, 1_000_000, 100))
            window.guard._clock = lambda _event: float(next(beats))
            hands.press(Qt.Key.Key_T, CTRL | SHIFT)
            return hands

        yield open_one
    store.dispose()


def part_of(hands: Hands) -> ExportPart:
    assert hands.window.export is not None
    return hands.window.export


def press(hands: Hands, name: str) -> None:
    button = hands.window.findChild(QPushButton, f"export_{name}_button")
    assert button is not None
    button.setFocus()
    hands.press(Qt.Key.Key_Space)


def write_to(hands: Hands, path: Path) -> str:
    """Press the button, type the name into the box of the system, and return what is said."""
    press(hands, "write")
    type_into_box(hands, "export_write_dialog", path)
    return part_of(hands).sheet.state.text()


def focus_name() -> str:
    focus = QApplication.focusWidget()
    return "" if focus is None else focus.objectName()


def test_the_whole_catalog_is_written_as_a_folder(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    assert focus_name() == "export_all_button"
    said = write_to(hands, tmp_path / "out")
    rows = own_rows()
    count = sum(len(getattr(rows, name)) for name in TABLES if name not in OWN_AFFAIRS)
    assert said == f"Written: {tmp_path / 'out'}. {len(rows.entries)} entries, {count:,} rows in all."
    assert read_data_package(tmp_path / "out").entries == tuple(sorted(rows.entries, key=lambda one: one.entry_id))


def test_a_second_one_meanwhile_is_not_written_and_that_is_said(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    part = part_of(hands)
    part._write(part._wish(), Form.FOLDER, str(tmp_path / "first"))
    part._write(part._wish(), Form.FOLDER, str(tmp_path / "second"))
    assert hands.window.message.text.startswith("Nothing was written: ")
    hands.settle()
    assert (tmp_path / "first").is_dir()
    assert not (tmp_path / "second").exists()


def test_a_workbook_is_written_under_its_ending(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    press(hands, "workbook")
    assert part_of(hands).sheet.form is Form.WORKBOOK
    said = write_to(hands, tmp_path / "list")
    assert said.startswith(f"Written: {tmp_path / 'list.xlsx'}. ")
    assert "entries" in openpyxl.load_workbook(tmp_path / "list.xlsx").sheetnames


def test_the_open_job_brings_its_machine_engine_and_pump(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    job_button = hands.window.findChild(QPushButton, "export_job_button")
    assert job_button is not None
    assert not job_button.isEnabled()
    hands.window.flow.use_machine(MACHINE, MACHINE)
    hands.settle()
    hands.press(Qt.Key.Key_T, CTRL | SHIFT)
    press(hands, "job")
    write_to(hands, tmp_path / "out")
    ids = {one.entry_id for one in read_data_package(tmp_path / "out").entries}
    assert {MACHINE, ITS_PUMP, "D-01"} <= ids
    assert len(ids) <= 4


def test_typed_ids_are_these_entries(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    assert not part_of(hands).sheet.ids.isEnabled()
    press(hands, "these")
    assert part_of(hands).sheet.what is What.THESE
    while focus_name() != "export_ids_line":
        hands.press(Qt.Key.Key_Tab)
    hands.type("p-001, P-003")
    hands.press(Qt.Key.Key_Return)
    assert focus_name() == "export_write_button"
    write_to(hands, tmp_path / "out")
    assert [one.entry_id for one in read_data_package(tmp_path / "out").entries] == ["P-001", "P-003"]


def test_what_is_lacking_or_not_there_is_one_sentence(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    press(hands, "these")
    press(hands, "write")
    sheet = part_of(hands).sheet
    assert sheet.state.text() == "Type which entries: their ids stand in brackets, such as (P-001)."
    assert focus_name() == "export_ids_line"
    assert hands.window.findChild(QFileDialog) is None
    hands.type("NOBODY")
    said = write_to(hands, tmp_path / "out")
    assert said == "Nothing was exported because there is no entry “NOBODY” – look it up with find."
    assert not (tmp_path / "out").exists()


def test_what_was_left_out_is_told(open_shop: Open, tmp_path: Path) -> None:
    hands = open_shop()
    store = open_engine(tmp_path / "shop.sqlite")
    # One that is told as the sample tells it, as if the sample had been imported into the shop.
    made_up = next(one for one in sample_rows().entries if one.entry_id == "P-050")
    save_edits(store, lambda _numbers: [edit(store, made_up)], name="x", who="A", why="x", save_id="1")
    with writing(store) as connection:
        connection.exec_driver_sql("UPDATE entries SET note = 'altered' WHERE entry_id = 'P-003'")
    store.dispose()
    said = write_to(hands, tmp_path / "out")
    assert said.endswith(" Left out: 1 entries of the made-up sample, 1 damaged rows (Ctrl+Shift+E shows them).")


def edit(store: Store, after: Entry) -> RowEdit:
    return RowEdit("entries", CatalogRepository(store).entry(after.entry_id), after)


def test_the_shelf_goes_along_only_when_asked_for(open_shop: Open) -> None:
    hands = open_shop()
    sheet = part_of(hands).sheet
    assert not sheet.with_shelf
    assert "What lies in the shop, and for whom, stays here." in sheet.means.text()
    press(hands, "shelf")
    assert sheet.with_shelf
    assert "Shelf, reservations and used units go with it." in sheet.means.text()
    assert part_of(hands)._wish().with_shop


def test_leaving_the_box_writes_nothing_and_esc_goes_back(open_shop: Open) -> None:
    hands = open_shop()
    press(hands, "write")
    dialog = hands.window.findChild(QFileDialog, "export_write_dialog")
    assert dialog is not None
    assert Path(dialog.selectedFiles()[0]).name.startswith("catalog-20")
    dialog.reject()
    back_from_box(hands)
    assert not part_of(hands).sheet.state.text()
    hands.press(Qt.Key.Key_Escape)
    assert hands.window.panes.isVisible()


def test_f6_goes_round(open_shop: Open) -> None:
    hands = open_shop()
    seen = []
    for _ in range(3):
        hands.press(Qt.Key.Key_F6)
        seen.append(focus_name())
    assert seen == ["export_folder_button", "export_write_button", "export_all_button"]


def test_a_scan_over_the_sheet_changes_nothing(open_shop: Open) -> None:
    hands = open_shop()
    sheet, keyboard = part_of(hands).sheet, Keyboard()

    def seen() -> tuple[object, ...]:
        return sheet.what, sheet.form, sheet.with_shelf, sheet.ids.text(), hands.window.findChild(QFileDialog)

    press(hands, "these")
    before = seen()
    for place in controls(hands.window):
        if place.objectName().startswith("export_") and place.isEnabled():
            hands.window.guard._clock = event_ms
            place.setFocus()
            keyboard.type(" 4002 9123", gap_ms=8, end=Qt.Key.Key_Return)
            hands.settle()
            assert seen() == before, place.objectName()
            assert part_of(hands).is_shown


@pytest.mark.parametrize("is_sample", [False, True])
def test_it_says_that_the_sample_stays_unless_all_is_the_sample(qtbot: QtBot, is_sample: bool) -> None:
    sheet = ExportSheet(Look())
    qtbot.addWidget(sheet)
    sheet.begin(has_job=False, is_sample=is_sample)
    assert ("All of this catalog is made up." in sheet.means.text()) is is_sample
    assert ("so does the made-up sample" in sheet.means.text()) is not is_sample
