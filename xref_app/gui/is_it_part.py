"""Where "Is it the pump?" meets the rest: its page, what the open job tells, and what was typed for each job."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.core.progress import NO_PROGRESS
from xref_app.gui.bench_desk import BenchDesk
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.is_it_sheet import IsItSheet
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.late_page import LatePage
from xref_app.gui.one_act import OneAct
from xref_app.gui.theme import Look
from xref_app.services.answers import Job
from xref_app.services.is_it_the_pump import consider
from xref_app.services.pump_answers import PumpAnswers
from xref_app.services.pump_told import NOTHING_TOLD, Tellings

# Jobs whose answers are kept while the window is open. House rule.
_MOST_JOBS = 200


class IsItPart(QObject):
    """Considers anew at each key; the catalog is asked off the GUI thread for what the job tells."""

    said = Signal(str)
    answered = Signal()

    def __init__(self, desk: BenchDesk, job: JobFlow, bench: BenchPart, look: Look) -> None:
        super().__init__(bench)
        self._desk = desk
        self._job = job
        self._bench = bench
        self._answers: dict[int, PumpAnswers] = {}
        self._cleared: dict[int, PumpAnswers] = {}
        self._told: Tellings = NOTHING_TOLD
        self._acts = OneAct(self)
        self._page = LatePage(bench.pages, lambda: IsItSheet(look), self._connect)
        self._acts.failed.connect(self.said)
        self._acts.crashed.connect(bench.flow.crashed)
        job.facts_changed.connect(self._forget_told)
        job.job_opened.connect(self._ask_told)

    @property
    def sheet(self) -> IsItSheet:
        """Return the sheet."""
        return self._page.page

    def _connect(self, sheet: IsItSheet) -> None:
        questions = sheet.questions
        questions.written.connect(self._write)
        questions.given_up.connect(self._give_up)
        questions.cannot_say_pressed.connect(self.cannot_say)
        questions.clear_pressed.connect(self.clear)
        questions.leave_pressed.connect(self.leave)

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether something of the job is still being read."""
        return self._acts.is_working

    @property
    def answers(self) -> PumpAnswers:
        """Return what was answered for the open job."""
        return self._answers.get(self._job.serial, PumpAnswers())

    def restore(self, serial: int, answers: PumpAnswers) -> None:
        """Put back what was answered for a job; the sheet must not be in front."""
        self._answers[serial] = answers

    def shut_down(self) -> None:
        """Stop all work."""
        self._acts.shut_down()

    @Slot()
    def show(self) -> None:
        """Bring the sheet to the front, at the question that helps most; what was typed for the job stands in it."""
        self._bench.show_page(self.sheet)
        self._consider()
        self._ask_told(self._job.job)
        self.sheet.focus_question(consider(self.answers, self._told).next_question_id or self.sheet.questions.current)

    @Slot()
    def leave(self) -> None:
        """Go back to the work sheet; what was typed is kept."""
        self._bench.show_work()

    @Slot()
    def cannot_say(self) -> None:
        """Say of the question in work that nothing can be said of it, and go on."""
        self._give_up(self.sheet.questions.current)
        self.sheet.questions.go_on()

    def skip(self, elsewhere: Callable[[], None]) -> None:
        """Give up the question in work; with the sheet not in front do what the same key does ``elsewhere``."""
        if self.is_shown:
            self.cannot_say()
        else:
            elsewhere()

    @Slot()
    def clear(self) -> None:
        """Empty all answers of the job; where there are none, put back those that were cleared last."""
        if not self.is_shown:
            self.said.emit(self.tr("Ctrl+Shift+D opens “Is it the pump?”; what is typed there is cleared with this."))
        elif not self.answers.is_empty:
            self._cleared[self._job.serial] = self.answers
            self._keep(PumpAnswers())
            self.said.emit(self.tr("Cleared. Ctrl+Shift+A again brings it back."))
        elif self._job.serial not in self._cleared:
            self.said.emit(self.tr("Nothing is answered yet."))
        else:
            self._keep(self._cleared[self._job.serial])
            self.said.emit(self.tr("Brought back what was cleared last."))

    @Slot(str, str)
    def _write(self, question_id: str, text: str) -> None:
        self._keep(self.answers.with_text(question_id, text))

    @Slot(str)
    def _give_up(self, question_id: str) -> None:
        self._keep(self.answers.with_cannot_say(question_id))

    def _keep(self, answers: PumpAnswers) -> None:
        self._answers[self._job.serial] = answers
        for kept in (self._answers, self._cleared):
            while len(kept) > _MOST_JOBS:
                del kept[min(kept)]
        self.answered.emit()
        self._consider()

    def _consider(self) -> None:
        self.sheet.show_view(consider(self.answers, self._told), self._title())

    def _title(self) -> str:
        job = self._job.job
        if job is None or not job.title:
            return self.tr("Is it the pump?  No job is open: nothing is known but what is typed here.")
        return self.tr("Is it the pump?  {job}").format(job=job.title)

    # -- what the job tells

    @Slot(object)
    def _forget_told(self, _facts: object) -> None:
        self._told = NOTHING_TOLD
        if self.is_shown:
            self._consider()

    @Slot(object)
    def _ask_told(self, job: object) -> None:
        if self.is_shown and isinstance(job, Job):
            self._acts.read(lambda: self._desk.told_of_pump(job, NO_PROGRESS), partial(self._show_told, job))

    def _show_told(self, job: Job, told: object) -> None:
        if job is self._job.job and isinstance(told, Mapping):
            self._told = told
            self._consider()
