"""The pair sheet: the shop's figures and the filter, engines by pumps as a table, and the chosen pair beside it."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from xref_app.gui.folding_sheet import FoldingSheet
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.mind_first import mind_first_label
from xref_app.gui.pair_details import PairDetails, money_line
from xref_app.gui.pair_table import PairModel, PairTable
from xref_app.gui.pair_words import WANTED, count_text, said
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.services.best_pairs import Pairing, PairWishes
from xref_app.services.pair_matrix import PairMatrix

_MONEY_PX = 84


class PairSheet(FoldingSheet):
    """Shows a matrix and a pairing; ``figures_changed`` tells that one of the shop's figures was typed."""

    figures_changed = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        named(self, "pairs_sheet_page", self.tr("Pair up"))
        self.model = PairModel(self)
        self._goes_to_best = True
        self.filter_button = named(QPushButton(self), "pairs_filter_button", self.tr("Which pairs"))
        self.filter_button.setProperty("small", "true")
        self.sells_line = money_line(self, "sells", self.tr("A machine sells for"))
        self.rate_line = money_line(self, "rate", self.tr("An hour of work costs"))
        self._count = quiet_label(self, "pairs_count_label")
        self.table = named(PairTable(look, self.model), "pairs_matrix_table", self.tr("Engines by pumps"))
        self.details = PairDetails(look, self)
        self.engine_line = self.details.engine_line
        self.leave_button = named(QPushButton(self.tr("Leave  Esc"), self), "pairs_leave_button", self.tr("Leave"))
        self.leave_button.setProperty("small", "true")
        self._lay_out()
        for line in (self.sells_line, self.rate_line, self.engine_line):
            line.editingFinished.connect(self.figures_changed)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _lay_out(self) -> None:
        pane = QFrame(self)
        pane.setObjectName("pairs_table_frame")
        pane.setProperty("pane", "true")
        title = heading_label(self, "pairs_title_label", self.tr("Pair up"))
        title.setWordWrap(False)
        first = QHBoxLayout()
        first.setContentsMargins(10, 6, 8, 0)
        first.setSpacing(8)
        first.addWidget(title)
        first.addStretch(1)
        first.addWidget(self.filter_button)
        first.addWidget(self.leave_button)
        self._count.setContentsMargins(10, 0, 8, 2)
        self._mind_first = mind_first_label(self, "pairs_cautions_label")
        self._mind_first.setContentsMargins(10, 0, 8, 6)
        left = QVBoxLayout(pane)
        left.setContentsMargins(1, 1, 1, 1)
        left.setSpacing(4)
        left.addLayout(first)
        left.addLayout(self._figures_row())
        left.addWidget(self._count)
        left.addWidget(self.table, 1)
        left.addWidget(self._mind_first)
        self._put_side_by_side(pane, self.details)

    def _figures_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(10, 0, 8, 0)
        row.setSpacing(6)
        for line, words in (
            (self.sells_line, self.tr("Sells for")),
            (self.rate_line, self.tr("Hour costs")),
        ):
            label = QLabel(words, self)
            label.setObjectName(line.objectName().replace("_line", "_label"))
            label.setBuddy(line)
            row.addWidget(label)
            row.addWidget(line)
        row.addStretch(1)
        return row

    # -- what is shown

    def say_count(self, words: str) -> None:
        """Say one sentence where the counts stand."""
        self._count.setText(words)

    def show_matrix(self, matrix: PairMatrix) -> None:
        """Show these units; the pair looked at stays chosen where both its units are still there."""
        index = self.table.currentIndex()
        before = self.model.cell(index.row(), index.column()).pair if index.isValid() else ("", "")
        self.model.show_matrix(matrix)
        self.say_count(count_text(matrix))
        self.table.setEnabled(self.model.rowCount() > 0)
        place = self.model.place_of(before)
        if self.model.rowCount() and self.model.columnCount():
            self.table.setCurrentIndex(place if place.isValid() else self.model.index(0, 0))
        self._goes_to_best = not place.isValid()

    def show_pairing(self, pairing: Pairing, wishes: PairWishes) -> None:
        """Mark and list the pairs to be made."""
        self.filter_button.setText(f"{said(WANTED[wishes.wanted])}  Ctrl+Shift+V")
        self.model.show_pairing(pairing, wishes)
        self.details.show_pairing(pairing, self.model.matrix)
        if self._goes_to_best and pairing.pairs:
            self.go_to((pairing.pairs[0].engine.unit_id, pairing.pairs[0].pump.unit_id))
        self._goes_to_best = False

    def go_to(self, pair: tuple[str, str]) -> None:
        """Look at this pair in the table."""
        place = self.model.place_of(pair)
        if place.isValid():
            self.table.setCurrentIndex(place)

    def step_pane(self, step: int) -> None:
        """Go round the table, the list of pairs and the figures."""
        places: list[QWidget] = [self.table, self.details.list, self.sells_line]
        self._step_through(places, step)

    @Slot()
    def _resize_to_text(self) -> None:
        self._fold()
        for line in (self.sells_line, self.engine_line, self.rate_line):
            line.setFixedWidth(self._look.px(_MONEY_PX))
            line.setMinimumHeight(self._look.px(30))
