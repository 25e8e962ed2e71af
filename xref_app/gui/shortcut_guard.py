"""The window's keys work from any text field; a field keeps only those of them that it can use itself."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit


class ShortcutGuard(QObject):
    """An event filter over the whole application.

    A text field would claim Ctrl+U, Ctrl+E and Ctrl+D for editing on some systems, and Ctrl+Z even where it has nothing
    to undo. Here the window's own keys go before, except undo and redo while there is typing to take back.
    """

    def __init__(self, actions: Iterable[QAction], parent: QObject) -> None:
        super().__init__(parent)
        self._keys = {keys.toString() for action in actions for keys in action.shortcuts()}

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Leave one of the window's keys to the window."""
        if event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
            return False
        if not isinstance(watched, QLineEdit) or _is_of_use(watched, event):
            return False
        is_ours = QKeySequence(event.keyCombination()).toString() in self._keys
        if is_ours:
            event.ignore()
        return is_ours


def _is_of_use(field: QLineEdit, event: QKeyEvent) -> bool:
    keys = QKeySequence.StandardKey
    return (event.matches(keys.Undo) and field.isUndoAvailable()) or (
        event.matches(keys.Redo) and field.isRedoAvailable()
    )
