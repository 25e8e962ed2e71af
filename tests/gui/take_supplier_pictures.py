"""Takes the pictures of "Read supplier file": ``python -m tests.gui.take_supplier_pictures FOLDER``."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from tests.gui.supplier_for_tests import SUPPLIER, messy_list
from tests.gui.take_pictures import settle
from tests.gui.whole_window import pictured_window
from tests.services.bench_store import sample_desk
from xref_app.gui.actions import Command
from xref_app.gui.colours import ThemeName
from xref_app.gui.main_window import MainWindow
from xref_app.gui.supplier_part import SupplierPart

Change = Callable[[MainWindow, Path], None]


def _part(window: MainWindow) -> SupplierPart:
    assert window.suppliers is not None
    return window.suppliers


def _press(window: MainWindow, *keys: Qt.Key) -> None:
    for key in keys:
        focus: QWidget = QApplication.focusWidget() or window
        QTest.keyClick(focus, key)
        settle(window)


def _empty(window: MainWindow, _folder: Path) -> None:
    window.bench.show_page(_part(window).sheet) if window.bench else None
    _part(window).sheet.focus_first()


def _read(window: MainWindow, folder: Path) -> None:
    _part(window).read(messy_list(folder, good=212))
    settle(window)


def _named(window: MainWindow, folder: Path) -> None:
    _read(window, folder)
    _part(window).sheet.details.about.line.setText(SUPPLIER)
    _press(window, Qt.Key.Key_Return)


def _whole(window: MainWindow, folder: Path) -> None:
    """Say the rows and the mark, then rows that are the wrong way round."""
    _named(window, folder)
    about = _part(window).sheet.details.about
    _press(window, Qt.Key.Key_Home, Qt.Key.Key_F6, *[Qt.Key.Key_Tab] * 5, Qt.Key.Key_Down)
    QTest.keyClick(about.decimals_combo, Qt.Key.Key_Backtab)
    about.headings_line.setText("5-4")
    _press(window, Qt.Key.Key_Return)


def _other_mark(window: MainWindow, folder: Path) -> None:
    """Say a decimal point of a list that has commas: everything that cannot be written so is asked about."""
    _named(window, folder)
    _part(window).say_decimals(".")
    settle(window)
    _part(window).sheet.focus_rows()
    settle(window)
    _press(window, Qt.Key.Key_Home, Qt.Key.Key_Return, Qt.Key.Key_Down)


def _column(window: MainWindow, folder: Path) -> None:
    _named(window, folder)
    _press(window, *[Qt.Key.Key_Down] * 6, Qt.Key.Key_Return)
    _part(window).sheet.details.column.line.setText("bore")


def _rows(window: MainWindow, folder: Path) -> None:
    _named(window, folder)
    _part(window).sheet.focus_rows()
    settle(window)
    _press(window, Qt.Key.Key_Down, Qt.Key.Key_Home)


def _both_readings(window: MainWindow, folder: Path) -> None:
    _rows(window, folder)
    _press(window, Qt.Key.Key_Return, Qt.Key.Key_Down)


def _refused(window: MainWindow, folder: Path) -> None:
    _rows(window, folder)
    _press(window, *[Qt.Key.Key_Down] * 4, Qt.Key.Key_Return, Qt.Key.Key_Down, Qt.Key.Key_Return)


def _good(window: MainWindow, folder: Path) -> None:
    _rows(window, folder)
    _press(window, *[Qt.Key.Key_Down] * 9)


def _ready(window: MainWindow, folder: Path) -> None:
    _both_readings(window, folder)
    _press(window, Qt.Key.Key_Return)
    window.actions_by_command[Command.DO_IT].trigger()
    settle(window)


def _taken(window: MainWindow, folder: Path) -> None:
    _ready(window, folder)
    window.actions_by_command[Command.DO_IT].trigger()
    settle(window)


def _in(change: Change, percent: int = 100, theme: ThemeName = ThemeName.LIGHT, width: int = 1366) -> Change:
    def changed(window: MainWindow, folder: Path) -> None:
        window.look.set_theme(theme)
        window.look.set_text_percent(percent)
        if width != 1366:
            window.resize(width, 720)
        settle(window)
        change(window, folder)

    return changed


SCENES: dict[str, Change] = {
    "80_supplier_empty": _empty,
    "81_supplier_read": _read,
    "81a_supplier_whole": _whole,
    "81b_supplier_other_mark": _other_mark,
    "82_supplier_columns": _column,
    "83_supplier_rows": _rows,
    "84_supplier_both_readings": _both_readings,
    "85_supplier_refused": _refused,
    "86_supplier_good": _good,
    "87_supplier_ready": _ready,
    "88_supplier_taken": _taken,
    "89_supplier_dark": _in(_both_readings, theme=ThemeName.DARK),
    "90_supplier_contrast": _in(_column, theme=ThemeName.CONTRAST),
    "91_supplier_150": _in(_both_readings, 150),
    "92_supplier_150_column": _in(_column, 150),
    "93_supplier_200_read": _in(_read, 200),
    "93a_supplier_200_whole": _in(_whole, 200),
    "93b_supplier_150_whole_dark": _in(_whole, 150, theme=ThemeName.DARK),
    "94_supplier_200_rows": _in(_rows, 200),
    "95_supplier_200_answers": _in(_both_readings, 200),
    "96_supplier_200_columns": _in(_named, 200),
    "97_supplier_200_column": _in(_column, 200),
    "98_supplier_200_ready": _in(_ready, 200),
    "99_supplier_narrow": _in(_rows, 125, width=960),
}


def take_all(folder: Path, only: str = "") -> None:
    """Write every picture whose name has ``only`` in it into ``folder``."""
    _app = QApplication.instance() or QApplication([])
    with tempfile.TemporaryDirectory() as settings:
        for name, change in SCENES.items():
            if only not in name:
                continue
            place = Path(settings) / name
            place.mkdir()
            desk = sample_desk(place)
            with pictured_window(desk, place / "window.ini") as window:
                window.memory.who = "Ilvane"
                change(window, place)
                settle(window)
                window.grab().save(str(folder / f"{name}.png"))


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target, *sys.argv[2:])
