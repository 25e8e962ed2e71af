"""Takes the pictures of the pair sheet: ``python -m tests.gui.take_pair_pictures FOLDER``."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QApplication

from tests.gui.take_pictures import settle
from tests.gui.whole_window import pictured_window
from tests.services.bench_store import sample_desk
from xref_app.gui.actions import Command
from xref_app.gui.colours import ThemeName
from xref_app.gui.main_window import MainWindow
from xref_app.gui.pair_part import PairPart


def _pairs(window: MainWindow) -> PairPart:
    assert window.pairs is not None
    return window.pairs


def _do(window: MainWindow, command: Command) -> None:
    window.actions_by_command[command].trigger()
    settle(window)


def _nothing(_window: MainWindow) -> None:
    pass


def _not_known(window: MainWindow) -> None:
    _pairs(window).sheet.go_to(("U-037", "U-048"))


def _wishes(window: MainWindow) -> None:
    _pairs(window).sheet.go_to(("U-045", "U-021"))
    _do(window, Command.PAIR_NEVER)
    _pairs(window).sheet.go_to(("U-040", "U-051"))
    _do(window, Command.PAIR_SURELY)
    _do(window, Command.PAIR_FILTER)


def _reserved(window: MainWindow) -> None:
    _do(window, Command.RESERVE)
    _pairs(window).sheet.details.list.setCurrentIndex(_pairs(window).sheet.details.list.model().index(9, 0))


def _in_theme(theme: ThemeName) -> Callable[[MainWindow], None]:
    return lambda window: window.look.set_theme(theme)


def _at(percent: int) -> Callable[[MainWindow], None]:
    return lambda window: window.look.set_text_percent(percent)


def _narrow(window: MainWindow) -> None:
    window.look.set_text_percent(125)
    window.resize(960, 768)


SCENES: dict[str, Callable[[MainWindow], None]] = {
    "40_pairs": _nothing,
    "41_pairs_not_known": _not_known,
    "42_pairs_wishes": _wishes,
    "43_pairs_reserved": _reserved,
    "44_pairs_dark": _in_theme(ThemeName.DARK),
    "45_pairs_contrast": _in_theme(ThemeName.CONTRAST),
    "46_pairs_text_150": _at(150),
    "47_pairs_text_200": _at(200),
    "48_pairs_narrow": _narrow,
}


def take_all(folder: Path) -> list[Path]:
    """Write every picture into ``folder`` and return the files."""
    _app = QApplication.instance() or QApplication([])
    written: list[Path] = []
    with tempfile.TemporaryDirectory() as settings:
        for name, change in SCENES.items():
            place = Path(settings) / name
            place.mkdir()
            desk = sample_desk(place)
            with pictured_window(desk, place / "window.ini") as window:
                window.memory.who = "Ilvane"
                _do(window, Command.PAIR_UP)
                change(window)
                settle(window)
                written.append(folder / f"{name}.png")
                window.grab().save(str(written[-1]))
    return written


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target)
