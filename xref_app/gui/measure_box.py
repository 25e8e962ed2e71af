"""'Measure next': the one measurement that most of what is open asks for, and how to take it."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QFrame, QPushButton, QVBoxLayout, QWidget

from xref_app.core.fields.fields import Side, field_for
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.messages import number_text
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.answers import MeasureNext

_FOLDED_WIDTH_PX = 330
# From this size of text on there is no room for the button, percent; its key works all the same.
_LARGE_TEXT = 175


class MeasureBox(QFrame):
    """Hidden while nothing is open."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, "facts_measure_box", self.tr("Measure next"))
        self.setProperty("notice", "true")
        self._look = look
        look.changed.connect(self._make_room)
        self._title = heading_label(self, "facts_measure_label", "")
        self._gain = quiet_label(self, "facts_measure_gain_label")
        self._how = quiet_label(self, "facts_measure_how_label")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 8, 8, 8)
        layout.setSpacing(2)
        for label in (self._title, self._gain, self._how):
            layout.addWidget(label)
        self.button = named(QPushButton(self.tr("Measure it  F7"), self), "facts_measure_button", self.tr("Measure it"))
        self.button.setProperty("small", "true")
        layout.addWidget(self.button)
        layout.addStretch(1)

    def show_next(self, measure: MeasureNext | None) -> None:
        """Show ``measure``; with None show nothing."""
        self.setVisible(measure is not None)
        if measure is None:
            return
        self._title.setText(self.tr("Measure next: {title}").format(title=measure.title))
        self._gain.setText(self._gain_text(measure))
        self._how.setText(measure.how_to)
        self.setAccessibleDescription(f"{self._title.text()}. {self._gain.text()}. {measure.how_to}")

    @Slot()
    def _make_room(self) -> None:
        self.button.setVisible(self._look.text_percent < _LARGE_TEXT)

    def _gain_text(self, measure: MeasureNext) -> str:
        minutes = number_text(measure.minutes, 1)
        return self.tr("{asked}, about {minutes} min, {where}").format(
            asked=self._asked_text(measure), minutes=minutes, where=self._where_text(measure)
        )

    def _asked_text(self, measure: MeasureNext) -> str:
        """Say how many pumps ask for it, and of how many it is the only question left."""
        asked = self.tr("asked by {count} of {open} still open").format(count=measure.settles, open=measure.open)
        if measure.last_open == 0:
            return asked
        if measure.last_open == measure.settles:
            return self.tr("the last question of {count} of {open} still open").format(
                count=measure.last_open, open=measure.open
            )
        return self.tr("{asked} (the last question of {count})").format(asked=asked, count=measure.last_open)

    def _where_text(self, measure: MeasureNext) -> str:
        """Say on what it is measured, or what must come off the machine before."""
        if field_for(measure.field).side is Side.PUMP:
            return self.tr("measured on the candidate itself")
        if measure.comes_off_first:
            return self.tr("{what} comes off first").format(what=measure.comes_off_first)
        return self.tr("nothing has to come off")

    def set_folded(self, *, is_folded: bool) -> None:
        """In the strip there is room for the title and the gain only; how to measure stays in the description."""
        self._how.setVisible(not is_folded)
        self.setMaximumWidth(self._look.px(_FOLDED_WIDTH_PX) if is_folded else 16777215)
        self.setMinimumWidth(self._look.px(_FOLDED_WIDTH_PX) if is_folded else 0)
