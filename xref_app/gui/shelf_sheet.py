"""The shelf sheet: every place in one list, found by name, kind, bin, job or size, and the chosen one beside it."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, QTimer, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.folding_sheet import FoldingSheet
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, named
from xref_app.gui.shelf_details import ShelfDetails
from xref_app.gui.shelf_model import ShelfDelegate, ShelfModel
from xref_app.gui.theme import Look
from xref_app.services.shelf_lines import ShelfLine, filtered

_LONGEST_FILTER = 60


class ShelfSheet(FoldingSheet):
    """Shows lines and tells nothing by itself: every act is a command of the window."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        named(self, "shelf_sheet_page", self.tr("Shelf"))
        self._lines: tuple[ShelfLine, ...] = ()
        self._model = ShelfModel(self)
        self.filter = named(QLineEdit(self), "shelf_filter_line", self.tr("Find on the shelf"))
        self.filter.setMaxLength(_LONGEST_FILTER)
        self.filter.setPlaceholderText(self.tr("name, kind, bin, job or size, such as: spacer 3.2, key 5/16, C3"))
        self.low_button = named(
            QPushButton(self.tr("Low only  Ctrl+Shift+L"), self), "shelf_low_button", self.tr("Low only")
        )
        self.low_button.setCheckable(True)
        self.low_button.setProperty("small", "true")
        self._count = quiet_label(self, "shelf_count_label")
        self.list = named(QuietListView(self), "shelf_places_list", self.tr("Places of the shelf"))
        self.list.setModel(self._model)
        self.list.setItemDelegate(ShelfDelegate(look, self.list))
        self.details = ShelfDetails(look, self)
        self._settling = QTimer(self)
        self._settling.setSingleShot(True)
        self._settling.timeout.connect(self._show_current)
        self._lay_out()
        self.filter.textChanged.connect(self._refilter)
        self.filter.returnPressed.connect(self._go_down)
        self.low_button.toggled.connect(self._refilter)
        self.list.selectionModel().currentChanged.connect(self._show_chosen)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _lay_out(self) -> None:
        pane = QFrame(self)
        pane.setObjectName("shelf_list_frame")
        pane.setProperty("pane", "true")
        title = heading_label(self, "shelf_title_label", self.tr("Shelf"))
        title.setWordWrap(False)
        find = QHBoxLayout()
        find.setContentsMargins(10, 6, 8, 0)
        find.setSpacing(8)
        find.addWidget(title)
        find.addWidget(self.filter, 1)
        find.addWidget(self.low_button)
        self._count.setContentsMargins(10, 0, 8, 2)
        left = QVBoxLayout(pane)
        left.setContentsMargins(1, 1, 1, 1)
        left.setSpacing(4)
        left.addLayout(find)
        left.addWidget(self._count)
        left.addWidget(self.list, 1)
        self._put_side_by_side(pane, self.details)

    @property
    def line(self) -> ShelfLine | None:
        """Return the chosen place."""
        return self.details.line

    @property
    def shown(self) -> tuple[ShelfLine, ...]:
        """Return the places that the filter lets through."""
        return self._model.rows

    def show_lines(self, lines: tuple[ShelfLine, ...]) -> None:
        """Show the shelf as it stands now; the chosen place stays chosen."""
        self._lines = lines
        self._refilter()

    def choose(self, shelf_id: str) -> None:
        """Choose one place, whatever was filtered before, and put the keys on it."""
        self.filter.clear()
        self.low_button.setChecked(False)
        ids = [one.place.shelf_id for one in self.shown]
        if shelf_id in ids:
            self.list.setCurrentIndex(self._model.index(ids.index(shelf_id)))
            self.list.scrollTo(self.list.currentIndex())
            self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def _refilter(self) -> None:
        shelf_id = self.line.place.shelf_id if self.line is not None else ""
        rows = filtered(self._lines, self.filter.text(), low_only=self.low_button.isChecked())
        bar, scrolled = self.list.verticalScrollBar(), self.list.verticalScrollBar().value()
        self._model.show_rows(rows)
        self.list.doItemsLayout()
        self._count.setText(self._count_text(rows))
        ids = [one.place.shelf_id for one in rows]
        place = ids.index(shelf_id) if shelf_id in ids else 0
        if rows:
            self.list.setCurrentIndex(self._model.index(place))
            bar.setValue(scrolled if shelf_id in ids else 0)
            self.list.scrollTo(self._model.index(place))
        else:
            self.details.show_line(None)

    def _count_text(self, rows: tuple[ShelfLine, ...]) -> str:
        if not self._lines:
            return self.tr(
                "Nothing is on the shelf yet. A catalog folder brings its bins along: xref-app import FOLDER."
            )
        if not rows:
            return self.tr("No place fits; shorten what is typed, or show all again with Ctrl+Shift+L.")
        low = sum(one.is_low for one in self._lines)
        text = self.tr("{shown} of {all} places; {low} low")
        return text.format(shown=len(rows), all=len(self._lines), low=low)

    @Slot()
    def _go_down(self) -> None:
        """Go from the filter to the list; nothing is changed by it."""
        self.list.setFocus(Qt.FocusReason.TabFocusReason)

    @Slot(QModelIndex, QModelIndex)
    def _show_chosen(self, current: QModelIndex, _previous: QModelIndex) -> None:
        line = current.data(DOMAIN_ROLE)
        self.details.show_line(line if isinstance(line, ShelfLine) else None)

    def step_pane(self, step: int) -> None:
        """Go round the filter, the list and the reservations."""
        self._step_through((self.filter, self.list, self.details.held_view), step)

    def _fold(self) -> None:
        super()._fold()
        self._settling.start()

    def _show_folded(self, *, is_narrow: bool) -> None:
        self._count.setVisible(not is_narrow)

    @Slot()
    def _resize_to_text(self) -> None:
        self._fold()
        self.filter.setMinimumHeight(self._look.px(32))
        self.list.doItemsLayout()
        self._settling.start()

    @Slot()
    def _show_current(self) -> None:
        """Keep the chosen place in sight once all rows have their new height."""
        self.list.scrollTo(self.list.currentIndex())
