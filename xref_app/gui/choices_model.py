"""The builds of one machine model, as a list: the visible fact that tells each from the others comes first."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QRect, QSize
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from xref_app.gui.painting import bold, paint_ground, paint_words, small, wrapped_height
from xref_app.gui.rows import DOMAIN_ROLE, RowsModel, row_width
from xref_app.gui.theme import Look
from xref_app.services.answers import MachineChoice

_LEAST_PX = 250


class ChoicesModel(RowsModel[MachineChoice]):
    """The builds still possible."""

    def tell_apart(self, choice: MachineChoice) -> str:
        """Return what to look for."""
        return choice.tell_apart or self.tr("nothing known that tells it apart")

    def details(self, choice: MachineChoice) -> str:
        """Return model, years and driver."""
        return ", ".join(word for word in (choice.model, choice.built, choice.driver) if word)

    def words(self, row: MachineChoice) -> str:
        """Return what to look for and which build that is."""
        return f"{self.tell_apart(row)}. {self.details(row)}"


class ChoiceDelegate(QStyledItemDelegate):
    """Two wrapped lines: what to look for, then which build it is."""

    def __init__(self, model: ChoicesModel, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self._model = model
        self._look = look

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint one build."""
        choice = index.data(DOMAIN_ROLE)
        if not isinstance(choice, MachineChoice):
            return
        rect: QRect = option.rect
        font: QFont = option.font
        colours, px = self._look.colours, self._look.px
        painter.save()
        paint_ground(painter, option, colours)
        place = rect.adjusted(px(10), px(7), -px(8), 0)
        paint_words(painter, place, self._model.tell_apart(choice), bold(font), colours.text)
        used = wrapped_height(bold(font), self._model.tell_apart(choice), place.width())
        below = place.adjusted(0, used, 0, 0)
        paint_words(painter, below, self._model.details(choice), small(font), colours.quiet_text)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """Return room for both, wrapped."""
        choice = index.data(DOMAIN_ROLE)
        font: QFont = option.font
        if not isinstance(choice, MachineChoice):
            return QSize()
        px = self._look.px
        width = row_width(self.parent(), px(_LEAST_PX)) - px(18)
        height = wrapped_height(bold(font), self._model.tell_apart(choice), width)
        height += wrapped_height(small(font), self._model.details(choice), width)
        return QSize(width, max(height + px(14), QFontMetrics(font).height() * 2))
