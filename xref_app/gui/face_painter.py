"""How lines, labels, legend and scale bar of a face drawing are painted."""

from __future__ import annotations

import math

from PySide6.QtCore import QCoreApplication, QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from xref_app.gui.messages import INCH_MM, LengthFirst, say
from xref_app.gui.theme import Look
from xref_app.sheets.face_drawing import FaceDrawing, Label, Line, Segment

# A round length in the unit shown first, mm, and what it is called.
_SCALE_BARS = {LengthFirst.MM: (10.0, "10 mm"), LengthFirst.INCH: (INCH_MM / 2, "1/2 in")}
# Fitting halves the step this often: to a thousandth of a pixel per millimetre.
_HALVINGS = 16
_LARGEST_PX_PER_MM = 40.0
_LABEL_GAP_PX = 5.0


class FacePainter:
    """Paints one drawing with one font; lengths of the drawing are mm, y up."""

    def __init__(self, painter: QPainter, look: Look, font: QFont, first: LengthFirst = LengthFirst.MM) -> None:
        self._painter = painter
        self._first = first
        self._look = look
        self._font = font
        self._metrics = QFontMetricsF(font)

    @property
    def legend_height(self) -> int:
        """Return the room for the legend and the scale bar, px."""
        return round(self._metrics.height()) + self._look.px(4)

    def fitting_scale(self, drawing: FaceDrawing, place: QRectF) -> float:
        """Return the largest scale, px per mm, at which lines and labels stay inside ``place``."""
        low, high = 0.0, _LARGEST_PX_PER_MM
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            box = self._box(drawing, middle)
            if box.width() <= place.width() and box.height() <= place.height():
                low = middle
            else:
                high = middle
        return low

    def centre(self, drawing: FaceDrawing, place: QRectF, scale: float) -> QPointF:
        """Return where the shaft's axis lies so that the whole drawing is in the middle of ``place``, px."""
        return place.center() - self._box(drawing, scale).center()

    def paint(self, drawing: FaceDrawing, axis: QPointF, scale: float) -> None:
        """Paint pump, machine and misses over one another, then the labels."""
        painter = self._painter
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_axes(axis, scale * drawing.reach_mm)
        for line in (Line.PUMP, Line.MACHINE, Line.MISS):
            painter.setPen(self._pen(line))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            for circle in drawing.circles:
                if circle.line is line:
                    radius = circle.diameter_mm / 2 * scale
                    painter.drawEllipse(_at(axis, scale, circle.x_mm, circle.y_mm), radius, radius)
            for segment in drawing.segments:
                if segment.line is line:
                    self._paint_segment(segment, axis, scale)
        for label in drawing.labels:
            self._paint_label(label, axis, scale)

    def _paint_axes(self, axis: QPointF, reach: float) -> None:
        pen = QPen(QColor(self._look.colours.line), 1)
        pen.setDashPattern([8, 3, 2, 3])
        self._painter.setPen(pen)
        self._painter.drawLine(QLineF(axis.x() - reach, axis.y(), axis.x() + reach, axis.y()))
        self._painter.drawLine(QLineF(axis.x(), axis.y() - reach, axis.x(), axis.y() + reach))

    def _paint_segment(self, segment: Segment, axis: QPointF, scale: float) -> None:
        start = _at(axis, scale, segment.x1_mm, segment.y1_mm)
        end = _at(axis, scale, segment.x2_mm, segment.y2_mm)
        self._painter.drawLine(QLineF(start, end))
        if segment.arrow:
            self._paint_head(start, end)

    def _paint_head(self, start: QPointF, end: QPointF) -> None:
        along = math.atan2(end.y() - start.y(), end.x() - start.x())
        size = self._look.px(9)
        barbs = (along + math.radians(155), along - math.radians(155))
        corners = [end, *(end + QPointF(size * math.cos(angle), size * math.sin(angle)) for angle in barbs)]
        self._painter.save()
        self._painter.setBrush(self._painter.pen().color())
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.drawPolygon(QPolygonF(corners))
        self._painter.restore()

    def _paint_label(self, label: Label, axis: QPointF, scale: float) -> None:
        box = self.label_box(label, scale).translated(axis)
        self._painter.setFont(self._font)
        ground = QColor(self._look.colours.base)
        ground.setAlpha(220)
        self._painter.fillRect(box, ground)
        self._painter.setPen(self._ink(label.line))
        self._painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), say(label.text))

    def label_box(self, label: Label, scale: float) -> QRectF:
        """Return the box of a label about an axis at 0, 0: as near as its direction allows without touching, px."""
        width = self._metrics.horizontalAdvance(say(label.text)) + 2
        height = self._metrics.height()
        across, up = math.cos(math.radians(label.towards_deg)), math.sin(math.radians(label.towards_deg))
        away = clear_distance(
            label.clear_mm * scale + _LABEL_GAP_PX, (abs(across), abs(up)), half_width=width / 2, half_height=height / 2
        )
        middle = QPointF(label.x_mm * scale + across * away, -label.y_mm * scale - up * away)
        return QRectF(middle.x() - width / 2, middle.y() - height / 2, width, height)

    def _box(self, drawing: FaceDrawing, scale: float) -> QRectF:
        """Return what the whole drawing covers about an axis at 0, 0, px."""
        box = QRectF()
        for circle in drawing.circles:
            radius = circle.diameter_mm / 2 * scale + 2
            x, y = circle.x_mm * scale, -circle.y_mm * scale
            box = box.united(QRectF(x - radius, y - radius, 2 * radius, 2 * radius))
        for segment in drawing.segments:
            ends = QPolygonF(
                [
                    _at(QPointF(), scale, segment.x1_mm, segment.y1_mm),
                    _at(QPointF(), scale, segment.x2_mm, segment.y2_mm),
                ]
            )
            box = box.united(ends.boundingRect().adjusted(-2, -2, 2, 2))
        for label in drawing.labels:
            box = box.united(self.label_box(label, scale))
        return box

    def paint_legend(self, place: QRect, scale: float, drawing: FaceDrawing) -> None:
        """Paint which line is whose at the left, and the scale bar at the right."""
        painter, middle = self._painter, place.center().y() + 1
        painter.setFont(self._font)
        x = float(place.left())
        shown = [(Line.MACHINE, _word("engine")), (Line.PUMP, _word("pump"))]
        if any(segment.line is Line.MISS for segment in drawing.segments):
            shown.append((Line.MISS, _word("misses")))
        for line, word in shown:
            painter.setPen(self._pen(line))
            painter.drawLine(QLineF(x, middle, x + self._look.px(22), middle))
            x += self._look.px(27)
            painter.setPen(QColor(self._look.colours.quiet_text))
            width = self._metrics.horizontalAdvance(word)
            painter.drawText(
                QRectF(x, place.top(), width + 2, place.height()), int(Qt.AlignmentFlag.AlignVCenter), word
            )
            x += width + self._look.px(12)
        self._paint_scale_bar(place, scale)

    def _paint_scale_bar(self, place: QRect, scale: float) -> None:
        painter, colours = self._painter, self._look.colours
        length_mm, name = _SCALE_BARS[self._first]
        length, middle, tick = length_mm * scale, place.center().y() + 1, self._look.px(4)
        right = float(place.right() - 1)
        painter.setPen(QPen(QColor(colours.text), 1.5))
        painter.drawLine(QLineF(right - length, middle, right, middle))
        for x in (right - length, right):
            painter.drawLine(QLineF(x, middle - tick, x, middle + tick))
        painter.setPen(QColor(colours.quiet_text))
        text = QRectF(place.left(), place.top(), right - length - self._look.px(5) - place.left(), place.height())
        painter.drawText(text, int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter), name)

    def _ink(self, line: Line) -> QColor:
        colours = self._look.colours
        inks = {Line.MACHINE: colours.text, Line.PUMP: colours.accent, Line.MISS: colours.fails}
        return QColor(inks[line])

    def _pen(self, line: Line) -> QPen:
        """Return the pen of a line: the machine solid and thin, the pump dotted and wide, so that both show at once."""
        thin = self._look.text_percent / 100
        widths = {Line.MACHINE: 1.4, Line.PUMP: 2.6, Line.MISS: 2.2}
        pen = QPen(self._ink(line), widths[line] * thin)
        if line is Line.PUMP:
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            pen.setDashPattern([0.01, 2.0])
        return pen


def clear_distance(radius: float, direction: tuple[float, float], *, half_width: float, half_height: float) -> float:
    """Return how far out a box must stand to touch a disc about the origin with a side or a corner, and no more.

    Args:
        radius: Of the disc, px.
        direction: Where the middle of the box lies, a unit vector with neither part negative.
        half_width: Half the width of the box, px.
        half_height: Half its height, px.
    """
    across, up = direction
    if across * half_height >= up * (radius + half_width):
        return (radius + half_width) / across
    if up * half_width >= across * (radius + half_height):
        return (radius + half_height) / up
    along = across * half_width + up * half_height
    return along + math.sqrt(along**2 - half_width**2 - half_height**2 + radius**2)


def _at(axis: QPointF, scale: float, x_mm: float, y_mm: float) -> QPointF:
    return QPointF(axis.x() + x_mm * scale, axis.y() - y_mm * scale)


def _word(word: str) -> str:
    return str(QCoreApplication.translate("drawing", word))
