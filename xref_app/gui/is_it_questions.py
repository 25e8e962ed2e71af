"""All questions of "Is it the pump?" under their headings, the one to answer next marked; only shows and tells."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QCoreApplication, QSize, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from xref_app.gui.is_it_fields import AmountField, ChoiceField
from xref_app.gui.labels import heading_label, plain_label, quiet_label, warning_label
from xref_app.gui.rows import named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look
from xref_app.services.is_it_the_pump import Asked, PumpView
from xref_app.services.pump_questions import Question, questions

_WANTED_PX = 430
_TITLE_PX, _FIELD_PX, _TITLE_DOWN_PX = 190, 28, 5
_ANY_PX = 16_777_215  # Qt's own QWIDGETSIZE_MAX
_NEXT = "▸ "


class QuestionRow(QWidget):
    """The title and the field of one question; below the field what is known, how it was read, or its fault."""

    def __init__(self, look: Look, question: Question, parent: QWidget) -> None:
        super().__init__(parent)
        self.question = question
        self._look = look
        self._title = str(QCoreApplication.translate("diagnose", question.title))
        self._asked: Asked | None = None
        name = f"is_it_{question.question_id}"
        self.field: ChoiceField | AmountField
        if question.amount is None:
            self.field = ChoiceField(look, f"{name}_choice", question, self._title, self)
        else:
            self.field = AmountField(f"{name}_line", self._title, question.amount.like, self)
        self.label = plain_label(self, f"{name}_label", self._title)
        self.label.setBuddy(self.field)
        self.note = quiet_label(self, f"{name}_note_label")
        self.trouble = warning_label(self, f"{name}_trouble_label")
        self._lay_out()
        look.changed.connect(self._fold)

    def _lay_out(self) -> None:
        column = QVBoxLayout()
        column.setSpacing(2)
        for widget in (self.field, self.note, self.trouble):
            column.addWidget(widget)
        column.addStretch(1)
        self._line = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._line.setContentsMargins(0, 0, 0, 0)
        self._line.setSpacing(2)
        self._line.addWidget(self.label)
        self._line.addLayout(column, 1)

    def minimumSizeHint(self) -> QSize:
        """Return the room with the title above the field: folding must be able to happen before it resists."""
        least = max(self._look.px(_TITLE_PX), self.field.minimumSizeHint().width())
        return QSize(least, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold or unfold."""
        super().resizeEvent(event)
        self._fold()

    @Slot()
    def _fold(self) -> None:
        """Put the title above the field where both have no room side by side."""
        title_px = self._look.px(_TITLE_PX)
        is_narrow = self.width() < title_px + self.field.minimumSizeHint().width() + 4
        flow = QBoxLayout.Direction.TopToBottom if is_narrow else QBoxLayout.Direction.LeftToRight
        self.field.setMinimumHeight(self._look.px(_FIELD_PX))
        self.label.setMinimumWidth(title_px)
        self.label.setMaximumWidth(_ANY_PX if is_narrow else title_px)
        self.label.setContentsMargins(0, 0 if is_narrow else self._look.px(_TITLE_DOWN_PX), 0, 0)
        self.label.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        if self._line.direction() is not flow:
            self._line.setDirection(flow)

    def show_asked(self, asked: Asked) -> None:
        """Show how the question stands."""
        is_new = self._asked is None or asked.is_next is not self._asked.is_next
        self._asked = asked
        self.field.show_asked(asked)
        if is_new:
            self.label.setText(f"{_NEXT}{self._title}" if asked.is_next else self._title)
            self.label.setProperty("heading", "true" if asked.is_next else "false")
            self.label.style().unpolish(self.label)
            self.label.style().polish(self.label)
        self.show_notes()

    def show_notes(self) -> None:
        """Say what is the matter with the answer; a text that is still being typed has no fault yet."""
        asked = self._asked
        if asked is None:
            return
        is_typing = isinstance(self.field, AmountField) and self.field.is_being_typed
        trouble = "" if is_typing else asked.trouble
        note = self._note(asked)
        for label, text in ((self.note, note), (self.trouble, trouble)):
            label.setText(text)
            label.setVisible(bool(text))
        is_next = self.tr("The next thing to try answers this.") if asked.is_next else ""
        self.field.setAccessibleDescription(" ".join(text for text in (trouble, note, is_next) if text))

    def _note(self, asked: Asked) -> str:
        if asked.answer.cannot_say and asked.answer.text:
            return self.tr("cannot say; type again to take that back")
        if asked.read_as:
            return self.tr("read as {what}").format(what=asked.read_as)
        if asked.told is not None and not asked.answer.text and not asked.answer.cannot_say:
            words = self.tr("known: {what}, {how}") if asked.told.decides else self.tr("only a hint: {what}, {how}")
            return words.format(what=asked.told.shown, how=asked.told.known_by)
        return ""


class QuestionsPane(QFrame):
    """Up and Down go from question to question, Enter to the one that helps most now."""

    written = Signal(str, str)
    given_up = Signal(str)
    cannot_say_pressed = Signal()
    clear_pressed = Signal()
    leave_pressed = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "is_it_questions_pane", self.tr("Questions"))
        self.setProperty("pane", "true")
        self._look = look
        self._view: PumpView | None = None
        self._current = next(iter(questions()))
        above, below = column_above_column(self, "is_it_questions_area")
        self._area = self.findChildren(QScrollArea)[0]
        self.rows = {one: self._row(question) for one, question in questions().items()}
        self._fill(above)
        below.addLayout(self._buttons())

    def _row(self, question: Question) -> QuestionRow:
        row = QuestionRow(self._look, question, self)
        name = question.question_id
        row.field.stepped.connect(partial(self._step_from, name))
        row.field.entered.connect(partial(self._go_on_from, name))
        row.field.focused.connect(partial(self._note_current, name))
        if isinstance(row.field, ChoiceField):
            row.field.chosen.connect(partial(self.written.emit, name))
            row.field.given_up.connect(partial(self.given_up.emit, name))
        else:
            # Changed, not edited: the guard puts back what a scan has typed without editing.
            row.field.textChanged.connect(partial(self.written.emit, name))
            row.field.editingFinished.connect(row.show_notes)
        return row

    def _fill(self, column: QVBoxLayout) -> None:
        group = None
        for row in self.rows.values():
            if row.question.group is not group:
                group = row.question.group
                words = str(QCoreApplication.translate("diagnose", group.value))
                column.addWidget(heading_label(self, f"is_it_{group.name.lower()}_heading_label", words))
            column.addWidget(row)
        column.addStretch(1)

    def _buttons(self) -> QHBoxLayout:
        line = QHBoxLayout()
        for name, text, signal in (
            ("is_it_cannot_say_button", self.tr("Cannot say  F4"), self.cannot_say_pressed),
            ("is_it_clear_button", self.tr("Clear  Ctrl+Shift+A"), self.clear_pressed),
            ("is_it_leave_button", self.tr("Leave  Esc"), self.leave_pressed),
        ):
            button = named(QPushButton(text, self), name, text)
            button.setProperty("small", "true")
            button.clicked.connect(signal)
            line.addWidget(button)
        line.addStretch(1)
        return line

    @property
    def current(self) -> str:
        """Return the question that is, or was last, being answered."""
        return self._current

    @property
    def wanted_width(self) -> int:
        """Return the least width in which nothing is cut, px."""
        page: QWidget | None = self._area.widget()
        least = 0 if page is None else page.minimumSizeHint().width()
        return max(self._look.px(_WANTED_PX), least + self._look.px(20))

    def show_view(self, view: PumpView) -> None:
        """Show how every question stands."""
        self._view = view
        for asked in view.asked:
            self.rows[asked.question.question_id].show_asked(asked)

    def focus_question(self, question_id: str) -> None:
        """Put the keys into a question."""
        self.rows[question_id].field.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def focus_current(self) -> None:
        """Put the keys back where they were."""
        self.focus_question(self._current)

    def _note_current(self, question_id: str) -> None:
        self._current = question_id
        row = self.rows[question_id]
        self._area.ensureWidgetVisible(row, 0, self._look.px(60))

    def _step_from(self, question_id: str, step: int) -> None:
        names = list(self.rows)
        place = max(0, min(names.index(question_id) + step, len(names) - 1))
        self.focus_question(names[place])

    def _go_on_from(self, question_id: str) -> None:
        """Go to what helps most now; where this one has a fault, stay."""
        row = self.rows[question_id]
        row.show_notes()
        if not row.trouble.isHidden() or self._view is None:
            return
        self.go_on()

    def go_on(self) -> None:
        """Go to the question that the next step answers, else to the one below."""
        wanted = self._view.next_question_id if self._view is not None else ""
        if wanted and wanted != self._current:
            self.focus_question(wanted)
        else:
            self._step_from(self._current, 1)
