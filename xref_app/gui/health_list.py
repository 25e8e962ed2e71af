"""What is not right with the catalog as rows, fits that failed first; and how a row is painted."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QFont, QPainter

from xref_app.gui.health_words import SIGNS, kind_text, line_text, sizes_text
from xref_app.gui.messages import say
from xref_app.gui.painting import bold, paint_words, small, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import RowsModel, row_width
from xref_app.services.health_lines import HealthLine

_LEAST_PX, _PAD_PX, _SIGN_PX = 300, 7, 22
_CENTRED = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
# The sign against the text, house rule: looks only.
_SIGN_SHARE = 1.25


class HealthModel(RowsModel[HealthLine]):
    """The lines, in the order they came."""

    def words(self, row: HealthLine) -> str:
        """Return the whole row as one line."""
        return line_text(row)


class HealthDelegate(RowDelegate[HealthLine]):
    """A sign for the kind and the kind in words; the sentence; below it the sizes, quiet."""

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: HealthLine) -> None:
        """Paint one thing that is not right."""
        px, colours = self._look.px, self._look.colours
        top, left = rect.top() + px(_PAD_PX), rect.left() + px(2 * _PAD_PX + _SIGN_PX)
        sign_font = bold(font)
        sign_font.setPointSizeF(font.pointSizeF() * _SIGN_SHARE)
        painter.setFont(sign_font)
        painter.setPen(self._look.ink(colours.fails))
        place = QRect(rect.left() + px(_PAD_PX), top - px(2), px(_SIGN_PX), rect.height())
        painter.drawText(place, _CENTRED, SIGNS[row.kind])
        room = self._room(rect.width())
        for words, words_font, colour in self._parts(font, row):
            paint_words(painter, QRect(left, top, room, rect.height()), words, words_font, colour)
            top += wrapped_height(words_font, words, room)

    def _parts(self, font: QFont, row: HealthLine) -> tuple[tuple[str, QFont, str], ...]:
        colours = self._look.colours
        parts = (
            (kind_text(row.kind), bold(font), colours.text),
            (say(row.told), font, colours.text),
            (sizes_text(row), small(font), colours.quiet_text),
        )
        return tuple(one for one in parts if one[0])

    def _room(self, width: int) -> int:
        return width - self._look.px(3 * _PAD_PX + _SIGN_PX)

    def row_size(self, font: QFont, row: HealthLine) -> QSize:
        """Return as much as the words take when they wrap."""
        px = self._look.px
        room = self._room(row_width(self.parent(), px(_LEAST_PX)))
        height = sum(wrapped_height(words_font, words, room) for words, words_font, _colour in self._parts(font, row))
        return QSize(px(_LEAST_PX), height + px(2 * _PAD_PX))
