"""A list whose rows show lengths, mm or inch first."""

from __future__ import annotations

from PySide6.QtCore import QObject

from xref_app.gui.length_first import LengthFirst
from xref_app.gui.messages import both_units_text
from xref_app.gui.rows import Row, RowsModel


class LengthRowsModel(RowsModel[Row]):
    """Rows that read differently when another unit is shown first."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._first = LengthFirst.MM

    def show_first(self, first: LengthFirst) -> None:
        """Show this unit of length first."""
        self._first = first
        self.tell_changed()

    def in_order(self, shown: str) -> str:
        """Return ``shown`` with the wanted unit of each length first."""
        return both_units_text(shown, self._first)
