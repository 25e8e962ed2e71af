"""The checks of one pump as a table; and how a cell is painted."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem, QTableView

from xref_app.core.fit.finding import Finding, Outcome
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.length_words import gap_text
from xref_app.gui.marks import MARK_OF_OUTCOME, paint_mark
from xref_app.gui.messages import check_title, outcome_word, quantity_text, say
from xref_app.gui.painting import bold, paint_ground, paint_words, wrapped_height
from xref_app.gui.rows import DOMAIN_ROLE, Index
from xref_app.gui.theme import Look

_ROW_PX, _MARK_PX = 30, 20
_NOTHING = QModelIndex()


class FindingsColumn(IntEnum):
    """The columns, left to right."""

    CHECK = 0
    NEEDED = 1
    OFFERED = 2
    GAP = 3


class FindingsModel(QAbstractTableModel):
    """The findings, what stands in the way first and, among equals, in the order of the judge."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._findings: tuple[Finding, ...] = ()
        self._first = LengthFirst.MM
        self._headings = {
            FindingsColumn.CHECK: self.tr("Check"),
            FindingsColumn.NEEDED: self.tr("Needed"),
            FindingsColumn.OFFERED: self.tr("Offered"),
            FindingsColumn.GAP: self.tr("Gap"),
        }

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Return the findings in the order shown."""
        return self._findings

    def show_findings(self, findings: Sequence[Finding]) -> None:
        """Show these findings instead of the ones before."""
        self.beginResetModel()
        self._findings = tuple(sorted(findings, key=_in_the_way_first))
        self.endResetModel()

    def show_first(self, first: LengthFirst) -> None:
        """Show lengths in this unit."""
        self._first = first
        if self._findings:
            last = self.index(len(self._findings) - 1, len(FindingsColumn) - 1)
            self.dataChanged.emit(self.index(0, 0), last)

    def rowCount(self, parent: Index = _NOTHING) -> int:
        """Return the number of findings."""
        return 0 if parent.isValid() else len(self._findings)

    def columnCount(self, parent: Index = _NOTHING) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(FindingsColumn)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the finding itself, a cell's text, or what a screen reader says of the cell."""
        if not index.isValid() or index.row() >= len(self._findings):
            return None
        finding, column = self._findings[index.row()], FindingsColumn(index.column())
        if role == DOMAIN_ROLE:
            return finding
        if role == Qt.ItemDataRole.DisplayRole:
            return self._cell(finding, column)
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return self._spoken(finding, column)
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the heading of a column."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self._headings[FindingsColumn(section)]
        return None

    def _cell(self, finding: Finding, column: FindingsColumn) -> str:
        if column is FindingsColumn.CHECK:
            return check_title(finding.check)
        if is_told_in_words(finding):
            return say(finding.reason) if column is FindingsColumn.NEEDED else ""
        if column is not FindingsColumn.GAP:
            return quantity_text(finding.needed if column is FindingsColumn.NEEDED else finding.offered, self._first)
        text = gap_text(finding.gap, self._first)
        return self.tr("? not known") if finding.outcome is Outcome.UNKNOWN and not text else text

    def _spoken(self, finding: Finding, column: FindingsColumn) -> str:
        said = self.tr("check {check}, {outcome}").format(check=finding.check, outcome=outcome_word(finding.outcome))
        text = self._cell(finding, column)
        if column is FindingsColumn.CHECK or not text:
            return said
        return f"{said}, {text}" if is_told_in_words(finding) else f"{said}, {self._headings[column].lower()} {text}"


def is_told_in_words(finding: Finding) -> bool:
    """Say whether there is no size to show, so that the reason stands in the row itself."""
    return finding.needed is None and finding.offered is None and finding.gap is None


def _in_the_way_first(finding: Finding) -> int:
    """Return the sorting key: fail, unknown, by parts, look on arrival, pass."""
    if finding.outcome is Outcome.UNKNOWN and finding.on_arrival:
        return 3
    return {Outcome.FAIL: 0, Outcome.UNKNOWN: 1, Outcome.BY_PARTS: 2, Outcome.PASS: 4}[finding.outcome]


class FindingDelegate(QStyledItemDelegate):
    """A cell that wraps rather than cuts; the first column carries the mark of the outcome."""

    def __init__(self, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self._look = look

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint one cell."""
        finding = index.data(DOMAIN_ROLE)
        if not isinstance(finding, Finding):
            return
        rect: QRect = option.rect
        px, colours = self._look.px, self._look.colours
        painter.save()
        paint_ground(painter, option, colours, with_ring=False)
        if index.column() == FindingsColumn.CHECK:
            place = QRectF(rect.left() + px(6), rect.top() + px(5), px(_MARK_PX), px(_MARK_PX))
            paint_mark(painter, place, MARK_OF_OUTCOME[finding.outcome], colours)
        text = str(index.data() or "")
        font = self._font(option, finding, index.column())
        top = max((px(_ROW_PX) - QFontMetrics(font).height()) // 2, 0)
        place_text = rect.adjusted(self._text_left(index.column()), top, -px(4), 0)
        paint_words(painter, place_text, text, font, colours.text)
        painter.restore()

    def _font(self, option: QStyleOptionViewItem, finding: Finding, column: int) -> QFont:
        font: QFont = option.font
        is_open = finding.outcome is Outcome.UNKNOWN and not finding.on_arrival
        said_in = FindingsColumn.NEEDED if is_told_in_words(finding) else FindingsColumn.GAP
        return bold(font) if is_open and column == said_in else font

    def _text_left(self, column: int) -> int:
        return self._look.px(6 + _MARK_PX + 8) if column == FindingsColumn.CHECK else self._look.px(6)

    def _width(self, index: QModelIndex | QPersistentModelIndex, wanted: int) -> int:
        """Return how wide the cell is, all columns it spans taken together."""
        table = self.parent()
        if not isinstance(table, QTableView) or index.column() == FindingsColumn.CHECK:
            return wanted
        columns = range(index.column(), index.column() + table.columnSpan(index.row(), index.column()))
        return sum(table.columnWidth(column) for column in columns)

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """Return 30 px, or more where the text wraps."""
        finding = index.data(DOMAIN_ROLE)
        if not isinstance(finding, Finding):
            return QSize()
        px, font = self._look.px, self._font(option, finding, index.column())
        text = str(index.data() or "")
        padding = self._text_left(index.column()) + px(4)
        wanted = QFontMetrics(font).horizontalAdvance(text) + padding
        width = self._width(index, wanted)
        height = wrapped_height(font, text, width - padding) + px(_ROW_PX) - QFontMetrics(font).height()
        return QSize(min(wanted, width), max(px(_ROW_PX), height))
