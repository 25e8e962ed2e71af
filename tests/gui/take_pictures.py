"""Takes every picture of the window anew: ``python -m tests.gui.take_pictures FOLDER`` under Xvfb, or offscreen."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QDeadlineTimer, QEvent, QEventLoop
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from tests.gui.desk_for_tests import NOTHING_FITS, DeskForTests
from tests.services.bench_store import sample_desk
from tests.sheets.test_spacer_drawing import UNDER_TWO_LEGS, drawn
from xref_app.core.fit.finding import Verdict
from xref_app.gui.colours import ThemeName
from xref_app.gui.desks import Desks
from xref_app.gui.drawings import Drawings, View
from xref_app.gui.face_view import Zoom
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import build_window

_PATIENCE_MS = 20_000


def settle(window: MainWindow) -> None:
    """Let the window work until nothing is asked and nothing is left to paint."""
    deadline = QDeadlineTimer(_PATIENCE_MS)
    app = QApplication.instance()
    while app is not None and not deadline.hasExpired():
        app.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 50)
        parts = (window.shelf, window.fix, window.pairs, window.happened, window.health)
        files = (window.catalog_file, window.export)
        is_aside = any(one is not None and one.is_working for one in (*parts, *files))
        if not window.flow.is_working and window.tasks.running == 0 and not is_aside:
            break
    if app is not None:
        app.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 50)


def opened(desk: DeskForTests, folder: Path, name: str, *, text: str = "K4872-20") -> MainWindow:
    """Return a window of 1366x768 with the job ``text`` open."""
    window = build_window(Desks(desk), folder / f"{name}.ini")
    window.resize(1366, 768)
    window.show()
    window.activateWindow()
    window.entry.line.setFocus()
    if text:
        window.entry.take_scan(text)
    settle(window)
    return window


def _choose(window: MainWindow, number: str) -> None:
    model = window.panes.candidates.view.model()
    for row in range(model.rowCount()):
        if number in str(model.index(row, 0).data()):
            window.panes.candidates.view.setCurrentIndex(model.index(row, 0))
    settle(window)


def _wide(window: MainWindow) -> None:
    window.resize(1366, 690)


def _bigger(window: MainWindow) -> None:
    _choose(window, "K4872-25")
    window.panes.fit.face.set_zoom(Zoom.BIGGER)


def _side(number: str, zoom: Zoom = Zoom.FIT, theme: ThemeName = ThemeName.LIGHT) -> Callable[[MainWindow], None]:
    def change(window: MainWindow) -> None:
        window.look.set_theme(theme)
        _choose(window, number)
        window.panes.fit.face.show_view(View.SIDE)
        window.panes.fit.face.set_zoom(zoom)

    return change


def _side_at_150(window: MainWindow) -> None:
    _text(150)(window)
    window.panes.fit.face.show_view(View.SIDE)
    window.panes.fit.face.set_zoom(Zoom.BIGGER)


def _typing(window: MainWindow) -> None:
    window.entry.line.setText("K4?7")
    window.flow.find("K4?7")
    settle(window)


def _text(percent: int, pane: int | None = None) -> Callable[[MainWindow], None]:
    def change(window: MainWindow) -> None:
        window.look.set_text_percent(percent)
        settle(window)
        _choose(window, "B2700")
        if pane is not None:
            window.panes.focus_pane(pane)

    return change


def _themed(theme: ThemeName) -> Callable[[MainWindow], None]:
    def change(window: MainWindow) -> None:
        window.look.set_theme(theme)
        _choose(window, "B2700")

    return change


def _chosen(number: str) -> Callable[[MainWindow], None]:
    def change(window: MainWindow) -> None:
        _choose(window, number)

    return change


def _spacers(theme: ThemeName, percent: int = 100) -> Callable[[MainWindow], None]:
    def change(window: MainWindow) -> None:
        window.look.set_theme(theme)
        window.look.set_text_percent(percent)
        settle(window)
        panel = window.panes.fit.face
        faces = panel.view.drawing
        panel.show_drawings(Drawings(faces, faces, spacer=drawn(UNDER_TWO_LEGS)), "K4872-20")
        panel.show_view(View.SPACER)
        panel.set_zoom(Zoom.BIGGER)

    return change


def _nothing(_window: MainWindow) -> None:
    pass


# A catalog of which only the best are shown.
MANY = {Verdict.FITS: 1_234, Verdict.FITS_WITH_PARTS: 1_000, Verdict.NOT_KNOWN_YET: 9_000, Verdict.DOES_NOT_FIT: 88_766}

SCENES: dict[str, tuple[dict[str, object], str, Callable[[MainWindow], None]]] = {
    "01_light": ({}, "K4872-20", _chosen("B2700")),
    "02_fits": ({}, "K4872-20", _wide),
    "03_not_known": ({}, "K4872-20", _chosen("D2427")),
    "04_unknown_pattern": ({}, "K4872-20", _chosen("D2431")),
    "05_holes_miss": ({}, "K4872-20", _chosen("H0050")),
    "06_danger": ({}, "K4872-20", _chosen("S1450")),
    "07_text_150": ({}, "K4872-20", _text(150)),
    "08_text_200_facts": ({}, "K4872-20", _text(200, 0)),
    "09_text_200_list": ({}, "K4872-20", _text(200, 1)),
    "10_text_200_fit": ({}, "K4872-20", _text(200, 2)),
    "11_dark": ({}, "K4872-20", _themed(ThemeName.DARK)),
    "12_contrast": ({}, "K4872-20", _themed(ThemeName.CONTRAST)),
    "13_builds": ({}, "Tern 27", _nothing),
    "14_no_match": ({}, "ZZ99-9", _nothing),
    "15_nothing_fits": ({"numbers": NOTHING_FITS}, "K4872-20", _nothing),
    "16_typing": ({}, "", _typing),
    "17_start": ({}, "", _nothing),
    "18_no_catalog": ({"catalog_name": ""}, "", _nothing),
    "19_bigger": ({}, "K4872-20", _bigger),
    "20_side": ({}, "K4872-20", _side("B2700")),
    "21_side_true_size": ({}, "K4872-20", _side("B2700", Zoom.TRUE_SIZE)),
    "22_side_bigger": ({}, "K4872-20", _side("B2700", Zoom.BIGGER)),
    "23_side_dark": ({}, "K4872-20", _side("B2700", Zoom.BIGGER, ThemeName.DARK)),
    "24_side_contrast": ({}, "K4872-20", _side("D2431", Zoom.BIGGER, ThemeName.CONTRAST)),
    "25_side_150": ({}, "K4872-20", _side_at_150),
}
SCENES |= {
    "28_spacers": ({}, "K4872-20", _spacers(ThemeName.LIGHT)),
    "29_spacers_dark": ({}, "K4872-20", _spacers(ThemeName.DARK)),
    "30_spacers_150": ({}, "K4872-20", _spacers(ThemeName.LIGHT, 150)),
    "31_many_pumps": ({"counted": MANY}, "K4872-20", _nothing),
    "32_many_pumps_150": ({"counted": MANY}, "K4872-20", _text(150)),
}
GREY = ("01_light", "11_dark", "22_side_bigger", "28_spacers")


def _low(window: MainWindow) -> None:
    assert window.shelf is not None
    window.shelf.switch_low_only()


def _reserving(window: MainWindow) -> None:
    assert window.shelf is not None
    window.shelf.sheet.filter.setText("3.2")
    window.shelf.reserve()


def _large(window: MainWindow) -> None:
    window.look.set_text_percent(150)
    _reserving(window)


def _dark(window: MainWindow) -> None:
    window.look.set_theme(ThemeName.DARK)
    _low(window)


def _contrast(window: MainWindow) -> None:
    window.look.set_theme(ThemeName.CONTRAST)
    _too_few(window)


def _moving(window: MainWindow) -> None:
    assert window.shelf is not None
    window.shelf.sheet.filter.setText("B4")
    window.shelf.move()


def _too_few(window: MainWindow) -> None:
    """Count fewer than are reserved: four of the spacers in B4 are for job 118."""
    assert window.shelf is not None
    window.shelf.sheet.filter.setText("118 spacer")
    window.shelf.count_again()
    window.shelf.bar.lines["pieces"].setText("3")
    window.shelf.bar.lines["who"].setText("Ilvane")
    window.shelf.bar.press()
    settle(window)
    window.shelf.sheet.filter.clear()


SHELF_SCENES: dict[str, Callable[[MainWindow], None]] = {
    "20_shelf": _nothing,
    "21_shelf_low": _low,
    "22_shelf_reserving": _reserving,
    "23_shelf_text_150": _large,
    "24_shelf_dark": _dark,
    "25_shelf_contrast": _contrast,
    "26_shelf_moving": _moving,
    "27_shelf_too_few": _too_few,
}


def _on_shelf(folder: Path, name: str) -> MainWindow:
    """Return a window of 1366x768 over the sample catalog with the shelf in front."""
    (folder / name).mkdir()
    desk = sample_desk(folder / name)
    window = build_window(Desks(desk, bench=desk, shelf=desk.shelf, pairs=desk.pairs), folder / f"{name}.ini")
    window.resize(1366, 768)
    window.show()
    window.activateWindow()
    assert window.shelf is not None
    window.shelf.show()
    settle(window)
    return window


def _take_shelf(folder: Path, settings: Path) -> list[Path]:
    written: list[Path] = []
    for name, change in SHELF_SCENES.items():
        window = _on_shelf(settings, name)
        change(window)
        settle(window)
        written.append(folder / f"{name}.png")
        window.grab().save(str(written[-1]))
        window.look.set_text_percent(100)
        window.close()
        window.deleteLater()
    return written


def take_all(folder: Path) -> list[Path]:
    """Write every picture into ``folder`` and return the files."""
    app = QApplication.instance() or QApplication([])
    written: list[Path] = []
    with tempfile.TemporaryDirectory() as settings:
        for name, (desk, text, change) in SCENES.items():
            window = opened(DeskForTests(**desk), Path(settings), name, text=text)  # type: ignore[arg-type]  # a table
            change(window)
            settle(window)
            written.append(folder / f"{name}.png")
            image = window.grab().toImage()
            image.save(str(written[-1]))
            if name in GREY:
                written.append(folder / f"{name}_grey.png")
                image.convertToFormat(QImage.Format.Format_Grayscale8).save(str(written[-1]))
            window.close()
            window.deleteLater()
            app.sendPostedEvents(None, int(QEvent.Type.DeferredDelete.value))
        written += _take_shelf(folder, Path(settings))
        app.sendPostedEvents(None, int(QEvent.Type.DeferredDelete.value))
    return written


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target)
