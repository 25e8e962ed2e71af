"""The bench sheet: the measure card, the entry sheet, and what the unit is, side by side."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QWidget

from xref_app.core.fields.fields import field_for
from xref_app.gui.bench_flow import BenchFlow
from xref_app.gui.card_pane import CardPane
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.lines_pane import LinesPane
from xref_app.gui.rows import named
from xref_app.gui.theme import Look
from xref_app.gui.unit_pane import UnitPane
from xref_app.services.bench import BenchView
from xref_app.services.cards import also_said, session_for
from xref_app.services.measure_order import Question
from xref_app.services.unit_draft import Heading, Typed, UnitDraft, UnitKind

_GAP_PX = 8
_LEAST_HEIGHT_PX = 300


class BenchSheet(QWidget):
    """Joins the three panes to the flow. After each answer the next best question comes up by itself."""

    def __init__(self, flow: BenchFlow, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        named(self, "bench_sheet_page", self.tr("Bench sheet"))
        self._flow = flow
        self._look = look
        self._first = LengthFirst.MM
        self._title = ""
        self._asked_for = ""
        self._is_fresh = False
        self.card = CardPane(look, self)
        self.lines = LinesPane(look, self)
        self.unit = UnitPane(look, self)
        self._shown = 0
        self._lay_out()
        self._connect()
        look.changed.connect(self._fold)

    def _lay_out(self) -> None:
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(_GAP_PX)
        for pane in (self.card, self.lines, self.unit):
            self._row.addWidget(pane)
        self._row.setStretch(0, 4)
        self._row.setStretch(1, 4)
        self._row.setStretch(2, 3)

    def _connect(self) -> None:
        flow = self._flow
        flow.opened.connect(self._show_draft)
        flow.shown.connect(self._show_view)
        self.card.taken.connect(self._write_field)
        self.card.skipped.connect(self._skip_field)
        self.lines.chosen.connect(self.ask)
        self.unit.written.connect(self._write_heading)
        self.unit.who_changed.connect(flow.set_who)
        self.unit.kind_chosen.connect(self._change_kind)
        self.unit.photos_added.connect(flow.add_photos)
        self.unit.leave_pressed.connect(flow.leave)
        self.unit.discard_pressed.connect(flow.discard)

    @property
    def panes(self) -> tuple[QFrame, ...]:
        """Return the panes from left to right."""
        return (self.card, self.lines, self.unit)

    def step_pane(self, step: int) -> None:
        """Put the keys into the next pane (the one before for -1); where only one has room, show it."""
        here: QWidget | None = self.window().focusWidget()
        inside = [number for number, pane in enumerate(self.panes) if here is not None and pane.isAncestorOf(here)]
        self._show_pane(((inside[0] if inside else self._shown) + step) % len(self.panes))
        targets = (self.card.line, self.lines.view, self.unit.first_line())
        targets[self._shown].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _show_pane(self, number: int) -> None:
        self._shown = number
        self._fold()

    @Slot()
    def _fold(self) -> None:
        """Show all three panes where they have room side by side, else the one in work."""
        wanted = sum(pane.wanted_width for pane in (self.card, self.lines, self.unit)) + 2 * _GAP_PX
        is_single = wanted > self.width()
        for number, pane in enumerate(self.panes):
            pane.setVisible(not is_single or number == self._shown)

    def minimumSizeHint(self) -> QSize:
        """Return the room for the widest pane alone: folding must be able to happen before the window resists."""
        return QSize(self.card.wanted_width, _LEAST_HEIGHT_PX)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold or unfold."""
        super().resizeEvent(event)
        self._fold()

    def show_first(self, first: LengthFirst) -> None:
        """Show lengths in this unit first, and read a bare number in it."""
        self._first = first
        self.card.show_first(first)
        self.lines.show_first(first)

    def name_unit(self, title: str) -> None:
        """Say what is on the bench, for the heading."""
        self._title = title

    @Slot(str)
    def ask(self, field_id: str) -> None:
        """Ask for this field on the card."""
        draft = self._flow.draft
        if draft is None:
            return
        unit = "in" if self._first is LengthFirst.INCH else "mm"
        self._asked_for = field_id
        self._show_pane(0)
        self.card.line.setText("")
        self.card.show_session(session_for(field_for(field_id), draft, unit=unit))
        self.lines.show_field(field_id)
        self.card.focus_line()

    @Slot()
    def ask_chosen(self) -> None:
        """Ask for the chosen line of the entry sheet."""
        field = self.lines.chosen_field()
        if field:
            self.ask(field)

    def save(self) -> None:
        """Write what is in the field with the focus, then save."""
        self.unit.write_all()
        self._flow.save()

    @Slot(object)
    def _show_draft(self, draft: UnitDraft) -> None:
        self._is_fresh = True
        self.unit.who.setText(self._flow.who)
        self.unit.show_draft(draft, self._title)

    @Slot(object)
    def _show_view(self, view: BenchView) -> None:
        self.unit.show_draft(view.draft, self._title)
        self.unit.show_view(view)
        self.lines.show_view(view)
        if self._asked_for and not self._is_fresh:
            return
        self._is_fresh = False
        if self._asked_for:
            self.ask(self._asked_for)
        elif view.next_question is not None:
            self._go_on_to(view.next_question)
        else:
            self.card.show_session(None)

    def _go_on_to(self, question: Question) -> None:
        """Ask the next question; keys pressed since the last answer are its answer's."""
        typed = self.card.line.text()
        self.ask(question.field)
        self.card.line.setText(typed)
        self.card.say_why(question.why)

    def ask_first(self, field_id: str) -> None:
        """Begin with this field once the draft is shown."""
        self._asked_for = field_id

    @Slot(str, object)
    def _write_field(self, field_id: str, typed: Typed) -> None:
        self._asked_for = ""
        self._flow.write(field_id, typed)
        for sibling, said in also_said(field_id, typed).items():
            self._flow.write(sibling, said)

    @Slot(str)
    def _skip_field(self, field_id: str) -> None:
        self._asked_for = ""
        self._flow.write(field_id, Typed(is_skipped=True))

    @Slot(str, str)
    def _write_heading(self, heading: str, text: str) -> None:
        draft = self._flow.draft
        if draft is not None and draft.text(Heading(heading)) != text.strip():
            self._flow.write(heading, Typed(texts=(text.strip(),)) if text.strip() else None)

    @Slot(object)
    def _change_kind(self, kind: UnitKind) -> None:
        draft = self._flow.draft
        if draft is None or draft.kind is kind:
            return
        if draft.is_empty:
            self._flow.discard()
        self._flow.begin(kind)
