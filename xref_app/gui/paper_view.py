"""Pages one below the other, painted by the painter that prints them: what is seen is what comes out."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractScrollArea, QWidget

from xref_app.gui.paper_painter import INCH_MM, paint_page
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.sheets.sheet_page import SheetPage

_GAP_PX = 12
# A page is shown at no more than so many times its size, a label too. House rule.
_LARGEST_TIMES, _LABEL_TIMES, _LABEL_MM = 1.5, 3.0, 100.0


class PaperView(QAbstractScrollArea):
    """Shows pages as wide as there is room; tells which of them is in front."""

    page_changed = Signal(int)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "paper_pages_view", self.tr("Pages as they will be printed"))
        self._look = look
        self._pages: tuple[SheetPage, ...] = ()
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.verticalScrollBar().valueChanged.connect(self._tell_page)
        look.changed.connect(self.viewport().update)

    @property
    def pages(self) -> tuple[SheetPage, ...]:
        """Return what is shown."""
        return self._pages

    @property
    def current(self) -> int:
        """Return which page is in front, from 0; 0 too where there is none."""
        middle = self.verticalScrollBar().value() + self.viewport().height() / 2
        tops = [top for top, _ in self._places()]
        return max(sum(top <= middle for top in tops) - 1, 0)

    def show_pages(self, pages: Sequence[SheetPage]) -> None:
        """Show these from the first on; a screen reader reads their words."""
        self._pages = tuple(pages)
        self.setAccessibleDescription("\n".join(page.text for page in self._pages))
        self._set_bar()
        self.verticalScrollBar().setValue(0)
        self.viewport().update()
        self._tell_page()

    def step(self, step: int) -> None:
        """Bring the next page to the front (the one before for -1)."""
        places = self._places()
        if places:
            wanted = min(max(self.current + step, 0), len(places) - 1)
            self.verticalScrollBar().setValue(round(places[wanted][0]) - _GAP_PX)

    def _scale(self, page: SheetPage) -> float:
        """Return px per mm of one page: as wide as the room."""
        room = self.viewport().width() - 2 * _GAP_PX
        times = _LABEL_TIMES if page.width_mm < _LABEL_MM else _LARGEST_TIMES
        return max(min(room / page.width_mm, times * self.logicalDpiX() / INCH_MM), 0.1)

    def _places(self) -> list[tuple[float, float]]:
        """Return top and height of every page, px."""
        places, top = [], float(_GAP_PX)
        for page in self._pages:
            height = page.height_mm * self._scale(page)
            places.append((top, height))
            top += height + _GAP_PX
        return places

    def _set_bar(self) -> None:
        places, bar = self._places(), self.verticalScrollBar()
        whole = places[-1][0] + places[-1][1] + _GAP_PX if places else 0
        bar.setPageStep(self.viewport().height())
        bar.setSingleStep(self._look.px(30))
        bar.setRange(0, max(round(whole) - self.viewport().height(), 0))

    def _tell_page(self) -> None:
        self.page_changed.emit(self.current)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the pages into the new width; the page in front stays there."""
        current = self.current
        super().resizeEvent(event)
        self._set_bar()
        if current:
            self.step(current - self.current)
        self._tell_page()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go up and down, page by page, to the first and to the last."""
        bar, line, room = self.verticalScrollBar(), self._look.px(60), self.viewport().height() - _GAP_PX
        moves = {
            Qt.Key.Key_Down: bar.value() + line,
            Qt.Key.Key_Up: bar.value() - line,
            Qt.Key.Key_PageDown: bar.value() + room,
            Qt.Key.Key_PageUp: bar.value() - room,
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: bar.maximum(),
        }
        key = Qt.Key(event.key()) if event.key() in set(moves) else None
        if key is None:
            super().keyPressEvent(event)
        else:
            bar.setValue(moves[key])

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the pages that are seen, each on its paper, and the ring of the focus."""
        painter = QPainter(self.viewport())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(event.rect(), QColor(self._look.colours.window))
        offset, width = self.verticalScrollBar().value(), self.viewport().width()
        for page, (top, height) in zip(self._pages, self._places(), strict=True):
            scale = self._scale(page)
            place = QRectF((width - page.width_mm * scale) / 2, top - offset, page.width_mm * scale, height)
            if not place.intersects(QRectF(self.viewport().rect())):
                continue
            painter.fillRect(place, QColor("white"))
            painter.setPen(QPen(QColor(self._look.colours.edge), 1))
            painter.drawRect(place)
            painter.save()
            painter.setClipRect(place)
            painter.translate(place.topLeft())
            paint_page(painter, page, px_per_mm=scale)
            painter.restore()
        if self.hasFocus():
            painter.setPen(QPen(QColor(self._look.colours.accent), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.viewport().rect()).adjusted(1, 1, -1, -1))
        painter.end()
