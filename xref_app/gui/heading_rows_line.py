"""The line in which a person says in which rows the headings of a list stand."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from xref_app.gui.rows import named

# House rule: nobody types more.
_LONGEST = 40


class HeadingRowsLine(QLineEdit):
    """Tells what was typed at Enter or when it is left; then it shows again what counts, whatever was typed."""

    rows_said = Signal(str)

    def __init__(self, object_name: str, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, object_name, self.tr("Rows of the headings"))
        self.setMaxLength(_LONGEST)
        self.setPlaceholderText(self.tr("such as 4, 4-5 or none"))
        self._counting = ""
        self.editingFinished.connect(self._tell)
        self.returnPressed.connect(lambda: self.setModified(False))

    def show_rows(self, text: str) -> None:
        """Show the rows that count; what is just being typed stays."""
        self._counting = text
        if not (self.isModified() and self.hasFocus()):
            self.setText(text)

    @Slot()
    def _tell(self) -> None:
        typed = self.text().strip()
        if typed != self._counting:
            self.rows_said.emit(typed)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show what counts; rows that were told just now come with the next look."""
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.PopupFocusReason:  # its own menu: the line is not left
            self.setText(self._counting)
