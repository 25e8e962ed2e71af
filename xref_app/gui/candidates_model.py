"""The pumps that could go on, as a list; and how one of them is painted: mark, word, number, headline, records."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter

from xref_app.core.fit.finding import Verdict
from xref_app.gui.marks import MARK_OF_VERDICT, ink_of, paint_edge, paint_mark
from xref_app.gui.messages import say, verdict_word
from xref_app.gui.painting import bold, paint_line, paint_words, small, wrapped_height
from xref_app.gui.remarks_view import remark_text
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import RowsModel, row_width
from xref_app.services.answers import Candidate, RemarkKind

_ROW_PX, _LEAST_PX = 56, 250


class CandidatesModel(RowsModel[Candidate]):
    """Every pump judged, in the order of the ranking."""

    def words(self, row: Candidate) -> str:
        """Return verdict, number, maker, name, headline and what the records tell."""
        named = " ".join(word for word in (row.number, row.maker, row.name) if word)
        said = f"{verdict_word(row.judgement.verdict)}: {named}. {say(row.headline)}"
        told = [remark_text(remark) for remark in row.remarks]
        return " ".join((f"{said}.", *told)) if told else said

    def open_places(self) -> tuple[int, ...]:
        """Return the places of the pumps that are not ruled out."""
        return tuple(place for place, row in enumerate(self.rows) if is_open(row))


def is_open(candidate: Candidate) -> bool:
    """Say whether the pump is not ruled out."""
    return candidate.judgement.verdict is not Verdict.DOES_NOT_FIT


class CandidateDelegate(RowDelegate[Candidate]):
    """A row of at least 56 px: the edge and mark of the verdict, word and number, headline and records below."""

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: Candidate) -> None:
        """Paint one pump."""
        px, colours = self._look.px, self._look.colours
        mark = MARK_OF_VERDICT[row.judgement.verdict]
        edge = QRectF(rect).adjusted(px(4), px(5), 0, -px(6))
        paint_edge(painter, edge, mark, colours, self._look.text_percent / 100)
        paint_mark(painter, QRectF(rect.left() + px(15), rect.top() + px(11), px(32), px(32)), mark, colours)
        text = self._text_place(rect)
        first = QRect(text.left(), text.top(), text.width(), QFontMetrics(bold(font)).height())
        word = verdict_word(row.judgement.verdict)
        paint_line(painter, first, word, bold(font), ink_of(mark, colours))
        first.setLeft(first.left() + QFontMetrics(bold(font)).horizontalAdvance(word) + px(8))
        _paint_right(painter, first, row.number, bold(font), self._look.ink(colours.text))
        below = text.adjusted(0, first.height() + px(1), 0, 0)
        for line, line_font, ink in self._lines(font, row):
            paint_words(painter, below, line, line_font, ink)
            below.setTop(below.top() + wrapped_height(line_font, line, below.width()))

    def _lines(self, font: QFont, row: Candidate) -> Iterator[tuple[str, QFont, str]]:
        """Yield headline and remarks, each with its font and ink; what went wrong before is bold."""
        colours = self._look.colours
        yield say(row.headline), small(font), colours.quiet_text
        for remark in row.remarks:
            if remark.kind is RemarkKind.WENT_WRONG:
                yield remark_text(remark), bold(small(font)), colours.text
            else:
                ink = colours.text if remark.kind is RemarkKind.CONFIRMED else colours.quiet_text
                yield remark_text(remark), small(font), ink

    def _text_place(self, rect: QRect) -> QRect:
        px = self._look.px
        return rect.adjusted(px(56), px(8), -px(8), 0)

    def row_size(self, font: QFont, row: Candidate) -> QSize:
        """Return 56 px, or more where headline and remarks need it."""
        px = self._look.px
        width = row_width(self.parent(), px(_LEAST_PX)) - px(64)
        text = QFontMetrics(bold(font)).height()
        text += sum(wrapped_height(line_font, line, width) for line, line_font, _ in self._lines(font, row))
        return QSize(width, max(px(_ROW_PX), text + px(17)))


def _paint_right(painter: QPainter, place: QRect, text: str, font: QFont, ink: QColor) -> None:
    painter.setFont(font)
    painter.setPen(ink)
    shown = QFontMetrics(font).elidedText(text, Qt.TextElideMode.ElideMiddle, place.width())
    painter.drawText(place, int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter), shown)
