"""The sheet of the copies: the list, and beside it what can be done with the chosen one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from xref_app.gui.copies_list import CopiesModel, CopyDelegate
from xref_app.gui.copies_words import count_text, holds_text, state_text, when_of
from xref_app.gui.folding_sheet import FoldingSheet, SideDetails, list_pane
from xref_app.gui.labels import heading_label, plain_label, quiet_label
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look
from xref_app.services.copies_told import CopyLine
from xref_app.services.store_copies import CopiesTold

# House rule: looks only.
_WIDTH_PX = 420
# One copy; below that the whole window would grow at the largest text.
_LIST_PX = 70


class CopyDetails(SideDetails):
    """The chosen copy, what putting it back would do once that was asked, and the acts."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent, prefix="copies", width_px=_WIDTH_PX)
        named(self, "copies_details_frame", self.tr("The chosen copy"))
        self._when = heading_label(self, "copies_when_label", "")
        self._holds = plain_label(self, "copies_holds_label")
        self._state = quiet_label(self, "copies_state_label")
        self.would = plain_label(self, "copies_would_label")
        self._ways = quiet_label(
            self,
            "copies_ways_label",
            self.tr(
                "Put all back: the catalog is as in the copy. Bring back only what is missing: nothing is altered or "
                "taken away. What would change is told first; before it is done the present state is copied, and "
                "Ctrl+Z takes it back."
            ),
        )
        self.all_button = self._button("all", self.tr("Put all back…  Enter"))
        self.missing_button = self._button("missing", self.tr("Only what is missing…"))
        self.now_button = self._button("now", self.tr("Copy now"))
        self.elsewhere_button = self._button("elsewhere", self.tr("Copy to a stick…"))
        self.from_button = self._button("from", self.tr("From a file…"))
        self.bundle_button = self._button("bundle", self.tr("Help bundle…"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"))
        self._lay_out()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_copy(None, only_as_file=False)

    def _lay_out(self) -> None:
        self._acts = QWidget(self)
        self._acts.setObjectName("copies_acts_box")
        above, below = column_above_column(self, "copies_details_area")
        for label in (self._when, self._holds, self._state, self.would, self._ways):
            above.addWidget(label)
        above.addStretch(1)
        below.addLayout(_row(self.all_button, self.missing_button))
        column = QVBoxLayout(self._acts)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(_row(self.now_button, self.elsewhere_button, self.from_button))
        column.addLayout(_row(self.bundle_button, self.leave_button))
        below.addWidget(self._acts)

    def show_copy(self, line: CopyLine | None, *, only_as_file: bool) -> None:
        """Show this copy; None shows that none is chosen. ``only_as_file`` leaves but the whole copy to put back."""
        self._when.setText(self.tr("No copy chosen.") if line is None else when_of(line))
        self._holds.setText("" if line is None else holds_text(line))
        self._state.setText("" if line is None else state_text(line))
        can_be_read = line is not None and line.holds is not None
        self.all_button.setEnabled(can_be_read)
        self.missing_button.setEnabled(can_be_read and not only_as_file)
        self.say_would(())

    def say_would(self, sentences: Sequence[str]) -> None:
        """Say what putting the copy back would do; empty takes it away."""
        self.would.setText("\n".join(sentences))
        self.would.setVisible(bool(sentences))


class CopiesSheet(FoldingSheet):
    """Shows copies; what is done with them is told from here and done elsewhere."""

    chosen = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        named(self, "copies_sheet_page", self.tr("Copies of the catalog"))
        self._told = CopiesTold(are_kept=True)
        self._model = CopiesModel(self)
        self._title = heading_label(self, "copies_title_label", self.tr("Copies of the catalog"))
        self._count = quiet_label(self, "copies_count_label")
        self.list = named(QuietListView(self), "copies_kept_list", self.tr("Copies, newest first"))
        self.list.setModel(self._model)
        self.list.setItemDelegate(CopyDelegate(look, self.list))
        self.details = CopyDetails(look, self)
        pane = list_pane(self, "copies_list_frame", (self._title, self._count), self.list)
        self._put_side_by_side(pane, self.details)
        self.list.activated.connect(self._tell_chosen)
        self.list.selectionModel().currentChanged.connect(self._show_current)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    @property
    def line(self) -> CopyLine | None:
        """Return the chosen copy."""
        found = self.list.currentIndex().data(DOMAIN_ROLE)
        return found if isinstance(found, CopyLine) else None

    @property
    def told(self) -> CopiesTold:
        """Return all that is shown."""
        return self._told

    @property
    def counted(self) -> str:
        """Return the line above the list."""
        return self._count.text()

    def say_count(self, words: str) -> None:
        """Say one sentence where the count stands."""
        self._count.setText(words)

    def show_copies(self, told: CopiesTold) -> None:
        """Show these; the one looked at stays chosen where it is still there, else the newest whole one is."""
        before = self.line
        self._told = told
        self._model.show_rows(told.lines)
        self.list.doItemsLayout()
        self.say_count(count_text(told))
        self.details.now_button.setEnabled(told.are_kept)
        paths = [one.path for one in told.lines]
        wanted = before if before is not None and before.path in paths else told.newest_good
        if paths:
            self.list.setCurrentIndex(self._model.index(paths.index(wanted.path) if wanted else 0))
        self._show_line()

    def show_elsewhere(self, line: CopyLine) -> None:
        """Show a copy that lies elsewhere above the others, and choose it."""
        others = tuple(one for one in self._told.lines if one.path != line.path)
        self._told = replace(self._told, lines=(line, *others))
        self._model.show_rows(self._told.lines)
        self.list.doItemsLayout()
        self.list.setCurrentIndex(self._model.index(0))
        self._show_line()

    def step_pane(self, step: int) -> None:
        """Go between the list and the buttons."""
        buttons = (self.details.all_button, self.details.now_button, self.details.leave_button)
        self._step_through((self.list, next(one for one in buttons if one.isEnabled())), step)

    def focus_copies(self) -> None:
        """Put the keys into the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot(QModelIndex)
    def _tell_chosen(self, _index: QModelIndex) -> None:
        self.chosen.emit()

    @Slot(QModelIndex, QModelIndex)
    def _show_current(self, _current: QModelIndex, _previous: QModelIndex) -> None:
        self._show_line()

    def _show_line(self) -> None:
        self.details.show_copy(self.line, only_as_file=self._told.only_as_file)

    @Slot()
    def _resize_to_text(self) -> None:
        self._fold()
        self.list.setMinimumHeight(self._look.px(_LIST_PX))
        self.list.doItemsLayout()


def _row(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(6)
    for widget in widgets:
        row.addWidget(widget, 1)
    return row
