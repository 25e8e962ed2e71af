"""The picture of where the jaws go, as large as its place, told in words as well."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Slot
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from xref_app.gui.jaw_painter import JawPainter, Placed
from xref_app.gui.messages import say
from xref_app.gui.painting import small
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.sheets.jaws_shapes import JawDrawing

_LEAST_PX = QSize(200, 150)
_LIKED_PX = QSize(400, 260)
_PAD_PX = 8


class JawView(QWidget):
    """Shows one drawing, or nothing."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "jaw_drawing_view", self.tr("Where the jaws go"))
        self._look = look
        self._drawing: JawDrawing | None = None
        self._placed: Placed | None = None
        self._asked: tuple[JawDrawing, QSize, str] | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(_LEAST_PX)
        look.changed.connect(self._repaint)

    @property
    def drawing(self) -> JawDrawing | None:
        """Return what is shown."""
        return self._drawing

    def show_drawing(self, drawing: JawDrawing | None) -> None:
        """Show ``drawing``; None clears the view."""
        self._drawing = drawing
        self.setAccessibleDescription("" if drawing is None else say(drawing.words))
        self.update()

    def sizeHint(self) -> QSize:
        """Return the room in which the picture is at its best."""
        return QSize(self._look.px(_LIKED_PX.width()), self._look.px(_LIKED_PX.height()))

    @Slot()
    def _repaint(self) -> None:
        self.updateGeometry()
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the ground and the picture."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.ink(self._look.colours.base))
        if self._drawing is not None:
            artist = JawPainter(self._look, small(self.font()))
            artist.paint(painter, self._drawing, self._placed_now(artist, self._drawing))
        painter.end()

    def _placed_now(self, artist: JawPainter, drawing: JawDrawing) -> Placed:
        """Return where everything lies, worked out anew only where drawing, room or text have changed."""
        asked = (drawing, self.size(), self.font().toString())
        if self._placed is None or asked != self._asked:
            room = QRectF(self.rect()).adjusted(_PAD_PX, _PAD_PX, -_PAD_PX, -_PAD_PX)
            self._asked, self._placed = asked, artist.placed(drawing, room)
        return self._placed
