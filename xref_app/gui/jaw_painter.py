"""How a picture of the jaws is painted: each kind by weight and pattern, the words where there is room."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPainterPathStroker,
    QPen,
    QPolygonF,
)

from xref_app.gui.messages import say
from xref_app.gui.theme import Look
from xref_app.sheets.jaws_shapes import Arrow, Circle, JawDrawing, Kind, Label, Point, Shape

# Line widths at 100 % text, px (house rule: looks only).
_WIDTHS = {
    Kind.PART: 1.6,
    Kind.CUT: 1.6,
    Kind.EMPTY: 1.6,
    Kind.EDGE: 0.9,
    Kind.HIDDEN: 1.1,
    Kind.CENTRE: 0.8,
    Kind.TOOL: 1.4,
    Kind.JAW: 1.5,
    Kind.GAUGE: 1.5,
    Kind.TICK: 0.8,
    Kind.EXTENSION: 0.8,
    Kind.MEASURED: 2.6,
}
_DASHES = {Kind.HIDDEN: [5.0, 3.5], Kind.CENTRE: [12.0, 4.0, 2.0, 4.0]}
_FILLED = {Kind.PART, Kind.CUT, Kind.EMPTY, Kind.TOOL, Kind.JAW, Kind.GAUGE}
# The words move out from their point by these shares of a line's height, to these sides of where they want to be.
_AWAY = (0.15, 0.5, 1.0, 1.7, 2.6)
_ASIDE_DEG = (0, 25, -25, 50, -50, 80, -80, 120, -120, 180)
# What must stand close tries no more than this many of both; farther off than this a line leads to the point.
_CLOSE_AWAY, _CLOSE_ASIDE, _LED_FROM = 3, 5, 0.7
# The picture may stand in the middle of its room or at any side of it.
_SIDES = ((0, 0), (0, -1), (0, 1), (-1, 0), (1, 0))
# The picture shrinks to make room for its words, to no less than this share of what the place holds.
_SHRINKS = (1.0, 0.93, 0.86, 0.8, 0.74, 0.68, 0.62, 0.56)
_HEAD_PX, _HEAD_HALF_DEG, _DOT_PX, _HATCH_PX = 9.0, 19.0, 2.6, 6.0
_LARGEST_PX_PER_MM = 14.0


@dataclass(frozen=True, slots=True)
class Word:
    """A label in its place, px; ``leader`` leads from it to its point where it stands far off."""

    box: QRectF
    text: str
    leader: QLineF | None


@dataclass(frozen=True, slots=True)
class Placed:
    """A drawing in its place: where mm 0, 0 lies, px, the scale, px per mm, and the words that found room."""

    origin: QPointF
    scale: float
    words: tuple[Word, ...]

    def at(self, point: Point) -> QPointF:
        """Return a point of the drawing on the screen."""
        return QPointF(self.origin.x() + point[0] * self.scale, self.origin.y() - point[1] * self.scale)


class JawPainter:
    """Places and paints one drawing with one font."""

    def __init__(self, look: Look, font: QFont) -> None:
        self._look = look
        self._font = font
        self._metrics = QFontMetricsF(font)

    def placed(self, drawing: JawDrawing, room: QRectF) -> Placed:
        """Return the largest drawing in ``room`` with all its words; words that find none even then stay out."""
        tried: list[Placed] = []
        for share, side in product(_SHRINKS, _SIDES):
            placed = self._with_words(drawing, _put(drawing, room, share, side), room)
            if len(placed.words) == len(drawing.labels):
                return placed
            tried.append(placed)
        return max(tried, key=lambda one: len(one.words))

    def _with_words(self, drawing: JawDrawing, bare: Placed, room: QRectF) -> Placed:
        inked = self._inked(drawing, bare)
        words: list[Word] = []
        for label in drawing.labels:
            word = self._word(label, bare, room, (inked, words))
            if word is not None:
                words.append(word)
        return Placed(bare.origin, bare.scale, tuple(words))

    def _word(self, label: Label, placed: Placed, room: QRectF, taken: tuple[QPainterPath, list[Word]]) -> Word | None:
        inked, words = taken
        text, point = say(label.text), placed.at(label.at)
        for box in self._boxes(text, point, label):
            wide = box.adjusted(-2, -1, 2, 1)
            if not room.contains(box) or any(wide.intersects(word.box) for word in words):
                continue
            if not inked.intersects(box):
                return Word(box, text, self._leader(box, point))
        return None

    def _leader(self, box: QRectF, point: QPointF) -> QLineF | None:
        x = min(max(point.x(), box.left()), box.right())
        y = min(max(point.y(), box.top()), box.bottom())
        line = QLineF(QPointF(x, y), point)
        return line if line.length() > _LED_FROM * self._metrics.height() else None

    def _boxes(self, text: str, point: QPointF, label: Label) -> Iterator[QRectF]:
        """Yield the boxes beside a point, the likeliest first."""
        width, height = self._metrics.horizontalAdvance(text) + 2, self._metrics.height()
        aways, asides = (_AWAY[:_CLOSE_AWAY], _ASIDE_DEG[:_CLOSE_ASIDE]) if label.is_close else (_AWAY, _ASIDE_DEG)
        for away, aside in product(aways, asides):
            angle = math.radians(label.towards_deg + aside)
            x, y = math.cos(angle), -math.sin(angle)
            out = away * height
            middle = point + QPointF(x * (out + width / 2), y * (out + height / 2))
            yield QRectF(middle.x() - width / 2, middle.y() - height / 2, width, height)

    def _inked(self, drawing: JawDrawing, placed: Placed) -> QPainterPath:
        """Return what no word may lie on: every line, and all that is hatched or a caliper."""
        lines, areas = QPainterPath(), QPainterPath()
        areas.setFillRule(Qt.FillRule.WindingFill)
        for shape in drawing.shapes:
            lines.addPath(_path(shape, placed))
            if shape.kind in {Kind.CUT, Kind.JAW}:
                areas.addPath(_path(shape, placed))
        for arrow in drawing.all_arrows:
            lines.addPolygon(QPolygonF([placed.at(point) for point in arrow.points]))
        stroker = QPainterPathStroker()
        stroker.setWidth(self._look.px(5))
        inked = stroker.createStroke(lines)
        inked.setFillRule(Qt.FillRule.WindingFill)
        inked.addPath(areas)
        return inked

    def paint(self, painter: QPainter, drawing: JawDrawing, placed: Placed) -> None:
        """Paint shapes, arrows, touched points and words."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for shape in drawing.shapes:
            self._paint_shape(painter, shape, placed)
        for arrow in drawing.all_arrows:
            self._paint_arrow(painter, arrow, placed)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.ink(self._look.colours.text))
        dot = _DOT_PX * self._thick
        for span in drawing.spans:
            for touch in span.touches:
                painter.drawEllipse(placed.at(touch), dot, dot)
        painter.setFont(self._font)
        painter.setPen(self._look.ink(self._look.colours.text))
        for word in placed.words:
            painter.drawText(word.box, int(Qt.AlignmentFlag.AlignCenter), word.text)
        painter.setPen(self._pen(Kind.EXTENSION))
        for word in placed.words:
            if word.leader is not None:
                painter.drawLine(word.leader)

    @property
    def _thick(self) -> float:
        return 1 + (self._look.text_percent / 100 - 1) / 2

    def _paint_shape(self, painter: QPainter, shape: Shape | Circle, placed: Placed) -> None:
        path = _path(shape, placed)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if shape.kind in _FILLED:
            painter.fillPath(path, self._ground(shape.kind))
        if shape.kind is Kind.CUT:
            self._hatch(painter, path)
        painter.setPen(self._pen(shape.kind))
        painter.drawPath(path)

    def _hatch(self, painter: QPainter, path: QPainterPath) -> None:
        """Draw slanting lines inside ``path``, all of one grid, so that two cut faces of one part match."""
        painter.save()
        painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
        painter.setPen(QPen(self._look.ink(self._look.colours.quiet_text), 0.7 * self._thick))
        box, step = path.boundingRect(), _HATCH_PX * self._thick
        start = math.floor((box.left() + box.top()) / step) * step
        while start < box.right() + box.bottom():
            painter.drawLine(QPointF(start - box.top(), box.top()), QPointF(start - box.bottom(), box.bottom()))
            start += step
        painter.restore()

    def _paint_arrow(self, painter: QPainter, arrow: Arrow, placed: Placed) -> None:
        points = [placed.at(point) for point in arrow.points]
        ink = self._look.ink(self._look.colours.text)
        long = _length(points)
        head = min(_HEAD_PX * self._thick, max(long * 0.4, 4.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(ink, 1.5 * self._thick))
        painter.drawPolyline(QPolygonF(points))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        painter.drawPolygon(_head(points[-2], points[-1], head))
        if arrow.is_double:
            painter.drawPolygon(_head(points[1], points[0], head))

    def _pen(self, kind: Kind) -> QPen:
        colours = self._look.colours
        inks = {Kind.CENTRE: colours.quiet_text, Kind.EXTENSION: colours.quiet_text, Kind.EDGE: colours.quiet_text}
        tools = {
            Kind.JAW: colours.accent,
            Kind.GAUGE: colours.accent,
            Kind.TOOL: colours.accent,
            Kind.TICK: colours.accent,
        }
        pen = QPen(self._look.ink({**inks, **tools}.get(kind, colours.text)), _WIDTHS[kind] * self._thick)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        if kind in _DASHES:
            pen.setDashPattern(_DASHES[kind])
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        return pen

    def _ground(self, kind: Kind) -> QBrush:
        colours = self._look.colours
        if kind in {Kind.JAW, Kind.GAUGE}:
            return QBrush(QColor(colours.selection))
        return QBrush(QColor(colours.base if kind in {Kind.EMPTY, Kind.TOOL, Kind.CUT} else colours.window))


def _put(drawing: JawDrawing, room: QRectF, share: float, side: tuple[int, int]) -> Placed:
    left, low, right, high = drawing.frame
    scale = share * min(room.width() / (right - left), room.height() / (high - low), _LARGEST_PX_PER_MM)
    free = QPointF((room.width() - (right - left) * scale) / 2, (room.height() - (high - low) * scale) / 2)
    middle = room.center() + QPointF(free.x() * side[0], -free.y() * side[1])
    origin = QPointF(middle.x() - (left + right) / 2 * scale, middle.y() + (low + high) / 2 * scale)
    return Placed(origin, scale, ())


def _path(shape: Shape | Circle, placed: Placed) -> QPainterPath:
    path = QPainterPath()
    if isinstance(shape, Circle):
        radius = shape.radius_mm * placed.scale
        path.addEllipse(placed.at((shape.x_mm, shape.y_mm)), radius, radius)
        return path
    path.addPolygon(QPolygonF([placed.at(point) for point in shape.points]))
    if shape.is_closed:
        path.closeSubpath()
    return path


def _length(points: list[QPointF]) -> float:
    return math.hypot(points[-1].x() - points[0].x(), points[-1].y() - points[0].y())


def _head(start: QPointF, end: QPointF, size: float) -> QPolygonF:
    back = math.atan2(start.y() - end.y(), start.x() - end.x())
    half = math.radians(_HEAD_HALF_DEG)
    sides = [end + QPointF(size * math.cos(back + turn), size * math.sin(back + turn)) for turn in (-half, half)]
    return QPolygonF([end, *sides])
