"""Where the work sheet and the bench meet: what F7 measures, and what a saved entry means for the open job."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtWidgets import QWidget

from xref_app.core.fields.fields import Side, all_fields, field_for
from xref_app.core.fit.identity import CONFIRMING_FIELDS
from xref_app.core.progress import Progress
from xref_app.gui.bench_desk import BenchDesk
from xref_app.gui.bench_flow import BenchFlow
from xref_app.gui.bench_sheet import BenchSheet
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.length_first import LengthFirst
from xref_app.gui.memory import WindowMemory
from xref_app.gui.messages import field_title
from xref_app.gui.page_stack import PageStack
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.tasks import Tasks
from xref_app.gui.theme import Look
from xref_app.gui.versions_sheet import VersionsSheet
from xref_app.services.answers import Candidate, FactState, Hit, Job, MeasureNext
from xref_app.services.bench import SavedUnit
from xref_app.services.both_versions import Versions
from xref_app.services.unit_draft import UnitDraft, UnitKind


class BenchPart(QObject):
    """Shows one of three pages: the work sheet, the bench sheet, the versions of one size."""

    said = Signal(str)
    names_changed = Signal(object)
    page_changed = Signal()

    def __init__(self, desk: BenchDesk, job: JobFlow, panes: PaneArea, look: Look, memory: WindowMemory) -> None:
        super().__init__(panes)
        self._desk = desk
        self._job = job
        self._panes = panes
        self._memory = memory
        self._next: MeasureNext | None = None
        self._candidate: Candidate | None = None
        self._tasks = Tasks(self)
        self.flow = BenchFlow(desk, self._tasks, self)
        self.flow.set_who(memory.who)
        self.sheet = BenchSheet(self.flow, look)
        self.versions = VersionsSheet(look)
        self.pages = PageStack()
        self.pages.setObjectName("window_pages_stack")
        for page in (panes, self.sheet, self.versions):
            self.pages.addWidget(page)
        self._connect()

    def _connect(self) -> None:
        flow = self.flow
        flow.closed.connect(self.show_work)
        flow.saved.connect(self._go_on_with)
        flow.failed.connect(self.said)
        flow.taken_back.connect(self._tell_taken_back)
        flow.names_changed.connect(self.names_changed)
        self.sheet.unit.who_changed.connect(self._remember_who)
        self.sheet.unit.hit_chosen.connect(self._take_hit)
        self.versions.left.connect(self.show_work)
        self.versions.settled.connect(self._settle)
        self.versions.measure_pressed.connect(self._measure_version)
        self._panes.candidates.chosen.connect(self._note_candidate)
        self._job.judged.connect(self._note_next)
        self._job.facts_changed.connect(self._forget_next)

    # -- pages

    @property
    def is_on_bench(self) -> bool:
        """Say whether the bench sheet is shown."""
        return self.pages.currentWidget() is self.sheet

    @property
    def is_working(self) -> bool:
        """Say whether an answer or a save is still awaited."""
        return self.flow.is_working or self._tasks.running > 0

    @property
    def is_on_versions(self) -> bool:
        """Say whether the versions of a size are shown."""
        return self.pages.currentWidget() is self.versions

    def show_first(self, first: LengthFirst) -> None:
        """Show lengths in this unit first."""
        self.sheet.show_first(first)
        self.versions.show_first(first)

    @Slot()
    def show_work(self) -> None:
        """Go back to the work sheet."""
        self._show(self._panes)

    def show_page(self, page: QWidget) -> None:
        """Bring a page of another part to the front."""
        self._show(page)

    def _show(self, page: QWidget) -> None:
        self.pages.setCurrentWidget(page)
        self.pages.updateGeometry()
        self.page_changed.emit()

    # -- measuring

    def measure(self) -> None:
        """Measure what the job needs next; without a job, a pump that nobody knows."""
        if self.is_on_bench:
            self.sheet.card.focus_line()
        elif self.is_on_versions:
            self.versions.press_measure()
        elif (job := self._job.job) is None:
            self.enter_pump()
        elif job.choices and job.machine_id is None and job.pump_id is None:
            self.said.emit(self.tr("Say first which build is here, then measure."))
        else:
            self._measure_for(job)

    def enter_pump(self) -> None:
        """Begin the entry of a pump on the bench."""
        self._begin(partial(self.flow.begin, UnitKind.PUMP), self.tr("Pump on the bench"))

    def enter_machine(self) -> None:
        """Begin the entry of a machine on the bench."""
        self._begin(partial(self.flow.begin, UnitKind.MACHINE), self.tr("Machine on the bench"))

    def measure_chosen(self) -> None:
        """Measure the chosen line of the bench sheet, or the chosen fact of the machine in the job."""
        if self.is_on_bench:
            self.sheet.ask_chosen()
            return
        job, field = self._job.job, self._panes.facts.chosen_field()
        if job is None or job.machine_id is None or not field:
            self.said.emit(self.tr("Choose a fact of a known machine first, then F2 measures it."))
            return
        self.begin_readings(job.machine_id, field)

    def _measure_for(self, job: Job) -> None:
        field = self._next.field if self._next is not None else ""
        open_sizes = () if self._candidate is None else self._candidate.judgement.measure_next
        own_sizes = [one for one in open_sizes if field_for(one).side is Side.PUMP]
        if job.guessed_number and job.pump_id is not None:
            title = self.tr("Confirm that it is {number}").format(number=job.title)
            begin = partial(self.flow.begin, UnitKind.PUMP, entry_id=job.pump_id, is_guessed=True)
            self._begin(begin, title, CONFIRMING_FIELDS[0])
        elif self._candidate is not None and own_sizes and (not field or field_for(field).side is Side.PUMP):
            self._measure_pump(self._candidate.entry_id, self._candidate.number, own_sizes[0])
        elif self._next is not None and self._next.entry_id:
            self._measure_pump(self._next.entry_id, self._next.title.rpartition(", ")[2], field)
        elif job.machine_id is not None:
            title = self.tr("More readings of {title}").format(title=job.title)
            self._begin(partial(self.flow.begin, UnitKind.MACHINE, entry_id=job.machine_id), title, field)
        else:
            title = self.tr("Machine that {title} came off").format(title=job.title)
            self._begin(partial(self.flow.begin, UnitKind.MACHINE, pump_id=job.pump_id or ""), title, field)

    def _measure_pump(self, entry_id: str, number: str, field: str) -> None:
        title = self.tr("More readings of {title}").format(title=number)
        self._begin(partial(self.flow.begin, UnitKind.PUMP, entry_id=entry_id), title, field)

    def _begin(self, begin: Callable[[], None], title: str, field: str = "") -> None:
        """Open the bench sheet under ``title`` and ask for ``field`` first; empty leaves the order to the catalog."""
        self.sheet.name_unit(title)
        self.sheet.ask_first(field)
        self._show(self.sheet)
        begin()

    def reopen_unfinished(self) -> None:
        """Go on with the newest entry that was not saved."""
        task = self._tasks.prepare(lambda _progress: self._desk.unfinished())
        task.finished.connect(self._reopen_first)
        task.failed.connect(self.said)
        self._tasks.launch(task)

    def look_for_unfinished(self) -> None:
        """Say at the start whether an entry was left unfinished."""
        task = self._tasks.prepare(lambda _progress: self._desk.unfinished())
        task.finished.connect(self._tell_unfinished)
        self._tasks.launch(task)
        self.flow.ask_names()

    @Slot(object)
    def _tell_unfinished(self, drafts: object) -> None:
        if isinstance(drafts, tuple) and drafts:
            self.said.emit(
                self.tr("1 unfinished entry kept: Ctrl+Shift+N opens it.")
                if len(drafts) == 1
                else self.tr("{count} unfinished entries kept: Ctrl+Shift+N opens the newest.").format(
                    count=len(drafts)
                )
            )

    @Slot(object)
    def _reopen_first(self, drafts: object) -> None:
        if not isinstance(drafts, tuple) or not drafts:
            self.said.emit(self.tr("No unfinished entry is kept."))
            return
        draft = drafts[0]
        if isinstance(draft, UnitDraft):
            self.sheet.name_unit(self.tr("Unfinished entry"))
            self.sheet.ask_first("")
            self._show(self.sheet)
            self.flow.reopen(draft)

    # -- saved, and taken back

    @Slot(object)
    def _go_on_with(self, saved: SavedUnit) -> None:
        self.show_work()
        job = self._job.job
        is_of_job = any(one.entry_id == saved.entry_id for one in self._job.facts)
        if is_of_job or (job is not None and saved.kind == "pump"):
            self._job.open_again(number_is_settled=saved.settles_number)
        elif job is not None:
            self._job.use_machine(saved.entry_id, saved.number)
        else:
            self._job.take(Hit(saved.entry_id, saved.kind, saved.number, "", "", (), (), 100.0))
        self.said.emit(self.tr("Saved: {number}. Ctrl+Z takes it back.").format(number=saved.number))

    @Slot(str, bool)
    def _tell_taken_back(self, name: str, is_undo: bool) -> None:  # noqa: FBT001 - the signal's own argument
        words = self.tr("Taken back: {name}.") if is_undo else self.tr("Done again: {name}.")
        gone = [one.entry_id for one in self._job.facts if not self._desk.has_entry(one.entry_id)]
        self._job.open_again(gone=gone)
        self.said.emit(words.format(name=name))

    # -- contradictions

    def show_versions(self) -> None:
        """Open both versions of the chosen fact, or of the first that the job knows."""
        job, field = self._job.job, self._panes.facts.chosen_field()
        if job is None:
            self.said.emit(self.tr("Open a job first."))
            return
        rows = [fact for fact in job.facts if fact.state is FactState.CONFLICT]
        chosen = next((fact for fact in rows if fact.field == field), rows[0] if rows else None)
        if chosen is None:
            self.said.emit(self.tr("Nothing known of this machine comes in two versions."))
            return
        candidate = self._candidate
        work = partial(self._ask_versions, job, chosen.field, candidate.entry_id if candidate else None)
        task = self._tasks.prepare(work)
        task.finished.connect(self._show_versions)
        task.failed.connect(self.said)
        self._tasks.launch(task)

    def _ask_versions(self, job: Job, field: str, candidate: str | None, progress: Progress) -> Versions:
        owner = job.machine_id or job.pump_id or ""
        return self._desk.versions(job, owner, field, candidate, progress)

    @Slot(object)
    def _show_versions(self, versions: Versions) -> None:
        self.versions.show_versions(versions)
        self._show(self.versions)

    @Slot(object, int, str)
    def _settle(self, versions: Versions, kept: int, why: str) -> None:
        who = self._memory.who
        task = self._tasks.prepare(lambda _progress: self._desk.settle(versions, kept, who or "the counter", why))
        task.finished.connect(self._tell_settled)
        task.failed.connect(self.said)
        self._tasks.launch(task)

    @Slot(object)
    def _tell_settled(self, _nothing: object) -> None:
        self.show_work()
        self.said.emit(self.tr("Settled; the other version stays in the record. Ctrl+Z takes it back."))
        self.flow.ask_names()
        self._job.open_again()

    @Slot(object)
    def _measure_version(self, versions: Versions) -> None:
        self.begin_readings(versions.entry_id, versions.field)

    def begin_readings(self, entry_id: str, field: str) -> None:
        """Measure ``field`` of an entry once more."""
        kind = UnitKind.PUMP if field_for(field).side is Side.PUMP else UnitKind.MACHINE
        title = self.tr("Measure again: {field}").format(field=field_title(field))
        self._begin(partial(self.flow.begin, kind, entry_id=entry_id), title, field)

    # -- small things

    @Slot(object)
    def _note_next(self, judged: object) -> None:
        self._next = getattr(judged, "measure_next", None)

    @Slot(object)
    def _note_candidate(self, candidate: Candidate | None) -> None:
        self._candidate = candidate

    @Slot(object)
    def _forget_next(self, _facts: object) -> None:
        self._next = self._candidate = None

    @Slot(str)
    def _remember_who(self, who: str) -> None:
        self._memory.who = who

    @Slot(object)
    def _take_hit(self, hit: object) -> None:
        """Use an entry that the readings fit as the pump coming off; the draft stays kept."""
        entry_id, number = getattr(hit, "entry_id", ""), getattr(hit, "number", "")
        kind = "pump" if self.flow.draft is not None and self.flow.draft.kind is UnitKind.PUMP else "machine"
        self.flow.leave()
        self._job.take(Hit(entry_id, kind, number, "", "", (), (), 100.0))

    def shut_down(self) -> None:
        """Write what is not kept yet, then stop all work."""
        self._tasks.shut_down()
        self.flow.flush()


def step_name(name: str) -> str:
    """Return what undo or redo would do, in words: a field's title, or the name of a saved change as it is."""
    return field_for(name).title if name in all_fields() else name
