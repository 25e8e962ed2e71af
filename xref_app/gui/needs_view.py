"""The table 'What you need', as high as its rows and no higher."""

from __future__ import annotations

from PySide6.QtCore import QSize, Slot
from PySide6.QtWidgets import QAbstractScrollArea, QHeaderView, QSizePolicy, QWidget

from xref_app.gui.cells import CellDelegate
from xref_app.gui.needs_model import NeedsColumn, NeedsModel
from xref_app.gui.rows import QuietTableView, named
from xref_app.gui.theme import Look

_MOST_ROWS = 4


class NeedsView(QuietTableView):
    """Shows every row up to four, then scrolls."""

    def __init__(self, model: NeedsModel, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "fit_needs_table", self.tr("What you need"))
        self.setModel(model)
        self.setItemDelegate(CellDelegate(look, self))
        header = self.horizontalHeader()
        named(header, "fit_needs_header", self.tr("Columns of what you need"))
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(NeedsColumn.WHAT, QHeaderView.ResizeMode.Stretch)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.setSizeAdjustPolicy(QAbstractScrollArea.SizeAdjustPolicy.AdjustToContents)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        model.modelReset.connect(self._fit_rows)
        look.changed.connect(self._fit_rows)

    def sizeHint(self) -> QSize:
        """Return the height of the heading and the rows."""
        rows = range(min(self.model().rowCount(), _MOST_ROWS))
        height = self.horizontalHeader().sizeHint().height() + sum(self.rowHeight(row) for row in rows)
        return QSize(super().sizeHint().width(), height + 2 * self.frameWidth() + 4)

    def minimumSizeHint(self) -> QSize:
        """Return the same height: what is needed is never squeezed out of sight."""
        return QSize(0, self.sizeHint().height())

    @Slot()
    def _fit_rows(self) -> None:
        self.resizeRowsToContents()
        self.updateGeometry()
