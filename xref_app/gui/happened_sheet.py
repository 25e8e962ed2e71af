"""The sheet "What happened": which result on the left, the sizes that may be to blame for it on the right."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QPushButton, QWidget

from xref_app.core.fit.finding import Judgement
from xref_app.core.model.words import Result
from xref_app.gui.folding_sheet import FoldingSheet
from xref_app.gui.happened_details import HappenedDetails
from xref_app.gui.happened_results import NOT_SAID_ROW, ResultDelegate, ResultRow, ResultsModel
from xref_app.gui.happened_sizes import Heading, SizeRow
from xref_app.gui.happened_words import does_text
from xref_app.gui.labels import heading_label, plain_label, warning_label
from xref_app.gui.mind_first import mind_first_text
from xref_app.gui.rows import QuietListView, named
from xref_app.gui.scrolled import column_above_column
from xref_app.gui.theme import Look
from xref_app.services.what_happened import BlameableSize, Happened, blameable, suspects

# One result and a half; below that the whole side scrolls.
_ROWS_PX, _RESULTS_PX = 48, 330


class HappenedSheet(FoldingSheet):
    """Shows what may be blamed and holds what is chosen, ticked and typed; it writes nothing itself.

    Where both sides have no room beside each other, the one in work is shown alone: neither list could be read below
    the other.
    """

    written = Signal()
    left = Signal()
    _list_px = _RESULTS_PX

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        named(self, "happened_sheet_page", self.tr("What happened"))
        self._judgement: Judgement | None = None
        self._sizes: tuple[BlameableSize, ...] = ()
        self._ticked: frozenset[str] = frozenset()
        self._shows_details = False
        self.title = heading_label(self, "happened_title_label", "")
        self._ask = plain_label(self, "happened_ask_label", self.tr("Which was it? Choose with the arrow keys."))
        self._model = ResultsModel(self)
        self._model.show_rows((NOT_SAID_ROW, *(ResultRow(one) for one in Result)))
        self.list = named(QuietListView(self), "happened_results_list", self.tr("What happened"))
        self.list.setModel(self._model)
        self.list.setItemDelegate(ResultDelegate(look, self.list))
        self.caution = warning_label(self, "happened_caution_label", mind_first_text())
        self.on_button = named(
            QPushButton(self.tr("On to the sizes and the note  F6"), self),
            "happened_on_button",
            self.tr("On to the sizes"),
        )
        self.on_button.setProperty("small", "true")
        self.details = HappenedDetails(look, self)
        self._lay_out()
        self.list.selectionModel().currentChanged.connect(self._follow_result)
        self.details.list.switched.connect(self._switch)
        self.details.suspects_button.clicked.connect(self._tick_suspects)
        self.details.write_button.clicked.connect(self.written)
        self.details.leave_button.clicked.connect(self.left)
        self.on_button.clicked.connect(self._go_on)
        self.details.back_button.clicked.connect(self.focus_results)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _lay_out(self) -> None:
        pane = self._results = QFrame(self)
        pane.setObjectName("happened_results_frame")
        pane.setProperty("pane", "true")
        above, below = column_above_column(pane, "happened_results_area")
        for label in (self.title, self._ask):
            above.addWidget(label)
        above.addWidget(self.list, 1)
        below.addWidget(self.caution)
        below.addWidget(self.on_button)
        self.on_button.hide()
        self.details.back_button.hide()
        self._put_side_by_side(pane, self.details)

    # -- what is shown

    @property
    def result(self) -> Result | None:
        """Return the chosen result; None while nobody has said it."""
        place = self.list.currentIndex().row()
        return self._model.rows[place].result if 0 <= place < len(self._model.rows) else None

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
        stops = [one for one in (self.list, self.details.list, self.details.note) if one.isEnabled()]
        focus = self.window().focusWidget()
        # From a button one goes on as from the list on its side.
        here = stops.index(focus) if focus in stops else int(self.details.isVisible() and not self.list.isVisible())
        self._go_to(stops[(here + step) % len(stops)])

    @Slot()
    def focus_results(self) -> None:
        """Put the keys into the results."""
        self._go_to(self.list)

    @Slot()
    def _go_on(self) -> None:
        self._go_to(self.details.list if self.details.list.isEnabled() else self.details.note)

    def _go_to(self, place: QWidget) -> None:
        self._shows_details = self.details.isAncestorOf(place)
        self._fold()
        place.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _fold(self) -> None:
        is_narrow = self._is_narrow
        self.on_button.setVisible(is_narrow)
        self.details.set_folded(is_folded=is_narrow)
        self._results.setVisible(not (is_narrow and self._shows_details))
        self.details.setVisible(not is_narrow or self._shows_details)

    @Slot()
    def _resize_to_text(self) -> None:
        self._fold()
        self.list.setMinimumHeight(self._look.px(_ROWS_PX))
        self.list.doItemsLayout()
        self.list.scrollTo(self.list.currentIndex())
