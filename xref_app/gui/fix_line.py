"""One figure of a column: what it is for, where it comes from and of which day, and the field it is typed into."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from xref_app.gui.labels import plain_label, quiet_label
from xref_app.gui.messages import say
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.fix_plan import Blank

# House rule: no sum and no time is longer.
LONGEST_FIGURE = 40
_FIELD_PX, _HEIGHT_PX = 104, 30


class FixLine(QWidget):
    """Tells of every change of the text; shows what became of it below its name."""

    changed = Signal(str, str)
    entered = Signal()

    def __init__(self, look: Look, name: str, blank: Blank, column_title: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName(f"{name}_box")
        self._look = look
        self.figure = blank.figure
        self.suggested = blank.text
        what = say(blank.what)
        shown = f"{what[:1].upper()}{what[1:]}"
        if blank.pieces > 1:
            shown = self.tr("{what}, {count} pieces").format(what=shown, count=blank.pieces)
        self._what = plain_label(self, f"{name}_what_label", shown)
        self._origin = quiet_label(self, f"{name}_origin_label")
        self.field = named(QLineEdit(self), f"{name}_line", f"{column_title}: {shown}")
        self.field.setMaxLength(LONGEST_FIGURE)
        self.field.setText(blank.text)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self._what)
        words.addWidget(self._origin)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(8)
        whole.addLayout(words, 1)
        whole.addWidget(self.field)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.field.textChanged.connect(self._tell_changed)
        self.field.returnPressed.connect(self.entered)

    @property
    def told(self) -> str:
        """Return what stands below the name."""
        return self._origin.text()

    def put_text(self, text: str) -> None:
        """Show ``text`` without telling of a change: it was typed elsewhere, or before."""
        if self.field.text() != text:
            self.field.blockSignals(True)  # noqa: FBT003 - Qt's own
            self.field.setText(text)
            self.field.blockSignals(False)  # noqa: FBT003 - Qt's own

    def show_told(self, told: str, *, is_set_aside: bool) -> None:
        """Show where the figure comes from, or why it cannot be read."""
        self._origin.setText(told)
        if bool(self.field.property("aged")) != is_set_aside:
            self.field.setProperty("aged", is_set_aside)
            self.field.style().unpolish(self.field)
            self.field.style().polish(self.field)
        self.field.setAccessibleDescription(told)

    @Slot()
    def _resize_to_text(self) -> None:
        self.field.setFixedWidth(self._look.px(_FIELD_PX))
        self.field.setMinimumHeight(self._look.px(_HEIGHT_PX))

    @Slot(str)
    def _tell_changed(self, text: str) -> None:
        self.changed.emit(self.figure, text)
