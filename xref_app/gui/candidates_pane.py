"""The middle pane, 'Could go on': every pump judged, best first, and what to do when none fits."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QLabel, QListView, QVBoxLayout, QWidget

from xref_app.core.fit.finding import Outcome
from xref_app.gui.candidates_model import CandidateDelegate, CandidatesModel, is_open
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.messages import check_title, say
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, named
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate, Candidates

_WIDTH_PX = 320
_NEAREST = 3


class CandidatesPane(QFrame):
    """Tells which pump is looked at; None where there is none."""

    chosen = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "candidates_pane_frame", self.tr("Could go on"))
        self.setProperty("pane", "true")
        self._look = look
        self._model = CandidatesModel(self)
        self._heading = heading_label(self, "candidates_heading_label", self.tr("Could go on"))
        self._count = quiet_label(self, "candidates_count_label")
        self._nothing = self._build_nothing_fits()
        self._view = named(QuietListView(self), "candidates_rows_list", self.tr("Pumps that could go on"))
        self._view.setModel(self._model)
        self._view.setItemDelegate(CandidateDelegate(look, self._view))
        self._lay_out()
        self._view.selectionModel().currentChanged.connect(self._tell_chosen)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()
        self.show_waiting()

    def _build_nothing_fits(self) -> QLabel:
        label = quiet_label(self, "candidates_nothing_fits_label")
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setContentsMargins(10, 4, 8, 8)
        label.hide()
        return label

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(1, 1, 1, 1)
        layout.setSpacing(0)
        for label in (self._heading, self._count):
            label.setContentsMargins(10, 0, 8, 0)
        layout.addSpacing(6)
        layout.addWidget(self._heading)
        layout.addWidget(self._count)
        layout.addSpacing(4)
        layout.addWidget(self._nothing)
        layout.addWidget(self._view, 1)

    @property
    def view(self) -> QListView:
        """Return the list."""
        return self._view

    @property
    def wanted_width(self) -> int:
        """Return the width of the pane, px."""
        return self._look.px(_WIDTH_PX)

    def show_waiting(self, waiting: str = "") -> None:
        """Show no pump, and say ``waiting``, or what stands here."""
        self.show_judged(Candidates(()), waiting)

    def show_judged(self, judged: Candidates, nothing: str = "") -> None:
        """Show the pumps judged and look at the first; with none, say ``nothing``, or what stands here."""
        rows = judged.rows
        self._model.show_rows(rows)
        self._count.setText(
            self._count_text(judged) if rows else nothing or self.tr("Pumps that could go on, best first.")
        )
        none_fits = bool(rows) and not any(is_open(row) for row in rows)
        self._nothing.setVisible(none_fits)
        self._nothing.setText(self._nothing_text(rows[:_NEAREST]) if none_fits else "")
        if rows:
            self._view.setCurrentIndex(self._model.index(0))
            self._view.scrollToTop()
        else:
            self.chosen.emit(None)

    def _count_text(self, judged: Candidates) -> str:
        counts = {"open": f"{judged.not_ruled_out:,}", "all": f"{judged.total:,}", "shown": len(judged.rows)}
        if judged.total > len(judged.rows):
            return self.tr("{open} of {all} not ruled out, the best {shown} shown").format(**counts)
        return self.tr("{open} of {all} not ruled out").format(**counts)

    def _nothing_text(self, nearest: tuple[Candidate, ...]) -> str:
        said = [self.tr("Nothing here fits. Nearest, and what would have to change:")]
        for candidate in nearest:
            failed = next((one for one in candidate.judgement.findings if one.outcome is Outcome.FAIL), None)
            if failed is None:
                continue
            change = say(failed.change or failed.reason)
            said.append(f"• {candidate.number}, {check_title(failed.check).lower()}: {change}")
        return "\n".join(said)

    def step_open(self, step: int) -> None:
        """Look at the next (1) or previous (-1) pump that is not ruled out, round and round."""
        places = self._model.open_places()
        if not places:
            return
        here = self._view.currentIndex().row()
        if step > 0:
            target = next((place for place in places if place > here), places[0])
        else:
            target = next((place for place in reversed(places) if place < here), places[-1])
        self._view.setCurrentIndex(self._model.index(target))

    def choose(self, entry_id: str) -> None:
        """Look at this pump, where it is in the list."""
        for place, row in enumerate(self._model.rows):
            if row.entry_id == entry_id:
                self._view.setCurrentIndex(self._model.index(place))

    def set_alone(self, *, is_alone: bool) -> None:
        """Leave the heading to the button above where this pane is shown alone."""
        self._heading.setVisible(not is_alone)

    @Slot()
    def _resize_to_text(self) -> None:
        self.setMinimumWidth(self.wanted_width)
        self._view.doItemsLayout()

    @Slot(QModelIndex, QModelIndex)
    def _tell_chosen(self, current: QModelIndex, _previous: QModelIndex) -> None:
        candidate = current.data(DOMAIN_ROLE)
        self.chosen.emit(candidate if isinstance(candidate, Candidate) else None)
