"""The sizes that may be blamed, as a list with ticks: those to look at first under a heading of their own."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QObject, QPointF, QRect, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from xref_app.gui.happened_words import counted_text, size_text, ticked_text
from xref_app.gui.painting import bold, paint_words, small, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import DOMAIN_ROLE, Index, QuietListView, RowsModel, row_width
from xref_app.gui.theme import Look
from xref_app.services.what_happened import BlameableSize

_LEAST_PX, _PAD_PX, _BOX_PX = 260, 6, 16


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands above sizes; nobody can tick it."""

    words: str


SizeRow = BlameableSize | Heading


class SizesModel(RowsModel[SizeRow]):
    """Headings and sizes; which are ticked is told apart from them."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.ticked: frozenset[str] = frozenset()

    def words(self, row: SizeRow) -> str:
        """Return the whole row as one line, its tick in words."""
        if isinstance(row, Heading):
            return row.words
        return ticked_text(row, is_ticked=row.field in self.ticked)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return that arrow keys pass over headings."""
        return Qt.ItemFlag.NoItemFlags if isinstance(index.data(DOMAIN_ROLE), Heading) else super().flags(index)

    def show_ticked(self, fields: Collection[str]) -> None:
        """Show these fields ticked and no others."""
        self.ticked = frozenset(fields)
        self.tell_changed()

    def first_size(self) -> int:
        """Return the row of the first size, -1 where there is none."""
        return next((place for place, row in enumerate(self.rows) if isinstance(row, BlameableSize)), -1)


class SizesDelegate(RowDelegate[SizeRow]):
    """A box with or without a tick, the size, and the checks it counted in."""

    def __init__(self, model: SizesModel, look: Look, parent: QObject) -> None:
        super().__init__(look, parent)
        self._model = model

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: SizeRow) -> None:
        """Paint a heading or a size."""
        px, colours = self._look.px, self._look.colours
        top = rect.top() + px(_PAD_PX)
        if isinstance(row, Heading):
            place = QRect(rect.left() + px(_PAD_PX), top, rect.width() - px(2 * _PAD_PX), rect.height())
            paint_words(painter, place, row.words, bold(font), colours.quiet_text)
            return
        side = px(_BOX_PX)
        box_top = top + max(0, (QFontMetrics(font).height() - side) // 2)
        self._paint_box(painter, QRectF(rect.left() + px(2 * _PAD_PX), box_top, side, side), row)
        left, room = rect.left() + px(4 * _PAD_PX + _BOX_PX), self._room(rect.width())
        paint_words(painter, QRect(left, top, room, rect.height()), size_text(row), font, self._ink_name)
        below = top + wrapped_height(font, size_text(row), room)
        paint_words(
            painter, QRect(left, below, room, rect.height()), counted_text(row), small(font), colours.quiet_text
        )

    def _paint_box(self, painter: QPainter, box: QRectF, row: BlameableSize) -> None:
        ink = self._look.ink(self._ink_name)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(self._look.ink(self._look.colours.base))
        painter.setPen(QPen(ink, 1.4))
        painter.drawRect(box)
        if row.field in self._model.ticked:
            painter.setPen(QPen(ink, box.width() * 0.16))
            points = ((0.2, 0.52), (0.42, 0.76), (0.82, 0.24))
            painter.drawPolyline(
                QPolygonF([QPointF(box.left() + x * box.width(), box.top() + y * box.height()) for x, y in points])
            )

    @property
    def _ink_name(self) -> str:
        """Return the colour of what can be ticked, or of what cannot be just now."""
        view = self.parent()
        can_tick = isinstance(view, QWidget) and view.isEnabled()
        return self._look.colours.text if can_tick else self._look.colours.quiet_text

    def _room(self, width: int) -> int:
        return width - self._look.px(5 * _PAD_PX + _BOX_PX)

    def row_size(self, font: QFont, row: SizeRow) -> QSize:
        """Return as much as the words take when they wrap."""
        px = self._look.px
        width = row_width(self.parent(), px(_LEAST_PX))
        if isinstance(row, Heading):
            height = wrapped_height(bold(font), row.words, width - px(2 * _PAD_PX))
        else:
            room = self._room(width)
            height = wrapped_height(font, size_text(row), room) + wrapped_height(small(font), counted_text(row), room)
        return QSize(px(_LEAST_PX), height + px(2 * _PAD_PX))


class SizesView(QuietListView):
    """Space in the list, or a click, switches the tick of a size, as in a check box.

    The guard against scans hands on a Space only when it came alone.
    """

    switched = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model_of_sizes = SizesModel(self)
        self.setModel(self.model_of_sizes)
        self.setItemDelegate(SizesDelegate(self.model_of_sizes, look, self))
        self.clicked.connect(self._switch)

    def show_rows(self, rows: Sequence[SizeRow]) -> None:
        """Show these rows from the top, the first size in work."""
        self.model_of_sizes.show_rows(rows)
        self.doItemsLayout()
        place = self.model_of_sizes.first_size()
        if place >= 0:
            self.setCurrentIndex(self.model_of_sizes.index(place))
        self.scrollToTop()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Switch the tick of the size in work."""
        if event.key() == Qt.Key.Key_Space:
            self._switch(self.currentIndex())
        else:
            super().keyPressEvent(event)

    @Slot(QModelIndex)
    def _switch(self, index: QModelIndex) -> None:
        size = index.data(DOMAIN_ROLE)
        if isinstance(size, BlameableSize):
            self.switched.emit(size.field)
