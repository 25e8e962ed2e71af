"""The right side of the sheet: the whole list, a column or a row, and below it the take with what it still lacks."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from xref_app.gui.folding_sheet import SideDetails
from xref_app.gui.labels import plain_label
from xref_app.gui.rows import named
from xref_app.gui.supplier_about import SupplierAbout
from xref_app.gui.supplier_column import SupplierColumn
from xref_app.gui.supplier_row import SupplierRow
from xref_app.gui.supplier_words import take_text, why_not_take
from xref_app.gui.theme import Look
from xref_app.services.supplier_looked import Looked, Standing

# House rule: looks only.
_WIDTH_PX = 450


class SupplierDetails(SideDetails):
    """Shows one of three pages; the buttons below stay."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent, prefix="supplier", width_px=_WIDTH_PX)
        named(self, "supplier_details_frame", self.tr("What is chosen"))
        self.about = SupplierAbout(look, self)
        self.column = SupplierColumn(look, self)
        self.row = SupplierRow(look, self)
        self._pages = QStackedWidget(self)
        self._pages.setObjectName("supplier_details_stack")
        for page in (self.about, self.column, self.row):
            self._pages.addWidget(page)
        self.why = plain_label(self, "supplier_why_label")
        self.take_button = self._button("take", take_text(None))
        self.refused_button = self._button("refused", self.tr("Save refused…"))
        self.other_button = self._button("other", self.tr("Choose a file…"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"))
        self.back_button = self._button("back", self.tr("Back to the list  Shift+F6"))
        self._has_list = False
        self._lay_out()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_looked(None, is_working=False)

    def _lay_out(self) -> None:
        self._taking, self._others = QHBoxLayout(), QHBoxLayout()
        for row in (self._taking, self._others):
            row.setSpacing(6)
        self._taking.addWidget(self.back_button, 1)
        self._taking.addWidget(self.take_button, 1)
        for button in (self.refused_button, self.other_button, self.leave_button):
            self._others.addWidget(button, 1)
        below = QVBoxLayout()
        below.setContentsMargins(10, 0, 10, 8)
        below.setSpacing(6)
        below.addWidget(self.why)
        below.addLayout(self._taking)
        below.addLayout(self._others)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(1, 1, 1, 1)
        whole.setSpacing(4)
        whole.addWidget(self._pages, 1)
        whole.addLayout(below)
        self.back_button.hide()

    @property
    def page(self) -> QWidget:
        """Return the page in front."""
        return next(one for one in (self.about, self.column, self.row) if one is self._pages.currentWidget())

    def show_page(self, page: QWidget) -> None:
        """Bring one of the three pages to the front."""
        self._pages.setCurrentWidget(page)

    def show_looked(self, looked: Looked | None, *, is_working: bool) -> None:
        """Say what can be taken, or why nothing can be yet."""
        lacking = why_not_take(looked, is_working=is_working)
        self.why.setText(lacking)
        self.why.setVisible(bool(lacking))
        words = take_text(looked)
        self.take_button.setText(f"{words}  F12")
        self.take_button.setAccessibleName(words)
        self.take_button.setEnabled(not lacking)
        self.take_button.setToolTip(lacking)
        self._has_list = looked is not None
        self._show_buttons()
        left = 0 if looked is None else looked.counts[Standing.LOOK] + looked.counts[Standing.REFUSED]
        self.refused_button.setEnabled(bool(left) and not is_working)
        self.other_button.setText(self.tr("Choose a file…") if looked is None else self.tr("Another file…"))

    def set_folded(self, *, is_folded: bool) -> None:
        """Take the whole width alone, with a way back and one row of buttons; or stand at the right.

        What has no button then is done by its key or from the menu.
        """
        if is_folded != self._is_folded:
            (self._taking if is_folded else self._others).insertWidget(2 if is_folded else 0, self.refused_button, 1)
        self._is_folded = is_folded
        self._show_buttons()
        self._resize_to_text()

    def _show_buttons(self) -> None:
        has_list = self._has_list
        self.back_button.setVisible(self._is_folded and has_list)
        self.other_button.setVisible(not self._is_folded or not has_list)
        self.leave_button.setVisible(not self._is_folded or not has_list)
