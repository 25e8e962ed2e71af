"""What has to be bought, made or taken from the shelf, as a table."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum

from PySide6.QtCore import QAbstractTableModel, QLocale, QModelIndex, QObject, Qt

from xref_app.core.fit.finding import Need
from xref_app.core.fit.from_shelf import pieces_from_shelf
from xref_app.core.model.shelf import Part
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.length_words import say_sizes
from xref_app.gui.rows import DOMAIN_ROLE, Index

_NOTHING = QModelIndex()


class NeedsColumn(IntEnum):
    """The columns, left to right."""

    WHAT = 0
    QUANTITY = 1
    SHELF = 2
    COST = 3


class NeedsModel(QAbstractTableModel):
    """The needs of one judgement."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._needs: tuple[Need, ...] = ()
        self._lying: tuple[int, ...] = ()
        self._first = LengthFirst.MM
        self._headings = {
            NeedsColumn.WHAT: self.tr("What you need"),
            NeedsColumn.QUANTITY: self.tr("Pieces"),
            NeedsColumn.SHELF: self.tr("Shelf"),
            NeedsColumn.COST: self.tr("Cost"),
        }

    def show_needs(self, needs: Sequence[Need], *, is_ruled_out: bool = False) -> None:
        """Show these needs instead of the ones before; those of a pump that does not fit are not for buying."""
        self.beginResetModel()
        self._needs = tuple(needs)
        self._lying = pieces_from_shelf(self._needs)
        what = self.tr("Would still need") if is_ruled_out else self.tr("What you need")
        self._headings[NeedsColumn.WHAT] = what
        self.endResetModel()

    def show_first(self, first: LengthFirst) -> None:
        """Show sizes in this unit first."""
        self.beginResetModel()
        self._first = first
        self.endResetModel()

    def rowCount(self, parent: Index = _NOTHING) -> int:
        """Return the number of needs."""
        return 0 if parent.isValid() else len(self._needs)

    def columnCount(self, parent: Index = _NOTHING) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(NeedsColumn)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the need itself, a cell's text, or what a screen reader says of the cell."""
        if not index.isValid() or index.row() >= len(self._needs):
            return None
        need, column = self._needs[index.row()], NeedsColumn(index.column())
        if role == DOMAIN_ROLE:
            return need
        if role == Qt.ItemDataRole.DisplayRole:
            return self._cell(need, column, self._lying[index.row()])
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            cell = self._cell(need, column, self._lying[index.row()])
            return f"{self._headings[column]}: {cell}".replace("\n", ", ")
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the heading of a column."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self._headings[NeedsColumn(section)]
        return None

    def _cell(self, need: Need, column: NeedsColumn, lying: int) -> str:
        match column:
            case NeedsColumn.WHAT:
                return say_sizes(need.what, self._first)
            case NeedsColumn.QUANTITY:
                return QLocale().toString(need.quantity)
            case NeedsColumn.SHELF:
                return self._shelf(need, lying)
            case NeedsColumn.COST:
                return self._cost(need)

    def _shelf(self, need: Need, lying: int) -> str:
        part = need.listed
        if part is None:
            return self.tr("to make") if need.to_make else self.tr("to order")
        if part.to_order:
            return self._partly(part, need.quantity, lying)
        if part.reserved >= need.quantity:
            return self.tr("reserved, bin {bin}").format(bin=part.reserved_bin)
        if part.count < need.quantity:
            return self.tr("{count} of {quantity}").format(count=part.count, quantity=need.quantity)
        return self.tr("yes, bin {bin}").format(bin=part.bin) if part.bin else self.tr("yes")

    def _partly(self, part: Part, quantity: int, lying: int) -> str:
        """Return what of a part to order lies in a bin all the same, and how many have to come."""
        if not lying:
            return self.tr("to order")
        is_reserved = part.reserved >= lying
        words = self.tr("{count} reserved, bin {bin}") if is_reserved else self.tr("{count} in bin {bin}")
        told = words.format(count=lying, bin=part.reserved_bin if is_reserved else part.bin)
        if lying == quantity:
            return told
        return self.tr("{there}\n{count} to order").format(there=told, count=quantity - lying)

    def _cost(self, need: Need) -> str:
        if need.listed is None:
            return self.tr("not known")
        return QLocale().toString(need.listed.cost * need.quantity, "f", 2)
