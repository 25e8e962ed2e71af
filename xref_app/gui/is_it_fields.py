"""The two kinds of answer: a choice stepped through with Left and Right, and a number that is typed."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QSignalBlocker, Qt, Signal, Slot
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QComboBox, QLineEdit, QSizePolicy, QWidget

from xref_app.gui.rows import QuietListView, named
from xref_app.gui.theme import Look
from xref_app.services.is_it_the_pump import Asked
from xref_app.services.pump_answers import LONGEST_ANSWER
from xref_app.services.pump_questions import Question

_RING_PX = 2
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_UP_DOWN = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
_SIDEWAYS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}


class ChoiceField(QComboBox):
    """Left and Right choose, Up and Down leave, Enter goes on; no letter, digit, Space or wheel changes anything."""

    chosen = Signal(str)
    given_up = Signal()
    stepped = Signal(int)
    entered = Signal()
    focused = Signal()

    def __init__(self, look: Look, object_name: str, question: Question, title: str, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, object_name, title)
        self._look = look
        self._words = question.words
        # In the list that drops, too, a letter is no command.
        self.setView(named(QuietListView(self), f"{object_name}_list", title))
        self.addItems([self.tr("? not known"), *(_translated(word) for word in self._words), self.tr("cannot say")])
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.activated.connect(self._tell)

    def show_asked(self, asked: Asked) -> None:
        """Show what stands in the question."""
        text = asked.value if isinstance(asked.value, str) else ""
        place = 1 + self._words.index(text) if text in self._words else 0
        self.setCurrentIndex(self.count() - 1 if asked.answer.cannot_say else place)

    @Slot(int)
    def _tell(self, place: int) -> None:
        if place == self.count() - 1:
            self.given_up.emit()
        else:
            self.chosen.emit(self._words[place - 1] if place else "")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose, leave, go on; anything else goes to whoever holds the field."""
        key = Qt.Key(event.key())
        if key in _SIDEWAYS:
            place = max(0, min(self.currentIndex() + _SIDEWAYS[key], self.count() - 1))
            if place != self.currentIndex():
                self.setCurrentIndex(place)
                self._tell(place)
        elif key in _UP_DOWN:
            self.stepped.emit(_UP_DOWN[key])
        elif key in _ENTER:
            self.entered.emit()
        else:
            event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the field, and the ring that shows where the keys are."""
        super().paintEvent(event)
        colours, has_keys = self._look.colours, self.hasFocus()
        painter = QPainter(self)
        painter.setPen(QPen(self._look.ink(colours.accent if has_keys else colours.edge), _RING_PX if has_keys else 1))
        inset = _RING_PX // 2 if has_keys else 0
        painter.drawRoundedRect(self.rect().adjusted(inset, inset, -1, -1), 3, 3)
        painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Let the wheel scroll the questions."""
        event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Tell that this question is looked at now."""
        super().focusInEvent(event)
        self.focused.emit()


class AmountField(QLineEdit):
    """A number as text; Up and Down leave, Enter goes on."""

    stepped = Signal(int)
    entered = Signal()
    focused = Signal()

    def __init__(self, object_name: str, title: str, like: str, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, object_name, title)
        self._like = like
        self.is_being_typed = False
        self.setMaxLength(LONGEST_ANSWER)
        self.setMinimumWidth(120)
        self.textEdited.connect(self._note_typing)
        self.editingFinished.connect(self._note_finished)

    def show_asked(self, asked: Asked) -> None:
        """Show what stands in the question; the cursor stays where it is while somebody types."""
        if self.text().strip() != asked.answer.text.strip():
            with QSignalBlocker(self):
                self.setText(asked.answer.text)
        cannot_say = asked.answer.cannot_say and not asked.answer.text
        like = self.tr("like {examples}").format(examples=self._like)
        self.setPlaceholderText(self.tr("cannot say") if cannot_say else like)

    @Slot()
    def _note_typing(self) -> None:
        self.is_being_typed = True

    @Slot()
    def _note_finished(self) -> None:
        self.is_being_typed = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave or go on; anything else is typing."""
        key = Qt.Key(event.key())
        if key in _UP_DOWN and event.modifiers() == Qt.KeyboardModifier.NoModifier:
            self.stepped.emit(_UP_DOWN[key])
            return
        super().keyPressEvent(event)
        if key in _ENTER:
            self.entered.emit()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Tell that this question is looked at now."""
        super().focusInEvent(event)
        self.focused.emit()


def _translated(word: str) -> str:
    return str(QCoreApplication.translate("diagnose", word))
