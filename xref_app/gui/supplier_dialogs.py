"""The system's own boxes for a supplier's list: which file to read, where the rows that were not taken go."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

from xref_app.gui.rows import named


class SupplierDialogs(QObject):
    """Opens one box at a time, in the folder of the last one; the window goes on beside it."""

    def __init__(self, window: QWidget, parent: QObject) -> None:
        super().__init__(parent)
        self._window = window
        self._folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)

    def ask_file(self, read: Callable[[Path], object]) -> None:
        """Ask which file to read."""
        dialog = self._dialog("read_supplier_dialog", self.tr("Read a supplier's file"))
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters([self.tr("Lists (*.csv *.tsv *.txt *.xlsx)"), self.tr("All files (*)")])
        self._open(dialog, read)

    def ask_place(self, name: str, write: Callable[[Path], object]) -> None:
        """Ask where rows that were not taken go; ``name`` is proposed."""
        dialog = self._dialog("save_refused_dialog", self.tr("Save the rows that were not taken"))
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setFileMode(QFileDialog.FileMode.AnyFile)
        dialog.setNameFilters([self.tr("CSV, for a spreadsheet (*.csv)")])
        dialog.setDefaultSuffix("csv")
        dialog.selectFile(name)
        self._open(dialog, write)

    def _dialog(self, name: str, title: str) -> QFileDialog:
        dialog = named(QFileDialog(self._window), name, title)
        dialog.setWindowTitle(title)
        dialog.setDirectory(self._folder)
        return dialog

    def _open(self, dialog: QFileDialog, use: Callable[[Path], object]) -> None:
        dialog.fileSelected.connect(lambda chosen: self._use(Path(chosen), use))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def _use(self, path: Path, use: Callable[[Path], object]) -> None:
        self._folder = str(path.parent)
        use(path)
