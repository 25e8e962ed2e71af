"""What can have happened, as rows; the first says that nobody has said it yet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QFont, QPainter

from xref_app.core.model.words import Result
from xref_app.gui.happened_words import result_text
from xref_app.gui.painting import bold, paint_words, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import RowsModel, row_width

_LEAST_PX, _PAD_PX = 200, 5


@dataclass(frozen=True, slots=True)
class ResultRow:
    """One result, or None: so that none is written down by haste, nothing is said at first."""

    result: Result | None


NOT_SAID_ROW: Final = ResultRow(None)


class ResultsModel(RowsModel[ResultRow]):
    """All results."""

    def words(self, row: ResultRow) -> str:
        """Return the result in words."""
        return result_text(row.result)


class ResultDelegate(RowDelegate[ResultRow]):
    """A result in words; what went wrong in bold."""

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: ResultRow) -> None:
        """Paint one result."""
        pad, colours = self._look.px(_PAD_PX), self._look.colours
        colour = colours.quiet_text if row.result is None else colours.text
        place = rect.adjusted(2 * pad, pad, -pad, 0)
        paint_words(painter, place, result_text(row.result), _font(font, row), colour)

    def row_size(self, font: QFont, row: ResultRow) -> QSize:
        """Return as much as the words take when they wrap."""
        pad = self._look.px(_PAD_PX)
        room = row_width(self.parent(), self._look.px(_LEAST_PX)) - 3 * pad
        height = wrapped_height(_font(font, row), result_text(row.result), room)
        return QSize(self._look.px(_LEAST_PX), height + 2 * pad)


def _font(font: QFont, row: ResultRow) -> QFont:
    return bold(font) if row.result is not None and row.result.went_wrong else font
