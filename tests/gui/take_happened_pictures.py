"""Takes the pictures of "What happened" and "Health": ``python -m tests.gui.take_happened_pictures FOLDER``."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QApplication

from tests.gui.take_pictures import settle
from tests.gui.whole_window import pictured_window
from tests.services.bench_store import sample_desk
from xref_app.core.model.words import Result
from xref_app.gui.actions import Command
from xref_app.gui.colours import ThemeName
from xref_app.gui.happened_part import HappenedPart
from xref_app.gui.health_part import HealthPart
from xref_app.gui.main_window import MainWindow

Change = Callable[[MainWindow], None]
MACHINE, PUMP = "FL-54C3", "P-002"


def _happened(window: MainWindow) -> HappenedPart:
    assert window.happened is not None
    return window.happened


def _health(window: MainWindow) -> HealthPart:
    assert window.health is not None
    return window.health


def _do(window: MainWindow, command: Command) -> None:
    window.actions_by_command[command].trigger()
    settle(window)


def _job(window: MainWindow, pump: str = PUMP) -> None:
    window.entry.take_scan(MACHINE)
    settle(window)
    builds = window.panes.facts.view
    builds.activated.emit(builds.model().index(0, 0))
    settle(window)
    window.panes.candidates.choose(pump)
    settle(window)
    _do(window, Command.WHAT_HAPPENED)


def _say(window: MainWindow, result: Result) -> None:
    view = _happened(window).sheet.list
    view.setCurrentIndex(view.model().index(1 + list(Result).index(result), 0))
    settle(window)


def _opened(window: MainWindow) -> None:
    _job(window)


def _bound(window: MainWindow) -> None:
    _job(window)
    _say(window, Result.BOUND)
    sheet = _happened(window).sheet
    for field in ("shaft_diameter_mm", "bore_diameter_mm"):
        sheet.details.list.switched.emit(field)
    sheet.details.note.setText("turns by hand, then catches at one place")
    sheet.details.list.setFocus()


def _refused(window: MainWindow) -> None:
    _job(window)
    _say(window, Result.LEAKED)
    _do(window, Command.DO_IT)


def _no_fit(window: MainWindow) -> None:
    _job(window, "P-004")
    _say(window, Result.DID_NOT_FIT)


def _written(window: MainWindow) -> None:
    _bound(window)
    _do(window, Command.DO_IT)
    settle(window)


def _health_of(window: MainWindow) -> None:
    _written(window)
    _do(window, Command.HEALTH)


def _checked(window: MainWindow) -> None:
    _health_of(window)
    _health(window).check_everything()
    settle(window)


def _cleared(window: MainWindow) -> None:
    _health_of(window)
    _health(window).clear_doubts()


def _in(change: Change, percent: int = 100, theme: ThemeName = ThemeName.LIGHT, width: int = 1366) -> Change:
    def changed(window: MainWindow) -> None:
        window.look.set_theme(theme)
        window.look.set_text_percent(percent)
        if width != 1366:
            window.resize(width, 720)
        settle(window)
        change(window)

    return changed


SCENES: dict[str, Change] = {
    "60_happened": _opened,
    "61_happened_bound": _bound,
    "62_happened_bound_dark": _in(_bound, theme=ThemeName.DARK),
    "63_happened_bound_contrast": _in(_bound, theme=ThemeName.CONTRAST),
    "64_happened_bound_150": _in(_bound, 150, width=1280),
    "65_happened_refused": _refused,
    "66_happened_no_fit": _no_fit,
    "67_happened_written": _written,
    "68_health": _checked,
    "69_health_dark": _in(_health_of, theme=ThemeName.DARK),
    "70_health_contrast": _in(_health_of, theme=ThemeName.CONTRAST),
    "71_health_150": _in(_checked, 150, width=1280),
    "72_health_cleared": _cleared,
    "73_happened_narrow": _in(_bound, 125, width=960),
    "74_health_narrow": _in(_health_of, 125, width=960),
    "75_health_asks_150": _in(_cleared, 150, width=1280),
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
                change(window)
                settle(window)
                window.grab().save(str(folder / f"{name}.png"))


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target, *sys.argv[2:])
