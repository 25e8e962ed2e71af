"""Saves the drawing that is shown: asks where, writes off the GUI thread, and tells how it went."""

from __future__ import annotations

import re
from functools import partial
from pathlib import Path

from PySide6.QtCore import QLocale, QObject, QStandardPaths, Signal, Slot
from PySide6.QtWidgets import QFileDialog, QWidget

from xref_app.core.progress import Progress
from xref_app.gui.drawing_pdf import pdf_bytes
from xref_app.gui.drawings import View
from xref_app.gui.face_panel import FacePanel
from xref_app.gui.messages import say
from xref_app.gui.rows import named
from xref_app.gui.tasks import Tasks
from xref_app.services.drawing_file import Maker, plain_makers, save_drawing
from xref_app.sheets.page import Paper
from xref_app.sheets.shapes import Drawing

# What some disk or other does not take in a file name.
_ODD = re.compile(r"[^\w -]")


class DrawingSaver(QObject):
    """Belongs to one window."""

    said = Signal(str)
    crashed = Signal()

    def __init__(self, panel: FacePanel, tasks: Tasks, window: QWidget) -> None:
        super().__init__(window)
        self._panel = panel
        self._tasks = tasks
        self._window = window
        self._folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)

    @Slot()
    def ask(self) -> None:
        """Ask where the drawing goes, and in which format."""
        drawing = self._panel.view.drawing
        if drawing is None or drawing.is_empty:
            self.said.emit(self.tr("There is no drawing to save: choose a pump whose sizes are known."))
            return
        dialog = named(QFileDialog(self._window), "save_drawing_dialog", self.tr("Save the drawing"))
        dialog.setWindowTitle(self.tr("Save the drawing at true size"))
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setFileMode(QFileDialog.FileMode.AnyFile)
        filters = {
            self.tr("PDF, to print (*.pdf)"): "pdf",
            self.tr("SVG picture (*.svg)"): "svg",
            self.tr("DXF, for a cutting machine (*.dxf)"): "dxf",
        }
        dialog.setNameFilters(list(filters))
        dialog.setDefaultSuffix("pdf")
        dialog.filterSelected.connect(lambda chosen: dialog.setDefaultSuffix(filters.get(chosen, "pdf")))
        dialog.setDirectory(self._folder)
        dialog.selectFile(self._file_name())
        dialog.fileSelected.connect(partial(self._save, drawing))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def _file_name(self) -> str:
        """Return a name that says which pump and which view, of characters every disk takes."""
        words = {
            View.FACE: self.tr("faces"),
            View.SIDE: self.tr("side"),
            View.PLATE: self.tr("plate"),
            View.SPACER: self.tr("spacers"),
        }
        view = words[self._panel.shown]
        return f"{_ODD.sub('_', self._panel.number)} {view}".strip()

    def _save(self, drawing: Drawing, chosen: str) -> None:
        path = Path(chosen)
        self._folder = str(path.parent)
        task = self._tasks.prepare(partial(_saved, drawing, path, paper_here()))
        task.finished.connect(self._tell)
        task.failed.connect(self.said)
        task.crashed.connect(self._tell_crash)
        self._tasks.launch(task)

    @Slot(object)
    def _tell(self, path: object) -> None:
        self.said.emit(self.tr("The drawing is saved: {path}").format(path=path))

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self.crashed.emit()


def _saved(drawing: Drawing, path: Path, paper: Paper, progress: Progress) -> Path:
    """Write the file (in a worker thread)."""
    progress.step(0, 1)
    makers: dict[str, Maker] = {".pdf": partial(pdf_bytes, paper=paper), **plain_makers(say)}
    return save_drawing(drawing, path, makers)


def paper_here() -> Paper:
    """Return the paper that is usual where the person works."""
    is_us = QLocale().measurementSystem() is QLocale.MeasurementSystem.ImperialUSSystem
    return Paper.LETTER if is_us else Paper.A4
