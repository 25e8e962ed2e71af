"""The sheet "Is it the pump?": the answer across the top, the questions on the left, what follows on the right."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from xref_app.gui.is_it_answer import AnswerView, answer_line
from xref_app.gui.is_it_questions import QuestionsPane
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.is_it_the_pump import PumpView

_GAP_PX = 8
_READING_PX = 420
_LEAST_HEIGHT_PX = 230


class IsItSheet(QWidget):
    """Shows a view and holds the keys; what was typed is kept by the part that owns it."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "is_it_sheet_page", self.tr("Is it the pump?"))
        self._look = look
        self._shown = 0
        self.title = quiet_label(self, "is_it_title_label")
        self.answer = heading_label(self, "is_it_answer_label", "")
        self.questions = QuestionsPane(look, self)
        self.reading = AnswerView(look, self)
        self._lay_out()
        look.changed.connect(self._fold)

    def _lay_out(self) -> None:
        top = QFrame(self)
        top.setObjectName("is_it_answer_frame")
        top.setProperty("notice", "true")
        lines = QVBoxLayout(top)
        lines.setContentsMargins(10, 6, 10, 6)
        lines.setSpacing(2)
        lines.addWidget(self.title)
        lines.addWidget(self.answer)
        self._right = QFrame(self)
        self._right.setObjectName("is_it_reading_frame")
        self._right.setProperty("pane", "true")
        inside = QVBoxLayout(self._right)
        inside.setContentsMargins(1, 1, 1, 1)
        inside.addWidget(self.reading)
        row = QHBoxLayout()
        row.setSpacing(_GAP_PX)
        row.addWidget(self.questions, 1)
        row.addWidget(self._right, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(6)
        whole.addWidget(top)
        whole.addLayout(row, 1)

    def show_view(self, view: PumpView, title: str) -> None:
        """Show how everything stands; ``title`` says which pump is meant."""
        self.title.setText(title)
        self.answer.setText(answer_line(view))
        self.questions.show_view(view)
        self.reading.show_view(view)

    def step_pane(self, _step: int = 1) -> None:
        """Put the keys into the other pane; where only one has room, show it."""
        is_reading = self.reading.hasFocus() or (self._is_single and self._shown == 1)
        self._show_pane(0 if is_reading else 1)
        if is_reading:
            self.questions.focus_current()
        else:
            self.reading.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def focus_question(self, question_id: str) -> None:
        """Put the keys into a question."""
        self._show_pane(0)
        self.questions.focus_question(question_id)

    def _show_pane(self, number: int) -> None:
        self._shown = number
        self._fold()

    @property
    def _is_single(self) -> bool:
        return self.questions.wanted_width + self._look.px(_READING_PX) + _GAP_PX > self.width()

    @Slot()
    def _fold(self) -> None:
        """Show both panes where they have room side by side, else the one in work."""
        is_single = self._is_single
        for number, pane in enumerate((self.questions, self._right)):
            pane.setVisible(not is_single or number == self._shown)

    def minimumSizeHint(self) -> QSize:
        """Return the room for the questions alone: folding must be able to happen before the window resists."""
        return QSize(self.questions.wanted_width, _LEAST_HEIGHT_PX)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold or unfold."""
        super().resizeEvent(event)
        self._fold()
