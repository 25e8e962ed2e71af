"""The boxes of the system that ask for a file to read or a place to write; they stop nothing else."""

from __future__ import annotations

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

from xref_app.gui.rows import named


def documents_folder() -> str:
    """Return where a box begins before anybody chose another place."""
    return QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)


def reading_box(parent: QWidget, object_name: str, title: str, folder: str) -> QFileDialog:
    """Return a box, not yet open, that asks for one file that is there."""
    dialog = _box(parent, object_name, title, folder)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptOpen)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    return dialog


def writing_box(parent: QWidget, object_name: str, title: str, folder: str) -> QFileDialog:
    """Return a box, not yet open, that asks where something is to be written."""
    dialog = _box(parent, object_name, title, folder)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setFileMode(QFileDialog.FileMode.AnyFile)
    return dialog


def _box(parent: QWidget, object_name: str, title: str, folder: str) -> QFileDialog:
    dialog = named(QFileDialog(parent), object_name, title)
    dialog.setWindowTitle(title)
    dialog.setDirectory(folder)
    dialog.finished.connect(dialog.deleteLater)
    return dialog
