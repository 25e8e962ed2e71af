"""What the typed text could mean, as a list; and how a hit shows which characters matched and which were guessed."""

from __future__ import annotations

from PySide6.QtCore import QObject, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen

from xref_app.gui.messages import say
from xref_app.gui.painting import bold, paint_line, paint_words, small, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import RowsModel, row_width
from xref_app.gui.theme import Look
from xref_app.services.answers import Hit

_LINE_PX, _LEAST_PX = 34, 400


class HitsModel(RowsModel[Hit]):
    """The hits, best first."""

    def kind_and_name(self, hit: Hit) -> str:
        """Return what the entry is and who made it."""
        return " ".join(word for word in (hit.kind, hit.maker, hit.name) if word)

    def claim(self, hit: Hit) -> str:
        """Return what the entry is said to replace, empty where nobody says so."""
        return "" if hit.claim is None else say(hit.claim)

    def why(self, hit: Hit) -> str:
        """Return which characters had to be guessed, in words."""
        if not hit.guessed:
            return ""
        letters = ", ".join(hit.number[place] for place in hit.guessed if place < len(hit.number))
        return self.tr("guessed: {letters}").format(letters=letters)

    def words(self, row: Hit) -> str:
        """Return number, what it is, what it is said to replace, and what was guessed."""
        told = (row.number, self.kind_and_name(row), self.claim(row), self.why(row))
        return ", ".join(word for word in told if word)


class HitDelegate(RowDelegate[Hit]):
    """The number with matched characters bold and guessed ones underlined, then what it is; a claim stands below."""

    def __init__(self, model: HitsModel, look: Look, parent: QObject) -> None:
        super().__init__(look, parent)
        self._model = model

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: Hit) -> None:
        """Paint one hit."""
        colours, px = self._look.colours, self._look.px
        place = rect.adjusted(px(10), 0, -px(10), 0)
        claim = self._model.claim(row)
        if claim:
            below = place.adjusted(0, px(_LINE_PX) - px(4), 0, -px(5))
            paint_words(painter, below, claim, small(font), colours.quiet_text)
            place.setHeight(px(_LINE_PX))
        x = self._paint_number(painter, place, row, font)
        why = self._model.why(row)
        right = QFontMetrics(small(font)).horizontalAdvance(why)
        middle = place.adjusted(max(x - place.left(), px(150)), 0, -right - px(12), 0)
        quiet = self._look.ink(colours.quiet_text)
        paint_line(painter, middle, self._model.kind_and_name(row), font, quiet)
        paint_line(painter, place.adjusted(place.width() - right - 2, 0, 2, 0), why, small(font), quiet)

    def _paint_number(self, painter: QPainter, place: QRect, hit: Hit, font: QFont) -> int:
        """Paint the number character by character; return where it ends, px."""
        colours = self._look.colours
        x, line = place.left(), place.center().y() + QFontMetrics(font).ascent() // 2 + 3
        for number, letter in enumerate(hit.number):
            is_guessed = number in hit.guessed
            letter_font = bold(font) if number in hit.matched and not is_guessed else font
            width = QFontMetrics(letter_font).horizontalAdvance(letter)
            painter.setFont(letter_font)
            painter.setPen(QColor(colours.text))
            painter.drawText(
                QRect(x, place.top(), width + 2, place.height()), int(Qt.AlignmentFlag.AlignVCenter), letter
            )
            if is_guessed:
                painter.setPen(QPen(QColor(colours.accent), 2))
                painter.drawLine(x, line, x + width - 1, line)
            x += width
        return x + self._look.px(14)

    def row_size(self, font: QFont, row: Hit) -> QSize:
        """Return one line, and room below it for a claim."""
        px, claim = self._look.px, self._model.claim(row)
        width = row_width(self.parent(), px(_LEAST_PX))
        below = wrapped_height(small(font), claim, width - px(20)) + px(3) if claim else 0
        return QSize(px(_LEAST_PX), px(_LINE_PX) + below)
