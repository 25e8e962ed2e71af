"""Ctrl+Z in a field with nothing of its own to undo takes back the last step of the work instead."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit


class UndoGuard(QObject):
    """An event filter over the whole application: a text field claims these keys only while it can use them."""

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Leave the key to the window where the field has nothing to undo or redo."""
        if event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
            return False
        if not isinstance(watched, QLineEdit):
            return False
        keys = QKeySequence.StandardKey
        is_idle = (event.matches(keys.Undo) and not watched.isUndoAvailable()) or (
            event.matches(keys.Redo) and not watched.isRedoAvailable()
        )
        if is_idle:
            event.ignore()
        return is_idle
