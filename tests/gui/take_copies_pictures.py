"""Takes the pictures of the copies and the help bundle: ``python -m tests.gui.take_copies_pictures FOLDER``."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QApplication

from tests.gui.take_pictures import settle
from tests.gui.whole_window import pictured_window
from tests.services.copied_shop import copied_shop, hurt_reading
from xref_app.gui.actions import Command
from xref_app.gui.colours import ThemeName
from xref_app.gui.copies_part import CopiesPart
from xref_app.gui.main_window import MainWindow
from xref_app.services.live_desk import LiveDesk
from xref_app.services.open_catalog import open_own

Change = Callable[[MainWindow], None]


def _copies(window: MainWindow) -> CopiesPart:
    assert window.copies is not None
    return window.copies


def _do(window: MainWindow, command: Command) -> None:
    window.actions_by_command[command].trigger()
    settle(window)


def _opened(window: MainWindow) -> None:
    _do(window, Command.COPIES)


def _oldest(window: MainWindow) -> None:
    _opened(window)
    view = _copies(window).sheet.list
    view.setCurrentIndex(view.model().index(view.model().rowCount() - 1, 0))
    settle(window)


def _asked(window: MainWindow) -> None:
    _oldest(window)
    _copies(window).put_all_back()
    settle(window)


def _put_back(window: MainWindow) -> None:
    _asked(window)
    window.entry.clear()
    _do(window, Command.DO_IT)
    settle(window)


def _missing(window: MainWindow) -> None:
    _oldest(window)
    _copies(window).bring_back_missing()
    settle(window)


def _bundle(window: MainWindow) -> None:
    _do(window, Command.HELP_BUNDLE)


def _health(window: MainWindow) -> None:
    _do(window, Command.HEALTH)


def _mend(window: MainWindow) -> None:
    _health(window)
    _do(window, Command.PUT_RIGHT)


SCENES: dict[str, tuple[Change, int, ThemeName]] = {
    "80_copies": (_opened, 100, ThemeName.LIGHT),
    "81_asked": (_asked, 100, ThemeName.LIGHT),
    "82_put_back": (_put_back, 100, ThemeName.LIGHT),
    "83_missing": (_missing, 100, ThemeName.DARK),
    "84_bundle": (_bundle, 100, ThemeName.LIGHT),
    "85_health_damaged": (_health, 100, ThemeName.LIGHT),
    "86_mend": (_mend, 100, ThemeName.CONTRAST),
    "87_asked_150": (_asked, 150, ThemeName.LIGHT),
    "88_asked_200": (_asked, 200, ThemeName.LIGHT),
    "89_bundle_200": (_bundle, 200, ThemeName.LIGHT),
}
_DAMAGED = ("85_health_damaged", "86_mend")


def _desk(folder: Path, name: str) -> LiveDesk:
    path = copied_shop(folder / name)
    if name in _DAMAGED:
        hurt_reading(path)
    return open_own(path)


def take_all(folder: Path) -> None:
    """Write every picture into ``folder``."""
    app = QApplication.instance() or QApplication([])
    with tempfile.TemporaryDirectory() as place:
        for name, (change, percent, theme) in SCENES.items():
            desk = _desk(Path(place), name)
            with pictured_window(desk, Path(place) / f"{name}.ini") as window:
                window.memory.who = "Ana"
                window.look.set_theme(theme)
                window.look.set_text_percent(percent)
                settle(window)
                change(window)
                window.grab().save(str(folder / f"{name}.png"))
    app.processEvents()


if __name__ == "__main__":
    take_all(Path(sys.argv[1]))
