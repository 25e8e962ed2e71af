"""The right side of "What happened": the sizes with their ticks, the note, and the writing."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QWidget

from xref_app.gui.folding_sheet import SideDetails
from xref_app.gui.happened_sizes import SizesView
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.rows import named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look
from xref_app.services.what_happened import LONGEST_NOTE

_WIDTH_PX = 440
# One size and a half; below that the whole side scrolls.
_LIST_PX = 66


class HappenedDetails(SideDetails):
    """Holds what is ticked and typed; tells nothing by itself."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent, prefix="happened", width_px=_WIDTH_PX)
        named(self, "happened_details_frame", self.tr("Sizes that may be wrong"))
        self._heading = heading_label(self, "happened_sizes_label", self.tr("Which size on file may be wrong?"))
        self.does = quiet_label(self, "happened_does_label")
        self.list = named(SizesView(look, self), "happened_sizes_list", self.tr("Sizes the verdict rested on"))
        self.note = named(QLineEdit(self), "happened_note_line", self.tr("Note"))
        self.note.setMaxLength(LONGEST_NOTE)
        self.note.setPlaceholderText(self.tr("such as: turns by hand, then catches"))
        self.suspects_button = self._button("suspects", self.tr("Tick those to look at first"))
        self.write_button = self._button("write", self.tr("Write it down  F12"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"))
        self.back_button = self._button("back", self.tr("Back to what happened  Shift+F6"))
        self._lay_out()
        self.note.returnPressed.connect(self.write_button.setFocus)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _lay_out(self) -> None:
        above, below = column_above_column(self, "happened_details_area")
        below.addWidget(self.back_button)
        for widget in (self._heading, self.does, self.suspects_button):
            above.addWidget(widget)
        above.addWidget(self.list, 1)
        noted = QHBoxLayout()
        noted.setSpacing(6)
        label = QLabel(self.tr("Note"), self)
        label.setObjectName("happened_note_label")
        label.setBuddy(self.note)
        noted.addWidget(label)
        noted.addWidget(self.note, 1)
        buttons = QHBoxLayout()
        buttons.setSpacing(6)
        buttons.addWidget(self.write_button, 1)
        buttons.addWidget(self.leave_button)
        below.addLayout(noted)
        below.addLayout(buttons)

    def set_folded(self, *, is_folded: bool) -> None:
        """Take the whole width alone, with a way back; or stand at the right."""
        self._is_folded = is_folded
        self.back_button.setVisible(is_folded)
        self._resize_to_text()

    @property
    def buttons(self) -> tuple[QPushButton, ...]:
        """Return all buttons, in the order of the keys."""
        return (self.suspects_button, self.write_button, self.leave_button)

    @Slot()
    def _resize_to_text(self) -> None:
        super()._resize_to_text()
        self.list.setMinimumHeight(self._look.px(_LIST_PX))
        self.note.setMinimumHeight(self._look.px(32))
        self.list.doItemsLayout()
