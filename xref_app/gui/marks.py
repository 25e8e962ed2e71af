"""The four outcomes as silhouettes that differ by shape alone: they stay apart in grey, and for any eye."""

from __future__ import annotations

from enum import IntEnum

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPainterPath, QPen, QPolygonF

from xref_app.core.fit.finding import Outcome, Verdict
from xref_app.gui.colours import Colours


class Mark(IntEnum):
    """Which silhouette: disc with a tick, square with a plus, hollow diamond with a question mark, bare cross."""

    FITS = 0
    PARTS = 1
    UNKNOWN = 2
    FAILS = 3


MARK_OF_VERDICT = {
    Verdict.FITS: Mark.FITS,
    Verdict.FITS_WITH_PARTS: Mark.PARTS,
    Verdict.NOT_KNOWN_YET: Mark.UNKNOWN,
    Verdict.DOES_NOT_FIT: Mark.FAILS,
}
MARK_OF_OUTCOME = {
    Outcome.PASS: Mark.FITS,
    Outcome.BY_PARTS: Mark.PARTS,
    Outcome.UNKNOWN: Mark.UNKNOWN,
    Outcome.FAIL: Mark.FAILS,
}


def ink_of(mark: Mark, colours: Colours) -> QColor:
    """Return the colour of ``mark``; it is the fifth cue, never the only one."""
    return QColor((colours.fits, colours.parts, colours.unknown, colours.fails)[mark])


def paint_mark(painter: QPainter, place: QRectF, mark: Mark, colours: Colours) -> None:
    """Paint ``mark`` into a square ``place`` on an opaque plate, so that no selection colour tints it."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colours.base))
    painter.drawRoundedRect(place, place.width() * 0.12, place.width() * 0.12)
    side = place.width() * 0.84
    inner = QRectF(place.center().x() - side / 2, place.center().y() - side / 2, side, side)
    _SHAPES[mark](painter, inner, ink_of(mark, colours), QColor(colours.base))
    painter.restore()


def _paint_disc(painter: QPainter, place: QRectF, ink: QColor, plate: QColor) -> None:
    painter.setBrush(ink)
    painter.drawEllipse(place)
    painter.setPen(_round_pen(plate, place.width() * 0.13))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPolyline(QPolygonF([_at(place, 0.27, 0.53), _at(place, 0.44, 0.70), _at(place, 0.74, 0.34)]))


def _paint_square(painter: QPainter, place: QRectF, ink: QColor, plate: QColor) -> None:
    box = place.adjusted(*(place.width() * share for share in (0.01, 0.01, -0.01, -0.01)))
    painter.setBrush(ink)
    painter.drawRect(box)
    pen = QPen(plate, place.width() * 0.14)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.drawLine(QLineF(_at(place, 0.22, 0.5), _at(place, 0.78, 0.5)))
    painter.drawLine(QLineF(_at(place, 0.5, 0.22), _at(place, 0.5, 0.78)))


def _paint_diamond(painter: QPainter, place: QRectF, ink: QColor, plate: QColor) -> None:
    painter.setBrush(plate)
    pen = QPen(ink, place.width() * 0.09)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    corners = [_at(place, 0.5, 0.02), _at(place, 0.98, 0.5), _at(place, 0.5, 0.98), _at(place, 0.02, 0.5)]
    painter.drawPolygon(QPolygonF(corners))
    font = QFont(painter.font())
    font.setPixelSize(max(round(place.height() * 0.56), 6))
    font.setBold(True)
    path = QPainterPath()
    path.addText(0, 0, font, "?")
    path.translate(place.center() - path.boundingRect().center())
    painter.fillPath(path, ink)


def _paint_cross(painter: QPainter, place: QRectF, ink: QColor, _plate: QColor) -> None:
    pen = QPen(ink, place.width() * 0.19)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.drawLine(QLineF(_at(place, 0.12, 0.12), _at(place, 0.88, 0.88)))
    painter.drawLine(QLineF(_at(place, 0.88, 0.12), _at(place, 0.12, 0.88)))


def _at(place: QRectF, across: float, down: float) -> QPointF:
    return QPointF(place.left() + across * place.width(), place.top() + down * place.height())


def _round_pen(ink: QColor, width: float) -> QPen:
    pen = QPen(ink, width)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen


_SHAPES = {
    Mark.FITS: _paint_disc,
    Mark.PARTS: _paint_square,
    Mark.UNKNOWN: _paint_diamond,
    Mark.FAILS: _paint_cross,
}


def paint_border(painter: QPainter, place: QRectF, mark: Mark, colours: Colours, unit: float = 1.0) -> None:
    """Paint the frame of a verdict: solid, double, dashed or thick; ``unit`` is the width of a thin line, px."""
    painter.save()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(_border_pen(mark, colours, unit))
    inset = painter.pen().widthF() / 2
    painter.drawRect(place.adjusted(inset, inset, -inset, -inset))
    if mark is Mark.PARTS:
        second = inset + 2.5 * unit
        painter.drawRect(place.adjusted(second, second, -second, -second))
    painter.restore()


def paint_edge(painter: QPainter, place: QRectF, mark: Mark, colours: Colours, unit: float = 1.0) -> None:
    """Paint the left side of that frame alone, for a row of a list."""
    painter.save()
    painter.setPen(_border_pen(mark, colours, unit))
    x = place.left() + painter.pen().widthF() / 2
    painter.drawLine(QLineF(x, place.top(), x, place.bottom()))
    if mark is Mark.PARTS:
        x += 3 * unit
        painter.drawLine(QLineF(x, place.top(), x, place.bottom()))
    painter.restore()


def _border_pen(mark: Mark, colours: Colours, unit: float) -> QPen:
    widths = {Mark.FITS: 1.5, Mark.PARTS: 1.0, Mark.UNKNOWN: 1.5, Mark.FAILS: 4.0}
    pen = QPen(ink_of(mark, colours), widths[mark] * unit)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if mark is Mark.UNKNOWN:
        pen.setDashPattern([3.0, 2.5])
    return pen
