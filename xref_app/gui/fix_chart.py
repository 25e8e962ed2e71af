"""Horizontal bars of what each way costs, from the least to the most; told apart by outline and pattern, not colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, QSize, Qt, Slot
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from xref_app.gui.painting import bold, paint_line
from xref_app.gui.rows import named
from xref_app.gui.theme import Look

_ROW_PX, _WIDTH_PX, _LEAST_PX, _GAP_PX = 25, 460, 300, 8
_LEAST_BAR_PX = 4
_STROKE_PX, _STROKE_STEP_PX = 2, 6
# Of the width, where names are long.
_MOST_NAME_SHARE, _LEAST_BAR_SHARE = 0.4, 0.15


class BarLook(IntEnum):
    """How a bar is drawn."""

    CHEAPEST = 0
    COMPARED = 1
    SET_ASIDE = 2
    NONE = 3


@dataclass(frozen=True, slots=True)
class Bar:
    """One way: its name, its figures in words, and its ends as money; ``NONE`` has no ends."""

    name: str
    figures: str
    look: BarLook
    low: float = 0.0
    high: float = 0.0


class FixChart(QWidget):
    """Solid: may be the cheapest. Hatched: compared. Dashed outline: set aside. No bar: not known."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "fix_chart_view", self.tr("What each way costs"))
        self._look = look
        self._bars: tuple[Bar, ...] = ()
        self._limit: float | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    @property
    def bars(self) -> tuple[Bar, ...]:
        """Return what is drawn."""
        return self._bars

    @property
    def limit(self) -> float | None:
        """Return where the shop's rule is drawn, as money."""
        return self._limit

    def show_bars(self, bars: Sequence[Bar], limit: float | None) -> None:
        """Draw these bars, and the shop's limit as a dotted line across them where there is one."""
        self._bars, self._limit = tuple(bars), limit
        self.setAccessibleDescription("; ".join(f"{one.name}: {one.figures}" for one in bars))
        self._resize_to_text()
        self.update()

    def sizeHint(self) -> QSize:
        """Return the room in which nothing is cut."""
        return QSize(self._look.px(_WIDTH_PX), self.minimumHeight())

    @Slot()
    def _resize_to_text(self) -> None:
        self.setMinimumSize(self._look.px(_LEAST_PX), self._look.px(_ROW_PX) * max(len(self._bars), 4))
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint every bar with its figures beside it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for place, bar in enumerate(self._bars):
            self._paint_bar(painter, place, bar)
        if self._limit is not None and self._most() > 0:
            self._paint_limit(painter, self._limit)

    def _most(self) -> float:
        return max([one.high for one in self._bars if one.look is not BarLook.NONE], default=0.0)

    def _track(self) -> tuple[float, float]:
        """Return where zero and the highest figure stand, px from the left."""
        metrics, gap = QFontMetrics(bold(self.font())), self._look.px(_GAP_PX)
        names = max((metrics.horizontalAdvance(one.name) for one in self._bars), default=0)
        barred = [metrics.horizontalAdvance(one.figures) for one in self._bars if one.look is not BarLook.NONE]
        left = min(names + 2 * gap, self.width() * _MOST_NAME_SHARE)
        room = self.width() - left - max(barred, default=0) - 2 * gap
        return left, left + max(room, self.width() * _LEAST_BAR_SHARE)

    def _x(self, money: float) -> float:
        left, right = self._track()
        return left + (right - left) * max(money, 0.0) / self._most()

    def _paint_bar(self, painter: QPainter, place: int, bar: Bar) -> None:
        row = self._look.px(_ROW_PX)
        top, gap = place * row, self._look.px(_GAP_PX)
        left, right = self._track()
        colours = self._look.colours
        font = bold(self.font()) if bar.look is BarLook.CHEAPEST else self.font()
        is_back = bar.look in (BarLook.SET_ASIDE, BarLook.NONE)
        ink = QColor(colours.quiet_text if is_back else colours.text)
        paint_line(painter, QRect(0, top, round(left) - gap, row), bar.name, font, ink)
        start = round(left if bar.look is BarLook.NONE else right) + gap
        paint_line(painter, QRect(start, top, self.width() - start, row), bar.figures, font, ink)
        if bar.look is BarLook.NONE or self._most() <= 0:
            return
        painter.setPen(QPen(QColor(colours.line), 1))
        painter.drawLine(QLineF(left, top + row / 2, right, top + row / 2))
        width = max(self._x(bar.high) - self._x(bar.low), float(self._look.px(_LEAST_BAR_PX)))
        box = QRectF(min(self._x(bar.low), right - width), top + row * 0.22, width, row * 0.56)
        painter.fillRect(box, ink if bar.look is BarLook.CHEAPEST else QColor(colours.base))
        if bar.look is BarLook.COMPARED:
            self._hatch(painter, box, ink)
        painter.setPen(_outline(bar.look, ink))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)

    def _hatch(self, painter: QPainter, box: QRectF, ink: QColor) -> None:
        """Fill ``box`` with slanting strokes, dense enough to show on a short bar and on any printer."""
        painter.save()
        painter.setClipRect(box)
        painter.setPen(QPen(ink, self._look.px(_STROKE_PX)))
        x = box.left() - box.height()
        while x < box.right():
            painter.drawLine(QLineF(x, box.bottom(), x + box.height(), box.top()))
            x += self._look.px(_STROKE_STEP_PX)
        painter.restore()

    def _paint_limit(self, painter: QPainter, limit: float) -> None:
        x = self._x(limit)
        painter.setPen(QPen(QColor(self._look.colours.text), 1.5, Qt.PenStyle.DotLine))
        painter.drawLine(QLineF(QPointF(x, 0), QPointF(x, len(self._bars) * self._look.px(_ROW_PX))))


def _outline(look: BarLook, ink: QColor) -> QPen:
    pen = QPen(ink, 1.5)
    if look is BarLook.SET_ASIDE:
        pen.setDashPattern([3.0, 2.5])
    return pen
