"""Where the health sheet meets the rest: its page, the job a line is about, the doubts cleared, the check of all."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.ask_bar import Answers, AskBar, Blank
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.happened_desk import HappenedDesk
from xref_app.gui.health_desk import HealthDesk
from xref_app.gui.health_sheet import HealthSheet
from xref_app.gui.health_words import READING, check_text, told
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.late_page import LatePage
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_act import OneAct
from xref_app.gui.one_read import OneRead
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.somebody import Somebody
from xref_app.gui.theme import Look
from xref_app.services.answers import Hit
from xref_app.services.health_lines import HealthLine, WholeCheck

_WHY_PX, _LONGEST_WHY = 380, 200


class HealthPart(QObject):
    """Reads what is not right anew whenever the sheet is shown, and after every change that is taken back."""

    said = Signal(str)
    working = Signal(bool)
    progressed = Signal(int, int)
    opened = Signal()
    mend_pressed = Signal()

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self,
        desks: tuple[HealthDesk, HappenedDesk],
        job: JobFlow,
        panes: PaneArea,
        bench: BenchPart,
        bar: AskBar,
        *,
        look: Look,
        memory: WindowMemory,
    ) -> None:
        super().__init__(bench)
        self._desk, self._doubts = desks
        self._job = job
        self._panes = panes
        self._bench = bench
        self._bar = bar
        self._somebody = Somebody(bar, memory, bench.flow, self)
        self._page = LatePage(bench.pages, lambda: HealthSheet(look), self._connect)
        self._choose_next = ""
        self._reads = OneRead(self)
        self._reads.working.connect(self.working)
        self._reads.progressed.connect(self.progressed)
        self._reads.failed.connect(self._tell_failed)
        self._reads.crashed.connect(bench.flow.crashed)
        self._acts = OneAct(self)
        self._acts.failed.connect(self.said)
        self._acts.crashed.connect(bench.flow.crashed)
        bench.flow.taken_back.connect(self._note_taken_back)
        job.judged.connect(self._choose_pump)

    def _connect(self, sheet: HealthSheet) -> None:
        sheet.chosen.connect(self.open_job)
        details = sheet.details
        details.open_button.clicked.connect(self.open_job)
        details.right_button.clicked.connect(self.clear_doubts)
        details.mend_button.clicked.connect(self.mend_pressed)
        details.check_button.clicked.connect(self.check_everything)
        details.leave_button.clicked.connect(self.leave)

    @property
    def sheet(self) -> HealthSheet:
        """Return the sheet."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether something is being read or an act is on its way."""
        return self._acts.is_working or self._reads.is_working

    def shut_down(self) -> None:
        """Stop all work."""
        self._reads.shut_down()
        self._acts.shut_down()

    # -- the page

    def show(self) -> None:
        """Bring the sheet to the front, read anew."""
        self._bench.show_page(self.sheet)
        self._read()
        self.sheet.focus_lines()
        self.opened.emit()

    @Slot()
    def leave(self) -> None:
        """Stop what is being read; where nothing is, go back to the work sheet."""
        if not self._reads.is_wanted:
            self._bench.show_work()
            return
        self._reads.stop()
        self.sheet.details.say_checked("")
        self.said.emit(self.tr("Stopped. Ctrl+Shift+E reads again."))

    @Slot(str)
    def say_copies(self, words: str) -> None:
        """Say how it stands with the copies."""
        if self._page.is_built:
            self.sheet.say_copies(words)

    @Slot(str, bool)
    def _note_taken_back(self, _name: str, _is_undo: bool) -> None:  # noqa: FBT001 - the signal's own arguments
        self.read_again()

    @Slot()
    def read_again(self) -> None:
        """Read anew what is not right, where it was ever looked at."""
        if self._page.is_built:
            self._read()

    def _read(self) -> None:
        if not self.sheet.lines:
            self.sheet.say_count(told(READING))
        self._reads.run(self._desk.lines, self._show_lines)

    @Slot(object)
    def _show_lines(self, lines: object) -> None:
        if isinstance(lines, tuple):
            self.sheet.show_lines(lines)

    @Slot()
    def check_everything(self) -> None:
        """Read every row of the store and say what was found."""
        self.sheet.details.say_checked(self.tr("Reading every row… Esc stops."))
        self._reads.run(self._desk.check_everything, self._tell_checked)

    @Slot(object)
    def _tell_checked(self, found: object) -> None:
        if isinstance(found, WholeCheck):
            self.sheet.details.say_checked(check_text(found))

    @Slot(str)
    def _tell_failed(self, sentence: str) -> None:
        self.sheet.details.say_checked("")
        self.said.emit(sentence)

    # -- about the chosen line

    @Slot()
    def open_job(self) -> None:
        """Open machine and pump of the chosen line as a job; where it is about a pump alone, that pump."""
        line = self.sheet.line
        if line is None or not (line.machine_id or line.pump_id):
            self.said.emit(self.tr("This line is about no machine and no pump that could be opened."))
            return
        self._job.new_job()
        self._bench.show_work()
        if line.machine_id:
            self._choose_next = line.pump_id
            self._job.use_machine(line.machine_id, _called(line, line.machine_id))
        else:
            self._job.take(Hit(line.pump_id, "pump", _called(line, line.pump_id), "", "", (), (), 100.0))

    @Slot()
    def clear_doubts(self) -> None:
        """Ask who takes the blame off the sizes of the chosen line, and why."""
        line = self.sheet.line
        if line is None or not line.blamed_ids:
            self.said.emit(self.tr("Only sizes of a fit that failed can be called right again; choose such a line."))
            return
        why = Blank("why", self.tr("Why"), "", _WHY_PX, _LONGEST_WHY)
        question = self.tr("The sizes were right after all, and count again. What else was the matter?")
        self._bar.ask(question, self.tr("They were right"), (why, self._somebody.blank()), partial(self._clear, line))

    def _clear(self, line: HealthLine, given: Answers) -> None:
        who = self._somebody.note(given)
        self._acts.do(partial(self._doubts.clear_doubts, line.blamed_ids, who, given["why"]), self._tell_cleared)

    @Slot(object)
    def _tell_cleared(self, name: object) -> None:
        self._bar.leave()
        self._read()
        self._bench.flow.ask_names()
        if self._job.job is not None:
            self._job.open_again()
        self.said.emit(self.tr("Done: {name}. Ctrl+Z takes it back.").format(name=name))

    @Slot(object)
    def _choose_pump(self, _judged: object) -> None:
        """Look at the pump of the line that was opened, once all are judged."""
        wanted, self._choose_next = self._choose_next, ""
        if wanted:
            self._panes.candidates.choose(wanted)


def _called(line: HealthLine, entry_id: str) -> str:
    """Return what the line calls an entry, or else its id."""
    values = (str(one) for one in line.told.values.values())
    return next((one for one in values if f"({entry_id})" in one), entry_id)
