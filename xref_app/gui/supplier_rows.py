"""The rows of a supplier's list as a list: ten thousand of them, each of one height, four signs by shape."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QWidget

from xref_app.gui.painting import bold, paint_line, small
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import QuietListView, RowsModel
from xref_app.gui.supplier_words import SIGNS, STANDINGS, names_text, row_text, second_line, told
from xref_app.gui.theme import Look
from xref_app.services.supplier_looked import ListedRow, Standing

# House rule: looks only.
_LEAST_PX, _PAD_PX, _SIGN_PX = 240, 6, 22
_CENTRED = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
# The sign against the text, house rule: looks only.
_SIGN_SHARE = 1.2


class SupplierRowsModel(RowsModel[ListedRow]):
    """The rows, what is open first."""

    def words(self, row: ListedRow) -> str:
        """Return the whole row as one line."""
        return row_text(row)

    def place_of(self, place: int) -> int:
        """Return which row of the list shows row ``place`` of the sheet, -1 where none does."""
        return next((number for number, one in enumerate(self._rows) if one.row.place == place), -1)


class SupplierRowDelegate(RowDelegate[ListedRow]):
    """A sign, the number with maker and name, its row in the file; below what is the matter, else what it tells."""

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: ListedRow) -> None:
        """Paint one row of the file."""
        px, colours = self._look.px, self._look.colours
        is_open = row.standing in {Standing.LOOK, Standing.REFUSED}
        top, left = rect.top() + px(_PAD_PX), rect.left() + px(2 * _PAD_PX + _SIGN_PX)
        sign_font = bold(font)
        sign_font.setPointSizeF(font.pointSizeF() * _SIGN_SHARE)
        painter.setFont(sign_font)
        painter.setPen(self._look.ink(colours.fails if is_open else colours.text))
        place = QRect(rect.left() + px(_PAD_PX), top - px(1), px(_SIGN_PX), rect.height())
        painter.drawText(place, _CENTRED, SIGNS[row.standing])
        room, height = rect.width() - px(3 * _PAD_PX + _SIGN_PX), QFontMetrics(font).height()
        where = self._where(row)
        # A little more than the words take: rounding must not cut them.
        where_width = QFontMetrics(small(font)).horizontalAdvance(where) + px(4)
        right = QRect(left + room - where_width, top, where_width, height)
        paint_line(painter, right, where, small(font), self._look.ink(colours.quiet_text))
        number = row.row.number or "–"
        width = min(QFontMetrics(bold(font)).horizontalAdvance(number) + px(4), room - where_width - px(10))
        paint_line(painter, QRect(left, top, width, height), number, bold(font), self._look.ink(colours.text))
        beside = QRect(left + width + px(8), top, room - where_width - width - px(18), height)
        if beside.width() > px(30):
            paint_line(painter, beside, names_text(row.row), font, self._look.ink(colours.text))
        below = QRect(left, top + height, room, height)
        ink = self._look.ink(colours.text if is_open else colours.quiet_text)
        paint_line(painter, below, second_line(row), font if is_open else small(font), ink)

    def _where(self, row: ListedRow) -> str:
        where = self.tr("row {number}").format(number=row.row.place + 1)
        return f"{told(STANDINGS[row.standing])}, {where}"

    def row_size(self, font: QFont, row: ListedRow) -> QSize:  # noqa: ARG002 - all are of one height
        """Return two lines, whatever stands in them: so ten thousand rows are laid out at once."""
        px = self._look.px
        return QSize(px(_LEAST_PX), 2 * QFontMetrics(font).height() + px(2 * _PAD_PX))


class SupplierRowsView(QuietListView):
    """A list of rows that are all of one height."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setUniformItemSizes(True)
        self.rows_model = SupplierRowsModel(self)
        self.setModel(self.rows_model)
        self.setItemDelegate(SupplierRowDelegate(look, self))
