"""Paints where the jaws go, as large as there is room."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from xref_app.gui.messages import say
from xref_app.gui.painting import small
from xref_app.gui.theme import Look
from xref_app.sheets.jaw_shapes import Ink, JawDrawing, Path, Point, Round, Word

_MARGIN_PX, _LEAST_PX = 10, QSize(200, 110)
_LEAST_LETTER_PX, _HEAVY_SHARE = 9.0, 0.7
_PENS = {Ink.PART: 1.6, Ink.CUT: 1.6, Ink.HIDDEN: 1.0, Ink.CENTRE: 0.8, Ink.TOOL: 1.4, Ink.MEASURED: 2.0}


class JawView(QWidget):
    """Shows one drawing, or nothing."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._drawing: JawDrawing | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        look.changed.connect(self.update)

    def show_drawing(self, drawing: JawDrawing | None) -> None:
        """Show ``drawing``; what it says in words is for the screen reader and the tool tip."""
        self._drawing = drawing
        said = "" if drawing is None else say(drawing.said)
        self.setAccessibleDescription(said)
        self.setToolTip(said)
        self.update()

    def minimumSizeHint(self) -> QSize:
        """Return the smallest size at which a drawing can be told."""
        return _LEAST_PX

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint parts first, then the tool, then what is measured, then the numbers."""
        del event
        if self._drawing is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        brush = _Brush(painter, self._look, self._drawing, QRectF(self.rect()))
        for inks in ((Ink.PART, Ink.CUT, Ink.HIDDEN, Ink.CENTRE), (Ink.TOOL,), (Ink.MEASURED,)):
            for shape in self._drawing.shapes:
                if not isinstance(shape, Word) and shape.ink in inks:
                    brush.paint(shape)
        painter.setFont(small(self.font()))
        for shape in self._drawing.shapes:
            if isinstance(shape, Word):
                brush.write(shape)
        painter.end()


class _Brush:
    """One painter with the scale and place of one drawing."""

    def __init__(self, painter: QPainter, look: Look, drawing: JawDrawing, place: QRectF) -> None:
        self._painter = painter
        self._look = look
        left, bottom, right, top = drawing.box
        room = place.adjusted(_MARGIN_PX, _MARGIN_PX, -_MARGIN_PX, -_MARGIN_PX)
        self._scale = min(room.width() / max(right - left, 1), room.height() / max(top - bottom, 1))
        self._middle = ((left + right) / 2, (bottom + top) / 2)
        self._centre = place.center()

    def paint(self, shape: Path | Round) -> None:
        """Paint one outline."""
        self._painter.setPen(self._pen(shape.ink))
        self._painter.setBrush(self._fill(shape))
        if isinstance(shape, Round):
            radius = shape.diameter / 2 * self._scale
            self._painter.drawEllipse(self._at(shape.centre), radius, radius)
            return
        points = QPolygonF([self._at(point) for point in shape.points])
        if shape.closed:
            self._painter.drawPolygon(points)
        else:
            self._painter.drawPolyline(points)

    def write(self, word: Word) -> None:
        """Write one label on a patch of the ground, so that no line runs through it."""
        self._painter.setFont(self._fitting(word))
        box = QFontMetricsF(self._painter.font()).tightBoundingRect(word.text)
        box.moveCenter(self._at(word.place))
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(QColor(self._look.colours.base))
        self._painter.drawRoundedRect(box.adjusted(-2, -2, 2, 2), 2, 2)
        self._painter.setPen(QColor(self._look.colours.text))
        self._painter.drawText(box.adjusted(-20, -20, 20, 20), int(Qt.AlignmentFlag.AlignCenter), word.text)

    def _fitting(self, word: Word) -> QFont:
        """Return the font, as small as it must be for the room that the drawing leaves to ``word``."""
        font = QFont(self._painter.font())
        wide = QFontMetricsF(font).height() * 0.8
        room = max(word.room * self._scale, _LEAST_LETTER_PX)
        if wide > room:
            font.setPointSizeF(font.pointSizeF() * room / wide)
        return font

    def _at(self, point: Point) -> QPointF:
        x = self._centre.x() + (point[0] - self._middle[0]) * self._scale
        y = self._centre.y() - (point[1] - self._middle[1]) * self._scale
        return QPointF(x, y)

    def _pen(self, ink: Ink) -> QPen:
        colours = self._look.colours
        colour = {Ink.MEASURED: colours.accent, Ink.CENTRE: colours.edge}.get(ink, colours.text)
        # As heavy as the text, but not so heavy that a small picture runs together.
        weight = min(self._look.text_percent / 100, max(1.0, self._scale * _HEAVY_SHARE))
        pen = QPen(QColor(colour), _PENS[ink] * weight)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        if ink is Ink.CENTRE:
            pen.setDashPattern([8, 3, 2, 3])
        elif ink is Ink.HIDDEN:
            pen.setDashPattern([4, 3])
        return pen

    def _fill(self, shape: Path | Round) -> QBrush:
        colours = self._look.colours
        if isinstance(shape, Path) and not shape.closed:
            return QBrush(Qt.BrushStyle.NoBrush)
        match shape.ink:
            case Ink.CUT:
                return QBrush(QColor(colours.edge), Qt.BrushStyle.BDiagPattern)
            case Ink.TOOL:
                return QBrush(QColor(colours.selection))
            case Ink.MEASURED:
                return QBrush(QColor(colours.accent))
            case _:
                return QBrush(Qt.BrushStyle.NoBrush)
