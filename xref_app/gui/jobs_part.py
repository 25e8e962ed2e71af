"""Where the kept jobs meet the rest: their page, the one that is reopened, and what is said of it then."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtWidgets import QWidget

from xref_app.gui.bench_part import BenchPart
from xref_app.gui.fix_part import FixPart
from xref_app.gui.is_it_part import IsItPart
from xref_app.gui.job_flow import JobFlow, is_judged
from xref_app.gui.job_keeper import JobKeeper
from xref_app.gui.job_words import when_text
from xref_app.gui.jobs_desk import JobsDesk
from xref_app.gui.jobs_sheet import JobsSheet
from xref_app.gui.late_page import LatePage
from xref_app.gui.memory import WindowMemory
from xref_app.gui.messages import both_units_text, say
from xref_app.gui.one_act import OneAct
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.reopened_banner import ReopenedBanner
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate, Candidates, Job
from xref_app.services.jobs import LastJobs
from xref_app.services.kept_job import KeptJob


class JobsPart(QObject):
    """Keeps the open job through ``keeper``, and puts a kept one back as it was."""

    said = Signal(str)

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self,
        desk: JobsDesk,
        job: JobFlow,
        panes: PaneArea,
        bench: BenchPart,
        *,
        fix: FixPart | None,
        is_it: IsItPart | None,
        page: QWidget,
        look: Look,
        memory: WindowMemory,
    ) -> None:
        """Make it; ``page`` is what the banner stands on and drops over."""
        super().__init__(bench.pages)
        self._desk = desk
        self._job = job
        self._bench = bench
        self._fix, self._is_it = fix, is_it
        self._memory = memory
        self._reopened: KeptJob | None = None
        self._serial = job.serial
        self._acts = OneAct(self)
        self._page = LatePage(bench.pages, lambda: JobsSheet(look), self._connect)
        self._wants_last = False
        self.keeper = JobKeeper(desk, job, panes, fix=fix, is_it=is_it)
        self.banner = ReopenedBanner(look, page)
        for tells in (self._acts.failed, self.keeper.failed):
            tells.connect(self.said)
        for breaks in (self._acts.crashed, self.keeper.crashed):
            breaks.connect(bench.flow.crashed)
        self.keeper.all_kept.connect(self._read)
        job.facts_changed.connect(self._note_facts)
        job.job_opened.connect(self._compare_unjudged)
        job.judged.connect(self._compare_judged)

    def _connect(self, sheet: JobsSheet) -> None:
        sheet.reopen_asked.connect(self.reopen)
        sheet.leave_button.clicked.connect(self.leave)

    @property
    def sheet(self) -> JobsSheet:
        """Return the sheet."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether jobs are being kept or read."""
        return self._acts.is_working or self.keeper.is_working or self._wants_last

    def shut_down(self) -> None:
        """Stop all work; what is not kept yet is kept now."""
        self._acts.shut_down()
        self.keeper.shut_down()

    # -- the sheet

    @Slot()
    def show(self) -> None:
        """Bring the sheet to the front, read anew once the open job is kept as it is now."""
        self._bench.show_page(self.sheet)
        self.sheet.focus_first()
        self._wants_last = True
        self.keeper.keep_now()

    @Slot()
    def _read(self) -> None:
        if self._wants_last:
            self._wants_last = False
            self._acts.read(self._desk.last, self._show_last)

    @Slot(object)
    def _show_last(self, last: object) -> None:
        if isinstance(last, LastJobs):
            was_empty = not self.sheet.shown
            self.sheet.show_jobs(last)
            if was_empty and self.is_shown:
                self.sheet.focus_first()

    @Slot()
    def leave(self) -> None:
        """Go back to the work sheet."""
        self._bench.show_work()

    # -- reopening

    @Slot(object)
    def reopen(self, kept: KeptJob) -> None:
        """Open a job as it was left; the one that is open needs no reopening."""
        serial = self.keeper.serial_of(kept.job_id)
        if serial == self._job.serial and self._job.facts:
            self._bench.show_work()
            self.said.emit(self.tr("This is the job that is open."))
            return
        self._acts.read(partial(self._desk.still_there, kept), partial(self._open, kept))

    def _open(self, kept: KeptJob, there: object) -> None:
        if not isinstance(there, KeptJob):
            return
        known = self.keeper.serial_of(kept.job_id)
        serial = self._job.next_serial() if known is None else known
        self.keeper.take_up(serial, there)
        if self._fix is not None:
            self._fix.restore(serial, kept.figures)
        if self._is_it is not None:
            self._is_it.restore(serial, kept.answers)
        self._bench.show_work()
        self._job.reopen(there.facts, kept.reference, serial)
        self._reopened, self._serial = kept, serial
        if not there.facts:
            self._compare(None, None)

    @Slot(object)
    def _note_facts(self, _facts: object) -> None:
        if self._job.serial != self._serial:
            self._reopened = None
            self.banner.leave()

    @Slot(object)
    def _compare_unjudged(self, job: Job) -> None:
        if not is_judged(job):
            self._compare(job, None)

    @Slot(object)
    def _compare_judged(self, judged: Candidates) -> None:
        if self._reopened is not None:
            chosen = self._reopened.chosen_id
            self._compare(self._job.job, next((one for one in judged.rows if one.entry_id == chosen), None))

    def _compare(self, job: Job | None, chosen: Candidate | None) -> None:
        """Ask once what has changed since the job was left."""
        kept, self._reopened = self._reopened, None
        if kept is not None:
            serial = self._serial
            self._acts.read(partial(self._desk.changed_since, kept, job, chosen), partial(self._tell, kept, serial))

    def _tell(self, kept: KeptJob, serial: int, changes: object) -> None:
        if serial == self._job.serial and isinstance(changes, tuple):
            when, first = when_text(kept.changed_at), self._memory.length_first
            words = self.tr("Job {reference} as it was kept {when}.") if kept.reference else ""
            words = words or self.tr("Job as it was kept {when}.")
            said = [both_units_text(say(one), first) for one in changes]
            self.banner.show_changes(words.format(reference=kept.reference, when=when), said)
