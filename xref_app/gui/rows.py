"""What all lists and tables here share: one role for the domain object, quiet views, names on everything."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Generic, TypeVar

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QAbstractItemView, QListView, QTableView, QWidget

Index = QModelIndex | QPersistentModelIndex
# The domain object behind a row, whole and unchanged.
DOMAIN_ROLE = int(Qt.ItemDataRole.UserRole)

Row = TypeVar("Row")
Named = TypeVar("Named", bound=QWidget)


def named(widget: Named, object_name: str, accessible_name: str) -> Named:
    """Return ``widget`` named for tests and style (``page_thing_kind``) and for a screen reader."""
    widget.setObjectName(object_name)
    widget.setAccessibleName(accessible_name)
    return widget


class RowsModel(QAbstractListModel, Generic[Row]):
    """A list of values that is replaced as a whole; ``words`` says a row in one line."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[Row, ...] = ()

    @property
    def rows(self) -> tuple[Row, ...]:
        """Return all rows."""
        return self._rows

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Show these rows instead of the ones before."""
        self.beginResetModel()
        self._rows = tuple(rows)
        self.endResetModel()

    def words(self, row: Row) -> str:
        """Return the whole row as one line of text."""
        raise NotImplementedError

    def tell_changed(self) -> None:
        """Tell the views that every row reads differently now."""
        if self._rows:
            self.dataChanged.emit(self.index(0), self.index(len(self._rows) - 1))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default; never changed
        """Return the number of rows."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the domain object, or the row in words."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row = self._rows[index.row()]
        if role == DOMAIN_ROLE:
            return row
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return self.words(row)
        return None


class QuietListView(QListView):
    """A list in which a letter is no command: a scanner types letters."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        _make_calm(self)
        self.setUniformItemSizes(False)
        self.setResizeMode(QListView.ResizeMode.Adjust)

    def keyboardSearch(self, search: str) -> None:
        """Ignore typed letters."""


class QuietTableView(QTableView):
    """A table without row numbers in which a letter is no command and Tab leaves."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        _make_calm(self)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setWordWrap(True)
        self.setCornerButtonEnabled(False)
        self.verticalHeader().hide()
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setSectionsClickable(False)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)

    def keyboardSearch(self, search: str) -> None:
        """Ignore typed letters."""


def row_width(view: object, at_least: int) -> int:
    """Return how wide a row of ``view`` is with its scroll bar shown, px, whether or not it is shown just now.

    A row measured without the scroll bar would be too low once the bar takes its room.
    """
    if not isinstance(view, QAbstractItemView):
        return at_least
    bar = view.verticalScrollBar().sizeHint().width()
    return max(view.width() - 2 * view.frameWidth() - bar, at_least)


def _make_calm(view: QAbstractItemView) -> None:
    view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
    view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    view.viewport().setBackgroundRole(QPalette.ColorRole.Base)
