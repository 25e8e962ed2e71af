"""Where "What happened" meets the rest: its page, the pump of the open job, and the writing down."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.ask_bar import AskBar
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.happened_desk import HappenedDesk
from xref_app.gui.happened_sheet import HappenedSheet
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.late_page import LatePage
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_act import OneAct
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.somebody import Somebody
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate, Job
from xref_app.services.what_happened import WrittenDown


class HappenedPart(QObject):
    """Opens the sheet for the open job and the chosen pump. Who writes is asked once, then remembered."""

    said = Signal(str)
    # The id of what was written down for the open job.
    written = Signal(str)

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self,
        desk: HappenedDesk,
        job: JobFlow,
        panes: PaneArea,
        bench: BenchPart,
        bar: AskBar,
        *,
        look: Look,
        memory: WindowMemory,
    ) -> None:
        super().__init__(bench)
        self._desk = desk
        self._job = job
        self._panes = panes
        self._bench = bench
        self._bar = bar
        self._somebody = Somebody(bar, memory, bench.flow, self)
        self._page = LatePage(bench.pages, lambda: HappenedSheet(look), self._connect)
        self._candidate: Candidate | None = None
        # What the sheet is about: job, machine and pump by number; and the pump as it is judged there now.
        self._about = (0, "", "")
        self._subject: Candidate | None = None
        self._choose_next = ""
        self._acts = OneAct(self)
        self._acts.failed.connect(self.said)
        self._acts.crashed.connect(bench.flow.crashed)
        panes.candidates.chosen.connect(self._note_candidate)
        job.judged.connect(self._choose_again)
        job.facts_changed.connect(self._forget_candidate)

    def _connect(self, sheet: HappenedSheet) -> None:
        sheet.written.connect(self.write_down)
        sheet.left.connect(self.leave)

    @property
    def sheet(self) -> HappenedSheet:
        """Return the sheet."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether something is still being written."""
        return self._acts.is_working

    def shut_down(self) -> None:
        """Stop all work."""
        self._acts.shut_down()

    # -- the page

    def show(self) -> None:
        """Bring the sheet to the front; what was entered for the same pump in the same job still stands in it."""
        job, candidate = self._job.job, self._candidate
        lacking = self._lacking(job, candidate)
        if lacking or job is None or candidate is None:
            self.said.emit(lacking)
            return
        about = self._about_now(job, candidate)
        show = self.sheet.show_judgement if about == self._about else self.sheet.begin
        self._about, self._subject = about, candidate
        show(self._title(job, candidate), candidate.judgement)
        self._bench.show_page(self.sheet)
        self.sheet.focus_results()

    @Slot()
    def leave(self) -> None:
        """Go back to the work sheet; what was entered is kept for this pump in this job."""
        self._bench.show_work()

    def _about_now(self, job: Job, candidate: Candidate) -> tuple[int, str, str]:
        return (self._job.serial, job.machine_id or "", candidate.entry_id)

    def _lacking(self, job: Job | None, candidate: Candidate | None) -> str:
        """Return what must be chosen first, empty where nothing is lacking."""
        if job is None:
            return self.tr("Open the job first: what happened is written down for a machine and a pump.")
        if job.machine_id is None:
            return (
                self.tr("Say first which build is here, then write down what happened.")
                if job.choices
                else self.tr("Say first which machine it is, then write down what happened.")
            )
        if candidate is None:
            return self.tr("Choose in the list first which pump was put on, then write down what happened.")
        return ""

    def _title(self, job: Job, candidate: Candidate) -> str:
        machine = next((one.label for one in self._job.facts if not one.is_pump), job.title)
        return self.tr("What happened: {pump} on {machine}").format(pump=candidate.number, machine=machine)

    # -- the writing

    @Slot()
    def write_down(self) -> None:
        """Write down what was entered; what is lacking is said, and everything stays as it is."""
        job, candidate, result = self._job.job, self._subject, self.sheet.result
        if job is None or candidate is None:
            self.said.emit(
                self.tr("This pump is not judged just now; leave with Esc, and choose it in the list again.")
            )
        elif result is None:
            self.said.emit(self.tr("Choose first which it was, with the arrow keys in the list on the left."))
        else:
            write = partial(self._desk.write_down, job, candidate, self.sheet.happened(result))
            self._somebody.act(self.tr("Write it down"), partial(self._write, write))

    def _write(self, write: Callable[[str], WrittenDown], who: str) -> None:
        self._acts.do(partial(write, who), self._tell_written)

    @Slot(object)
    def _tell_written(self, written: object) -> None:
        if not isinstance(written, WrittenDown):
            return
        if self._about[0] == self._job.serial:
            self.written.emit(written.outcome_id)
        self._choose_next, self._about = self._about[2], (0, "", "")
        self._bar.leave()
        self._bench.show_work()
        self._bench.flow.ask_names()
        self._job.open_again()
        self.said.emit(self.tr("Written down: {name}. Ctrl+Z takes it back.").format(name=written.name))

    # -- the pump looked at

    @Slot(object)
    def _note_candidate(self, candidate: Candidate | None) -> None:
        self._candidate = candidate
        job = self._job.job
        if self.is_shown and candidate and job and self._about_now(job, candidate) == self._about:
            self._subject = candidate
            self.sheet.show_judgement(self._title(job, candidate), candidate.judgement)

    @Slot(object)
    def _forget_candidate(self, _facts: object) -> None:
        self._candidate = self._subject = None

    @Slot(object)
    def _choose_again(self, _judged: object) -> None:
        """Look at the same pump as before it was judged anew."""
        wanted = self._about[2] if self.is_shown else self._choose_next
        self._choose_next = ""
        if wanted:
            self._panes.candidates.choose(wanted)
