"""A plain cell of a table: text that wraps rather than is cut, with the same spacing everywhere."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QRect, QSize
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem, QTableView

from xref_app.gui.painting import paint_ground, paint_words, wrapped_height
from xref_app.gui.theme import Look

_ROW_PX, _PAD_PX = 30, 6


class CellDelegate(QStyledItemDelegate):
    """Paints the text of a cell."""

    def __init__(self, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self._look = look

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint one cell."""
        rect: QRect = option.rect
        font: QFont = option.font
        px, colours = self._look.px, self._look.colours
        painter.save()
        paint_ground(painter, option, colours, with_ring=False)
        top = max((px(_ROW_PX) - QFontMetrics(font).height()) // 2, 0)
        place = rect.adjusted(px(_PAD_PX), top, -px(2), 0)
        paint_words(painter, place, str(index.data() or ""), font, colours.text)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """Return 30 px, or more where the text wraps in its column."""
        font: QFont = option.font
        px, text = self._look.px, str(index.data() or "")
        widest = max(QFontMetrics(font).horizontalAdvance(line) for line in text.split("\n"))
        wanted = widest + px(2 * _PAD_PX)
        table = self.parent()
        width = table.columnWidth(0) if isinstance(table, QTableView) and index.column() == 0 else wanted
        height = wrapped_height(font, text, width - px(_PAD_PX + 2)) + px(_ROW_PX) - QFontMetrics(font).height()
        return QSize(wanted, max(px(_ROW_PX), height))
