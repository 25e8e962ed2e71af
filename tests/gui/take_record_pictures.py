"""Takes the pictures of builds and of what happened before: ``python -m tests.gui.take_record_pictures FOLDER``."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from tests.gui.records_for_tests import FAILED_PUMP, MANY_BUILDS, TRIED_MACHINE, UNTOLD_BUILDS, tried_desk
from tests.gui.take_pictures import settle
from xref_app.gui.colours import ThemeName
from xref_app.gui.desks import Desks
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import build_window

Change = Callable[[MainWindow], None]


def _nothing(_window: MainWindow) -> None:
    pass


def _pick(window: MainWindow, place: int = 0) -> None:
    builds = window.panes.facts.view
    builds.activated.emit(builds.model().index(place, 0))
    settle(window)


def _tried(pump: str) -> Change:
    def change(window: MainWindow) -> None:
        _pick(window)
        window.panes.candidates.choose(pump)

    return change


def _typed(text: str) -> Change:
    def change(window: MainWindow) -> None:
        window.entry.line.setText(text)
        window.flow.find(text)

    return change


def _in(change: Change, percent: int = 100, theme: ThemeName = ThemeName.LIGHT) -> Change:
    def larger(window: MainWindow) -> None:
        window.look.set_theme(theme)
        window.look.set_text_percent(percent)
        settle(window)
        change(window)

    return larger


def _low(change: Change) -> Change:
    def lower(window: MainWindow) -> None:
        window.resize(1366, 690)
        change(window)

    return lower


_MANY, _FAILED = MANY_BUILDS, _tried(FAILED_PUMP)
SCENES: dict[str, tuple[str, Change]] = {
    "40_builds": (_MANY, _nothing),
    "41_builds_150": (_MANY, _in(_nothing, 150)),
    "42_failed_before": (TRIED_MACHINE, _FAILED),
    "43_failed_before_150": (TRIED_MACHINE, _in(_FAILED, 150)),
    "44_failed_before_dark": (TRIED_MACHINE, _in(_FAILED, theme=ThemeName.DARK)),
    "45_fine_before": (TRIED_MACHINE, _tried("P-002")),
    "46_replaced_hits": ("", _typed("BR1-2401")),
    "47_replaced": ("P-020", _nothing),
    "49_replaced_hits_150": ("", _in(_typed("BR1-2401"), 150)),
    "50_builds_not_told_apart": (UNTOLD_BUILDS, _nothing),
    "51_narrowed": ("", _typed(f"{TRIED_MACHINE} 2013")),
    "52_machines_of_a_pump": ("P-005", _nothing),
    "53_failed_before_690": (TRIED_MACHINE, _low(_FAILED)),
    "48_on_same_engine": (TRIED_MACHINE, _tried("P-005")),
}


def take_all(folder: Path) -> None:
    """Write every picture into ``folder``."""
    app = QApplication.instance() or QApplication([])
    with tempfile.TemporaryDirectory() as settings:
        for name, (text, change) in SCENES.items():
            window = build_window(Desks(tried_desk()), Path(settings) / f"{name}.ini")
            window.resize(1366, 768)
            window.show()
            window.activateWindow()
            if text:
                number = tried_desk().catalog.number_of(text)
                window.entry.take_scan(number)
            settle(window)
            change(window)
            settle(window)
            window.grab().save(str(folder / f"{name}.png"))
            window.look.set_text_percent(100)
            window.close()
            window.deleteLater()
            app.sendPostedEvents(None, int(QEvent.Type.DeferredDelete.value))


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target)
