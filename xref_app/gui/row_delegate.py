"""What every list of rows shares in painting: the domain object behind a row, its ground, and how high it stands."""

from __future__ import annotations

from typing import Generic

from PySide6.QtCore import QObject, QRect, QSize
from PySide6.QtGui import QFont, QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from xref_app.gui.painting import paint_ground
from xref_app.gui.rows import DOMAIN_ROLE, Index, Row
from xref_app.gui.theme import Look


class RowDelegate(QStyledItemDelegate, Generic[Row]):
    """Paints the rows of a list whose model hands out domain objects; how one looks is said by ``paint_row``."""

    def __init__(self, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self._look = look

    @property
    def has_rule(self) -> bool:
        """Return whether a thin rule stands below every row."""
        return True

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: Row) -> None:
        """Paint ``row`` into ``rect``, on its ground; the painter is given back as it was."""
        raise NotImplementedError

    def row_size(self, font: QFont, row: Row) -> QSize:
        """Return the room ``row`` needs, px."""
        raise NotImplementedError

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the ground of a row, then the row."""
        row = index.data(DOMAIN_ROLE)
        if row is None:
            return
        rect: QRect = option.rect
        font: QFont = option.font
        painter.save()
        paint_ground(painter, option, self._look.colours, with_rule=self.has_rule)
        self.paint_row(painter, rect, font, row)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the room a row needs, none for what is no row."""
        row = index.data(DOMAIN_ROLE)
        font: QFont = option.font
        return QSize() if row is None else self.row_size(font, row)
