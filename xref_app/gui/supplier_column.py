"""One column of a supplier's list: what stands in it, and everything it can be taken as."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from xref_app.gui.choice_view import ChoiceView
from xref_app.gui.labels import heading_label, plain_label, quiet_label
from xref_app.gui.rows import DOMAIN_ROLE, named
from xref_app.gui.scrolled import column_above_column, indented
from xref_app.gui.supplier_columns import ColumnRow, TakenAs, TakenAsDelegate, TakenAsModel, all_taken_as, holding
from xref_app.gui.supplier_words import column_notes, heading_text, target_text
from xref_app.gui.theme import Look

# House rules: looks only, and nobody types more to narrow a list.
_LIST_PX, _HEIGHT_PX, _LONGEST = 48, 32, 60


class SupplierColumn(QWidget):
    """Enter in the line goes to the list, Enter in the list takes; moving in it takes nothing."""

    taken_as = Signal(int, object)

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        named(self, "supplier_column_page", self.tr("The chosen column"))
        self._look = look
        self._row: ColumnRow | None = None
        self._offered: tuple[TakenAs, ...] = ()
        self._heading = heading_label(self, "supplier_column_label", "")
        self._cells = plain_label(self, "supplier_cells_label")
        self._now = plain_label(self, "supplier_now_label")
        self._notes = quiet_label(self, "supplier_notes_label")
        self.line = named(QLineEdit(self), "supplier_filter_line", self.tr("Find what the column is"))
        self.line.setMaxLength(_LONGEST)
        self.line.setPlaceholderText(self.tr("type a part, such as: bore mm"))
        self.list = named(ChoiceView(self), "supplier_taken_list", self.tr("What the column can be"))
        self._model = TakenAsModel(self)
        self.list.setModel(self._model)
        self.list.setItemDelegate(TakenAsDelegate(look, self.list))
        self._lay_out()
        self.line.textChanged.connect(self._narrow)
        self.line.returnPressed.connect(self._go_to_list)
        self.list.chosen.connect(self._take)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _lay_out(self) -> None:
        besides = QWidget(self)
        besides.setObjectName("supplier_samples_box")
        told_area, _below = column_above_column(besides, "supplier_column_area")
        for label in (self._now, self._notes, self._cells):
            told_area.addWidget(label)
        told_area.addStretch(1)
        what = QLabel(self.tr("Take it as"), self)
        what.setObjectName("supplier_filter_label")
        what.setBuddy(self.line)
        finding = QHBoxLayout()
        finding.setContentsMargins(10, 4, 10, 2)
        finding.setSpacing(8)
        finding.addWidget(what)
        finding.addWidget(self.line, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(2)
        self._heading.setContentsMargins(10, 8, 10, 0)
        whole.addWidget(self._heading)
        whole.addLayout(finding)
        whole.addLayout(indented(self.list), 3)
        whole.addWidget(besides, 2)

    def show_column(self, row: ColumnRow) -> None:
        """Show this column; what was typed to find something is gone where it is another one."""
        is_same = self._row is not None and self._row.listed.column.place == row.listed.column.place
        is_same_target = is_same and self._row is not None and self._row.listed.column == row.listed.column
        self._row = row
        listed = row.listed
        self._heading.setText(heading_text(listed.column))
        lines = (self.tr("row {row}: {text}").format(row=place + 1, text=text) for place, text in listed.samples)
        self._cells.setText("\n".join(lines))
        self._cells.setVisible(bool(listed.samples))
        self._now.setText(self.tr("Taken as: {what}").format(what=target_text(listed.column, row.kind)))
        notes = column_notes(listed)
        self._notes.setText(notes)
        self._notes.setVisible(bool(notes))
        self._offered = all_taken_as(listed.column, row.kind)
        if not is_same_target:
            self.line.clear()
            self._narrow()

    @Slot()
    def _narrow(self) -> None:
        """Offer what holds all that is typed; nothing is chosen beforehand."""
        self._model.show_rows(holding(self._offered, self.line.text()))
        self.list.begin_anew()

    @Slot()
    def _go_to_list(self) -> None:
        if self._model.rows:
            self.list.setCurrentIndex(self._model.index(0))
            self.list.setFocus(Qt.FocusReason.TabFocusReason)

    @Slot(QModelIndex)
    def _take(self, index: QModelIndex) -> None:
        found = index.data(DOMAIN_ROLE)
        if isinstance(found, TakenAs) and self._row is not None:
            self.taken_as.emit(self._row.listed.column.place, found)

    @Slot()
    def _resize_to_text(self) -> None:
        self.line.setMinimumHeight(self._look.px(_HEIGHT_PX))
        self.list.setMinimumHeight(self._look.px(_LIST_PX))
        self.list.doItemsLayout()
