"""Where the counter's questions meet the window: what is asked, and what each answer shows."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.desk import Desk
from xref_app.gui.drawing_saver import DrawingSaver
from xref_app.gui.hits_drop import HitsDrop
from xref_app.gui.job_flow import JobFlow, is_judged
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.messages import say
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.window_frame import WindowFrame
from xref_app.services.answers import Candidate, Candidates, Found, Hit, Job
from xref_app.services.used_fact import UsedFact
from xref_app.sheets.label_code import label_read_or_none


class CounterPart(QObject):
    """Asks for what is entered in the window, and shows what the flow tells."""

    label_entered = Signal(object)

    def __init__(self, desk: Desk, window: WindowFrame) -> None:
        super().__init__(window)
        # Whether somebody shows the place of the shelf that a scanned label names.
        self.reads_labels = False
        self._window = window
        self.flow = JobFlow(desk, window.tasks, self)
        self.hits = HitsDrop(window.look, window.entry.line, window.page, window.read_as)
        self.panes = PaneArea(window.look, window.page)
        self.panes.hide()
        self.drawing_saver = DrawingSaver(self.panes.fit.face, window.tasks, window)

        self._connect()

    def listen(self) -> None:
        """Ask what is entered in the window, from here on."""
        entry = self._window.entry
        entry.drop_with(self.hits)
        entry.asked.connect(self.flow.find)
        entry.text_taken.connect(self._take_text)
        entry.hit_taken.connect(self.flow.take)
        entry.went_down.connect(self._go_down)
        self._window.chips.removed.connect(self.flow.remove)

    def _connect(self) -> None:
        window, flow, panes = self._window, self.flow, self.panes
        flow.found.connect(self._show_found)
        flow.taken.connect(self._show_taken)
        flow.facts_changed.connect(self._show_facts)
        flow.job_opened.connect(self._show_job)
        flow.judged.connect(self._show_judged)
        flow.drawn.connect(panes.fit.show_drawings)
        flow.failed.connect(window.message.say)
        flow.crashed.connect(window.tell_crash)
        flow.working.connect(window.status.show_working)
        flow.progressed.connect(window.status.show_progress)
        panes.facts.build_chosen.connect(flow.take_build)
        panes.candidates.chosen.connect(self._show_candidate)
        self.drawing_saver.said.connect(window.message.say)
        self.drawing_saver.crashed.connect(window.tell_crash)

    def show_first(self, first: LengthFirst) -> None:
        """Show this unit of length first in the panes."""
        self.panes.facts.show_first(first)
        self.panes.fit.show_first(first)

    @Slot(str)
    def _take_text(self, text: str) -> None:
        self._window.message.clear()
        label = label_read_or_none(text) if self.reads_labels else None
        if label is None:
            self.flow.take_text(text)
        else:
            self.label_entered.emit(label)

    @Slot()
    def _go_down(self) -> None:
        self.panes.focus_pane(1)

    @Slot(object)
    def _show_found(self, found: Found) -> None:
        self._window.message.clear()
        more = found.total - len(found.hits)
        said = self.tr("Read as: {what}").format(what=say(found.read_as))
        if more > 0:
            said = self.tr("{said} {count} more not shown.").format(said=said, count=more)
        self._window.read_as.setText(said)
        self._window.entry.show_hits(found.hits, found.total)
        if not found.hits:
            default = self.tr("Nothing matches “{text}”. Put ? for a character you cannot read, or type the machine.")
            text = default.format(text=self._window.entry.line.text().strip())
            self._window.message.say(say(found.advice) if found.advice is not None else text)
        elif found.advice is not None:
            self._window.read_as.setText(f"{said} {say(found.advice)}")

    @Slot(object)
    def _show_taken(self, hit: Hit) -> None:
        self._window.message.clear()
        self._window.entry.show_taken(hit.number or hit.name)

    @Slot(object)
    def _show_facts(self, facts: tuple[UsedFact, ...]) -> None:
        self._window.chips.show_facts(facts)
        self.panes.facts.show_job(None)
        self.panes.candidates.show_waiting(self.tr("Reading…") if facts else "")
        if not facts:
            self.panes.fit.show_candidate(None)

    @Slot(object)
    def _show_job(self, job: Job) -> None:
        self.panes.facts.show_job(job)
        waiting = self.tr("Judging…") if is_judged(job) else self.tr("Say first which build is here.")
        self.panes.candidates.show_waiting(waiting)
        if not is_judged(job):
            self.panes.focus_pane(0)

    @Slot(object)
    def _show_judged(self, judged: Candidates) -> None:
        none = self.tr("The catalog holds no pump to ask about.")
        self.panes.candidates.show_judged(judged, none)
        self.panes.facts.show_next(judged.measure_next)

    @Slot(object)
    def _show_candidate(self, candidate: Candidate | None) -> None:
        waiting = "" if not self.flow.facts else self.tr("No pump chosen.")
        self.panes.fit.show_candidate(candidate, waiting)
        self.flow.look_at(candidate)
