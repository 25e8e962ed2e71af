"""One sentence about what went wrong or what to do, in the window; nothing here stops anybody from working."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QWidget

from xref_app.gui.labels import heading_label
from xref_app.gui.rows import named


class MessageLine(QFrame):
    """Hidden while there is nothing to say."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "message_line_frame", self.tr("Message"))
        self.setProperty("notice", "true")
        self._label = heading_label(self, "message_text_label", "")
        self._close = named(QPushButton(self.tr("Close"), self), "message_close_button", self.tr("Close the message"))
        self._close.clicked.connect(self.clear)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(10, 4, 6, 4)
        layout.addWidget(self._label, 1)
        layout.addWidget(self._close)
        self.hide()

    @property
    def text(self) -> str:
        """Return the sentence shown; empty while hidden."""
        return self._label.text() if not self.isHidden() else ""

    @Slot(str)
    def say(self, sentence: str) -> None:
        """Show ``sentence``."""
        self._label.setText(sentence)
        self.setAccessibleDescription(sentence)
        self.show()

    @Slot()
    def clear(self) -> None:
        """Hide the line."""
        self._label.setText("")
        self.hide()
