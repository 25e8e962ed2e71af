"""A drawing on screen: to scale, with a scale bar and a legend, and in words where nothing is known."""

from __future__ import annotations

from enum import IntEnum

from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, QSize, Qt, Slot
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from xref_app.gui.face_painter import FacePainter
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.messages import say
from xref_app.gui.painting import WRAPPED, bold, small
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.sheets.shapes import Drawing

_LEAST_PX = QSize(250, 200)
_PAN_PX = 24
_PANS = {
    Qt.Key.Key_Left: QPoint(_PAN_PX, 0),
    Qt.Key.Key_Right: QPoint(-_PAN_PX, 0),
    Qt.Key.Key_Up: QPoint(0, _PAN_PX),
    Qt.Key.Key_Down: QPoint(0, -_PAN_PX),
}
_ZOOM_STEPS = {Qt.Key.Key_Plus: 1, Qt.Key.Key_Minus: -1}
# One step of zooming, and how often it may be taken either way.
_ZOOM_STEP, _MOST_STEPS = 1.25, 12
# In its small place a drawing names so many sizes that are not known, and counts the rest.
_MOST_LACKS = 4
# And so many lines of how to read it, so that the drawing itself keeps its room.
_MOST_NOTES = 3
_INCH_MM = 25.4


class Zoom(IntEnum):
    """How large the drawing is shown; 'bigger' is 'fit' in all the room of the pane."""

    FIT = 0
    TRUE_SIZE = 1
    BIGGER = 2

    @property
    def next(self) -> Zoom:
        """Return the one after, round and round."""
        return Zoom((self + 1) % len(Zoom))


class FaceView(QWidget):
    """Shows one drawing; + and - or the wheel with Ctrl zoom, and what is larger than its place can be moved.

    A lone + or - is a command here although a scanner types them too: the scan guard hands on only what comes alone.
    """

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "face_drawing_view", self.tr("Face drawing"))
        self._look = look
        self._drawing: Drawing | None = None
        self._zoom = Zoom.FIT
        self._steps = 0
        self._first = LengthFirst.MM
        self._pan = QPoint()
        self._drag_from: QPoint | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    @property
    def zoom(self) -> Zoom:
        """Return how large the drawing is shown."""
        return self._zoom

    @property
    def steps(self) -> int:
        """Return by how many steps the drawing is larger than ``zoom`` says; negative: smaller."""
        return self._steps

    @property
    def drawing(self) -> Drawing | None:
        """Return what is shown."""
        return self._drawing

    def set_zoom(self, zoom: Zoom) -> None:
        """Show the drawing at this size, centred."""
        self._zoom = zoom
        self._steps = 0
        self._pan = QPoint()
        self.update()

    def step_zoom(self, steps: int) -> None:
        """Show the drawing larger by so many steps (smaller where negative) about the middle of what is seen."""
        before = self._steps
        self._steps = max(-_MOST_STEPS, min(before + steps, _MOST_STEPS))
        self._pan = (QPointF(self._pan) * _ZOOM_STEP ** (self._steps - before)).toPoint()
        self.update()

    def show_drawing(self, drawing: Drawing | None) -> None:
        """Show ``drawing``; None clears the view."""
        self._drawing = drawing
        self._pan = QPoint()
        self.setAccessibleDescription(self._in_words(drawing))
        self.update()

    def show_first(self, first: LengthFirst) -> None:
        """Let the scale bar be a round length in this unit."""
        self._first = first
        self.update()

    def _in_words(self, drawing: Drawing | None) -> str:
        if drawing is None:
            return self.tr("No pump chosen.")
        labels = (label.text for label in drawing.labels)
        sizes = (size.text for size in drawing.sizes)
        return ". ".join(say(one) for one in (*drawing.notes, *drawing.lacks(), *labels, *sizes))

    def minimumSizeHint(self) -> QSize:
        """Return the least room in which the legend is whole."""
        return QSize(self._look.px(_LEAST_PX.width()), self._look.px(_LEAST_PX.height()))

    @Slot()
    def _resize_to_text(self) -> None:
        self.setMinimumSize(self.minimumSizeHint())
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint ground, drawing, words and the ring of the focus."""
        painter = QPainter(self)
        colours = self._look.colours
        painter.fillRect(self.rect(), self._look.ink(colours.base))
        if self._drawing is not None:
            self._paint_drawing(painter, self._drawing)
        if self.hasFocus():
            painter.setPen(self._look.ink(colours.accent))
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
            painter.drawRect(self.rect().adjusted(1, 1, -2, -2))
        painter.end()

    def _paint_drawing(self, painter: QPainter, drawing: Drawing) -> None:
        pad = self._look.px(6)
        place = self.rect().adjusted(pad, pad, -pad, -pad)
        place.setTop(self._paint_notes(painter, drawing, place))
        if drawing.is_empty:
            return
        artist = FacePainter(painter, self._look, small(self.font()), self._first)
        legend_height = artist.legend_height(drawing, place.width())
        place.setBottom(place.bottom() - legend_height)
        shown, scale = self._shown(artist, drawing, QRectF(place))
        if shown != drawing:
            hint_place, below = QRect(place), QRect(place)
            below.setTop(place.top() + QFontMetrics(small(self.font())).height())
            shown, scale = self._shown(artist, drawing, QRectF(below))
            if shown != drawing:
                place.setTop(self._paint_line(painter, hint_place, self._hint(shown), self._quiet))
        painter.save()
        painter.setClipRect(place)
        artist.paint(shown, artist.centre(shown, QRectF(place), scale) + QPointF(self._pan), scale)
        painter.restore()
        artist.paint_legend(QRect(place.left(), place.bottom(), place.width(), legend_height), scale, drawing)

    def _shown(self, artist: FacePainter, drawing: Drawing, place: QRectF) -> tuple[Drawing, float]:
        """Return the drawing with or without the names of its lengths, and its scale, px per mm."""
        times = _ZOOM_STEP**self._steps
        if self._zoom is Zoom.TRUE_SIZE:
            scale = self._true_scale() * times
        else:
            fitted, scale = artist.fitted(drawing, place)
            if not self._steps or (self._steps > 0 and fitted == drawing):
                return fitted, scale * times
            scale *= times
        return artist.written_at(drawing, scale), scale

    def _paint_notes(self, painter: QPainter, drawing: Drawing, place: QRect) -> int:
        """Paint how to read it and all that is not known at the top; return where the words end, px."""
        place = QRect(place)
        colours, font = self._look.colours, small(self.font())
        most_notes, most_lacks = (_MOST_NOTES, _MOST_LACKS) if self._zoom is Zoom.FIT else (None, None)
        for sentences, shown_font, colour in (
            (drawing.told(most_notes), font, colours.quiet_text),
            (drawing.lacks(most_lacks), bold(font), colours.text),
        ):
            for sentence in sentences:
                place.setTop(self._paint_line(painter, place, say(sentence), (shown_font, colour)))
        return place.top() + self._look.px(2)

    @property
    def _quiet(self) -> tuple[QFont, str]:
        return small(self.font()), self._look.colours.quiet_text

    def _hint(self, shown: Drawing) -> str:
        """Say how to read more, where the drawing is too small for all that belongs on it."""
        if not shown.sizes:
            return self.tr("Too small here for its lengths: + shows them.")
        if self._zoom is Zoom.FIT:
            return self.tr("Lengths in mm; Bigger (Ctrl+D) names them.")
        return self.tr("Lengths in mm; + names them.")

    def _paint_line(self, painter: QPainter, place: QRect, text: str, looks: tuple[QFont, str]) -> int:
        font, colour = looks
        painter.setFont(font)
        painter.setPen(self._look.ink(colour))
        painter.drawText(place, WRAPPED, text)
        return place.top() + QFontMetrics(font).boundingRect(place, WRAPPED, text).height()

    def _true_scale(self) -> float:
        """Return how many pixels a millimetre of this screen has."""
        return self.screen().physicalDotsPerInch() / _INCH_MM

    @property
    def _can_move(self) -> bool:
        return self._zoom is Zoom.TRUE_SIZE or self._steps > 0

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Zoom with + and -, and move with the arrow keys what is larger than its place."""
        key = Qt.Key(event.key())
        if key in _ZOOM_STEPS:
            self.step_zoom(_ZOOM_STEPS[key])
        elif key in _PANS and self._can_move:
            self._pan += _PANS[key]
            self.update()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom with Ctrl held; without it let the pane scroll."""
        if not event.modifiers() & Qt.KeyboardModifier.ControlModifier or not event.angleDelta().y():
            event.ignore()
            return
        self.step_zoom(1 if event.angleDelta().y() > 0 else -1)
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the drawing."""
        self._drag_from = event.position().toPoint() - self._pan

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move it where it is larger than its place."""
        if self._drag_from is not None and self._can_move:
            self._pan = event.position().toPoint() - self._drag_from
            self.update()

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Let go."""
        self._drag_from = None
