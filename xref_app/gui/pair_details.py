"""The right side of the pair sheet: the chosen pair with its sum and the acts, then the pairs to be made."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QWidget

from xref_app.core.plan.pair_value import PairSum
from xref_app.gui.fit_pane import danger_text
from xref_app.gui.folding_sheet import SideDetails
from xref_app.gui.labels import heading_label, plain_label, quiet_label
from xref_app.gui.messages import say, verdict_word
from xref_app.gui.pair_list import PairLine, PairLineDelegate, PairLines, PutBy
from xref_app.gui.pair_table import PairCell
from xref_app.gui.pair_words import about_text, measure_text, money, pair_text, sum_text
from xref_app.gui.rows import QuietListView, named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate
from xref_app.services.best_pairs import Pairing
from xref_app.services.pair_matrix import PairMatrix

_WIDTH_PX = 430
_LIST_PX = 110
_LONGEST_MONEY = 9


class PairDetails(SideDetails):
    """Shows one pair and the list; tells nothing by itself: every act is a command of the window."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent, prefix="pairs", width_px=_WIDTH_PX)
        named(self, "pairs_details_frame", self.tr("The chosen pair"))
        self._lines = PairLines(self)
        self._name = heading_label(self, "pairs_name_label", "")
        self._verdict = plain_label(self, "pairs_verdict_label")
        self._sum = plain_label(self, "pairs_sum_label")
        self._about = quiet_label(self, "pairs_about_label")
        self._together = heading_label(self, "pairs_together_label", "")
        self._measure = quiet_label(self, "pairs_measure_label")
        self.list = named(QuietListView(self), "pairs_made_list", self.tr("Pairs to be made"))
        self.list.setModel(self._lines)
        self.list.setItemDelegate(PairLineDelegate(look, self.list))
        self.reserve_button = self._button("reserve", self.tr("Reserve both  Ctrl+R"))
        self.release_button = self._button("release", self.tr("Release  Ctrl+G"))
        self.force_button = self._button("force", self.tr("Pair surely  Ctrl+Shift+F"))
        self.forbid_button = self._button("forbid", self.tr("Never  Ctrl+Shift+X"))
        self.engine_line = money_line(self, "engine", self.tr("With this engine it sells for"))
        self._engine_label = plain_label(self, "pairs_engine_label", self.tr("With this engine it sells for"))
        self._engine_label.setBuddy(self.engine_line)
        self._lay_out()
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _lay_out(self) -> None:
        self._acts = QWidget(self)
        self._acts.setObjectName("pairs_acts_box")
        acts = QGridLayout(self._acts)
        acts.setContentsMargins(0, 0, 0, 0)
        acts.setSpacing(6)
        places = (
            (self.force_button, 0, 0),
            (self.forbid_button, 0, 1),
            (self.reserve_button, 1, 0),
            (self.release_button, 1, 1),
        )
        for button, row, column in places:
            acts.addWidget(button, row, column)
        above, below = column_above_column(self, "pairs_details_area")
        own = QHBoxLayout()
        own.addWidget(self._engine_label, 1)
        own.addWidget(self.engine_line)
        for label in (self._name, self._verdict, self._sum):
            above.addWidget(label)
        above.addLayout(own)
        above.addWidget(self._together)
        above.addWidget(self.list, 1)
        above.addWidget(self._measure)
        above.addWidget(self._about)
        below.addWidget(self._acts)

    # -- what is shown

    @property
    def chosen_line(self) -> PairLine | None:
        """Return the chosen row of the list."""
        row = self.list.currentIndex().row()
        return self._lines.rows[row] if 0 <= row < len(self._lines.rows) else None

    @property
    def lines(self) -> tuple[PairLine, ...]:
        """Return all rows of the list."""
        return self._lines.rows

    def show_cell(self, cell: PairCell | None, total: PairSum | None) -> None:
        """Show this pair with its sum; the judgement follows."""
        self._name.setText(self.tr("No pair chosen.") if cell is None else pair_text(cell.engine, cell.pump))
        self._verdict.setText("" if cell is None else verdict_word(cell.found.verdict))
        self._sum.setText("" if total is None else sum_text(total))
        about = () if cell is None else (about_text(cell.engine), about_text(cell.pump))
        self._about.setText("\n".join(about))
        for label in (self._verdict, self._sum, self._about):
            label.setVisible(bool(label.text()))
        for button in (self.reserve_button, self.force_button, self.forbid_button):
            button.setEnabled(cell is not None)

    def show_judged(self, cell: PairCell, candidate: Candidate) -> None:
        """Say why this pair is judged as it is, and what the records tell of it."""
        said = [f"{verdict_word(cell.found.verdict)}: {say(candidate.headline)}"]
        said += [danger_text(one) for one in candidate.judgement.danger]
        for remark in candidate.remarks:
            said.append(" ".join(say(one) for one in (remark.line, remark.further) if one is not None))
        self._verdict.setText("\n".join(said))
        self._verdict.show()

    def show_pairing(self, pairing: Pairing, matrix: PairMatrix) -> None:
        """Show the pairs to be made and what is put by; the chosen row stays chosen."""
        chosen = self.list.currentIndex().row()
        rows: tuple[PairLine, ...] = (*pairing.pairs, *(PutBy(row, unit) for row, unit in matrix.put_by))
        self._lines.show_rows(rows)
        count, value = len(pairing.pairs), money(pairing.value)
        words = (
            self.tr("1 pair to be made, {value} left")
            if count == 1
            else self.tr("{count} pairs to be made, {value} left together")
        )
        self._together.setText(words.format(count=count, value=value) if count else self.tr("No pair to be made."))
        self._measure.setText(measure_text(pairing.measure_next))
        self._measure.setVisible(bool(self._measure.text()))
        self.list.setEnabled(bool(rows))
        self.release_button.setEnabled(bool(matrix.put_by))
        if rows:
            self.list.setCurrentIndex(self._lines.index(min(max(chosen, 0), len(rows) - 1)))

    @Slot()
    def _resize_to_text(self) -> None:
        super()._resize_to_text()
        self.list.setMinimumHeight(self._look.px(_LIST_PX))
        self.list.doItemsLayout()


def money_line(parent: QWidget, name: str, title: str) -> QLineEdit:
    """Return a line for a sum of the shop's money."""
    line = named(QLineEdit(parent), f"pairs_{name}_line", title)
    line.setMaxLength(_LONGEST_MONEY)
    return line
