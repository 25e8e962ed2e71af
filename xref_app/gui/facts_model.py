"""What is known of the pump coming off and its machine, as a list; and how one fact is painted."""

from __future__ import annotations

import re

from PySide6.QtCore import QObject, QRect, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter

from xref_app.gui.length_rows import LengthRowsModel
from xref_app.gui.painting import bold, paint_line, paint_words, small, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import row_width
from xref_app.gui.theme import Look
from xref_app.services.answers import FactRow, FactState

# What stands between two versions of one value.
_BETWEEN = " / "
# A value breaks before its other unit, never inside it, and never between a number and its unit.
_KEPT_TOGETHER = re.compile(r"\([^)]{0,24}\)|\d (?=[^\W\d]+\b(?! \d))")
_LEAST_PX = 250
_OPEN = (FactState.UNKNOWN, FactState.CONFLICT, FactState.IN_DOUBT)
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)


class FactsModel(LengthRowsModel[FactRow]):
    """The facts, in the order they came."""

    def value_text(self, fact: FactRow) -> str:
        """Return the value as shown: unknown is said in words, and two versions are marked."""
        match fact.state:
            case FactState.UNKNOWN:
                return self.tr("? not known")
            case FactState.CONFLICT:
                return self.tr("≠ two versions: {value}").format(value=self.in_order(fact.shown))
            case FactState.IN_DOUBT:
                return self.tr("? in doubt, was {value}").format(value=self.in_order(fact.shown))
            case FactState.HINT:
                return self.tr("{value} (hint only)").format(value=self.in_order(fact.shown))
            case FactState.KNOWN:
                return self.in_order(fact.shown)

    def words(self, row: FactRow) -> str:
        """Return title, value and how it is known."""
        said = f"{row.title}: {self.value_text(row)}"
        return f"{said}. {row.known_by}" if row.known_by else said


class FactDelegate(RowDelegate[FactRow]):
    """Two lines: what it is and how it is known, quiet; then the value and, where there is room, by whom and when.

    Folded: one line, title and value. Tool tip and screen reader have all of it.
    """

    def __init__(self, model: FactsModel, look: Look, parent: QObject) -> None:
        super().__init__(look, parent)
        self._model = model
        self.is_folded = False

    @property
    def has_rule(self) -> bool:
        """Return whether the facts stand one below the other."""
        return not self.is_folded

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: FactRow) -> None:
        """Paint one fact."""
        paint = self._paint_folded if self.is_folded else self._paint_full
        paint(painter, rect, font, row)

    def _paint_full(self, painter: QPainter, rect: QRect, font: QFont, fact: FactRow) -> None:
        colours, pad = self._look.colours, self._look.px(8)
        title_font = small(font)
        metrics = QFontMetrics(title_font)
        inner = rect.adjusted(pad, self._look.px(4), -pad, -self._look.px(4))
        head = QRect(inner.left(), inner.top(), inner.width(), metrics.height())
        paint_line(painter, head, fact.title, title_font, self._look.ink(colours.quiet_text))
        how, _, by_whom = fact.known_by.partition(", ")
        beside = inner.width() - metrics.horizontalAdvance(fact.title) - self._look.px(8)
        painter.drawText(head, _RIGHT, metrics.elidedText(how, Qt.TextElideMode.ElideRight, max(beside, 0)))
        body = inner.adjusted(0, metrics.height(), 0, 0)
        paint_words(painter, body, self._wrapped_value(fact), _value_font(font, fact), colours.text)
        room = inner.width() - QFontMetrics(_value_font(font, fact)).horizontalAdvance(self._wrapped_value(fact))
        if metrics.horizontalAdvance(by_whom) + self._look.px(12) <= room:
            painter.setFont(title_font)
            painter.setPen(self._look.ink(colours.quiet_text))
            painter.drawText(body, _RIGHT, by_whom)

    def _paint_folded(self, painter: QPainter, rect: QRect, font: QFont, fact: FactRow) -> None:
        title_font = small(font)
        width = QFontMetrics(title_font).horizontalAdvance(fact.title)
        place = rect.adjusted(self._look.px(6), 0, 0, 0)
        paint_line(painter, place, fact.title, title_font, self._look.ink(self._look.colours.quiet_text))
        place.setLeft(place.left() + width + self._look.px(6))
        ink = self._look.ink(self._look.colours.text)
        paint_line(painter, place, self._model.value_text(fact), _value_font(font, fact), ink)

    def _wrapped_value(self, fact: FactRow) -> str:
        """Return the value with each of several versions on a line of its own."""
        value = self._model.value_text(fact)
        if fact.state is FactState.CONFLICT:
            value = value.replace(": ", ":\n", 1).replace(_BETWEEN, "\n")
        return _KEPT_TOGETHER.sub(lambda found: found.group().replace(" ", "\u00a0"), value)

    def folded_height(self, font: QFont) -> int:
        """Return the height of one line of the strip, px."""
        return QFontMetrics(font).height() + self._look.px(6)

    def row_size(self, font: QFont, row: FactRow) -> QSize:
        """Return room for the whole value, wrapped where it must be."""
        value = self._model.value_text(row)
        if self.is_folded:
            title = QFontMetrics(small(font)).horizontalAdvance(row.title)
            width = title + QFontMetrics(_value_font(font, row)).horizontalAdvance(value)
            return QSize(width + self._look.px(26), self.folded_height(font))
        width = row_width(self.parent(), self._look.px(_LEAST_PX)) - self._look.px(16)
        height = QFontMetrics(small(font)).height() + wrapped_height(
            _value_font(font, row), self._wrapped_value(row), width
        )
        return QSize(width, height + self._look.px(9))


def _value_font(font: QFont, fact: FactRow) -> QFont:
    return bold(font) if fact.state in _OPEN else font
