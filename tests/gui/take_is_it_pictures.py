"""Takes the pictures of "Is it the pump?" anew: ``python -m tests.gui.take_is_it_pictures FOLDER``, offscreen too."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from tests.gui.take_pictures import settle
from tests.services.bench_store import sample_desk
from tests.services.pump_cases import CLOGGED_WAND, WAND_SWAPPED, WORN_PUMP
from xref_app.gui.colours import ThemeName
from xref_app.gui.desks import Desks
from xref_app.gui.is_it_part import IsItPart
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import build_window

# A build of the sample catalog whose pump has its plate on record.
MACHINE = "M-001"
BAD = {**CLOGGED_WAND, "bucket_l": "10", "nozzle_number": "035", "shaft_rpm": "34000"}


@dataclass(frozen=True)
class Scene:
    """One picture: what was typed, where the keys are, and how the window looks."""

    texts: Mapping[str, str] = field(default_factory=dict)
    at: str = ""
    percent: int = 100
    theme: ThemeName = ThemeName.LIGHT
    has_job: bool = True
    grey: bool = False
    then: Callable[[IsItPart], None] | None = None


def _to_the_end(part: IsItPart) -> None:
    bar = part.sheet.reading.verticalScrollBar()
    bar.setValue(bar.maximum())


def _other_pane(part: IsItPart) -> None:
    part.sheet.step_pane()


SCENES = {
    "40_nothing_typed": Scene(),
    "41_no_job": Scene(has_job=False),
    "42_clogged_wand": Scene(CLOGGED_WAND, "bucket_l", grey=True),
    "43_not_the_pump": Scene({**CLOGGED_WAND, **WAND_SWAPPED}, "tried_wand_and_hose"),
    "44_the_pump": Scene(WORN_PUMP, "gauge_bar"),
    "45_the_pump_causes": Scene(WORN_PUMP, "gauge_bar", then=_to_the_end),
    "46_bad_input": Scene(BAD, "bucket_s"),
    "47_text_150": Scene(CLOGGED_WAND, "leak", percent=150),
    "48_text_150_measured": Scene(WORN_PUMP, "gauge_bar", percent=150),
    "49_text_200": Scene(CLOGGED_WAND, "bucket_l", percent=200),
    "50_text_200_answer": Scene(CLOGGED_WAND, "bucket_l", percent=200, then=_other_pane),
    "51_dark": Scene(WORN_PUMP, "bucket_l", theme=ThemeName.DARK, grey=True),
    "53_prefilled": Scene(at="rated_bar"),
    "52_contrast": Scene(CLOGGED_WAND, "leak", theme=ThemeName.CONTRAST),
}


def opened(folder: Path, name: str, scene: Scene) -> MainWindow:
    """Return a window of 1366x768 over the sample catalog with the sheet in front."""
    (folder / name).mkdir()
    desk = sample_desk(folder / name)
    window = build_window(Desks(desk, bench=desk, shelf=desk.shelf), folder / f"{name}.ini")
    window.resize(1366, 768)
    window.look.set_theme(scene.theme)
    window.look.set_text_percent(scene.percent)
    window.show()
    window.activateWindow()
    settle(window)
    if scene.has_job:
        window.flow.use_machine(MACHINE, MACHINE)
        settle(window)
    part = window.is_it
    assert part is not None
    part.show()
    for question_id, text in scene.texts.items():
        part.sheet.questions.written.emit(question_id, text)
    settle(window)
    while part.is_working:
        settle(window)
    if scene.at:
        part.sheet.focus_question(scene.at)
    if scene.then is not None:
        scene.then(part)
    settle(window)
    return window


def take_all(folder: Path) -> list[Path]:
    """Write every picture into ``folder`` and return the files."""
    app = QApplication.instance() or QApplication([])
    written: list[Path] = []
    with tempfile.TemporaryDirectory() as place:
        for name, scene in SCENES.items():
            window = opened(Path(place), name, scene)
            image = window.grab().toImage()
            written.append(folder / f"{name}.png")
            image.save(str(written[-1]))
            if scene.grey:
                written.append(folder / f"{name}_grey.png")
                image.convertToFormat(QImage.Format.Format_Grayscale8).save(str(written[-1]))
            window.look.set_text_percent(100)
            window.close()
            window.deleteLater()
            app.sendPostedEvents(None, int(QEvent.Type.DeferredDelete.value))
    return written


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    take_all(target)
