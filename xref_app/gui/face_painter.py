"""How lines, words, legend and scale bar of a drawing are painted on screen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from xref_app.gui.length_first import LengthFirst
from xref_app.gui.messages import INCH_MM, say
from xref_app.gui.theme import Look
from xref_app.sheets.laid_out import Edge, LaidOut, Lettering, Words
from xref_app.sheets.layout import laid_out
from xref_app.sheets.legend import legend
from xref_app.sheets.shapes import Arc, Circle, Drawing, Hatching, Line, Point, Segment

# Round lengths in the unit shown first, mm, and what they are called: the first that is not too long is drawn.
_SCALE_BARS = {
    LengthFirst.MM: ((10.0, "10 mm"), (2.0, "2 mm"), (0.5, "0.5 mm")),
    LengthFirst.INCH: ((INCH_MM / 2, "1/2 in"), (INCH_MM / 8, "1/8 in"), (INCH_MM / 32, "1/32 in")),
}
# A scale bar takes no more than this share of the width it has.
_LONGEST_BAR = 0.4
# Fitting halves the step this often: to a thousandth of a pixel per millimetre.
_HALVINGS = 16
_LARGEST_PX_PER_MM = 40.0
_SMALLEST_PX_PER_MM = 0.05
# At 100 % text, px: from words to what they name, the length of an arrowhead, from hatch line to hatch line.
_GAP_PX, _HEAD_PX, _HATCH_PX = 5.0, 7.0, 6.0
_ROUND_PX = 2.0
# Of the legend, at 100 % text, px: a line of it, the gaps round its words, and the room the scale bar may want.
_LEGEND_LINE_PX, _LEGEND_GAP_PX, _BAR_ROOM_PX = 20.0, 7.0, 45.0
# From row to row of lengths, in heights of the words.
_ROW = 1.1
# Below these scales at 100 % text, px per mm, the names of the lengths, then the lengths themselves, would leave no
# room for what they measure (house rule).
_NAMES_FROM_PX_PER_MM, _SIZES_FROM_PX_PER_MM = 2.0, 0.7
# Names are left in where the drawing keeps so much of its size with them.
_NAMES_COST = 0.85

# Thickness at 100 % text, px, and strokes and gaps in thicknesses; told apart without colour, on grey paper too.
_WIDTHS: Mapping[Line, float] = {
    Line.MACHINE: 1.4,
    Line.PUMP: 2.6,
    Line.BETWEEN: 1.6,
    Line.PART: 1.6,
    Line.THREAD: 0.9,
    Line.MISS: 2.2,
    Line.SIZE: 1.0,
    Line.CENTRE: 1.0,
    Line.HATCH: 0.8,
    Line.CHECK: 1.4,
}
_DASHES: Mapping[Line, list[float]] = {Line.PUMP: [0.01, 2.0], Line.BETWEEN: [5, 2.5], Line.CENTRE: [8, 3, 2, 3]}


class FacePainter:
    """Paints one drawing with one font; lengths of the drawing are mm, y up."""

    def __init__(self, painter: QPainter, look: Look, font: QFont, first: LengthFirst = LengthFirst.MM) -> None:
        self._painter = painter
        self._first = first
        self._look = look
        self._font = font
        self._metrics = QFontMetricsF(font)

    def legend_height(self, drawing: Drawing, width: float) -> int:
        """Return the room for legend and scale bar, px: one row, or two where both do not go side by side."""
        return self._row_height * (1 if self._is_one_row(drawing, width) else 2)

    @property
    def _row_height(self) -> int:
        return round(self._metrics.height()) + self._look.px(4)

    def _is_one_row(self, drawing: Drawing, width: float) -> bool:
        entry = self._look.px(_LEGEND_LINE_PX + 2 * _LEGEND_GAP_PX)
        words = sum(self._metrics.horizontalAdvance(say(word)) + entry for _, word in legend(drawing))
        bar = max(self._metrics.horizontalAdvance(name) for _, name in _SCALE_BARS[self._first])
        return bool(words + bar + self._look.px(_BAR_ROOM_PX) <= width)

    def lettering(self, scale: float) -> Lettering:
        """Return how large words come out in the drawing at ``scale`` px per mm."""
        thick = self._look.text_percent / 100 / scale
        return Lettering(
            height_mm=self._metrics.height() / scale,
            row_mm=_ROW * self._metrics.height() / scale,
            head_mm=_HEAD_PX * thick,
            gap_mm=_GAP_PX / scale,
            hatch_mm=_HATCH_PX * thick,
            width_of=lambda text: (self._metrics.horizontalAdvance(text) + 2) / scale,
            say=say,
        )

    def fitted(self, drawing: Drawing, place: QRectF) -> tuple[Drawing, float]:
        """Return as much of the drawing as ``place`` can hold, its lengths without names where small, and its scale."""
        named_scale = self.fitting_scale(drawing, place)
        if not drawing.sizes or self.written_at(drawing, named_scale) == drawing:
            return drawing, named_scale
        brief = drawing.with_brief_sizes()
        scale = self.fitting_scale(brief, place)
        if self.written_at(drawing, scale).sizes:
            return (drawing, named_scale) if named_scale >= _NAMES_COST * scale else (brief, scale)
        bare = drawing.without_sizes()
        return bare, self.fitting_scale(bare, place)

    def written_at(self, drawing: Drawing, scale: float) -> Drawing:
        """Return the drawing with as much written on it as there is room for at ``scale`` px per mm."""
        at_100_percent = scale * 100 / self._look.text_percent
        if at_100_percent >= _NAMES_FROM_PX_PER_MM:
            return drawing
        return drawing.with_brief_sizes() if at_100_percent >= _SIZES_FROM_PX_PER_MM else drawing.without_sizes()

    def fitting_scale(self, drawing: Drawing, place: QRectF) -> float:
        """Return the largest scale, px per mm, at which lines and words stay inside ``place``."""
        low, high = _SMALLEST_PX_PER_MM, _LARGEST_PX_PER_MM
        bare = without_hatching(drawing)
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            box = self.box(bare, middle)
            if box.width() <= place.width() and box.height() <= place.height():
                low = middle
            else:
                high = middle
        return low

    def centre(self, drawing: Drawing, place: QRectF, scale: float) -> QPointF:
        """Return where the drawing's origin lies so that the whole of it is in the middle of ``place``, px."""
        return place.center() - self.box(without_hatching(drawing), scale).center()

    def box(self, drawing: Drawing, scale: float) -> QRectF:
        """Return what the whole drawing covers about an origin at 0, 0, px."""
        left, bottom, right, top = laid_out(drawing, self.lettering(scale)).box
        corners = QRectF(QPointF(left * scale, -top * scale), QPointF(right * scale, -bottom * scale))
        return corners.adjusted(-_ROUND_PX, -_ROUND_PX, _ROUND_PX, _ROUND_PX)

    def paint(self, drawing: Drawing, origin: QPointF, scale: float) -> None:
        """Paint the lines in their order, then the words."""
        self._painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        plain = laid_out(drawing, self.lettering(scale))
        self._painter.save()
        self._painter.translate(origin)
        self._paint_lines(plain, scale)
        for words in plain.words:
            self._paint_words(words, scale)
        self._painter.restore()

    def _paint_lines(self, plain: LaidOut, scale: float) -> None:
        painter = self._painter
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for edge in plain.edges:
            painter.setPen(self._pen(edge.line))
            paint_edge(painter, edge, scale)
        painter.setPen(Qt.PenStyle.NoPen)
        for head in plain.heads:
            painter.setBrush(self._ink(head.line))
            painter.drawPolygon(QPolygonF([px_point(corner, scale) for corner in head.corners]))
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _paint_words(self, words: Words, scale: float) -> None:
        box = word_box(words, scale)
        ground = QColor(self._look.colours.base)
        ground.setAlpha(220)
        self._painter.fillRect(box, ground)
        self._painter.setFont(self._font)
        self._painter.setPen(self._ink(Line.MACHINE if words.line is Line.SIZE else words.line))
        self._painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), words.text)

    def paint_legend(self, place: QRect, scale: float, drawing: Drawing) -> None:
        """Paint which line is whose at the left, and the scale bar at the right or below."""
        first = QRect(place.left(), place.top(), place.width(), self._row_height)
        self._painter.setFont(self._font)
        self._paint_words_of_lines(first, drawing)
        if not self._is_one_row(drawing, place.width()):
            first.translate(0, self._row_height)
        self._paint_scale_bar(first, scale)

    def _paint_words_of_lines(self, place: QRect, drawing: Drawing) -> None:
        painter, look = self._painter, self._look
        x, middle = float(place.left()), place.center().y() + 1
        for line, sentence in legend(drawing):
            word = say(sentence)
            painter.setPen(self._pen(line))
            painter.drawLine(QLineF(x, middle, x + look.px(_LEGEND_LINE_PX), middle))
            x += look.px(_LEGEND_LINE_PX + _LEGEND_GAP_PX / 2)
            painter.setPen(QColor(look.colours.quiet_text))
            width = self._metrics.horizontalAdvance(word)
            room = QRectF(x, place.top(), width + 2, place.height())
            painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter), word)
            x += width + look.px(_LEGEND_GAP_PX * 1.5)

    def _paint_scale_bar(self, place: QRect, scale: float) -> None:
        painter, colours = self._painter, self._look.colours
        bars = _SCALE_BARS[self._first]
        length_mm, name = next((bar for bar in bars if bar[0] * scale <= _LONGEST_BAR * place.width()), bars[-1])
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
        inks = {
            Line.PUMP: colours.accent,
            Line.BETWEEN: colours.parts,
            Line.MISS: colours.fails,
            Line.SIZE: colours.quiet_text,
            Line.CENTRE: colours.edge,
            Line.HATCH: colours.edge,
        }
        return QColor(inks.get(line, colours.text))

    def _pen(self, line: Line) -> QPen:
        """Return the pen of a line: the machine solid and thin, the pump dotted and wide, so that both show at once."""
        pen = QPen(self._ink(line), _WIDTHS[line] * self._look.text_percent / 100)
        if line in _DASHES:
            pen.setCapStyle(Qt.PenCapStyle.RoundCap if line is Line.PUMP else Qt.PenCapStyle.FlatCap)
            pen.setDashPattern(_DASHES[line])
        return pen


def without_hatching(drawing: Drawing) -> Drawing:
    """Return the drawing without what only fills: it covers no more room, and takes time."""
    return replace(drawing, shapes=tuple(one for one in drawing.shapes if not isinstance(one, Hatching)))


def paint_edge(painter: QPainter, edge: Edge, scale: float) -> None:
    """Paint one line with the pen that is set, about an origin at 0, 0; ``scale`` is px per mm, y down."""
    if isinstance(edge, Segment):
        painter.drawLine(px_point((edge.x1_mm, edge.y1_mm), scale), px_point((edge.x2_mm, edge.y2_mm), scale))
    elif isinstance(edge, Circle):
        radius = edge.diameter_mm / 2 * scale
        painter.drawEllipse(px_point((edge.x_mm, edge.y_mm), scale), radius, radius)
    elif isinstance(edge, Arc):
        radius = edge.diameter_mm / 2 * scale
        middle = px_point((edge.x_mm, edge.y_mm), scale)
        place = QRectF(middle.x() - radius, middle.y() - radius, 2 * radius, 2 * radius)
        # Qt counts sixteenths of a degree, counter-clockwise as seen, like ours.
        painter.drawArc(place, round(edge.start_deg * 16), round(edge.sweep_deg * 16))
    else:
        painter.drawPolygon(QPolygonF([px_point(corner, scale) for corner in edge.corners]))


def word_box(words: Words, scale: float) -> QRectF:
    """Return the box of a line of text about an origin at 0, 0, px."""
    left, bottom, right, top = words.box
    return QRectF(QPointF(left * scale, -top * scale), QPointF(right * scale, -bottom * scale))


def px_point(point: Point, scale: float) -> QPointF:
    """Return a point of the drawing about an origin at 0, 0, px."""
    return QPointF(point[0] * scale, -point[1] * scale)
