"""One job from typed text to drawing: which question is asked next, and which answer is still wanted."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace
from functools import partial

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.core.progress import Progress
from xref_app.gui.desk import Desk
from xref_app.gui.drawings import Drawings
from xref_app.gui.tasks import Task, Tasks, Work
from xref_app.services.answers import Candidate, Candidates, Found, Hit, Job, MachineChoice
from xref_app.services.used_fact import UsedFact


def is_whole_match(hit: Hit) -> bool:
    """Say whether every character of the number was typed and none was guessed."""
    letters = {place for place, letter in enumerate(hit.number) if letter.isalnum()}
    return not hit.guessed and letters <= set(hit.matched)


def is_judged(job: Job) -> bool:
    """Say whether enough is known to ask what could go on: the build of a model must be said first."""
    return job.pump_id is not None or not job.choices


class JobFlow(QObject):
    """Asks the desk off the GUI thread; a new question of one kind drops the old one of that kind."""

    found = Signal(object)
    taken = Signal(object)
    facts_changed = Signal(object)
    reference_changed = Signal()
    job_opened = Signal(object)
    judged = Signal(object)
    drawn = Signal(object)
    failed = Signal(str)
    crashed = Signal()
    progressed = Signal(int, int)
    working = Signal(bool)

    def __init__(self, desk: Desk, tasks: Tasks, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._tasks = tasks
        self._facts: tuple[UsedFact, ...] = ()
        self._before: tuple[UsedFact, ...] = ()
        self._job: Job | None = None
        self._reference = self._reference_before = ""
        self._serial = self._serial_before = self._last_serial = 0
        self._current: dict[str, Task] = {}

    @property
    def facts(self) -> tuple[UsedFact, ...]:
        """Return what the job rests on."""
        return self._facts

    @property
    def is_working(self) -> bool:
        """Say whether an answer is still awaited."""
        return bool(self._current)

    def find(self, text: str) -> None:
        """Ask what ``text`` could mean; an empty text asks nothing."""
        self._drop("find")
        if text.strip():
            self._ask("find", partial(self._desk.find, text), self._tell_found)

    def take_text(self, text: str) -> None:
        """Take the one entry whose whole number was typed; with several or none, show what there is."""
        self._drop("find")
        if text.strip():
            self._ask("find", partial(self._desk.find, text), self._take_found)

    def take(self, hit: Hit) -> None:
        """Use this entry. A second pump, or a second machine, begins a new job."""
        fact = UsedFact(hit.kind, hit.entry_id, hit.number or hit.name, is_guessed=bool(hit.guessed), builds=hit.builds)
        is_second = any(one.is_pump == fact.is_pump for one in self._facts)
        if is_second:
            self._reference = ""
            self._count_job()
        self.taken.emit(hit)
        self._use((fact,) if is_second else (*self._facts, fact))

    def take_build(self, choice: MachineChoice) -> None:
        """Use this build of the machine."""
        fact = UsedFact("machine", choice.entry_id, choice.model, is_build=True, sisters=choice.sisters)
        self._use((*(one for one in self._facts if one.is_pump), fact))

    def remove(self, fact: UsedFact) -> None:
        """Go on without this fact."""
        self._use(tuple(one for one in self._facts if one != fact))

    def new_job(self) -> None:
        """Put the job away; ``reopen_before`` brings it back."""
        self._put_away()
        self._reference = ""
        self._count_job()
        self._drop("find")
        self._use(())

    def reopen(self, facts: tuple[UsedFact, ...], reference: str, serial: int) -> None:
        """Put the job away and open one that was kept, under the number it has or had in this window."""
        if serial != self._serial:
            self._put_away()
        self._reference, self._serial = reference, serial
        self._drop("find")
        self._use(facts)

    def _put_away(self) -> None:
        if self._facts:
            self._before, self._reference_before = self._facts, self._reference
            self._serial_before = self._serial

    def reopen_before(self) -> None:
        """Change places with the job put away last."""
        if self._before:
            self._before, facts = self._facts, self._before
            self._reference, self._reference_before = self._reference_before, self._reference
            self._serial, self._serial_before = self._serial_before, self._serial
            self._use(facts)

    def open_again(self, *, number_is_settled: bool = False, gone: Collection[str] = ()) -> None:
        """Ask everything anew: the catalog has changed. A number that a reading has settled is guessed no more.

        ``gone`` are entries that are in the catalog no more; the job goes on without them.
        """
        facts = tuple(one for one in self._facts if one.entry_id not in gone)
        if number_is_settled:
            facts = tuple(replace(one, is_guessed=False) if one.is_pump else one for one in facts)
        self._use(facts)

    def use_machine(self, entry_id: str, model: str) -> None:
        """Use this machine, just measured, with the pump that came off it."""
        fact = UsedFact("machine", entry_id, model, is_build=True)
        self._use((*(one for one in self._facts if one.is_pump), fact))

    @property
    def job(self) -> Job | None:
        """Return the open job, None while there is none or it is being opened."""
        return self._job

    @property
    def serial(self) -> int:
        """Return the number of the job in this window: what is noted for a job is kept by it."""
        return self._serial

    def _count_job(self) -> None:
        self._serial = self.next_serial()

    def next_serial(self) -> int:
        """Return a number that no job in this window has had."""
        self._last_serial += 1
        return self._last_serial

    @property
    def reference(self) -> str:
        """Return what the shop calls the job; empty until something is put by for it."""
        return self._reference

    def set_reference(self, reference: str) -> None:
        """Say what the shop calls the job, from the next asking on: what is put by for it is its own."""
        self._reference = reference
        self.reference_changed.emit()

    def look_at(self, candidate: Candidate | None) -> None:
        """Ask for both drawings of this pump."""
        self._drop("face")
        if candidate is not None and self._job is not None:
            self._ask("face", partial(self._draw, self._job, candidate.entry_id), self._tell_drawn)

    def _draw(self, job: Job, candidate_id: str, progress: Progress) -> Drawings:
        """Draw faces and side, and the plate and the spacers to make where there are any (in a worker thread)."""
        asked = (job, candidate_id, progress)
        desk = self._desk
        return Drawings(desk.face(*asked), desk.side(*asked), desk.plate(*asked), desk.spacer(*asked))

    def stop(self) -> None:
        """Drop every question still open; a job nobody waited for is put away."""
        waited_for_job = "job" in self._current
        for kind in tuple(self._current):
            self._drop(kind)
        if waited_for_job:
            self._use(())

    def _use(self, facts: tuple[UsedFact, ...]) -> None:
        for kind in ("job", "judge", "face"):
            self._drop(kind)
        self._facts = facts
        self._job = None
        self.facts_changed.emit(facts)
        if facts:
            self._ask("job", partial(self._open, facts), self._tell_job)

    def _open(self, facts: tuple[UsedFact, ...], progress: Progress) -> Job:
        """Open the job these facts make (in a worker thread)."""
        reference = self._reference
        pump = next((one for one in facts if one.is_pump), None)
        machine = next((one for one in facts if not one.is_pump), None)
        named = machine if machine is not None and not machine.is_build else None
        job = self._desk.open_job(
            pump.entry_id if pump else None,
            named.entry_id if named else None,
            progress,
            guessed_number=any(one.is_guessed for one in facts),
            among=named.builds if named else (),
        )
        job = replace(job, reference=reference)
        if machine is None or not machine.is_build:
            return job
        return self._desk.pick_build(job, machine.entry_id, progress, sisters=machine.sisters)

    def _ask(self, kind: str, work: Work, answer: Callable[[object], None]) -> None:
        task = self._tasks.prepare(work)
        task.setObjectName(kind)
        task.finished.connect(answer)
        task.failed.connect(self.failed)
        task.crashed.connect(self._tell_crash)
        task.progressed.connect(self.progressed)
        task.settled.connect(self._note_settled)
        self._current[kind] = task
        self.working.emit(self.is_working)
        self._tasks.launch(task)

    def _drop(self, kind: str) -> None:
        self._tasks.cancel(self._current.pop(kind, None))
        self.working.emit(self.is_working)

    @Slot()
    def _note_settled(self) -> None:
        task = self.sender()
        if isinstance(task, Task) and self._current.get(task.objectName()) is task:
            del self._current[task.objectName()]
            self.working.emit(self.is_working)

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self.crashed.emit()

    @Slot(object)
    def _tell_found(self, found: object) -> None:
        self.found.emit(found)

    @Slot(object)
    def _take_found(self, found: object) -> None:
        if not isinstance(found, Found):
            return
        self.found.emit(found)
        whole = {hit.entry_id: hit for hit in found.hits if is_whole_match(hit)}
        if len(whole) == 1:
            self.take(next(iter(whole.values())))

    @Slot(object)
    def _tell_job(self, job: object) -> None:
        if not isinstance(job, Job):
            return
        self._job = job
        self.job_opened.emit(job)
        if is_judged(job):
            self._ask("judge", partial(self._desk.judge_all, job), self._tell_judged)

    @Slot(object)
    def _tell_judged(self, candidates: object) -> None:
        if isinstance(candidates, Candidates):
            self.judged.emit(candidates)

    @Slot(object)
    def _tell_drawn(self, drawings: object) -> None:
        if isinstance(drawings, Drawings):
            self.drawn.emit(drawings)
