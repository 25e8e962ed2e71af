"""The left pane, 'Pump coming off': the facts, the choice of builds, and what to measure next."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QListView, QVBoxLayout, QWidget

from xref_app.gui.choices_model import ChoiceDelegate, ChoicesModel
from xref_app.gui.facts_model import FactDelegate, FactsModel
from xref_app.gui.labels import heading_label, quiet_label
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.measure_box import MeasureBox
from xref_app.gui.messages import say
from xref_app.gui.rows import DOMAIN_ROLE, QuietListView, named
from xref_app.gui.theme import Look
from xref_app.services.answers import FactRow, Job, MachineChoice, MeasureNext

_WIDTH_PX, _STRIP_ROWS, _MOST_BUILDS, _FOLDED_BUILDS = 300, 3, 3, 2


_NO_LIMIT_PX = 16777215


class FactsPane(QFrame):
    """Stands at the left; folded, it lies as a strip of facts above the other panes."""

    build_chosen = Signal(object)
    measure_pressed = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "facts_pane_frame", self.tr("Pump coming off"))
        self.setProperty("pane", "true")
        self._look = look
        self._is_folded = False
        self._facts = FactsModel(self)
        self._choices = ChoicesModel(self)
        self._build(look)
        self._lay_out()
        self.show_job(None)
        look.changed.connect(self._resize_to_text)
        self._resize_to_text()

    def _build(self, look: Look) -> None:
        self._heading = heading_label(self, "facts_heading_label", self.tr("Pump coming off"))
        self._title = quiet_label(self, "facts_title_label")
        self._view = named(QuietListView(self), "facts_rows_list", self.tr("Facts of the pump coming off"))
        self._delegate = FactDelegate(self._facts, look, self._view)
        self._view.setModel(self._facts)
        self._view.setItemDelegate(self._delegate)
        self._question = heading_label(self, "facts_builds_label", "")
        self._builds = named(QuietListView(self), "facts_builds_list", self.tr("Builds of this machine"))
        self._builds.setModel(self._choices)
        self._builds.setItemDelegate(ChoiceDelegate(self._choices, look, self._builds))
        self._builds.activated.connect(self._choose)
        self._builds.clicked.connect(self._choose)
        self._measure = MeasureBox(look, self)
        self._measure.button.clicked.connect(self.measure_pressed)

    def _lay_out(self) -> None:
        head = QVBoxLayout()
        head.setContentsMargins(10, 6, 8, 4)
        head.setSpacing(0)
        head.addWidget(self._heading)
        head.addWidget(self._title)
        body = QVBoxLayout()
        body.setSpacing(0)
        body.addLayout(head)
        body.addWidget(self._question)
        body.addWidget(self._builds, 1)
        body.addWidget(self._view, 1)
        self._question.setContentsMargins(10, 4, 8, 4)
        self._layout = QBoxLayout(QBoxLayout.Direction.TopToBottom, self)
        self._layout.setContentsMargins(1, 1, 1, 1)
        self._layout.setSpacing(0)
        self._layout.addLayout(body, 1)
        self._layout.addWidget(self._measure)

    @property
    def view(self) -> QListView:
        """Return what takes the focus: the builds while one must be chosen, else the facts."""
        return self._builds if self._choices.rows else self._view

    def chosen_field(self) -> str:
        """Return the field of the chosen fact, empty where none is."""
        fact = self._view.currentIndex().data(DOMAIN_ROLE)
        return fact.field if isinstance(fact, FactRow) else ""

    @property
    def wanted_width(self) -> int:
        """Return the width of the standing pane, px."""
        return self._look.px(_WIDTH_PX)

    def show_job(self, job: Job | None) -> None:
        """Show what is known; with None say how to begin."""
        choices = () if job is None else job.choices
        self._facts.show_rows(() if job is None else job.facts)
        self._choices.show_rows(choices)
        self._builds.setCurrentIndex(QModelIndex())
        self._title.setText(self._title_text(job))
        self._question.setText(self._question_text(job))
        self._question.setVisible(bool(choices))
        self._builds.setVisible(bool(choices))
        self._view.setVisible(not choices or bool(job and job.facts))
        self._measure.show_next(None)
        self._limit_builds()

    def _limit_builds(self) -> None:
        """Give the builds no more room than they need where facts stand below them, or the other panes."""
        if self._is_folded:
            self._builds.setFixedHeight(max(self._strip_height(), self._builds_height(_FOLDED_BUILDS)))
            self.setMaximumHeight(self.sizeHint().height())
            return
        self._builds.setMinimumHeight(0)
        self._builds.setMaximumHeight(_NO_LIMIT_PX)
        if not self._facts.rows:
            return
        self._builds.setFixedHeight(self._builds_height(_MOST_BUILDS))

    def _builds_height(self, most: int) -> int:
        """Return the height at which up to ``most`` builds are seen whole, px."""
        rows = range(min(self._choices.rowCount(), most))
        return sum(self._builds.sizeHintForRow(row) for row in rows) + 2 * self._builds.frameWidth()

    def _strip_height(self) -> int:
        rows = _STRIP_ROWS * self._delegate.folded_height(self.font())
        return rows + 2 * self._builds.frameWidth()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Wrap the builds to the new width, and give them the room they then need."""
        super().resizeEvent(event)
        if self._choices.rows and event.size().width() != event.oldSize().width():
            self._builds.doItemsLayout()
            self._limit_builds()

    def _title_text(self, job: Job | None) -> str:
        if job is None:
            return self.tr("Type the number on its plate, or the model of the machine, in the line above.")
        note = say(job.note) if job.note is not None and not job.choices else ""
        guessed = self.tr("Number partly guessed.") if job.guessed_number else ""
        return "\n".join(text for text in (job.title, note, guessed) if text)

    def _question_text(self, job: Job | None) -> str:
        if job is not None and job.note is not None:
            return say(job.note)
        return self.tr("Which one is here?")

    def show_next(self, measure: MeasureNext | None) -> None:
        """Show the one measurement that would settle most."""
        self._measure.show_next(measure)

    def show_first(self, first: LengthFirst) -> None:
        """Show lengths in this unit first."""
        self._facts.show_first(first)

    def set_folded(self, *, is_folded: bool, is_alone: bool = False) -> None:
        """Lie down as a strip, or stand up again; alone, the button above says what this is."""
        self._is_folded = self._delegate.is_folded = is_folded
        self._measure.set_folded(is_folded=is_folded)
        flow = QBoxLayout.Direction.LeftToRight if is_folded else QBoxLayout.Direction.TopToBottom
        self._layout.setDirection(flow)
        self._view.setFlow(QListView.Flow.LeftToRight if is_folded else QListView.Flow.TopToBottom)
        self._view.setWrapping(is_folded)
        self._heading.setVisible(not is_folded and not is_alone)
        self._resize_to_text()

    @Slot()
    def _resize_to_text(self) -> None:
        self.setMinimumWidth(0)
        self.setMaximumSize(_NO_LIMIT_PX, _NO_LIMIT_PX)
        if self._is_folded:
            self._view.setFixedHeight(self._strip_height())
            self._limit_builds()
        else:
            self._view.setMinimumHeight(0)
            self._view.setMaximumHeight(_NO_LIMIT_PX)
            self.setMinimumWidth(self.wanted_width)
            self._limit_builds()
        self._facts.tell_changed()
        self._view.doItemsLayout()
        self._builds.doItemsLayout()

    @Slot(QModelIndex)
    def _choose(self, index: QModelIndex) -> None:
        choice = index.data(DOMAIN_ROLE)
        if isinstance(choice, MachineChoice):
            self.build_chosen.emit(choice)
