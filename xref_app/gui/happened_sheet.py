"""The sheet "What happened": which result on the left, the sizes that may be to blame for it on the right."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from xref_app.core.fit.finding import Judgement
from xref_app.core.model.words import Result
from xref_app.gui.folding_sheet import FoldingSheet
from xref_app.gui.happened_details import HappenedDetails
from xref_app.gui.happened_sizes import Heading, SizeRow
from xref_app.gui.happened_words import caution_text, does_text, result_text
from xref_app.gui.labels import heading_label, plain_label, warning_label
from xref_app.gui.rows import QuietListView, RowsModel, named
from xref_app.gui.theme import Look
from xref_app.services.what_happened import BlameableSize, Happened, blameable, suspects

_ROWS_PX = 150


class ResultsModel(RowsModel[Result | None]):
    """All results; the first row is that nobody has said it yet, so that none is written down by haste."""

    def words(self, row: Result | None) -> str:
        """Return the result in words."""
        return result_text(row)


class HappenedSheet(FoldingSheet):
    """Shows what may be blamed and holds what is chosen, ticked and typed; it writes nothing itself."""

    written = Signal()
    left = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        named(self, "happened_sheet_page", self.tr("What happened"))
        self._judgement: Judgement | None = None
        self._sizes: tuple[BlameableSize, ...] = ()
        self._ticked: frozenset[str] = frozenset()
        self.title = heading_label(self, "happened_title_label", "")
        self._ask = plain_label(self, "happened_ask_label", self.tr("Which was it? Choose with the arrow keys."))
        self._model = ResultsModel(self)
        self._model.show_rows((None, *Result))
        self.list = named(QuietListView(self), "happened_results_list", self.tr("What happened"))
        self.list.setModel(self._model)
        self.caution = warning_label(self, "happened_caution_label")
        self.details = HappenedDetails(look, self)
        self._lay_out()
        self.list.selectionModel().currentChanged.connect(self._follow_result)
        self.details.list.switched.connect(self._switch)
        self.details.suspects_button.clicked.connect(self._tick_suspects)
        self.details.write_button.clicked.connect(self.written)
        self.details.leave_button.clicked.connect(self.left)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _lay_out(self) -> None:
        pane = QFrame(self)
        pane.setObjectName("happened_results_frame")
        pane.setProperty("pane", "true")
        left = QVBoxLayout(pane)
        left.setContentsMargins(1, 1, 1, 1)
        left.setSpacing(4)
        for label in (self.title, self._ask):
            label.setContentsMargins(10, 4, 8, 0)
            left.addWidget(label)
        left.addWidget(self.list, 1)
        left.addWidget(self.caution)
        self._put_side_by_side(pane, self.details)

    # -- what is shown

    @property
    def result(self) -> Result | None:
        """Return the chosen result; None while nobody has said it."""
        place = self.list.currentIndex().row()
        return self._model.rows[place] if 0 <= place < len(self._model.rows) else None

    @property
    def ticked(self) -> frozenset[str]:
        """Return the fields of the sizes ticked that can be blamed."""
        return self._ticked & {one.field for one in self._sizes}

    @property
    def suspects(self) -> tuple[BlameableSize, ...]:
        """Return the sizes to look at first after the chosen result."""
        return () if self.result is None else suspects(self._sizes, self.result)

    def happened(self, result: Result) -> Happened:
        """Return all that was entered."""
        return Happened(result, self.ticked, self.details.note.text())

    def begin(self, title: str, judgement: Judgement) -> None:
        """Begin with nothing said, ticked or typed."""
        self._ticked = frozenset()
        self.details.note.clear()
        self.list.setCurrentIndex(self._model.index(0))
        self.show_judgement(title, judgement)

    def show_judgement(self, title: str, judgement: Judgement) -> None:
        """Show what this judgement rested on; what was chosen, ticked and typed stays."""
        self._judgement = judgement
        self._sizes = blameable(judgement)
        self.title.setText(title)
        self.caution.setText(caution_text(judgement))
        self._show_sizes()

    @Slot(QModelIndex, QModelIndex)
    def _follow_result(self, _current: QModelIndex, _previous: QModelIndex) -> None:
        self._show_sizes()

    def _show_sizes(self) -> None:
        if self._judgement is None:
            return
        result, first, details = self.result, self.suspects, self.details
        details.does.setText(does_text(self._judgement, result))
        details.list.show_rows(self._rows(first))
        details.list.model_of_sizes.show_ticked(self._ticked)
        can_blame = bool(self._sizes) and result is not None and result.went_wrong
        details.list.setEnabled(can_blame)
        details.suspects_button.setEnabled(can_blame and bool(first))

    def _rows(self, first: tuple[BlameableSize, ...]) -> tuple[SizeRow, ...]:
        if not self._sizes:
            return (Heading(self.tr("The verdict rested on no size.")),)
        if not first:
            return (Heading(self.tr("Sizes the verdict rested on")), *self._sizes)
        others = tuple(one for one in self._sizes if one not in first)
        below: tuple[SizeRow, ...] = (Heading(self.tr("The others")), *others) if others else ()
        return (Heading(self.tr("Look at these first")), *first, *below)

    # -- ticks

    @Slot(str)
    def _switch(self, field: str) -> None:
        self._tick(self._ticked ^ {field})

    @Slot()
    def _tick_suspects(self) -> None:
        self._tick(self._ticked | {one.field for one in self.suspects})

    def _tick(self, fields: frozenset[str]) -> None:
        self._ticked = fields
        self.details.list.model_of_sizes.show_ticked(fields)

    # -- going about

    def step_pane(self, step: int) -> None:
        """Go round the results, the sizes and the note."""
        self._step_through((self.list, self.details.list, self.details.note), step)

    def focus_results(self) -> None:
        """Put the keys into the results."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def _resize_to_text(self) -> None:
        self._fold()
        self.list.setMinimumHeight(self._look.px(_ROWS_PX))
        self.list.doItemsLayout()
