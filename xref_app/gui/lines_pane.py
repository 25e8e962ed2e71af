"""The entry sheet: every field of the unit on the bench, how it stands, as typed and as read."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QObject, QRect, QSize, Qt, Signal, Slot
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from xref_app.core.sentence import Sentence
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.length_rows import LengthRowsModel
from xref_app.gui.messages import say
from xref_app.gui.painting import bold, paint_line, paint_words, small, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, named, row_width
from xref_app.gui.theme import Look
from xref_app.services.bench import BenchView, FieldLine, LineState

_LEAST_PX = 280
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
_LOUD = (LineState.TROUBLE, LineState.ASKED)


class LinesModel(LengthRowsModel[FieldLine]):
    """The fields, in the order of the schema."""

    def value_text(self, line: FieldLine) -> str:
        """Return what the field says, or what is the matter with it."""
        match line.state:
            case LineState.READ:
                return self.in_order(line.shown)
            case LineState.DIFFERS:
                known = self.in_order(line.known)
                read = self.in_order(line.shown)
                return self.tr("{read}\n≠ known before: {known}").format(read=read, known=known)
            case LineState.SKIPPED:
                return self.tr("cannot be reached")
            case LineState.TROUBLE | LineState.ASKED:
                return say(line.said) if isinstance(line.said, Sentence) else line.said
            case LineState.BLANK:
                return self.in_order(line.known) if line.known else self.tr("? not known")

    def origin_text(self, line: FieldLine) -> str:
        """Return how it is known: as typed, or that the entry said so before."""
        if line.state in (LineState.READ, LineState.DIFFERS) and line.typed is not None:
            typed = "; ".join(line.typed.texts)
            return self.tr("{how}: {typed}").format(how=line.typed.how, typed=typed)
        if line.state is LineState.BLANK and line.known:
            return self.tr("known before")
        return ""

    def words(self, row: FieldLine) -> str:
        """Return the whole line in words."""
        return ". ".join(text for text in (f"{row.field.title}: {self.value_text(row)}", self.origin_text(row)) if text)


class LineDelegate(RowDelegate[FieldLine]):
    """Two lines: title with how it is known, quiet; then the value."""

    def __init__(self, model: LinesModel, look: Look, parent: QObject) -> None:
        super().__init__(look, parent)
        self._model = model

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: FieldLine) -> None:
        """Paint one field."""
        colours, pad = self._look.colours, self._look.px(8)
        title_font = small(font)
        metrics = QFontMetrics(title_font)
        inner = rect.adjusted(pad, self._look.px(3), -pad, -self._look.px(3))
        head = QRect(inner.left(), inner.top(), inner.width(), metrics.height())
        paint_line(painter, head, row.field.title, title_font, self._look.ink(colours.quiet_text))
        room = inner.width() - metrics.horizontalAdvance(row.field.title) - self._look.px(16)
        origin = metrics.elidedText(self._model.origin_text(row), Qt.TextElideMode.ElideRight, room)
        painter.drawText(head, _RIGHT, origin)
        ink = colours.danger if row.state in _LOUD else colours.text
        if row.state in (LineState.BLANK, LineState.SKIPPED):
            ink = colours.quiet_text
        body = inner.adjusted(0, metrics.height(), 0, 0)
        paint_words(painter, body, self._model.value_text(row), self._value_font(font, row), ink)

    def _value_font(self, font: QFont, line: FieldLine) -> QFont:
        return font if line.state in (LineState.BLANK, LineState.SKIPPED) else bold(font)

    def row_size(self, font: QFont, row: FieldLine) -> QSize:
        """Return room for the whole value."""
        width = row_width(self.parent(), self._look.px(_LEAST_PX)) - self._look.px(16)
        height = wrapped_height(self._value_font(font, row), self._model.value_text(row), width)
        return QSize(width, QFontMetrics(small(font)).height() + height + self._look.px(8))


class LinesPane(QFrame):
    """All fields; choosing one asks for it on the card."""

    chosen = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "lines_pane_frame", self.tr("Entry sheet"))
        self.setProperty("pane", "true")
        self._look = look
        self._model = LinesModel(self)
        self._title = heading_label(self, "lines_title_label", self.tr("Entry sheet"))
        self._count = quiet_label(self, "lines_count_label")
        self.view = named(QuietListView(self), "lines_fields_list", self.tr("All fields of this unit"))
        self.view.setModel(self._model)
        self.view.setItemDelegate(LineDelegate(self._model, look, self.view))
        self.view.clicked.connect(self._choose)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(1, 1, 1, 1)
        layout.setSpacing(0)
        head = QVBoxLayout()
        head.setContentsMargins(10, 6, 8, 4)
        head.addWidget(self._title)
        head.addWidget(self._count)
        layout.addLayout(head)
        layout.addWidget(self.view, 1)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    @property
    def rows(self) -> tuple[FieldLine, ...]:
        """Return every field as it stands."""
        return self._model.rows

    def show_first(self, first: LengthFirst) -> None:
        """Show lengths in this unit first."""
        self._model.show_first(first)

    def show_view(self, view: BenchView) -> None:
        """Show the fields of the draft; the chosen line and the place of the scroll bar stay."""
        row, place = self.view.currentIndex().row(), self.view.verticalScrollBar().value()
        self._model.show_rows(view.lines)
        if row >= 0:
            self.view.setCurrentIndex(self._model.index(row))
        self.view.verticalScrollBar().setValue(place)
        read = sum(1 for line in view.lines if line.state in (LineState.READ, LineState.DIFFERS))
        self._count.setText(
            self.tr("{read} of {all} read. F2 measures the chosen line.").format(read=read, all=len(view.lines))
        )

    def show_field(self, field_id: str) -> None:
        """Mark the line that the card asks for."""
        for number, line in enumerate(self._model.rows):
            if line.field.field_id == field_id:
                self.view.setCurrentIndex(self._model.index(number))
                self.view.scrollTo(self._model.index(number))

    def chosen_field(self) -> str:
        """Return the field of the chosen line, empty where none is."""
        line = self.view.currentIndex().data(DOMAIN_ROLE)
        return line.field.field_id if isinstance(line, FieldLine) else ""

    @Slot(QModelIndex)
    def _choose(self, index: QModelIndex) -> None:
        line = index.data(DOMAIN_ROLE)
        if isinstance(line, FieldLine):
            self.chosen.emit(line.field.field_id)

    @property
    def wanted_width(self) -> int:
        """Return the width of the standing pane, px."""
        return self._look.px(_LEAST_PX)

    @Slot()
    def _resize_to_text(self) -> None:
        self._model.tell_changed()
        self.view.doItemsLayout()
