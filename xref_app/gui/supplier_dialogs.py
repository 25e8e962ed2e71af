"""The system's own boxes for a supplier's list: which file to read, where the rows that were not taken go."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from xref_app.gui.file_boxes import documents_folder, reading_box, writing_box


class SupplierDialogs(QObject):
    """Opens one box at a time, in the folder of the last one; the window goes on beside it."""

    def __init__(self, window: QWidget, parent: QObject) -> None:
        super().__init__(parent)
        self._window = window
        self._folder = documents_folder()

    def ask_file(self, read: Callable[[Path], object]) -> None:
        """Ask which file to read."""
        title = self.tr("Read a supplier's file")
        dialog = reading_box(self._window, "read_supplier_dialog", title, self._folder)
        dialog.setNameFilters([self.tr("Lists (*.csv *.tsv *.txt *.xlsx)"), self.tr("All files (*)")])
        self._open(dialog, read)

    def ask_place(self, name: str, write: Callable[[Path], object]) -> None:
        """Ask where rows that were not taken go; ``name`` is proposed."""
        title = self.tr("Save the rows that were not taken")
        dialog = writing_box(self._window, "save_refused_dialog", title, self._folder)
        dialog.setNameFilters([self.tr("CSV, for a spreadsheet (*.csv)")])
        dialog.setDefaultSuffix("csv")
        dialog.selectFile(name)
        self._open(dialog, write)

    def _open(self, dialog: QFileDialog, use: Callable[[Path], object]) -> None:
        dialog.fileSelected.connect(lambda chosen: self._use(Path(chosen), use))
        dialog.open()

    def _use(self, path: Path, use: Callable[[Path], object]) -> None:
        self._folder = str(path.parent)
        use(path)
