"""The kept jobs as a table, newest first; and how a cell is painted."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QRect, QRectF, QSize, Qt, Slot
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QResizeEvent
from PySide6.QtWidgets import QHeaderView, QStyledItemDelegate, QStyleOptionViewItem, QTableView, QWidget

from xref_app.gui.job_words import line_text, verdict_text, when_text
from xref_app.gui.marks import MARK_OF_VERDICT, paint_mark
from xref_app.gui.painting import paint_ground, paint_words, wrapped_height
from xref_app.gui.rows import DOMAIN_ROLE, Index, QuietTableView, named
from xref_app.gui.theme import Look
from xref_app.services.job_lines import JobLine

_ROW_PX, _MARK_PX, _PAD_PX, _TOP_PX = 34, 18, 6, 7


class JobColumn(IntEnum):
    """The columns, left to right."""

    WHEN = 0
    REFERENCE = 1
    ABOUT = 2
    PUMP = 3
    VERDICT = 4
    OUTCOME = 5


# What came off takes the room that is left.
_WIDTHS_PX = {
    JobColumn.WHEN: 148,
    JobColumn.REFERENCE: 116,
    JobColumn.PUMP: 168,
    JobColumn.VERDICT: 156,
    JobColumn.OUTCOME: 120,
}
# Those that go first where the window is narrow, and the width below which they do.
_GO_BELOW_PX = {JobColumn.OUTCOME: 800, JobColumn.WHEN: 660, JobColumn.REFERENCE: 520}


class JobsModel(QAbstractTableModel):
    """Every job that the filter lets through."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[JobLine, ...] = ()
        self._headings = {
            JobColumn.WHEN: self.tr("When"),
            JobColumn.REFERENCE: self.tr("Reference"),
            JobColumn.ABOUT: self.tr("Came off, machine"),
            JobColumn.PUMP: self.tr("Pump chosen"),
            JobColumn.VERDICT: self.tr("Verdict then"),
            JobColumn.OUTCOME: self.tr("Outcome"),
        }

    @property
    def rows(self) -> tuple[JobLine, ...]:
        """Return all rows."""
        return self._rows

    def show_rows(self, rows: Sequence[JobLine]) -> None:
        """Show these jobs instead of the ones before."""
        self.beginResetModel()
        self._rows = tuple(rows)
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default; never changed
        """Return the number of jobs."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default; never changed
        """Return the number of columns."""
        return 0 if parent.isValid() else len(JobColumn)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the job itself, a cell's text, or what a screen reader says of the cell."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        line, column = self._rows[index.row()], JobColumn(index.column())
        if role == DOMAIN_ROLE:
            return line
        if role == Qt.ItemDataRole.DisplayRole:
            return _cell(line, column)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            # The first cell says the whole row: that is where the keys come to stand.
            text = line_text(line) if column is JobColumn.WHEN else _cell(line, column)
            return text or self.tr("{column}: nothing").format(column=self._headings[column])
        return line_text(line) if role == Qt.ItemDataRole.ToolTipRole else None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the heading of a column."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self._headings[JobColumn(section)]
        return None


def _cell(line: JobLine, column: JobColumn) -> str:
    texts = {
        JobColumn.WHEN: when_text(line.job.changed_at),
        JobColumn.REFERENCE: line.job.reference,
        JobColumn.ABOUT: line.about,
        JobColumn.PUMP: line.job.chosen_number,
        JobColumn.VERDICT: verdict_text(line),
        JobColumn.OUTCOME: line.outcome,
    }
    return texts[column]


class JobDelegate(QStyledItemDelegate):
    """A cell that wraps rather than cuts; the verdict carries its mark."""

    def __init__(self, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self._look = look

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        line = index.data(DOMAIN_ROLE)
        if not isinstance(line, JobLine):
            return
        rect: QRect = option.rect
        font: QFont = option.font
        px, colours = self._look.px, self._look.colours
        painter.save()
        paint_ground(painter, option, colours, with_ring=False)
        if index.column() == JobColumn.VERDICT and line.verdict is not None:
            top = rect.top() + px(_TOP_PX) + (QFontMetrics(font).height() - px(_MARK_PX)) / 2
            place = QRectF(rect.left() + px(_PAD_PX), top, px(_MARK_PX), px(_MARK_PX))
            paint_mark(painter, place, MARK_OF_VERDICT[line.verdict], colours)
        place_text = rect.adjusted(self._text_left(index), px(_TOP_PX), -px(_PAD_PX), 0)
        paint_words(painter, place_text, str(index.data() or ""), font, colours.text)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return 34 px, or more where the text wraps."""
        table = self.parent()
        if not isinstance(table, QTableView):
            return QSize()
        font: QFont = option.font
        width = table.columnWidth(index.column())
        room = width - self._text_left(index) - self._look.px(_PAD_PX)
        height = wrapped_height(font, str(index.data() or ""), room) + self._look.px(2 * _TOP_PX)
        return QSize(width, max(self._look.px(_ROW_PX), height))

    def _text_left(self, index: Index) -> int:
        is_marked = index.column() == JobColumn.VERDICT
        return self._look.px(_PAD_PX + _MARK_PX + _PAD_PX if is_marked else _PAD_PX)


class JobsTable(QuietTableView):
    """The table; where it is narrow, the columns that matter least go first."""

    def __init__(self, look: Look, model: JobsModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.setModel(model)
        self.setItemDelegate(JobDelegate(look, self))
        header = self.horizontalHeader()
        named(header, "jobs_columns_header", self.tr("Columns of the jobs"))
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header.setSectionResizeMode(JobColumn.ABOUT, QHeaderView.ResizeMode.Stretch)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show the columns that have room, and keep the chosen job in sight."""
        super().resizeEvent(event)
        self._show_columns()
        self.scrollTo(self.currentIndex())

    def _show_columns(self) -> None:
        for column, below_px in _GO_BELOW_PX.items():
            self.setColumnHidden(column, self.width() < self._look.px(below_px))

    @Slot()
    def _resize_to_text(self) -> None:
        for column, width_px in _WIDTHS_PX.items():
            self.setColumnWidth(column, self._look.px(width_px))
        self._show_columns()
        self.resizeRowsToContents()
