"""Engines as rows, pumps as columns, and in each cell the mark of the verdict; what was chosen has a frame."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from PySide6.QtCore import (
    QAbstractTableModel,
    QLineF,
    QModelIndex,
    QObject,
    QPointF,
    QRectF,
    QSize,
    Qt,
    Slot,
)
from PySide6.QtGui import QColor, QPainter, QPalette, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from xref_app.core.sentence import marked
from xref_app.gui.marks import MARK_OF_VERDICT, paint_mark
from xref_app.gui.messages import verdict_word
from xref_app.gui.pair_words import about_text, pair_text, said, unit_text
from xref_app.gui.rows import DOMAIN_ROLE, Index
from xref_app.gui.theme import Look
from xref_app.services.best_pairs import Pairing, PairWishes, is_wanted
from xref_app.services.pair_matrix import BOTH_FIT, PairMatrix, PairUnit, PairVerdict

_CELL_PX = 38
_MARK_PX, _SMALL_MARK_PX = 20, 12


class Standing(IntEnum):
    """What is to become of a pair: nothing, made by the sum, made because it is wanted, never made."""

    OPEN = 0
    CHOSEN = 1
    FORCED = 2
    FORBIDDEN = 3


STANDING_WORDS = {
    Standing.OPEN: "",
    Standing.CHOSEN: marked("pairs", "to be made"),
    Standing.FORCED: marked("pairs", "wanted, to be made"),
    Standing.FORBIDDEN: marked("pairs", "never"),
}


@dataclass(frozen=True, slots=True)
class PairCell:
    """One pair as the table shows it; ``passes`` says whether the filter lets it through."""

    engine: PairUnit
    pump: PairUnit
    found: PairVerdict
    standing: Standing
    passes: bool

    @property
    def pair(self) -> tuple[str, str]:
        """Return the numbers of both units."""
        return (self.engine.unit_id, self.pump.unit_id)

    @property
    def words(self) -> str:
        """Return the cell as one line."""
        parts = (pair_text(self.engine, self.pump), verdict_word(self.found.verdict))
        standing = STANDING_WORDS[self.standing]
        return ", ".join((*parts, said(standing)) if standing else parts)


class PairModel(QAbstractTableModel):
    """All pairs of one matrix with the pairing chosen among them."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.matrix = PairMatrix()
        self._wishes = PairWishes()
        self._chosen: frozenset[tuple[str, str]] = frozenset()

    def show_matrix(self, matrix: PairMatrix) -> None:
        """Show other units; nothing is chosen among them yet."""
        self.beginResetModel()
        self.matrix = matrix
        self._chosen = frozenset()
        self.endResetModel()

    def show_pairing(self, pairing: Pairing, wishes: PairWishes) -> None:
        """Mark what is to be made, and what is wanted or not."""
        self._chosen = frozenset((one.engine.unit_id, one.pump.unit_id) for one in pairing.pairs)
        self._wishes = wishes
        if self.rowCount() and self.columnCount():
            self.dataChanged.emit(self.index(0, 0), self.index(self.rowCount() - 1, self.columnCount() - 1))

    def cell(self, row: int, column: int) -> PairCell:
        """Return one pair."""
        engine, pump = self.matrix.engines[row], self.matrix.pumps[column]
        found = self.matrix.of(engine, pump)
        passes = is_wanted(found, self._wishes.wanted) or found.verdict not in BOTH_FIT
        return PairCell(engine, pump, found, self._standing((engine.unit_id, pump.unit_id)), passes)

    def _standing(self, pair: tuple[str, str]) -> Standing:
        if pair in self._wishes.forced:
            return Standing.FORCED
        if pair in self._wishes.forbidden:
            return Standing.FORBIDDEN
        return Standing.CHOSEN if pair in self._chosen else Standing.OPEN

    def place_of(self, pair: tuple[str, str]) -> QModelIndex:
        """Return where a pair stands; an invalid index where a unit is not there."""
        rows = {one.unit_id: place for place, one in enumerate(self.matrix.engines)}
        columns = {one.unit_id: place for place, one in enumerate(self.matrix.pumps)}
        if pair[0] not in rows or pair[1] not in columns:
            return QModelIndex()
        return self.index(rows[pair[0]], columns[pair[1]])

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default; never changed
        """Return the number of engines, none without pumps."""
        return 0 if parent.isValid() or not self.matrix.pumps else len(self.matrix.engines)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default; never changed
        """Return the number of pumps, none without engines."""
        return 0 if parent.isValid() or not self.matrix.engines else len(self.matrix.pumps)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the pair, or the cell in words for who cannot see the mark."""
        if not index.isValid():
            return None
        cell = self.cell(index.row(), index.column())
        if role == DOMAIN_ROLE:
            return cell
        spoken = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole)
        return cell.words if role in spoken else None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the unit's own number, for an engine with what it is."""
        is_row = orientation is Qt.Orientation.Vertical
        units = self.matrix.engines if is_row else self.matrix.pumps
        if section >= len(units):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return unit_text(units[section]) if is_row else units[section].unit_id
        return about_text(units[section]) if role == Qt.ItemDataRole.ToolTipRole else None


class PairDelegate(QStyledItemDelegate):
    """Paints the mark of a verdict; small where the filter keeps the pair out, framed where it is to be made."""

    def __init__(self, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self._look = look

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        cell = index.data(DOMAIN_ROLE)
        if not isinstance(cell, PairCell):
            return
        colours = self._look.colours
        rect = QRectF(option.rect)
        flags: QStyle.StateFlag = option.state
        painter.save()
        if flags & QStyle.StateFlag.State_Selected:
            painter.fillRect(option.rect, QColor(colours.selection))
        side = self._look.px(_MARK_PX if cell.passes else _SMALL_MARK_PX)
        place = QRectF(rect.center().x() - side / 2, rect.center().y() - side / 2, side, side)
        paint_mark(painter, place, MARK_OF_VERDICT[cell.found.verdict], colours)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_standing(painter, rect, cell.standing)
        if flags & QStyle.StateFlag.State_Selected:
            width = 3 if flags & QStyle.StateFlag.State_HasFocus else 1
            painter.setPen(QPen(QColor(colours.accent), width))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(width / 2, width / 2, -width / 2, -width / 2))
        painter.restore()

    def _paint_standing(self, painter: QPainter, rect: QRectF, standing: Standing) -> None:
        """Paint a frame round what is to be made, a corner filled where it is wanted, a stroke through what is not."""
        ink = QColor(self._look.colours.text)
        px = self._look.px
        inner = rect.adjusted(px(4), px(4), -px(4), -px(4))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if standing in (Standing.CHOSEN, Standing.FORCED):
            painter.setPen(QPen(ink, max(px(2), 2)))
            painter.drawRect(inner)
        if standing is Standing.FORCED:
            painter.setBrush(ink)
            corner = inner.topLeft()
            reach = px(14)
            points = [corner, corner + QPointF(reach, 0), corner + QPointF(0, reach)]
            painter.drawPolygon(QPolygonF(points))
        elif standing is Standing.FORBIDDEN:
            painter.setPen(QPen(QColor(self._look.colours.base), px(4)))
            painter.drawLine(QLineF(inner.bottomLeft(), inner.topRight()))
            painter.setPen(QPen(ink, max(px(2), 2)))
            painter.drawLine(QLineF(inner.bottomLeft(), inner.topRight()))

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:
        """Return the room of a mark and its frame."""
        return QSize(self._look.px(_CELL_PX), self._look.px(_CELL_PX))


class PairTable(QTableView):
    """The pairs as cells of one size; the arrow keys go from cell to cell, Tab leaves, a letter is no command."""

    def __init__(self, look: Look, model: PairModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.setModel(model)
        self.setItemDelegate(PairDelegate(look, self))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        for set_mode in (self.setVerticalScrollMode, self.setHorizontalScrollMode):
            set_mode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setCornerButtonEnabled(False)
        self.viewport().setBackgroundRole(QPalette.ColorRole.Base)
        for header in (self.horizontalHeader(), self.verticalHeader()):
            header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            header.setSectionsClickable(False)
            header.setHighlightSections(True)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignCenter)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the pair looked at in sight."""
        super().resizeEvent(event)
        self.scrollTo(self.currentIndex())

    def keyboardSearch(self, search: str) -> None:
        """Ignore typed letters: a scanner types letters."""

    @Slot()
    def _resize_to_text(self) -> None:
        metrics = self.fontMetrics()
        self.verticalHeader().setDefaultSectionSize(self._look.px(_CELL_PX))
        self.horizontalHeader().setDefaultSectionSize(
            max(self._look.px(_CELL_PX), metrics.horizontalAdvance("U-000") + self._look.px(16))
        )
        self.horizontalHeader().setMinimumHeight(metrics.height() + self._look.px(8))
