"""Takes the pictures of fix or replace: ``python -m tests.gui.take_fix_pictures FOLDER``."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from tests.gui.take_pictures import settle
from tests.gui.whole_window import pictured_window
from tests.services.bench_store import sample_desk
from xref_app.gui.colours import ThemeName
from xref_app.gui.fix_part import FixPart
from xref_app.gui.main_window import MainWindow

Change = Callable[[MainWindow], None]
NUMBER = "FL-54C3"
SHOP = {"rate": "60", "tax": "8", "sign": "$"}
TYPED = {
    "keep.seal": "24-30",
    "keep.valve": "12",
    "keep.minutes": "70 min",
    "put_on.minutes": "25",
    "used.minutes": "25",
    "used.other": "60-70",
    "new.machine": "399",
    "new.minutes": "10",
    "new.trade_in": "30",
}


def fix_of(window: MainWindow) -> FixPart:
    assert window.fix is not None
    return window.fix


def typed(texts: Mapping[str, str], *, pump: str = "", price: str = "") -> Change:
    def change(window: MainWindow) -> None:
        if pump:
            window.panes.candidates.choose(pump)
        settle(window)
        fix_of(window).show()
        settle(window)
        sheet = fix_of(window).sheet
        for name, text in SHOP.items():
            sheet.shop.lines[name].setText(text)
        for column in sheet.columns.values():
            for line in column.lines:
                text = price if line.figure.startswith("put_on.P") else texts.get(line.figure, "")
                if text:
                    line.field.setText(text)

    return change


def then(*changes: Change) -> Change:
    def change(window: MainWindow) -> None:
        for one in changes:
            one(window)
            settle(window)

    return change


def confirmed(window: MainWindow) -> None:
    for column in fix_of(window).sheet.columns.values():
        if column.holds_button.isVisible():
            column.holds_button.click()


def looked_at(window: MainWindow) -> None:
    for column in fix_of(window).sheet.columns.values():
        if column.sound_button.isVisible():
            column.sound_button.click()


def text_at(percent: int) -> Change:
    return lambda window: window.look.set_text_percent(percent)


def colours(theme: ThemeName) -> Change:
    return lambda window: window.look.set_theme(theme)


def _low(window: MainWindow) -> None:
    window.resize(1366, 690)


_FULL = typed(TYPED, pump="P-002", price="149")
SCENES: dict[str, Change] = {
    "60_fix_opened": typed({}, pump="P-002"),
    "61_fix_old_prices": _FULL,
    "62_fix_overlap": then(_FULL, confirmed),
    "63_fix_certain": then(_FULL, confirmed, looked_at),
    "64_fix_690": then(_low, _FULL, confirmed, looked_at),
    "65_fix_150": then(text_at(150), _FULL, confirmed, looked_at),
    "66_fix_dark": then(colours(ThemeName.DARK), _FULL, confirmed),
    "67_fix_bad_input": typed({**TYPED, "keep.seal": "1,000", "new.machine": "abc"}, pump="P-002", price="149"),
    "68_fix_200": then(text_at(200), _FULL, confirmed),
}


def take_all(folder: Path) -> None:
    """Write every picture into ``folder``, one of them in grey as well."""
    _app = QApplication.instance() or QApplication([])
    with tempfile.TemporaryDirectory() as kept:
        for name, change in SCENES.items():
            place = Path(kept) / name
            place.mkdir()
            desk = sample_desk(place)
            with pictured_window(desk, place / "window.ini") as window:
                window.entry.take_scan(NUMBER)
                settle(window)
                builds = window.panes.facts.view
                builds.activated.emit(builds.model().index(0, 0))
                settle(window)
                change(window)
                settle(window)
                image = window.grab().toImage()
                image.save(str(folder / f"{name}.png"))
                if name.startswith("63"):
                    image.convertToFormat(QImage.Format.Format_Grayscale8).save(str(folder / f"{name}_grey.png"))


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target)
