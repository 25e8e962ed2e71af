"""A supplier trusted with the keyboard alone: the fingerprint typed as it was told, never pasted."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.gui.bench_for_tests import Hands, open_bench
from tests.gui.catalog_hands import (
    CTRL,
    SHIFT,
    files_of,
    focus_name,
    groups,
    on_trust_sheet,
    open_shop,
    sheet_of,
    strange,
)
from tests.gui.signed_files import SUPPLIER
from tests.services.bench_store import sample_store
from xref_app.services.supplier_keys import known_suppliers

__all__ = ["open_bench", "open_shop", "strange"]


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
    for place, line in enumerate(groups()):
        # Read off the screen it would prove nothing: each line stands there once it was typed.
        assert [one.text() for one in trust_sheet.shown[place:]] == ["shown once typed"] * (4 - place)
        strange.type(line.replace(" ", "").upper())
        strange.press(Qt.Key.Key_Return)
    assert [one.text() for one in trust_sheet.shown] == [one.replace(" ", "  ") for one in groups()]
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
