"""Faces and side view by keys alone: which is shown, how large, and saved whole or not at all."""

from __future__ import annotations

from pathlib import Path

# Loaded on this thread: the numpy that comes with it starts threads of its own, which would bear our worker's name.
import ezdxf.filemanagement  # noqa: F401
import pytest
from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QImage, QPainter, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from tests.gui.conftest import Open, wait_until_idle
from tests.gui.test_keys import CTRL, NONE, SHIFT, press
from tests.sheets.test_spacer_drawing import UNDER_ALL, UNDER_TWO_LEGS, drawn
from xref_app.gui.drawings import Drawings, View
from xref_app.gui.face_painter import FacePainter
from xref_app.gui.face_view import FaceView, Zoom
from xref_app.gui.main_window import MainWindow
from xref_app.gui.scan_guard import SCAN_GAP_MS
from xref_app.sheets.shapes import Drawing, Line, Segment


def on_drawing(window: MainWindow) -> FaceView:
    view = window.panes.fit.face.view
    view.setFocus()
    return view


def picture(view: FaceView) -> QImage:
    QApplication.processEvents()
    return view.grab().toImage()


def press_alone(qtbot: QtBot, window: MainWindow, key: Qt.Key) -> None:
    """Press a character as a hand does: the scan guard hands it on once it has stayed alone."""
    press(window, key)
    qtbot.waitUntil(lambda: not window.guard.is_holding, timeout=SCAN_GAP_MS * 20)


def test_f9_shows_the_side_and_the_faces_again(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    panel = window.panes.fit.face
    faces = panel.view.drawing
    assert faces is not None
    assert not faces.sizes
    press(window, Qt.Key.Key_F9)
    side = panel.view.drawing
    assert side is not None
    assert panel.shown is View.SIDE
    assert "bottom clearance 2.8 to 3.3 mm" in [str(one.text) for one in side.sizes]
    assert panel.view.accessibleName() == "Side drawing"
    assert "bottom clearance 2.8 to 3.3 mm" in panel.view.accessibleDescription()
    press(window, Qt.Key.Key_F9)
    assert panel.view.drawing == faces
    assert panel.view.accessibleName() == "Face drawing"


def test_f9_goes_on_to_the_spacers_only_where_some_are_to_be_made(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    panel = window.panes.fit.face
    faces, side = panel.view.drawing, drawn(UNDER_TWO_LEGS)
    spacers = drawn(UNDER_ALL)
    panel.show_drawings(Drawings(faces, side, spacer=spacers), "K4872-20")
    seen = []
    for _ in range(3):
        press(window, Qt.Key.Key_F9)
        seen.append(panel.shown)
    assert seen == [View.SIDE, View.SPACER, View.FACE]
    panel.show_view(View.SPACER)
    assert panel.view.drawing == spacers
    assert panel.view.accessibleName() == "Drawing of the spacers to make"
    dialog = save_dialog(window)
    assert [Path(one).name for one in dialog.selectedFiles()] == ["K4872-20 spacers.pdf"]
    dialog.reject()
    panel.show_drawings(Drawings(faces, side, plate=spacers, spacer=spacers))
    panel.switch_view()
    assert panel.shown is View.FACE
    panel.show_view(View.SPACER)
    panel.show_drawings(Drawings(faces, side))
    assert (panel.shown, panel.view.drawing) == (View.FACE, faces)


def test_the_side_stays_shown_for_the_next_pump_and_at_every_size(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    panel = window.panes.fit.face
    press(window, Qt.Key.Key_F9)
    for _ in range(2):
        press(window, Qt.Key.Key_F3)
        wait_until_idle(qtbot, window)
    assert panel.view.drawing is not None
    assert "spacer 3.20 mm" in [str(one.text) for one in panel.view.drawing.sizes]
    zooms = []
    for _ in range(3):
        press(window, Qt.Key.Key_D, CTRL)
        zooms.append(panel.view.zoom)
        assert panel.shown is View.SIDE
    assert zooms == [Zoom.TRUE_SIZE, Zoom.BIGGER, Zoom.FIT]


def test_the_button_prints_its_key_and_tells_what_is_shown(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    button = window.findChild(QPushButton, "face_side_button")
    assert button is not None
    assert "F9" in button.text()
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert (button.isChecked(), window.panes.fit.face.shown) == (True, View.SIDE)
    press(window, Qt.Key.Key_F9)
    assert not button.isChecked()


def test_plus_and_minus_zoom_where_the_drawing_has_the_focus(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    view = on_drawing(window)
    before = picture(view)
    press_alone(qtbot, window, Qt.Key.Key_Plus)
    assert view.steps == 1
    assert picture(view) != before
    press_alone(qtbot, window, Qt.Key.Key_Minus)
    press_alone(qtbot, window, Qt.Key.Key_Minus)
    assert view.steps == -1
    press(window, Qt.Key.Key_D, CTRL)
    assert view.steps == 0


def test_a_scan_over_the_drawing_zooms_nothing(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    view = on_drawing(window)
    for letter in "B2700-34+":
        QTest.keyClick(window.windowHandle(), ord(letter))
    press(window, Qt.Key.Key_Return)
    wait_until_idle(qtbot, window)
    assert view.steps == 0


def test_arrows_move_only_what_is_larger_than_its_place(open_window: Open, qtbot: QtBot) -> None:
    window = open_window(text="K4872-20")
    view = on_drawing(window)
    before = picture(view)
    press(window, Qt.Key.Key_Left)
    assert picture(view) == before
    press_alone(qtbot, window, Qt.Key.Key_Plus)
    zoomed = picture(view)
    press(window, Qt.Key.Key_Left)
    assert picture(view) != zoomed


def turn_wheel(view: FaceView, modifiers: Qt.KeyboardModifier) -> None:
    middle = QPointF(view.rect().center())
    event = QWheelEvent(
        middle,
        view.mapToGlobal(middle),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        modifiers,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(view, event)


def test_the_wheel_zooms_with_ctrl_only(open_window: Open) -> None:
    view = on_drawing(open_window(text="K4872-20"))
    turn_wheel(view, NONE)
    assert view.steps == 0
    turn_wheel(view, CTRL)
    assert view.steps == 1


@pytest.mark.parametrize("width", [250, 300, 420])
@pytest.mark.parametrize("percent", [100, 150])
def test_legend_and_scale_bar_never_share_a_place(open_window: Open, width: int, percent: int) -> None:
    look = open_window().look
    look.set_text_percent(percent)
    drawing = Drawing(tuple(Segment(0, 0, 9, 9, line) for line in (Line.BETWEEN, Line.MISS)))
    image = QImage(look.px(width), 100, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    artist = FacePainter(painter, look, QApplication.font())
    legends = []
    for scale in (1.0, 4.0, 40.0):
        image.fill(0xFFFFFF)
        high = artist.legend_height(drawing, image.width())
        artist.paint_legend(QRect(0, 0, image.width(), high), scale, drawing)
        # Where the bar has a row of its own the whole of the first is the legend's, else the left half.
        has_two = high > artist.legend_height(Drawing(()), 10_000)
        legends.append(image.copy(0, 0, image.width() // (1 if has_two else 2), high // (2 if has_two else 1)))
    painter.end()
    assert legends[0] == legends[1] == legends[2]


@pytest.mark.parametrize("percent", [100, 125, 150])
def test_no_button_of_the_drawing_is_cut(open_window: Open, percent: int) -> None:
    window = open_window(text="K4872-20")
    window.resize(1366, 690)
    window.look.set_text_percent(percent)
    window.panes.show_pane(2)
    QApplication.processEvents()
    panel = window.panes.fit.face
    for button in panel.findChildren(QPushButton):
        assert button.width() >= button.sizeHint().width(), button.text()
        assert button.geometry().right() <= panel.width(), button.text()


def save_dialog(window: MainWindow) -> QFileDialog:
    press(window, Qt.Key.Key_S, CTRL | SHIFT)
    dialog = window.findChild(QFileDialog, "save_drawing_dialog")
    assert dialog is not None
    return dialog


def save_as(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    """Type a name into the system's own box and press Enter."""
    dialog = save_dialog(window)
    line = dialog.findChild(QLineEdit)
    assert line is not None
    line.setText(str(path))
    QTest.keyClick(line, Qt.Key.Key_Return)
    wait_until_idle(qtbot, window)


@pytest.mark.parametrize(("name", "begins"), [("a.svg", b"<?xml"), ("a.PDF", b"%PDF"), ("a.dxf", b"  0\nSECTION")])
def test_the_drawing_shown_is_saved_in_the_format_of_its_name(
    open_window: Open, qtbot: QtBot, tmp_path: Path, name: str, begins: bytes
) -> None:
    window = open_window(text="K4872-20")
    press(window, Qt.Key.Key_F9)
    save_as(qtbot, window, tmp_path / name)
    assert (tmp_path / name).read_bytes().startswith(begins)
    assert window.message.text == f"The drawing is saved: {tmp_path / name}"


def test_a_name_without_an_ending_becomes_a_pdf(open_window: Open, qtbot: QtBot, tmp_path: Path) -> None:
    window = open_window(text="K4872-20")
    save_as(qtbot, window, tmp_path / "faces")
    assert (tmp_path / "faces.pdf").read_bytes().startswith(b"%PDF")


def test_a_folder_that_cannot_be_written_is_told_and_nothing_is_called_saved(
    open_window: Open, qtbot: QtBot, tmp_path: Path
) -> None:
    window = open_window(text="K4872-20")
    dialog = save_dialog(window)
    # Gone between the choice and the writing, as a stick that was pulled.
    dialog.fileSelected.emit(str(tmp_path / "gone" / "faces.svg"))
    dialog.reject()
    wait_until_idle(qtbot, window)
    assert window.message.text == "“faces.svg” is not saved: there is no such folder – choose another folder."


def test_an_ending_we_do_not_write_is_told(open_window: Open, qtbot: QtBot, tmp_path: Path) -> None:
    window = open_window(text="K4872-20")
    save_as(qtbot, window, tmp_path / "faces.dwg")
    assert window.message.text == ("“faces.dwg” names no kind of drawing – let its name end in .pdf or .svg or .dxf.")
    assert not list(tmp_path.glob("faces*"))


def test_the_box_offers_a_name_that_says_which_pump_and_which_view(open_window: Open) -> None:
    window = open_window(text="K4872-20")
    press(window, Qt.Key.Key_F9)
    dialog = save_dialog(window)
    assert [Path(one).name for one in dialog.selectedFiles()] == ["K4872-20 side.pdf"]
    window.panes.fit.face.show_drawings(None, "../a:b")
    assert window.drawing_saver._file_name() == "___a_b side"
    dialog.reject()


def test_leaving_the_box_saves_nothing(open_window: Open, qtbot: QtBot, tmp_path: Path) -> None:
    window = open_window(text="K4872-20")
    dialog = save_dialog(window)
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    wait_until_idle(qtbot, window)
    assert not window.message.text
    assert not list(tmp_path.glob("*.pdf"))


def test_without_a_drawing_there_is_nothing_to_save(open_window: Open) -> None:
    window = open_window()
    press(window, Qt.Key.Key_S, CTRL | SHIFT)
    assert window.message.text == "There is no drawing to save: choose a pump whose sizes are known."
    assert window.findChild(QFileDialog) is None
