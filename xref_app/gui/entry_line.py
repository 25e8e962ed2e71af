"""The line of text that numbers and answers are typed into."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit


class EntryLine(QLineEdit):
    """A line of text that leaves the arrow keys to the list below it."""

    stepped = Signal(int)
    entered = Signal()
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand Up, Down and Enter on; everything else edits."""
        match event.key():
            case Qt.Key.Key_Down:
                self.stepped.emit(1)
            case Qt.Key.Key_Up:
                self.stepped.emit(-1)
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self.entered.emit()
            case _:
                super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Select all, so that the next number replaces the last."""
        super().focusInEvent(event)
        if event.reason() is not Qt.FocusReason.MouseFocusReason:
            self.selectAll()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Tell that the list below is not wanted any more."""
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.ActiveWindowFocusReason:
            self.left.emit()
