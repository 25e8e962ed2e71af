"""The pictures of the README, taken anew from the real program on the sample catalog, driven by keys alone.

Run under Xvfb: xvfb-run -a -s "-screen 0 1366x768x24" python -m tests.end2end.take_pictures tests/pictures
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from PySide6.QtCore import QDeadlineTimer, Qt
from PySide6.QtGui import QAction, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from tests.end2end.data_pictures import take_data
from tests.gui.take_fix_pictures import TYPED, confirmed, typed
from tests.gui.take_pictures import settle
from tests.gui.whole_window import whole_window
from tests.services.bench_store import sample_store
from tests.services.pump_cases import CLOGGED_WAND, WAND_SWAPPED
from xref_app.core.model.words import Result
from xref_app.gui.main_window import MainWindow
from xref_app.services.live_desk import LiveDesk
from xref_app.services.sample_name import SAMPLE_NAME

# Two builds of one model, and a number with a character nobody can read (both made up).
MODEL, WORN = "FL-42H3", "K?7-4410"
# A machine on which a pump with another bolt circle needs a plate.
PLATE_MODEL = "FL-54C3"
TYPING_PAUSE_MS = 600


def key(which: Qt.Key, window: MainWindow) -> None:
    """Press a key where the focus is, as a hand would, and let the window answer."""
    QTest.keyClick(QApplication.focusWidget() or window, which)
    settle(window)


def start(desk: LiveDesk, folder: Path) -> MainWindow:
    """Return the program's window with the focus in its entry line."""
    window = whole_window(desk, folder / "window.ini")
    window.resize(1366, 690)
    window.show()
    window.activateWindow()
    line(window).setFocus()
    settle(window)
    return window


def line(window: MainWindow) -> QLineEdit:
    """Return the entry line."""
    found = window.findChild(QLineEdit, "entry_text_line")
    assert isinstance(found, QLineEdit)
    return found


def type_in(window: MainWindow, text: str) -> None:
    """Type over what stands in the entry line."""
    line(window).setFocus()
    line(window).selectAll()
    QTest.keyClicks(line(window), text, Qt.KeyboardModifier.NoModifier, 60)
    pause(window)


def pause(window: MainWindow) -> None:
    """Let the moment pass in which the window waits for more typing, and then let it answer."""
    deadline = QDeadlineTimer(TYPING_PAUSE_MS)
    while not deadline.hasExpired():
        settle(window)


def run_action(window: MainWindow, name: str) -> None:
    """Do what the menu entry ``name`` does."""
    action = window.findChild(QAction, f"action_{name}")
    assert isinstance(action, QAction), name
    action.trigger()
    settle(window)


def candidate(window: MainWindow, words: str) -> None:
    """Choose the first candidate whose row reads ``words``, with the arrow key."""
    view = window.panes.candidates.view
    view.setFocus()
    model = view.model()
    for row in range(model.rowCount()):
        if words in str(model.index(row, 0).data(Qt.ItemDataRole.AccessibleTextRole)):
            while view.currentIndex().row() != row:
                before = view.currentIndex().row()
                key(Qt.Key.Key_Down if before < row else Qt.Key.Key_Up, window)
                if view.currentIndex().row() == before:
                    break
            return
    raise LookupError(f"no candidate reads {words}")


def save(window: MainWindow, folder: Path, name: str) -> None:
    """Write what the window shows."""
    settle(window)
    picture = window.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    assert picture.save(str(folder / f"{name}.png")), name


def take_all(folder: Path) -> None:
    """Take every picture of the README into ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as settings:
        window = start(LiveDesk(sample_store(Path(settings)), SAMPLE_NAME), Path(settings))
        type_in(window, WORN)
        save(window, folder, "worn_number")
        key(Qt.Key.Key_Escape, window)
        type_in(window, MODEL)
        key(Qt.Key.Key_Return, window)
        save(window, folder, "which_build")
        key(Qt.Key.Key_Down, window)
        key(Qt.Key.Key_Return, window)
        candidate(window, "Fits with parts")
        save(window, folder, "fits_with_parts")
        take_side(window, folder)
        candidate(window, "Not known yet")
        save(window, folder, "not_known_yet")
        candidate(window, "Does not fit")
        run_action(window, "dark")
        save(window, folder, "does_not_fit_dark")
        run_action(window, "light")
        candidate(window, "Fits as is")
        for _ in range(4):
            run_action(window, "text_larger")
        save(window, folder, "larger_text")
        run_action(window, "text_normal")
        take_plate(window, folder)
        take_bench(window, folder)
        window.close()
        settle(window)
        take_data(folder, Path(settings), save)


def take_plate(window: MainWindow, folder: Path) -> None:
    """Take the adapter plate of a pump with another bolt circle, as large as the pane, then the shelf."""
    key(Qt.Key.Key_Escape, window)
    key(Qt.Key.Key_Escape, window)
    type_in(window, PLATE_MODEL)
    key(Qt.Key.Key_Return, window)
    key(Qt.Key.Key_Down, window)
    key(Qt.Key.Key_Return, window)
    candidate(window, "to make")
    for _ in range(2):
        run_action(window, "side_view")
        run_action(window, "drawing")
    save(window, folder, "adapter_plate")
    run_action(window, "side_view")
    run_action(window, "drawing")
    run_action(window, "shelf")
    save(window, folder, "shelf")
    run_action(window, "pair_up")
    save(window, folder, "pairs")
    for _ in range(2):
        key(Qt.Key.Key_Escape, window)
    take_questions(window, folder)


def take_questions(window: MainWindow, folder: Path) -> None:
    """Take the sheets with the shop's other questions: fix or replace, and whether it is the pump at all."""
    typed(TYPED, pump="P-002", price="149")(window)
    confirmed(window)
    save(window, folder, "fix_or_replace")
    key(Qt.Key.Key_Escape, window)
    run_action(window, "is_it_the_pump")
    assert window.is_it is not None
    for question, text in {**CLOGGED_WAND, **WAND_SWAPPED}.items():
        window.is_it.sheet.questions.written.emit(question, text)
    while window.is_it.is_working:
        settle(window)
    save(window, folder, "is_it_the_pump")
    key(Qt.Key.Key_Escape, window)
    take_after(window, folder)


def take_after(window: MainWindow, folder: Path) -> None:
    """Take what goes to the bench on paper, and what is written down after it; the record is taken back."""
    run_action(window, "print_sheet")
    assert window.paper is not None
    while window.paper.is_working:
        settle(window)
    save(window, folder, "fit_sheet")
    key(Qt.Key.Key_Escape, window)
    window.memory.who = "Ilvane"
    run_action(window, "what_happened")
    assert window.happened is not None
    sheet = window.happened.sheet
    sheet.list.setCurrentIndex(sheet.list.model().index(1 + list(Result).index(Result.BOUND), 0))
    for field in ("shaft_diameter_mm", "bore_diameter_mm"):
        sheet.details.list.switched.emit(field)
    sheet.details.note.setText("turns by hand, then catches at one place")
    save(window, folder, "what_happened")
    run_action(window, "do_it")
    while window.happened.is_working:
        settle(window)
    run_action(window, "health")
    assert window.health is not None
    while window.health.is_working:
        settle(window)
    save(window, folder, "health")
    key(Qt.Key.Key_Escape, window)
    run_action(window, "undo")
    settle_bench(window)
    window.message.clear()


def take_side(window: MainWindow, folder: Path) -> None:
    """Take engine and pump from the side, in all the room of the pane, and go back to the faces."""
    run_action(window, "side_view")
    for _ in range(2):
        run_action(window, "drawing")
    save(window, folder, "side_view")
    run_action(window, "side_view")
    run_action(window, "drawing")


def answer(window: MainWindow, field: str, *texts: str) -> None:
    """Ask for a field on the card and answer its steps; the last answer stays in the measure field."""
    assert window.bench is not None
    window.bench.sheet.ask(field)
    settle_bench(window)
    card = window.bench.sheet.card.line
    for place, text in enumerate(texts, 1):
        QTest.keyClicks(card, text, Qt.KeyboardModifier.NoModifier, 60)
        if place < len(texts):
            key(Qt.Key.Key_Return, window)
            settle_bench(window)


def settle_bench(window: MainWindow) -> None:
    """Wait until everything measured is kept."""
    assert window.bench is not None
    while window.bench.is_working:
        settle(window)
    settle(window)


def take_bench(window: MainWindow, folder: Path) -> None:
    """Take the pictures of a pump that nobody knows on the bench."""
    key(Qt.Key.Key_F7, window)
    settle_bench(window)
    for field, text in (("bore_form", "hollow keyed"), ("bore_keyway_width_mm", "4.8"), ("bore_depth_mm", "64,8")):
        answer(window, field, text)
        key(Qt.Key.Key_Return, window)
        settle_bench(window)
    answer(window, "bore_diameter_mm", "19.02")
    save(window, folder, "measure_bore")
    key(Qt.Key.Key_Return, window)
    settle_bench(window)
    same = "all the same, measured"
    answer(window, "flange_holes_xy_mm", "4", same, same, "2 7/8", "2 1/4")
    save(window, folder, "measure_holes")
    key(Qt.Key.Key_Return, window)
    settle_bench(window)


def main() -> int:
    """Take the pictures into the folder named on the command line."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    take_all(Path(sys.argv[1]))
    app.processEvents()
    return 0


if __name__ == "__main__":
    sys.exit(main())
