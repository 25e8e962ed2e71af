"""The health sheet: what is not right with the catalog as a list, and beside it what can be done about a line."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QWidget

from xref_app.gui.folding_sheet import FoldingSheet, SideDetails, list_pane
from xref_app.gui.health_list import HealthDelegate, HealthModel
from xref_app.gui.health_words import advice_text, count_text, kind_text
from xref_app.gui.labels import heading_label, plain_label, quiet_label
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look
from xref_app.services.health_lines import HealthLine, LineKind

_WIDTH_PX = 380
_LIST_PX = 150


class HealthDetails(SideDetails):
    """What to do about the chosen line, the acts on it, and the check of every row."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent, prefix="health", width_px=_WIDTH_PX)
        named(self, "health_details_frame", self.tr("The chosen line"))
        self._kind = heading_label(self, "health_kind_label", "")
        self.advice = plain_label(self, "health_advice_label")
        self.checked = plain_label(self, "health_checked_label")
        self.open_button = self._button("open", self.tr("Open the job  Enter"))
        self.right_button = self._button("right", self.tr("They were right after all…"))
        self.mend_button = self._button("mend", self.tr("Put right from the copy…"))
        self.check_button = self._button("check", self.tr("Check every row"))
        self.leave_button = self._button("leave", self.tr("Leave  Esc"))
        self._lay_out()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_line(None)

    def _lay_out(self) -> None:
        self._acts = QWidget(self)
        self._acts.setObjectName("health_acts_box")
        alone = QHBoxLayout(self._acts)
        alone.setContentsMargins(0, 0, 0, 0)
        alone.addWidget(self.leave_button)
        above, below = column_above_column(self, "health_details_area")
        above.addWidget(self._kind)
        above.addWidget(self.advice)
        above.addStretch(1)
        below.addWidget(self.checked)
        below.addWidget(self.right_button)
        below.addWidget(self.mend_button)
        for row in ((self.open_button, self.check_button), (self._acts,)):
            pair = QHBoxLayout()
            pair.setSpacing(6)
            for widget in row:
                pair.addWidget(widget, 1)
            below.addLayout(pair)
        self.checked.hide()

    def show_line(self, line: HealthLine | None) -> None:
        """Show this line; None shows that none is chosen."""
        self._kind.setText(self.tr("No line chosen.") if line is None else kind_text(line.kind))
        self.advice.setText("" if line is None else advice_text(line))
        self.advice.setVisible(bool(self.advice.text()))
        self.open_button.setEnabled(line is not None and bool(line.machine_id or line.pump_id))
        self.right_button.setEnabled(line is not None and bool(line.blamed_ids))
        is_damage = line is not None and line.kind is LineKind.DAMAGED
        self.right_button.setVisible(not is_damage)
        self.mend_button.setVisible(is_damage)

    def say_checked(self, words: str) -> None:
        """Say what a check of every row found; empty takes it away."""
        self.checked.setText(words)
        self.checked.setVisible(bool(words))


class HealthSheet(FoldingSheet):
    """Shows lines; what is done about them is told from here and done elsewhere."""

    chosen = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        named(self, "health_sheet_page", self.tr("Health of the catalog"))
        self._model = HealthModel(self)
        self._title = heading_label(self, "health_title_label", self.tr("Health of the catalog"))
        self._count = quiet_label(self, "health_count_label")
        self._copies = quiet_label(self, "health_copies_label")
        self.list = named(QuietListView(self), "health_lines_list", self.tr("What is not right"))
        self.list.setModel(self._model)
        self.list.setItemDelegate(HealthDelegate(look, self.list))
        self.details = HealthDetails(look, self)
        pane = list_pane(self, "health_lines_frame", (self._title, self._count, self._copies), self.list)
        self._put_side_by_side(pane, self.details)
        self.list.activated.connect(self._tell_chosen)
        self.list.selectionModel().currentChanged.connect(self._show_current)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    @property
    def line(self) -> HealthLine | None:
        """Return the chosen line."""
        found = self.list.currentIndex().data(DOMAIN_ROLE)
        return found if isinstance(found, HealthLine) else None

    @property
    def lines(self) -> tuple[HealthLine, ...]:
        """Return all lines."""
        return self._model.rows

    @property
    def counted(self) -> str:
        """Return the line above the list."""
        return self._count.text()

    def say_count(self, words: str) -> None:
        """Say one sentence where the counts stand."""
        self._count.setText(words)

    def _show_folded(self, *, is_narrow: bool) -> None:
        """Where there is little room, the copies are told on their own sheet only."""
        self._copies.setVisible(not is_narrow)

    def say_copies(self, words: str) -> None:
        """Say one sentence about the copies."""
        self._copies.setText(words)

    def show_lines(self, lines: tuple[HealthLine, ...]) -> None:
        """Show these lines; the one looked at stays chosen where it is still there."""
        before, row = self.line, self.list.currentIndex().row()
        self._model.show_rows(lines)
        self.list.doItemsLayout()
        self.say_count(count_text(lines))
        if lines:
            place = lines.index(before) if before in lines else min(max(row, 0), len(lines) - 1)
            self.list.setCurrentIndex(self._model.index(place))
        else:
            self.details.show_line(None)

    def step_pane(self, step: int) -> None:
        """Go between the list and the buttons."""
        buttons = (self.details.open_button, self.details.check_button)
        self._step_through((self.list, next(one for one in buttons if one.isEnabled())), step)

    def focus_lines(self) -> None:
        """Put the keys into the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot(QModelIndex)
    def _tell_chosen(self, _index: QModelIndex) -> None:
        self.chosen.emit()

    @Slot(QModelIndex, QModelIndex)
    def _show_current(self, _current: QModelIndex, _previous: QModelIndex) -> None:
        self.details.show_line(self.line)

    @Slot()
    def _resize_to_text(self) -> None:
        self._fold()
        self.list.setMinimumHeight(self._look.px(_LIST_PX))
        self.list.doItemsLayout()
