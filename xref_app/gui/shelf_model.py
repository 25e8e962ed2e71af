"""The shelf as a list, one row for each place; and how a row is painted."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen, QPolygonF

from xref_app.gui.painting import bold, paint_line, paint_words, small, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import RowsModel, row_width
from xref_app.gui.shelf_words import counted_text, free_text, held_text, mark_text, price_text, there_text, warning_text
from xref_app.services.shelf_lines import ShelfLine

_ROW_PX, _LEAST_PX, _PAD_PX = 50, 420, 8
_BIN_PX, _WARNING_PX, _COUNT_PX = 58, 82, 132


class ShelfModel(RowsModel[ShelfLine]):
    """Every place that the filter lets through."""

    def words(self, row: ShelfLine) -> str:
        """Return the whole row as one line."""
        parts = [f"{row.name}, {row.place.bin}", free_text(row), there_text(row), warning_text(row), mark_text(row)]
        parts += [price_text(row), counted_text(row), *(held_text(one) for one in row.held)]
        return "; ".join(part for part in parts if part)


class ShelfDelegate(RowDelegate[ShelfLine]):
    """A row of at least 50 px: bin, name over kind, price and date, the warning with its shape, and the counts."""

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: ShelfLine) -> None:
        """Paint one place."""
        px, colours = self._look.px, self._look.colours
        text = self._look.ink(colours.text)
        first = QFontMetrics(bold(font)).height()
        top = rect.top() + px(_PAD_PX)
        line = QRect(rect.left() + px(_PAD_PX), top, px(_BIN_PX - _PAD_PX), first)
        paint_line(painter, line, row.place.bin, bold(font), text)
        name = QRect(rect.left() + px(_BIN_PX), top, self._name_width(rect.width()), rect.height())
        paint_words(painter, name, row.name, font, colours.text)
        below = wrapped_height(font, row.name, name.width())
        paint_words(painter, name.adjusted(0, below + px(1), 0, 0), _small_words(row), small(font), colours.quiet_text)
        counts = QRect(rect.right() - px(_COUNT_PX + _PAD_PX), top, px(_COUNT_PX), first)
        _paint_right(painter, counts, free_text(row), bold(font), text)
        quiet = self._look.ink(colours.quiet_text)
        _paint_right(painter, counts.translated(0, first + px(1)), there_text(row), small(font), quiet)
        self._paint_warning(painter, QRect(counts.left() - px(_WARNING_PX), top, px(_WARNING_PX), first), font, row)

    def _paint_warning(self, painter: QPainter, place: QRect, font: QFont, row: ShelfLine) -> None:
        word = warning_text(row)
        if not word:
            return
        px, colours = self._look.px, self._look.colours
        ink = QColor(colours.fails if row.is_short else colours.parts)
        side = px(15)
        shape = QRectF(place.left(), place.top() + (place.height() - side) / 2, side, side)
        (_paint_bar if row.is_short else _paint_wedge)(painter, shape, ink, QColor(colours.base))
        paint_line(painter, place.adjusted(px(20), 0, 0, 0), word, bold(font), ink)

    def _name_width(self, width: int) -> int:
        return width - self._look.px(_BIN_PX + _WARNING_PX + _COUNT_PX + 2 * _PAD_PX)

    def row_size(self, font: QFont, row: ShelfLine) -> QSize:
        """Return 50 px, or more where the name wraps."""
        px = self._look.px
        width = row_width(self.parent(), px(_LEAST_PX))
        room = self._name_width(width)
        text = wrapped_height(font, row.name, room) + wrapped_height(small(font), _small_words(row), room)
        return QSize(px(_LEAST_PX), max(px(_ROW_PX), text + px(2 * _PAD_PX + 1)))


def _small_words(row: ShelfLine) -> str:
    return " · ".join(part for part in (row.kind, price_text(row), counted_text(row)) if part)


def _paint_wedge(painter: QPainter, place: QRectF, ink: QColor, plate: QColor) -> None:
    """Paint a wedge pointing down, half filled: little is left."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(ink, max(place.width() * 0.11, 1.0)))
    painter.setBrush(plate)
    corners = [place.topLeft(), place.topRight(), QPointF(place.center().x(), place.bottom())]
    painter.drawPolygon(QPolygonF(corners))
    middle, quarter = place.center(), place.width() / 4
    painter.setBrush(ink)
    sides = [QPointF(middle.x() - quarter, middle.y()), QPointF(middle.x() + quarter, middle.y()), corners[2]]
    painter.drawPolygon(QPolygonF(sides))


def _paint_bar(painter: QPainter, place: QRectF, ink: QColor, _plate: QColor) -> None:
    """Paint a block broken in two: more is promised than lies there."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    third = place.height() / 3
    painter.drawRect(QRectF(place.left(), place.top(), place.width(), 2 * third - 1))
    painter.drawRect(QRectF(place.left(), place.bottom() - third + 1, place.width(), third - 1))


def _paint_right(painter: QPainter, place: QRect, text: str, font: QFont, ink: QColor) -> None:
    painter.setFont(font)
    painter.setPen(ink)
    shown = QFontMetrics(font).elidedText(text, Qt.TextElideMode.ElideRight, place.width())
    painter.drawText(place, int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter), shown)
