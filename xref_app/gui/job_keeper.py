"""Keeps the open job by itself, off the GUI thread: a second after a change, and at once when another job begins."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from xref_app.core.errors import XrefError
from xref_app.gui.fix_part import FixPart
from xref_app.gui.is_it_part import IsItPart
from xref_app.gui.job_flow import JobFlow, is_judged
from xref_app.gui.jobs_desk import JobsDesk
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.tasks import Tasks
from xref_app.services.answers import Candidate, Job
from xref_app.services.job_told import Told, told_of_job
from xref_app.services.kept_job import KeptJob

# House rule: a killed program loses no more than this of a job, ms.
KEEP_AFTER_MS = 1000
# House rule: of older jobs nobody needs the state in memory; they are on the disk.
_MOST_JOBS = 200


class JobKeeper(QObject):
    """Holds every job of this window by its number there, as it is and as it was kept; writes one at a time."""

    failed = Signal(str)
    crashed = Signal()
    all_kept = Signal()

    def __init__(
        self, desk: JobsDesk, job: JobFlow, panes: PaneArea, *, fix: FixPart | None, is_it: IsItPart | None
    ) -> None:
        super().__init__(panes)
        self._desk = desk
        self._job = job
        self._panes = panes
        self._fix, self._is_it = fix, is_it
        self._serial = job.serial
        self._states: dict[int, KeptJob] = {}
        # What is on the disk, as it came back: written by the worker, so that closing finds it.
        self._kept: dict[int, tuple[KeptJob, KeptJob]] = {}
        self._taken_up: int | None = None
        self._wanted: str | None = None
        self._has_failed = False
        self._tasks = Tasks(self)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(KEEP_AFTER_MS)
        self._soon.timeout.connect(self.keep_now)
        self._connect()

    def _connect(self) -> None:
        flow = self._job
        flow.facts_changed.connect(self._note_facts)
        flow.reference_changed.connect(self._note_typed)
        flow.job_opened.connect(self._note_job)
        flow.judged.connect(self._choose_again)
        self._panes.candidates.chosen.connect(self._note_chosen)
        if self._fix is not None:
            self._fix.figures_changed.connect(self._note_typed)
        if self._is_it is not None:
            self._is_it.answered.connect(self._note_typed)

    @property
    def is_working(self) -> bool:
        """Say whether a job is on its way to the disk."""
        return self._tasks.running > 0

    @property
    def is_kept(self) -> bool:
        """Say whether all there is of every job is on the disk."""
        return not self._unkept()

    def serial_of(self, job_id: str) -> int | None:
        """Return the number that a kept job has in this window, None where it was not open here."""
        return next((serial for serial, (_, kept) in self._kept.items() if kept.job_id == job_id), None)

    def take_up(self, serial: int, kept: KeptJob) -> None:
        """Go on with a job read from the disk, which is about to be opened under ``serial``."""
        state = replace(kept, job_id="", changed_at="")
        self._states[serial] = state
        self._kept[serial] = (KeptJob(""), kept)
        self._taken_up = serial

    def note_outcome(self, outcome_id: str) -> None:
        """Note that an outcome was entered on the open job."""
        state = self._state()
        if outcome_id not in state.outcome_ids:
            self._change(replace(state, outcome_ids=(*state.outcome_ids, outcome_id)))

    # -- what happens to the open job

    @Slot(object)
    def _note_facts(self, _facts: object) -> None:
        is_other = self._job.serial != self._serial
        is_back = is_other or self._job.serial == self._taken_up
        self._taken_up = None
        if is_other:
            self.keep_now()
            self._serial = self._job.serial
        state, facts = self._state(), self._job.facts
        self._wanted = state.chosen_id if is_back and state.chosen_id else None
        if state.facts != facts:
            self._change(replace(state, facts=facts, chosen_id="", chosen_number="", told=Told()))

    @Slot(object)
    def _note_job(self, job: Job) -> None:
        state = replace(self._state(), title=job.title)
        if self._wanted is None or not is_judged(job):
            state = replace(state, chosen_id="", chosen_number="", told=told_of_job(job, None))
        self._change(state)

    @Slot(object)
    def _note_chosen(self, candidate: Candidate | None) -> None:
        job = self._job.job
        if candidate is not None and job is not None:
            chosen = replace(self._state(), chosen_id=candidate.entry_id, chosen_number=candidate.number)
            self._change(replace(chosen, told=told_of_job(job, candidate)))

    @Slot(object)
    def _choose_again(self, _judged: object) -> None:
        """Look at the pump that was chosen when the job was left."""
        wanted, self._wanted = self._wanted, None
        if wanted:
            self._panes.candidates.choose(wanted)

    @Slot()
    def _note_typed(self) -> None:
        self._change(self._state())

    def _state(self) -> KeptJob:
        return self._states.get(self._serial, KeptJob(""))

    def _change(self, state: KeptJob) -> None:
        state = replace(state, reference=self._job.reference)
        if self._is_it is not None:
            state = replace(state, answers=self._is_it.answers)
        if self._fix is not None:
            state = replace(state, figures=self._fix.figures)
        self._states[self._serial] = state
        if self._is_unkept(self._serial) and not self._soon.isActive():
            self._soon.start()

    # -- to the disk

    def _is_unkept(self, serial: int) -> bool:
        state = self._states[serial]
        written = self._kept.get(serial)
        return bool(state.facts) and (written is None or written[0] != state)

    def _unkept(self) -> list[int]:
        return [serial for serial in self._states if self._is_unkept(serial)]

    @Slot()
    def keep_now(self) -> None:
        """Write what is not on the disk yet, one job after another; ``all_kept`` tells when all of it is."""
        self._soon.stop()
        if self.is_working:
            return
        unkept = self._unkept()
        if not unkept:
            self._forget_old()
            self.all_kept.emit()
            return
        serial = unkept[0]
        state = self._states[serial]
        task = self._tasks.prepare(lambda _progress: self._keep(serial, state))
        task.finished.connect(self._note_kept)
        task.failed.connect(self._note_failed)
        task.crashed.connect(self._tell_crash)
        self._tasks.launch(task)

    def _keep(self, serial: int, state: KeptJob) -> None:
        """Write one job (in a worker thread, or at closing); nothing else writes meanwhile."""
        written = self._kept.get(serial)
        known = state if written is None else replace(state, job_id=written[1].job_id, changed_at=written[1].changed_at)
        self._kept[serial] = (state, self._desk.keep(known))

    @Slot(object)
    def _note_kept(self, _nothing: object) -> None:
        self._has_failed = False
        QTimer.singleShot(0, self, self.keep_now)

    @Slot(str)
    def _note_failed(self, why: str) -> None:
        """Say once why nothing is kept; the next change tries again."""
        if not self._has_failed:
            self._has_failed = True
            self.failed.emit(self.tr("The job is not kept for later: {why}").format(why=why))
        self.all_kept.emit()

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self.crashed.emit()
        self.all_kept.emit()

    def _forget_old(self) -> None:
        for serial in sorted(self._states)[:-_MOST_JOBS]:
            if serial != self._serial:
                del self._states[serial]
                self._kept.pop(serial, None)

    def shut_down(self) -> None:
        """Write what is not on the disk yet, now and here: the window closes, and nobody could read why not."""
        self._soon.stop()
        self._tasks.shut_down()
        with suppress(XrefError):
            for serial in self._unkept():
                self._keep(serial, self._states[serial])
