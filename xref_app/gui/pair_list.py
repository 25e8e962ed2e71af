"""The pairs to be made, best first, and below them what is put by already; and how a row is painted."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter

from xref_app.core.model.catalog import UnitReservationRow
from xref_app.gui.marks import MARK_OF_VERDICT, paint_mark
from xref_app.gui.painting import bold, paint_words, small, wrapped_height
from xref_app.gui.pair_words import made_text, money, pair_text, put_by_text
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import RowsModel, row_width
from xref_app.services.best_pairs import MadePair
from xref_app.services.pair_matrix import PairUnit

_LEAST_PX, _PAD_PX, _MARK_PX, _VALUE_PX = 300, 7, 18, 76


@dataclass(frozen=True, slots=True)
class PutBy:
    """One unit that is put by."""

    row: UnitReservationRow
    unit: PairUnit


PairLine = MadePair | PutBy


class PairLines(RowsModel[PairLine]):
    """What is to be made and what is put by."""

    def words(self, row: PairLine) -> str:
        """Return the whole row as one line."""
        if isinstance(row, PutBy):
            return put_by_text(row.row, row.unit)
        return f"{_first(row)}: {money(row.sum.value)}; {made_text(row)}"


class PairLineDelegate(RowDelegate[PairLine]):
    """A mark, the two units with what their machine leaves, and what is needed below."""

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: PairLine) -> None:
        """Paint one pair, or one unit that is put by."""
        px, colours = self._look.px, self._look.colours
        left, top = rect.left() + px(2 * _PAD_PX + _MARK_PX), rect.top() + px(_PAD_PX)
        room = self._room(rect.width(), row)
        first = QRect(left, top, room, rect.height())
        if isinstance(row, PutBy):
            paint_words(painter, first, put_by_text(row.row, row.unit), small(font), colours.quiet_text)
            return
        side = px(_MARK_PX)
        mark = QRectF(rect.left() + px(_PAD_PX), top, side, side)
        paint_mark(painter, mark, MARK_OF_VERDICT[row.found.verdict], colours)
        paint_words(painter, first, _first(row), bold(font), colours.text)
        below = wrapped_height(bold(font), _first(row), room)
        second = QRect(left, top + below + px(1), rect.right() - left - px(_PAD_PX), rect.height())
        paint_words(painter, second, made_text(row), small(font), colours.quiet_text)
        painter.setFont(bold(font))
        painter.setPen(self._look.ink(colours.text))
        value = QRect(rect.right() - px(_VALUE_PX + _PAD_PX), top, px(_VALUE_PX), QFontMetrics(bold(font)).height())
        painter.drawText(value, int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop), money(row.sum.value))

    def _room(self, width: int, row: PairLine) -> int:
        taken = 3 * _PAD_PX + _MARK_PX + (0 if isinstance(row, PutBy) else _VALUE_PX + _PAD_PX)
        return width - self._look.px(taken)

    def row_size(self, font: QFont, row: PairLine) -> QSize:
        """Return as much as the words take when they wrap."""
        px = self._look.px
        width = row_width(self.parent(), px(_LEAST_PX))
        if isinstance(row, PutBy):
            height = wrapped_height(small(font), put_by_text(row.row, row.unit), self._room(width, row))
        else:
            below = width - px(3 * _PAD_PX + _MARK_PX)
            height = wrapped_height(bold(font), _first(row), self._room(width, row)) + px(1)
            height += wrapped_height(small(font), made_text(row), below)
        return QSize(px(_LEAST_PX), height + px(2 * _PAD_PX))


def _first(made: MadePair) -> str:
    return pair_text(made.engine, made.pump)
