"""Where a supplier's catalog file meets the rest: its page, the look at the file, the take, and the trust in keys."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.ask_bar import Answers, AskBar
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.catalog_file_desk import CatalogFileDesk
from xref_app.gui.catalog_file_sheet import CatalogFileSheet
from xref_app.gui.catalog_file_words import (
    EMPTY,
    READING,
    STOPPED,
    TAKEN_ANEW_STATE,
    TAKEN_STATE,
    TAKING,
    TAKING_SO_FAR,
    in_use_text,
    question_text,
    refused_text,
    taken_text,
    told,
)
from xref_app.gui.file_boxes import documents_folder, reading_box
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.late_page import LatePage
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_act import OneAct
from xref_app.gui.one_read import OneRead
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.somebody import Somebody
from xref_app.gui.theme import Look
from xref_app.gui.trust_part import TrustPart
from xref_app.gui.trust_sheet import TrustSheet
from xref_app.services.answers import Candidate
from xref_app.services.catalog_files import LookedAt, Refused, TakenFile


class CatalogFilePart(QObject):
    """Reads a file, shows what it would do, and takes it when F12 was pressed twice: once to ask, once to do.

    ``began`` tells that a file is looked at; ``job_chosen`` carries a kept job that is to be opened; ``in_use_told``
    says which files the catalog rests on; ``catalog_changed`` that the catalog may have another name now.
    """

    said = Signal(str)
    began = Signal()
    working = Signal(bool)
    progressed = Signal(int, int)
    job_chosen = Signal(object)
    in_use_told = Signal(str)
    catalog_changed = Signal()

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self,
        desk: CatalogFileDesk,
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
        self._page = LatePage(bench.pages, lambda: CatalogFileSheet(look), self._connect)
        self.trust = TrustPart(desk, bench, look)
        self._folder = documents_folder()
        self._path: Path | None = None
        self._looked: LookedAt | None = None
        self._candidate: Candidate | None = None
        self._look_again_at = ""
        self._is_taking = False
        self._reads, self._takes, self._acts = OneRead(self), OneAct(self), OneAct(self)
        self._listen()

    def _listen(self) -> None:
        flow = self._bench.flow
        for work in (self._reads, self._takes, self._acts):
            work.crashed.connect(flow.crashed)
        for long_work in (self._reads, self._takes):
            long_work.working.connect(self.working)
            long_work.progressed.connect(self.progressed)
        self._reads.failed.connect(self._tell_unread)
        self._takes.failed.connect(self._tell_untaken)
        self._takes.crashed.connect(self._note_crashed)
        self._takes.progressed.connect(self._show_taking)
        flow.taken_back.connect(self._look_again)
        self.trust.said.connect(self.said)
        self.trust.trusted.connect(self._go_on_trusting)
        self.trust.left.connect(self._come_back)
        self._panes.candidates.chosen.connect(self._note_candidate)
        self._job.judged.connect(self._choose_again)

    def _connect(self, sheet: CatalogFileSheet) -> None:
        sheet.job_chosen.connect(self._open_job)
        details = sheet.details
        details.take_button.clicked.connect(self.ask)
        details.although_button.clicked.connect(self.ask_although)
        details.trust_button.clicked.connect(self.trust.show)
        details.job_button.clicked.connect(self._open_job)
        details.choose_button.clicked.connect(self.choose_file)
        details.leave_button.clicked.connect(self.leave)

    @property
    def sheet(self) -> CatalogFileSheet | TrustSheet:
        """Return the sheet in front, else the one that is shown first."""
        return self.trust.sheet if self.trust.is_shown else self._page.page

    @property
    def file_sheet(self) -> CatalogFileSheet:
        """Return the sheet about a file."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether either sheet is in front."""
        return self._page.is_shown or self.trust.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether something is being read, taken or added."""
        return any(one.is_working for one in (self._reads, self._takes, self._acts, self.trust))

    def shut_down(self) -> None:
        """Stop all work; a take is finished first, or not done at all."""
        for one in (self._reads, self._takes, self._acts, self.trust):
            one.shut_down()

    # -- the page

    def show(self) -> None:
        """Bring the sheet to the front and ask for a file; a catalog that takes none says so instead."""
        if refusal := self._desk.refusal():
            self.said.emit(refusal)
            return
        self._come_back()
        if not self._is_taking:
            self.choose_file()

    @Slot()
    def _come_back(self) -> None:
        self._bench.show_page(self.file_sheet)
        self.file_sheet.focus_first()

    @Slot()
    def leave(self) -> None:
        """Leave the keys of a supplier, or stop what is being read or taken, or go back to the work sheet."""
        if self.trust.is_shown:
            self.trust.leave()
        elif self._is_taking:
            self._takes.stop()
        elif self._reads.is_wanted:
            self._reads.stop()
            self.file_sheet.show_nothing(told(STOPPED))
            self.file_sheet.focus_first()
        else:
            self._forget()
            self._bench.show_work()

    def _forget(self) -> None:
        """Let go of the file: a large one takes much memory."""
        self._path = self._looked = None
        self.file_sheet.show_nothing(told(EMPTY))

    def ask_in_use(self) -> None:
        """Ask which files the catalog rests on; ``in_use_told`` tells."""
        self._acts.read(self._desk.in_use, self._tell_in_use)

    @Slot(object)
    def _tell_in_use(self, files: object) -> None:
        if isinstance(files, tuple):
            self.in_use_told.emit(in_use_text(files))

    # -- the file

    @Slot()
    def choose_file(self) -> None:
        """Ask which file."""
        dialog = reading_box(self.file_sheet, "catalog_choose_dialog", self.tr("Read a catalog file"), self._folder)
        dialog.setNameFilters([self.tr("Catalog file (*.xrefcat)"), self.tr("All files (*)")])
        dialog.fileSelected.connect(self.read)
        dialog.open()

    @Slot(str)
    def read(self, chosen: str) -> None:
        """Look at this file; nothing is changed."""
        self._path = Path(chosen)
        self._folder = str(self._path.parent)
        self._bar.leave()
        self.began.emit()
        self._look_at(self._path)

    @Slot()
    def _go_on_trusting(self) -> None:
        """Go back to the file that could not be taken without the keys."""
        self._come_back()
        if self._path is not None:
            self._look_at(self._path)

    @Slot(str, bool)
    def _look_again(self, _name: str, _is_undo: bool) -> None:  # noqa: FBT001 - the signal's own arguments
        """Look anew: what is shown was reckoned before something was taken back."""
        self.catalog_changed.emit()
        if self._path is None or self._is_taking:
            return
        if self._page.is_shown:
            self._look_at(self._path)
        else:
            self._forget()

    def _look_at(self, path: Path) -> None:
        self._looked = None
        self.file_sheet.show_nothing(told(READING), can_trust=False)
        self._reads.run(partial(self._desk.look, path), self._show_looked)

    @Slot(object)
    def _show_looked(self, found: object) -> None:
        sheet = self.file_sheet
        if isinstance(found, LookedAt):
            self._looked = found
            sheet.show_file(found)
        elif isinstance(found, Refused):
            sheet.show_nothing(found.sentence, refused_text(found), can_trust=found.is_strange)
        if self._page.is_shown:
            sheet.focus_first()

    @Slot(str)
    def _tell_unread(self, sentence: str) -> None:
        self.file_sheet.show_nothing(sentence, can_trust=False)

    @Slot()
    def _open_job(self) -> None:
        line = self.file_sheet.line
        if line is not None and line.job is not None and not self._is_taking:
            self.job_chosen.emit(line.job)

    # -- the take

    @Slot()
    def ask(self) -> None:
        """Ask who takes the file; on the sheet of keys, add them. What cannot be taken is said."""
        looked = self._looked
        if self.trust.is_shown:
            self.trust.add()
        elif looked is None:
            self.said.emit(self.tr("Choose a good catalog file first: Ctrl+Shift+G."))
        elif looked.too_old:
            self.said.emit(looked.too_old)
        elif self.file_sheet.details.take_button.isEnabled():
            self._ask(looked, self.tr("Take it"), older_too=False)
        else:
            self.said.emit(self.tr("There is nothing left to take of this file."))

    @Slot()
    def ask_although(self) -> None:
        """Ask who takes the file although a newer one was taken."""
        if self._looked is not None and self._looked.too_old:
            self._ask(self._looked, self.tr("Take the older one"), older_too=True)

    def _ask(self, looked: LookedAt, act: str, *, older_too: bool) -> None:
        take = partial(self._take, looked, older_too=older_too)
        self._bar.ask(question_text(looked), act, (self._somebody.blank(),), take, only_f12=True)

    def _take(self, looked: LookedAt, given: Answers, *, older_too: bool) -> None:
        who = self._somebody.note(given)
        if not who:
            self.said.emit(self.tr("Say who takes the file; nothing was changed."))
            return
        self._bar.leave()  # so that the next Esc stops the take
        if self._is_taking:
            return
        self._is_taking = True
        self.file_sheet.say_state(told(TAKING))
        work = partial(self._desk.take, looked, who, older_too=older_too)
        self._takes.do_stoppable(work, self._tell_taken)

    @Slot(int, int)
    def _show_taking(self, done: int, total: int) -> None:
        if total and self._is_taking:
            self.file_sheet.say_state(told(TAKING_SO_FAR, percent=100 * done // total))

    @Slot(object)
    def _tell_taken(self, taken: object) -> None:
        if not isinstance(taken, TakenFile):
            self._tell_untaken(self.tr("Stopped; nothing was changed."))
            return
        self._is_taking, self._looked = False, None
        words = taken_text(taken)
        self.file_sheet.show_taken(told(TAKEN_STATE if taken.is_as_shown else TAKEN_ANEW_STATE))
        gone = set(taken.looked.update.withdrawn)
        lost = [one.label for one in self._job.facts if one.entry_id in gone]
        if lost:
            words += " " + self.tr("The job goes on without {names}, withdrawn.").format(names=", ".join(lost))
        self._bench.flow.ask_names()
        self.ask_in_use()
        self.catalog_changed.emit()
        if self._job.facts:
            self._look_again_at = self._candidate.entry_id if self._candidate is not None else ""
            self._job.open_again(gone=gone)
        self.said.emit(words)

    @Slot(str)
    def _tell_untaken(self, sentence: str) -> None:
        """Say why nothing was taken; what is shown is as it was."""
        self._is_taking = False
        self.said.emit(sentence)
        if self._looked is not None:
            self.file_sheet.show_file(self._looked)

    @Slot()
    def _note_crashed(self) -> None:
        """Show the file as it was: whether it was taken is seen when it is looked at again."""
        self._is_taking = False
        if self._path is not None:
            self._look_at(self._path)

    # -- the pump looked at

    @Slot(object)
    def _note_candidate(self, candidate: Candidate | None) -> None:
        self._candidate = candidate

    @Slot(object)
    def _choose_again(self, _judged: object) -> None:
        """Look at the same pump as before the catalog changed."""
        wanted, self._look_again_at = self._look_again_at, ""
        if wanted:
            self._panes.candidates.choose(wanted)
