"""The measure card: one question, a picture of where the jaws go, one field to type into."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from xref_app.core.errors import XrefError
from xref_app.core.quantity.instruments import DOUBTS, Instrument
from xref_app.core.sentence import Sentence
from xref_app.gui.choice_list import CardChoicesModel
from xref_app.gui.entry_line import EntryLine
from xref_app.gui.jaw_view import JawView
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.messages import say
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look
from xref_app.services.card import StepKind
from xref_app.services.card_session import CardSession, Choice, Preview
from xref_app.services.unit_draft import Typed
from xref_app.sheets.jaws import jaw_drawing

_WIDTH_PX, _MOST_CHOICES, _LONGEST_TEXT, _PICTURE_PX = 430, 4, 200, 100
_READING_POINTS = 16.0
# From this size of text on fewer choices are shown at once, percent.
_LARGE_TEXT = 175
_HOWS = ("measured", "plate", "sheet", "claimed")


class MeasureLine(EntryLine):
    """The measure field: Enter takes, Shift+Enter takes one reading of several."""

    repeated = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Tell Shift+Enter from Enter."""
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if is_enter and event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self.repeated.emit()
        else:
            super().keyPressEvent(event)


class CardPane(QFrame):
    """Shows one session; tells what was taken or skipped, and nothing about where it is kept."""

    taken = Signal(str, object)
    skipped = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "card_pane_frame", self.tr("Measure"))
        self.setProperty("pane", "true")
        self._look = look
        self._first = LengthFirst.MM
        self._session: CardSession | None = None
        self._choices = CardChoicesModel(self)
        self._build()
        self._lay_out()
        self._connect()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_session(None)

    def _build(self) -> None:
        self._title = heading_label(self, "card_title_label", "")
        self._ask = quiet_label(self, "card_ask_label")
        self._picture = JawView(self._look, self)
        named(self._picture, "card_jaws_view", self.tr("Where the jaws go"))
        self._picture.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.line = named(MeasureLine(self), "card_reading_line", self.tr("Reading"))
        self.line.setMaxLength(_LONGEST_TEXT)
        self._reads = heading_label(self, "card_reads_label", "")
        self._notes = quiet_label(self, "card_notes_label")
        self._why = quiet_label(self, "card_why_label")
        self.list = named(QuietListView(self), "card_choices_list", self.tr("What to choose from"))
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setModel(self._choices)
        self._tool = self._combo("card_tool_combo", self.tr("Measured with"))
        self._how = self._combo("card_how_combo", self.tr("How it is known"))
        for how in _HOWS:
            self._how.addItem(self._how_text(how), how)
        self.take_button = self._button("card_take_button", self.tr("Take it  Enter"))
        self.again_button = self._button("card_again_button", self.tr("Again  Shift+Enter"))
        self.skip_button = self._button("card_skip_button", self.tr("Cannot reach  F4"))

    def _how_text(self, how: str) -> str:
        words = {
            "measured": self.tr("measured"),
            "plate": self.tr("read off the plate"),
            "sheet": self.tr("maker's document"),
            "claimed": self.tr("a seller says so"),
        }
        return words[how]

    def _combo(self, name: str, title: str) -> QComboBox:
        combo = named(QComboBox(self), name, title)
        combo.setToolTip(title)
        named(combo.view(), name.replace("_combo", "_list"), title)
        return combo

    def _button(self, name: str, text: str) -> QPushButton:
        button = named(QPushButton(text, self), name, text)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        return button

    def _lay_out(self) -> None:
        """Lay out the question above, scrolling where it must; what the hands need stands below and never moves."""
        above, below = column_above_column(self, "card_scroll_area")
        above.addWidget(self._title)
        above.addWidget(self._ask)
        above.addWidget(self._picture, 4)
        above.addWidget(self._notes)
        above.addWidget(self._why)
        above.addStretch(1)
        for widget in (self.line, self._reads, self.list):
            below.addWidget(widget)
        below.addLayout(self._tool_row())
        buttons = QHBoxLayout()
        buttons.setSpacing(6)
        for button in (self.take_button, self.again_button, self.skip_button):
            buttons.addWidget(button)
        below.addLayout(buttons)

    def _tool_row(self) -> QGridLayout:
        tools = QGridLayout()
        tools.setSpacing(6)
        for column, (text, combo) in enumerate(((self.tr("With"), self._tool), (self.tr("Known"), self._how))):
            label = QLabel(text, self)
            label.setBuddy(combo)
            tools.addWidget(label, 0, 2 * column)
            tools.addWidget(combo, 0, 2 * column + 1)
            tools.setColumnStretch(2 * column + 1, 1)
        return tools

    def _connect(self) -> None:
        self.line.textChanged.connect(self._show_preview)
        self.line.stepped.connect(self._step_choice)
        self.line.entered.connect(self.take)
        self.line.repeated.connect(self.take_again)
        self.list.clicked.connect(self._take_index)
        self.take_button.clicked.connect(self.take)
        self.again_button.clicked.connect(self.take_again)
        self.skip_button.clicked.connect(self.skip)
        self._tool.activated.connect(self._change_tool)
        self._how.activated.connect(self._change_how)

    # -- what is shown

    @property
    def session(self) -> CardSession | None:
        """Return the session in work."""
        return self._session

    def show_first(self, first: LengthFirst) -> None:
        """Read a bare number in this unit from here on."""
        self._first = first
        if self._session is not None:
            self._session = replace(self._session, unit=_unit(first))
            self._show_step()

    def show_session(self, session: CardSession | None) -> None:
        """Ask this; with None nothing is left to ask. What was typed since the last answer stays in the field."""
        self._session = session if session is None else replace(session, unit=_unit(self._first))
        self._why.hide()
        if session is not None:
            self._fill_tools(session)
        self._show_step()

    def _fill_tools(self, session: CardSession) -> None:
        unit = session.card.field.unit
        fitting = [one for one in Instrument if DOUBTS[one].unit == unit]
        self._tool.clear()
        self._tool.addItem(self.tr("the usual tool"), "")
        for one in fitting:
            self._tool.addItem(one.value, one.value)
        self._tool.setCurrentIndex(max(self._tool.findData(session.instrument), 0))
        self._tool.setEnabled(bool(fitting))
        self._how.setCurrentIndex(max(self._how.findData(session.how), 0))

    def _show_step(self) -> None:
        session, step = self._session, None if self._session is None else self._session.step
        for widget in (self.line, self.take_button, self.again_button, self.skip_button, self._tool, self._how):
            widget.setEnabled(step is not None)
        if session is None or step is None:
            self._title.setText(self.tr("Nothing more to ask"))
            self._ask.setText(self.tr("Ctrl+S saves. To measure more, choose a field in the list and press F2."))
            self._picture.show_drawing(None)
            self._show(Preview())
            return
        title = session.card.field.title
        self._title.setText(title if session.is_plain else f"{title}: {step.short}")
        self._ask.setText(say(step.ask))
        picture = step.picture
        drawing = jaw_drawing(session.card.field.field_id, step=picture.step, holes=picture.holes, way=picture.way)
        self._picture.show_drawing(drawing)
        self._picture.setVisible(drawing is not None)
        self.line.setPlaceholderText(step.example or self._placeholder(step.kind))
        is_first = not session.is_plain and not session.answers
        self.again_button.setEnabled(step.kind is not StepKind.CHOICE if session.is_plain else not is_first)
        again = self.tr("Again  Shift+Enter") if session.is_plain else self.tr("Step back  Shift+Enter")
        self.again_button.setText(again)
        self.again_button.setAccessibleName(again)
        self._show_preview()
        self.line.setAccessibleDescription(self._ask.text())

    def _placeholder(self, kind: StepKind) -> str:
        match kind:
            case StepKind.LENGTH:
                return self.tr("3/4, 19.05 mm, .750 in; bare: {unit}").format(unit=_unit(self._first))
            case StepKind.CHOICE:
                return self.tr("choose with Down, or type the word")
            case StepKind.TEXT:
                return ""

    @Slot()
    def _show_preview(self) -> None:
        if self._session is not None:
            self._show(self._session.preview(self.line.text()))

    def _show(self, preview: Preview) -> None:
        readings = len(self._session.texts) if self._session else 0
        taken = self.tr("{count} taken. ").format(count=readings) if readings else ""
        self._reads.setText(preview.trouble or (f"{taken}= {preview.reads}" if preview.reads else taken.strip()))
        self._reads.setVisible(bool(self._reads.text()))
        self._choices.show_rows(preview.choices)
        self.list.setCurrentIndex(QModelIndex())
        rows = min(len(preview.choices), _MOST_CHOICES if self._look.text_percent < _LARGE_TEXT else _MOST_CHOICES // 2)
        height = sum(self.list.sizeHintForRow(row) for row in range(rows)) + 2 * self.list.frameWidth()
        self.list.setFixedHeight(height if rows else 0)
        self.list.setVisible(bool(rows))
        self._notes.setText("\n".join(say(note) for note in preview.notes))
        self._notes.setVisible(bool(preview.notes))
        self.line.setAccessibleDescription(f"{self._ask.text()} {self._reads.text()}")

    # -- what is done

    @Slot(int)
    def _step_choice(self, step: int) -> None:
        row = self.list.currentIndex().row() + step
        is_listed = 0 <= row < self._choices.rowCount()
        if is_listed or row < 0:
            self.list.setCurrentIndex(self._choices.index(row) if is_listed else QModelIndex())

    @Slot(QModelIndex)
    def _take_index(self, index: QModelIndex) -> None:
        self.list.setCurrentIndex(index)
        self.take()

    @Slot()
    def take(self) -> None:
        """Take the chosen line, or the text as typed."""
        if self._session is None:
            return
        chosen = self.list.currentIndex().data(DOMAIN_ROLE)
        try:
            result = self._session.take(self.line.text(), chosen if isinstance(chosen, Choice) else None)
        except XrefError as error:
            self._say_trouble(str(error))
            return
        if isinstance(result, Typed):
            self._hand_over(self._session.card.field.field_id, result)
        else:
            self._go_to(result)

    def _hand_over(self, field_id: str, typed: Typed) -> None:
        """Tell what was taken; the next key belongs to the next question already."""
        self._session = None
        self.line.setText("")
        self.taken.emit(field_id, typed)

    @Slot()
    def take_again(self) -> None:
        """Take the text as one reading of several; on a card of many steps go one back, to what was answered there."""
        if self._session is None or not self.again_button.isEnabled():
            return
        if not self._session.is_plain:
            before, text = self._session.back()
            self._go_to(before)
            self.line.setText(text)
            return
        try:
            self._go_to(self._session.again(self.line.text()))
        except XrefError as error:
            self._say_trouble(str(error))

    @Slot()
    def skip(self) -> None:
        """Go past what cannot be reached: the step where it is optional, else the whole field."""
        if self._session is None:
            return
        try:
            past = self._session.skip_step()
        except XrefError as error:
            self._say_trouble(str(error))
            return
        field_id = self._session.card.field.field_id
        if past is None:
            self._session = None
            self.line.setText("")
            self.skipped.emit(field_id)
        elif isinstance(past, Typed):
            self._hand_over(field_id, past)
        else:
            self._go_to(past)

    def say_why(self, why: Sentence) -> None:
        """Say why this is asked."""
        self._why.setText(self.tr("Why ask: {why}").format(why=say(why)))
        self._why.show()

    def focus_line(self) -> None:
        """Put the keys into the measure field."""
        self.line.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _go_to(self, session: CardSession) -> None:
        self._session = session
        self.line.setText("")
        self._show_step()
        self.focus_line()

    def _say_trouble(self, sentence: str) -> None:
        self._reads.setText(sentence)
        self._reads.setVisible(True)
        self.line.setAccessibleDescription(sentence)

    @Slot(int)
    def _change_tool(self, row: int) -> None:
        if self._session is not None:
            self._session = replace(self._session, instrument=str(self._tool.itemData(row)))
            self._show_preview()

    @Slot(int)
    def _change_how(self, row: int) -> None:
        if self._session is not None:
            self._session = replace(self._session, how=str(self._how.itemData(row)))
            self._show_preview()

    @property
    def wanted_width(self) -> int:
        """Return the width of the standing pane, px."""
        return self._look.px(_WIDTH_PX)

    @Slot()
    def _resize_to_text(self) -> None:
        font = QFont(self.font())
        font.setPointSizeF(_READING_POINTS * min(self._look.text_percent, 150) / 100)
        self.line.setFont(font)
        self.line.setMinimumHeight(self._look.px(36))
        self._picture.setMinimumSize(self._look.px(_PICTURE_PX), _PICTURE_PX)


def _unit(first: LengthFirst) -> str:
    return "in" if first is LengthFirst.INCH else "mm"
