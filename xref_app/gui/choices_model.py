"""The builds of one machine model, as a list: the visible fact that tells each from the others comes first."""

from __future__ import annotations

from PySide6.QtCore import QObject, QRect, QSize
from PySide6.QtGui import QFont, QFontMetrics, QPainter

from xref_app.gui.painting import bold, paint_words, small, wrapped_height
from xref_app.gui.row_delegate import RowDelegate
from xref_app.gui.rows import RowsModel, row_width
from xref_app.gui.theme import Look
from xref_app.services.answers import MachineChoice

_LEAST_PX = 250


class ChoicesModel(RowsModel[MachineChoice]):
    """The builds still possible."""

    def tell_apart(self, choice: MachineChoice) -> str:
        """Return what to look for, and whether that is enough."""
        if not choice.tell_apart:
            return self.tr("nothing known that tells it apart")
        if not choice.is_told_apart:
            return self.tr("{seen} (others as well)").format(seen=choice.tell_apart)
        return choice.tell_apart

    def details(self, choice: MachineChoice) -> str:
        """Return the pump known on it, then model, driver and days, unless what to look for or every row says so."""
        pump = self.tr("pump {number}").format(number=choice.pump) if choice.pump else self.tr("pump not known")
        built = choice.built or self.tr("days of building not known")
        model = choice.model if len({row.model for row in self.rows}) > 1 else ""
        told = (word for word in (model, choice.driver, built) if word and word not in choice.tell_apart)
        return ", ".join((pump, *told))

    def words(self, row: MachineChoice) -> str:
        """Return what to look for and which build that is."""
        return f"{self.tell_apart(row)}. {self.details(row)}"


class ChoiceDelegate(RowDelegate[MachineChoice]):
    """Two wrapped lines: what to look for, then which build it is."""

    def __init__(self, model: ChoicesModel, look: Look, parent: QObject) -> None:
        super().__init__(look, parent)
        self._model = model

    def paint_row(self, painter: QPainter, rect: QRect, font: QFont, row: MachineChoice) -> None:
        """Paint one build."""
        colours, px = self._look.colours, self._look.px
        place = rect.adjusted(px(10), px(7), -px(8), 0)
        paint_words(painter, place, self._model.tell_apart(row), bold(font), colours.text)
        used = wrapped_height(bold(font), self._model.tell_apart(row), place.width())
        below = place.adjusted(0, used, 0, 0)
        paint_words(painter, below, self._model.details(row), small(font), colours.quiet_text)

    def row_size(self, font: QFont, row: MachineChoice) -> QSize:
        """Return room for both, wrapped."""
        px = self._look.px
        width = row_width(self.parent(), px(_LEAST_PX)) - px(18)
        height = wrapped_height(bold(font), self._model.tell_apart(row), width)
        height += wrapped_height(small(font), self._model.details(row), width)
        return QSize(width, max(height + px(14), QFontMetrics(font).height() * 2))
