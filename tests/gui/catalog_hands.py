"""Hands at the sheet "Catalog file": a shop that trusts a supplier, files typed into the box, what is shown."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QPushButton

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.conftest import delete_later_now
from tests.gui.signed_files import next_edition, strange_key_folder, trust, write_file
from tests.services.bench_store import sample_store
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.signing_keys import load_supplier
from xref_app.gui.catalog_file_part import CatalogFilePart
from xref_app.gui.catalog_file_sheet import CatalogFileSheet
from xref_app.gui.messages import say
from xref_app.services.catalog_file_lines import LineKind
from xref_app.services.supplier_keys import known_suppliers
from xref_app.store.repository import CatalogRepository

__all__ = ["open_bench"]

Open = Callable[[], Hands]
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


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
    # Of a whole path the box selects what it completes it to as well, where a folder was looked into before.
    dialog.setDirectory(str(path.parent))
    line.setText(path.name)
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
