"""The few strokes that all rows are painted with."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyleOptionViewItem

from xref_app.gui.colours import Colours

WRAPPED = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop) | int(Qt.TextFlag.TextWordWrap)
_ANY_HEIGHT = 10_000
_QUIET_SHARE = 0.9


def bold(font: QFont) -> QFont:
    """Return ``font`` in bold."""
    made = QFont(font)
    made.setWeight(QFont.Weight.DemiBold)
    return made


def small(font: QFont) -> QFont:
    """Return ``font`` a little smaller, for what is said beside the point."""
    made = QFont(font)
    made.setPointSizeF(font.pointSizeF() * _QUIET_SHARE)
    return made


def wrapped_height(font: QFont, text: str, width: int) -> int:
    """Return how high ``text`` stands when wrapped to ``width``, px."""
    box = QRect(0, 0, max(width, 1), _ANY_HEIGHT)
    return QFontMetrics(font).boundingRect(box, WRAPPED, text).height()


def paint_words(painter: QPainter, place: QRect, text: str, font: QFont, colour: str) -> None:
    """Paint ``text`` wrapped into ``place`` from its upper left corner."""
    painter.setFont(font)
    painter.setPen(QColor(colour))
    painter.drawText(place, WRAPPED, text)


def paint_line(painter: QPainter, place: QRect, text: str, font: QFont, ink: QColor) -> None:
    """Paint ``text`` on one line, centred up and down; what does not fit ends in an ellipsis."""
    painter.setFont(font)
    painter.setPen(ink)
    shown = QFontMetrics(font).elidedText(text, Qt.TextElideMode.ElideRight, place.width())
    painter.drawText(place, int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter), shown)


def paint_ground(
    painter: QPainter, option: QStyleOptionViewItem, colours: Colours, *, with_rule: bool = True, with_ring: bool = True
) -> None:
    """Paint the ground of a row: a tint where it is selected, a ring where it has the focus, a thin rule below."""
    state = QStyle.StateFlag
    rect: QRect = option.rect
    flags: QStyle.StateFlag = option.state
    if flags & state.State_Selected:
        painter.fillRect(rect, QColor(colours.selection))
    if with_rule:
        painter.setPen(QPen(QColor(colours.line), 1))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
    if with_ring and flags & state.State_HasFocus and flags & state.State_Selected:
        painter.setPen(QPen(QColor(colours.accent), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(rect).adjusted(1, 1, -1, -2))
