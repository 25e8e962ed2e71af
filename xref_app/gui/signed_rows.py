"""Rows that begin with a sign told apart by its shape, then words one below the other, as high as they wrap."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QFont, QPainter

from xref_app.gui.painting import bold, paint_words, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import Row, row_width

# House rule: looks only.
_LEAST_PX, _PAD_PX, _SIGN_PX = 300, 7, 22
_CENTRED = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
# The sign against the text, house rule: looks only.
_SIGN_SHARE = 1.25

# Words, their font and their colour.
Words = tuple[str, QFont, str]


class SignedDelegate(RowDelegate[Row]):
    """What a row's sign and words are is said by ``sign`` and ``words_of``."""

    def sign(self, row: Row) -> tuple[str, str]:
        """Return the sign of ``row`` and its colour."""
        raise NotImplementedError

    def words_of(self, font: QFont, row: Row) -> tuple[Words, ...]:
        """Return what stands in ``row``, from above; empty words take no room."""
        raise NotImplementedError

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: Row) -> None:
        """Paint the sign, and the words beside it."""
        px = self._look.px
        top, left = rect.top() + px(_PAD_PX), rect.left() + px(2 * _PAD_PX + _SIGN_PX)
        sign, colour = self.sign(row)
        sign_font = bold(font)
        sign_font.setPointSizeF(font.pointSizeF() * _SIGN_SHARE)
        painter.setFont(sign_font)
        painter.setPen(self._look.ink(colour))
        place = QRect(rect.left() + px(_PAD_PX), top - px(2), px(_SIGN_PX), rect.height())
        painter.drawText(place, _CENTRED, sign)
        room = self._room(rect.width())
        for words, words_font, words_colour in self._filled(font, row):
            paint_words(painter, QRect(left, top, room, rect.height()), words, words_font, words_colour)
            top += wrapped_height(words_font, words, room)

    def row_size(self, font: QFont, row: Row) -> QSize:
        """Return as much as the words take when they wrap."""
        px = self._look.px
        room = self._room(row_width(self.parent(), px(_LEAST_PX)))
        height = sum(wrapped_height(words_font, words, room) for words, words_font, _colour in self._filled(font, row))
        return QSize(px(_LEAST_PX), height + px(2 * _PAD_PX))

    def _filled(self, font: QFont, row: Row) -> list[Words]:
        return [one for one in self.words_of(font, row) if one[0]]

    def _room(self, width: int) -> int:
        return width - self._look.px(3 * _PAD_PX + _SIGN_PX)
