"""The sheet "Read supplier file": columns or rows on the left, what is chosen of them on the right."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from xref_app.gui.folding_sheet import FoldingSheet
from xref_app.gui.labels import heading_label, plain_label, quiet_label
from xref_app.gui.rows import DOMAIN_ROLE, named
from xref_app.gui.supplier_columns import ColumnRow, ListRow, SupplierColumnsView, WholeList
from xref_app.gui.supplier_details import SupplierDetails
from xref_app.gui.supplier_rows import SupplierRowsView
from xref_app.gui.supplier_words import NOT_READ, counts_text, read_as_text, told, whole_list_text
from xref_app.gui.theme import Look
from xref_app.services.supplier_looked import ListedRow, Looked

# House rule: looks only.
_LIST_PX, _LISTS_PX = 96, 380


class SupplierSheet(FoldingSheet):
    """Shows a list as it was looked at; what is said of it is told from here and done elsewhere.

    Where both sides have no room beside each other, the one in work is shown alone.
    """

    row_chosen = Signal(object)
    _list_px = _LISTS_PX

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        named(self, "supplier_sheet_page", self.tr("Read supplier file"))
        self._looked: Looked | None = None
        self._suppliers: tuple[str, ...] = ()
        self._shows_details = True
        self._is_working = False
        self._title = heading_label(self, "supplier_title_label", self.tr("Read supplier file"))
        self._whose = plain_label(self, "supplier_whose_label")
        self._read_as = quiet_label(self, "supplier_read_label")
        self._counts = heading_label(self, "supplier_counts_label", told(NOT_READ))
        self.columns_button = self._switch("columns", self.tr("Columns"))
        self.rows_button = self._switch("rows", self.tr("Rows"))
        self.columns = named(SupplierColumnsView(look, self), "supplier_columns_list", self.tr("Columns of the list"))
        self.rows = named(SupplierRowsView(look, self), "supplier_rows_list", self.tr("Rows of the list"))
        self._lists = QStackedWidget(self)
        self._lists.setObjectName("supplier_lists_stack")
        self.on_button = named(
            QPushButton(self.tr("On to what is chosen  F6"), self),
            "supplier_on_button",
            self.tr("On to what is chosen"),
        )
        self.on_button.setProperty("small", "true")
        self.details = SupplierDetails(look, self)
        self._lay_out()
        self._connect()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_looked(None, ())

    def _switch(self, name: str, words: str) -> QPushButton:
        button = named(QPushButton(words, self), f"supplier_{name}_button", words)
        button.setProperty("small", "true")
        button.setCheckable(True)
        button.setAutoExclusive(True)
        return button

    def _lay_out(self) -> None:
        pane = self._pane = QFrame(self)
        pane.setObjectName("supplier_lists_frame")
        pane.setProperty("pane", "true")
        for view in (self.columns, self.rows):
            self._lists.addWidget(view)
        switches = QHBoxLayout()
        switches.setContentsMargins(10, 0, 8, 0)
        switches.setSpacing(6)
        switches.addWidget(self._counts, 1)
        switches.addWidget(self.columns_button)
        switches.addWidget(self.rows_button)
        left = QVBoxLayout(pane)
        left.setContentsMargins(1, 1, 1, 1)
        left.setSpacing(4)
        for label in (self._title, self._whose, self._read_as):
            label.setContentsMargins(10, 6 if label is self._title else 0, 8, 0)
            left.addWidget(label)
        left.addLayout(switches)
        left.addWidget(self._lists, 1)
        left.addWidget(self.on_button)
        self.on_button.hide()
        self._put_side_by_side(pane, self.details)

    def _connect(self) -> None:
        for view in (self.columns, self.rows):
            view.selectionModel().currentChanged.connect(self._follow)
            view.activated.connect(self._go_on)
        self.columns_button.clicked.connect(self.focus_columns)
        self.rows_button.clicked.connect(self.focus_rows)
        self.on_button.clicked.connect(self._go_on)
        self.details.back_button.clicked.connect(self._go_back)
        self.details.about.supplier_entered.connect(self._go_to_columns)

    # -- what is shown

    @property
    def looked(self) -> Looked | None:
        """Return the list as it is shown."""
        return self._looked

    @property
    def row(self) -> ListedRow | None:
        """Return the chosen row."""
        found = self.rows.currentIndex().data(DOMAIN_ROLE)
        return found if isinstance(found, ListedRow) else None

    @property
    def counted(self) -> str:
        """Return the line above the list."""
        return self._counts.text()

    @property
    def read_as(self) -> str:
        """Return how the file was read, in words."""
        return self._read_as.text()

    def show_working(self, *, is_working: bool) -> None:
        """Say that rows are being looked at, so that nothing can be taken yet; or that they were."""
        self._is_working = is_working
        self.details.show_looked(self._looked, is_working=is_working)

    def say_count(self, words: str) -> None:
        """Say one sentence where the counts stand."""
        self._counts.setText(words)

    def show_looked(self, looked: Looked | None, suppliers: tuple[str, ...]) -> None:
        """Show this list; the column and the row looked at stay chosen, or what came into their place."""
        is_same_file = (
            self._looked is not None and looked is not None and self._looked.preview.file is looked.preview.file
        )
        self._looked, self._suppliers = looked, suppliers
        self.details.about.show_preview(None if looked is None else looked.preview, suppliers)
        self.details.show_looked(looked, is_working=self._is_working)
        for widget in (self.columns, self.rows, self.columns_button, self.rows_button):
            widget.setEnabled(looked is not None)
        if looked is None:
            self.columns_button.setChecked(True)
            self._show_head()
            return
        preview = looked.preview
        self._title.setText(self.tr("Supplier file: {name}").format(name=preview.file.name))
        self._whose.setText(whole_list_text(preview))
        self._read_as.setText(read_as_text(preview))
        self.say_count(counts_text(looked))
        self._show_columns(looked, keeps_place=is_same_file)
        self._show_rows(looked, keeps_place=is_same_file)
        if not is_same_file:
            self._show_list(self.columns)
        self._show_head()
        self._show_chosen()

    def show_again(self) -> None:
        """Show what is said of the list as it was looked at last."""
        if self._looked is not None:
            self.details.about.show_preview(self._looked.preview, self._suppliers)

    def _show_columns(self, looked: Looked, *, keeps_place: bool) -> None:
        kind = looked.preview.said.columns.kind
        before = max(0, self.columns.currentIndex().row()) if keeps_place else 0
        whole = WholeList(self.tr("The whole list"), whole_list_text(looked.preview))
        rows: tuple[ListRow, ...] = (whole, *(ColumnRow(one, kind) for one in looked.columns))
        self.columns.columns_model.show_rows(rows)
        self.columns.setCurrentIndex(self.columns.columns_model.index(min(before, len(rows) - 1)))

    def _show_rows(self, looked: Looked, *, keeps_place: bool) -> None:
        """Keep the row looked at where it still stands as it stood, else look at what came into its place."""
        before, number = self.row, max(0, self.rows.currentIndex().row())
        model = self.rows.rows_model
        model.show_rows(looked.rows)
        if not looked.rows:
            return
        if not keeps_place or before is None:
            self.rows.setCurrentIndex(model.index(0))
            return
        now = model.place_of(before.row.place)
        stays = now >= 0 and model.rows[now].standing is before.standing
        self.rows.setCurrentIndex(model.index(now if stays else min(number, len(looked.rows) - 1)))

    @Slot(QModelIndex, QModelIndex)
    def _follow(self, _current: QModelIndex, _previous: QModelIndex) -> None:
        self._show_chosen()

    def _show_chosen(self) -> None:
        """Show at the right what is chosen in the list in front."""
        looked, details = self._looked, self.details
        if looked is None:
            return
        if self._lists.currentWidget() is self.rows:
            listed = self.row
            if listed is not None:
                self._show_row(looked, listed)
            return
        found = self.columns.currentIndex().data(DOMAIN_ROLE)
        if isinstance(found, ColumnRow):
            details.column.show_column(found)
            details.show_page(details.column)
        elif isinstance(found, WholeList):
            details.show_page(details.about)

    def _show_row(self, looked: Looked, listed: ListedRow) -> None:
        """Show a row; where it has nothing to answer, the keys go back to the rows."""
        page = self.details.row
        had_keys = page.list.hasFocus()
        page.show_row(looked, listed)
        self.details.show_page(page)
        if had_keys and not page.has_answers:
            self._go_to(self.rows)
        self.row_chosen.emit(listed)

    # -- going about

    @Slot()
    def focus_columns(self) -> None:
        """Put the keys into the columns."""
        self._go_to(self.columns)

    @Slot()
    def focus_rows(self) -> None:
        """Put the keys into the rows."""
        self._go_to(self.rows)

    def focus_first(self) -> None:
        """Put the keys where something must be said first: into the supplier's line, else into the list in front."""
        looked = self._looked
        if looked is None:
            self._go_to(self.details.other_button)
        elif not looked.preview.said.supplier and self._lists.currentWidget() is self.columns:
            self.columns.setCurrentIndex(self.columns.columns_model.index(0))
            self._go_to(self.details.about.line)
        else:
            self._go_to(self._list_in_front)

    def step_pane(self, step: int) -> None:
        """Go round the columns, the chosen column, the rows, the chosen row."""
        if self._looked is None:
            self._go_to(self.details.other_button)
            return
        focus: QWidget | None = self.window().focusWidget()
        is_right = focus is not None and self.details.isAncestorOf(focus)
        here = 2 * (self._lists.currentWidget() is self.rows) + is_right
        is_outside = not is_right and focus not in {self.columns, self.rows}
        target = here if is_outside else (here + step) % 4
        if target % 2:
            self._show_list(self.rows if target > 1 else self.columns)
            self._go_to(self._first_on_the_right)
        else:
            self._go_to(self.rows if target else self.columns)

    @property
    def _list_in_front(self) -> QWidget:
        return self.rows if self._lists.currentWidget() is self.rows else self.columns

    @property
    def _first_on_the_right(self) -> QWidget:
        details = self.details
        if details.page is details.about:
            return details.about.line
        if details.page is details.column:
            return details.column.line
        return details.row.list if details.row.has_answers else details.take_button

    @Slot()
    def _go_on(self) -> None:
        self._go_to(self._first_on_the_right)

    @Slot()
    def _go_back(self) -> None:
        self._go_to(self._list_in_front)

    @Slot()
    def _go_to_columns(self) -> None:
        """Go from the supplier's line to the first column."""
        if self._looked is not None:
            self.focus_columns()

    def _show_list(self, view: QWidget) -> None:
        self._lists.setCurrentWidget(view)
        self.columns_button.setChecked(view is self.columns)
        self.rows_button.setChecked(view is self.rows)
        self._show_chosen()

    def _go_to(self, place: QWidget) -> None:
        if place in {self.columns, self.rows}:
            self._show_list(place)
        self._shows_details = self.details.isAncestorOf(place)
        self._fold()
        if not place.isEnabled():
            place = self.details.leave_button
        place.setFocus(Qt.FocusReason.ShortcutFocusReason)

    # -- room

    def hasHeightForWidth(self) -> bool:
        """Say no: the words of a side that is not shown must not hold the window up."""
        return False

    def _show_head(self) -> None:
        """Say above the list how it was read, where there is room; else the whole list says it on its page."""
        has_room = self._looked is not None and not self._is_narrow
        self._whose.setVisible(has_room)
        self._read_as.setVisible(has_room)

    def _fold(self) -> None:
        is_narrow = self._is_narrow
        self.on_button.setVisible(is_narrow)
        self.details.set_folded(is_folded=is_narrow)
        self._pane.setVisible(not (is_narrow and self._shows_details))
        self.details.setVisible(not is_narrow or self._shows_details)
        self._show_head()

    @Slot()
    def _resize_to_text(self) -> None:
        self._fold()
        for view in (self.columns, self.rows):
            view.setMinimumHeight(self._look.px(_LIST_PX))
            view.doItemsLayout()
