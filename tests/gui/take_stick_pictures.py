"""Takes the pictures of catalog files in and out: ``python -m tests.gui.take_stick_pictures FOLDER``."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtWidgets import QApplication, QFileDialog

from tests.gui.signed_files import (
    CHANGED_PUMP,
    key_folder,
    next_edition,
    sample_rows,
    strange_key_folder,
    trust,
    write_file,
    write_update,
)
from tests.gui.take_pictures import settle
from tests.gui.whole_window import pictured_window
from tests.services.bench_store import sample_store
from xref_app.core.progress import NO_PROGRESS
from xref_app.exchange.signing_keys import load_supplier
from xref_app.gui.actions import Command
from xref_app.gui.catalog_file_part import CatalogFilePart
from xref_app.gui.colours import ThemeName
from xref_app.gui.export_part import ExportPart
from xref_app.gui.main_window import MainWindow
from xref_app.services.catalog_files import LookedAt
from xref_app.services.live_desk import LiveDesk
from xref_app.store.engine import Store, open_engine
from xref_app.store.importing import import_catalog

Change = Callable[[MainWindow, LiveDesk, Path], None]
MACHINE = "FL-54C3"
SMALL = 720


def _files(window: MainWindow) -> CatalogFilePart:
    assert window.catalog_file is not None
    return window.catalog_file


def _export(window: MainWindow) -> ExportPart:
    assert window.export is not None
    return window.export


def _do(window: MainWindow, command: Command) -> None:
    window.actions_by_command[command].trigger()
    settle(window)


def _read(window: MainWindow, path: Path) -> None:
    _do(window, Command.READ_CATALOG)
    _close_boxes(window)
    _files(window).read(str(path))
    settle(window)


def _close_boxes(window: MainWindow) -> None:
    for box in window.findChildren(QFileDialog):
        box.reject()
    settle(window)


def _job(window: MainWindow) -> None:
    window.entry.take_scan(MACHINE)
    settle(window)
    builds = window.panes.facts.view
    builds.activated.emit(builds.model().index(0, 0))
    settle(window)
    window.panes.candidates.choose(CHANGED_PUMP)
    settle(window)
    assert window.jobs is not None
    window.flow.set_reference("4711")
    window.jobs.keeper.keep_now()
    settle(window)
    while window.jobs.is_working:
        settle(window)


def _first(window: MainWindow, _desk: LiveDesk, place: Path) -> None:
    _read(window, write_file(place, sample_rows(), 41))


def _update(window: MainWindow, _desk: LiveDesk, place: Path) -> None:
    _job(window)
    _read(window, write_update(place))


def _changed_line(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    _update(window, desk, place)
    sheet = _files(window).file_sheet
    sheet.filter.buttons["changed"].click()
    sheet.list.setFocus()
    settle(window)


def _line_shown(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    _changed_line(window, desk, place)
    _do(window, Command.NEXT_PANE)


def _asked(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    _update(window, desk, place)
    _do(window, Command.DO_IT)


def _taken(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    _asked(window, desk, place)
    _do(window, Command.DO_IT)
    while _files(window).is_working:
        settle(window)
    settle(window)


def _back_at_work(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    _taken(window, desk, place)
    _do(window, Command.LEAVE)


def _older(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    found = desk.catalog_files.look(write_update(place, 43), NO_PROGRESS)
    assert isinstance(found, LookedAt)
    desk.catalog_files.take(found, "Ilvane", NO_PROGRESS)
    _read(window, write_file(place, sample_rows(), 41))


def _older_asked(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    _older(window, desk, place)
    _files(window).ask_although()
    settle(window)


def _strange(window: MainWindow, _desk: LiveDesk, place: Path) -> None:
    _read(window, write_file(place, next_edition(), 7, keys=strange_key_folder()))


def _damaged(window: MainWindow, _desk: LiveDesk, place: Path) -> None:
    path = write_update(place)
    path.write_bytes(path.read_bytes()[:-40_000])
    _read(window, path)


def _trusting(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    _strange(window, desk, place)
    trusting = _files(window).trust
    trusting.show()
    _close_boxes(window)
    keys = strange_key_folder() / "public.pem"
    trusting.read(str(keys))
    settle(window)
    groups = load_supplier(keys, "").fingerprint.split()
    for number, line in enumerate(trusting.sheet.typed[:2]):
        line.setText(" ".join(groups[4 * number : 4 * number + 4]))
    trusting.sheet.typed[2].setFocus()
    settle(window)


def _trust_refused(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    _trusting(window, desk, place)
    _files(window).trust.sheet.name.setText("Quorley Wholesale")
    _do(window, Command.DO_IT)


def _empty(window: MainWindow, _desk: LiveDesk, _place: Path) -> None:
    _do(window, Command.READ_CATALOG)
    _close_boxes(window)


def _exporting(window: MainWindow, _desk: LiveDesk, _place: Path) -> None:
    _job(window)
    _do(window, Command.EXPORT_CATALOG)


def _exported(window: MainWindow, desk: LiveDesk, place: Path) -> None:
    _exporting(window, desk, place)
    part = _export(window)
    part.sheet.shelf_button.click()
    part.sheet._what_buttons[1].click()
    part._write(part._wish(), part.sheet.form, str(place / "stick" / "catalog-2026-03-02"))
    settle(window)


def _in(change: Change, percent: int = 100, theme: ThemeName = ThemeName.LIGHT, width: int = 1366) -> Change:
    def changed(window: MainWindow, desk: LiveDesk, place: Path) -> None:
        window.look.set_theme(theme)
        window.look.set_text_percent(percent)
        if width != window.width():
            window.resize(width, SMALL)
        settle(window)
        change(window, desk, place)

    return changed


DARK, CONTRAST = ThemeName.DARK, ThemeName.CONTRAST
SCENES: dict[str, Change] = {
    "80_stick_nothing_chosen": _empty,
    "81_stick_first_file": _first,
    "82_stick_update": _update,
    "83_stick_changed_line": _changed_line,
    "84_stick_asked": _asked,
    "85_stick_taken": _taken,
    "86_stick_back_at_work": _back_at_work,
    "87_stick_older": _older,
    "88_stick_older_asked": _older_asked,
    "89_stick_strange": _strange,
    "90_stick_damaged": _damaged,
    "91_stick_trusting": _trusting,
    "92_stick_trust_refused": _trust_refused,
    "93_stick_exporting": _exporting,
    "94_stick_exported": _exported,
    "95_stick_update_dark": _in(_changed_line, theme=DARK),
    "96_stick_update_contrast": _in(_changed_line, theme=CONTRAST),
    "97_stick_update_150": _in(_changed_line, 150),
    "98_stick_update_200": _in(_changed_line, 200),
    "98a_stick_line_200": _in(_line_shown, 200),
    "99_stick_asked_200": _in(_asked, 200),
    "99_stick_asked_150": _in(_asked, 150),
    "99a_stick_older_200": _in(_older, 200),
    "99b_stick_trusting_150_dark": _in(_trusting, 150, DARK),
    "99c_stick_trusting_200": _in(_trusting, 200),
    "99d_stick_exported_150_contrast": _in(_exported, 150, CONTRAST),
    "99e_stick_exported_200": _in(_exported, 200),
    "99f_stick_update_narrow": _in(_changed_line, 125, width=960),
}


def _store(name: str, place: Path) -> Store:
    """Return a shop that has nothing yet for the first file, one with entries of its own to export, else the sample."""
    if "first_file" in name:
        return open_engine(place / "shop.sqlite")
    if "export" not in name:
        return sample_store(place)
    store, rows = open_engine(place / "shop.sqlite"), sample_rows()
    own = tuple(replace(one, maker=f"{one.maker} Works") for one in rows.entries)
    import_catalog(store, replace(rows, entries=own), who="Ilvane", why="picture")
    return store


def take_all(folder: Path, only: str = "") -> None:
    """Write every picture whose name has ``only`` in it into ``folder``."""
    _app = QApplication.instance() or QApplication([])
    key_folder()
    with tempfile.TemporaryDirectory() as settings:
        for name, change in SCENES.items():
            if only not in name:
                continue
            place = Path(settings) / name
            place.mkdir()
            store = _store(name, place)
            trust(store)
            desk = LiveDesk(store, "Own catalog")
            with pictured_window(desk, place / "window.ini") as window:
                window.memory.who = "Ilvane"
                change(window, desk, place)
                settle(window)
                window.grab().save(str(folder / f"{name}.png"))


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target, *sys.argv[2:])
