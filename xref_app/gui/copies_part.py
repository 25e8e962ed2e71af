"""Where the copies meet the rest: their sheet, copies made, and one put back."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtWidgets import QFileDialog

from xref_app.gui.ask_bar import Answers, AskBar
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.copies_desk import CopiesDesk
from xref_app.gui.copies_sheet import CopiesSheet
from xref_app.gui.copies_words import NOT_KEPT, change_lines, count_text, told, when_of
from xref_app.gui.file_boxes import documents_folder, reading_box, writing_box
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.late_page import LatePage
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_act import OneAct
from xref_app.gui.one_read import OneRead
from xref_app.gui.somebody import Somebody
from xref_app.gui.tasks import Work
from xref_app.gui.theme import Look
from xref_app.services.copies_told import CopyLine
from xref_app.services.restore import Restored, Way, WouldChange
from xref_app.services.store_copies import CopiesTold, CopyReport, LastRestore


class CopiesPart(QObject):
    """Reads the copies anew whenever the sheet is shown; nothing is put back before it was told what would vanish.

    ``put_in_place`` carries a copy and a person where the catalog is beyond single rows: the window must be closed
    before the file can be replaced.
    """

    said = Signal(str)
    working = Signal(bool)
    progressed = Signal(int, int)
    works_from = Signal(object)
    counted = Signal(str)
    bundle_pressed = Signal()
    put_in_place = Signal(object, str)

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self, desk: CopiesDesk, job: JobFlow, bench: BenchPart, bar: AskBar, *, look: Look, memory: WindowMemory
    ) -> None:
        super().__init__(bench)
        self._desk = desk
        self._job = job
        self._bench = bench
        self._bar = bar
        self._window = bench.pages
        self._somebody = Somebody(bar, memory, bench.flow, self)
        self._page = LatePage(bench.pages, lambda: CopiesSheet(look), self._connect)
        self._folder = documents_folder()
        self._is_read = False
        # What is looked at next stops no copy that is being made.
        self._counts, self._reads, self._copying, self._acts = OneRead(self), OneRead(self), OneRead(self), OneAct(self)
        for long_work in (self._reads, self._copying, self._acts):
            long_work.working.connect(self._tell_working)
            long_work.progressed.connect(self.progressed)
        for work in (self._counts, self._reads, self._copying, self._acts):
            work.failed.connect(self._tell_failed)
            work.crashed.connect(bench.flow.crashed)
        bench.flow.taken_back.connect(self._note_taken_back)

    def _connect(self, sheet: CopiesSheet) -> None:
        sheet.chosen.connect(self.put_all_back)
        details = sheet.details
        details.all_button.clicked.connect(self.put_all_back)
        details.missing_button.clicked.connect(self.bring_back_missing)
        details.now_button.clicked.connect(self.copy_now)
        details.elsewhere_button.clicked.connect(self.copy_elsewhere)
        details.from_button.clicked.connect(self.choose_file)
        details.bundle_button.clicked.connect(self.bundle_pressed)
        details.leave_button.clicked.connect(self.leave)

    @property
    def sheet(self) -> CopiesSheet:
        """Return the sheet."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether something is being read or an act is on its way."""
        return any(one.is_working for one in (self._counts, self._reads, self._copying, self._acts))

    def shut_down(self) -> None:
        """Stop all work."""
        for one in (self._counts, self._reads, self._copying, self._acts):
            one.shut_down()

    @property
    def _is_awaited(self) -> bool:
        """Say whether something is read or copied that somebody waits for."""
        return self._reads.is_wanted or self._copying.is_wanted

    @Slot()
    def _tell_working(self) -> None:
        self.working.emit(self._is_awaited or self._acts.is_stoppable)

    # -- the page

    def show(self) -> None:
        """Bring the sheet to the front, read anew."""
        self._bench.show_page(self.sheet)
        self._read()
        self.sheet.focus_copies()

    @Slot()
    def leave(self) -> None:
        """Stop what is being read or put back; where nothing is, go back to the work sheet."""
        if self._acts.is_stoppable:
            self._acts.stop()
            return
        if not self._is_awaited:
            self._bench.show_work()
            return
        self._reads.stop()
        self._copying.stop()
        self._end_waiting()
        self.said.emit(self.tr("Stopped; nothing was changed."))

    def _end_waiting(self) -> None:
        """Say no more that something is being looked through, compared or copied."""
        if self._page.is_built:
            self.sheet.details.say_would(())
            unread = self.tr("The copies were not looked through: Ctrl+Shift+K does.")
            self.sheet.say_count(count_text(self.sheet.told) if self._is_read else unread)

    def _read(self) -> None:
        if not self._copying.is_wanted and not self.sheet.told.lines:
            self.sheet.say_count(self.tr("Looking through the copies… Esc stops."))
        self._reads.run(self._desk.told, self._show_told)

    @Slot(object)
    def _show_told(self, copies: object) -> None:
        if isinstance(copies, CopiesTold):
            self._is_read = True
            self.sheet.show_copies(copies)
            if self._copying.is_wanted:
                self._say_copying()

    @Slot()
    def count(self) -> None:
        """Tell in one sentence how it stands with the copies."""
        self._counts.run(self._desk.told, self._tell_counted)

    @Slot(object)
    def _tell_counted(self, copies: object) -> None:
        if isinstance(copies, CopiesTold):
            self.counted.emit(count_text(copies))

    @Slot(str)
    def _tell_failed(self, sentence: str) -> None:
        self._end_waiting()
        self.said.emit(sentence)

    # -- making copies

    @Slot()
    def copy_now(self) -> None:
        """Make a copy beside the others."""
        self._copy(self._desk.copy_now, self._tell_copied)

    def _copy(self, work: Work, answer: Callable[[object], None]) -> None:
        if self._copying.is_wanted:
            self.said.emit(self.tr("A copy is being made already; Esc stops it."))
            return
        self._say_copying()
        self._copying.run(work, answer)

    def _say_copying(self) -> None:
        self.sheet.say_count(self.tr("Copying, and reading every row of the copy… Esc stops."))

    @Slot(object)
    def _tell_copied(self, copy: object) -> None:
        if copy is not None:
            self.said.emit(self.tr("The copy is made, and every row of it was read again."))
        else:
            nothing_yet = self.tr("There is nothing to copy yet.")
            self.said.emit(nothing_yet if self.sheet.told.are_kept else told(NOT_KEPT))
        self._end_waiting()
        self._read()

    @Slot()
    def copy_elsewhere(self) -> None:
        """Ask where another copy goes: a stick, another disk."""
        dialog = writing_box(self._window, "copies_elsewhere_dialog", self.tr("Where does the copy go?"), self._folder)
        # Nothing is written over: asked first, that would be a promise.
        dialog.setOption(QFileDialog.Option.DontConfirmOverwrite)
        dialog.setNameFilters([self.tr("Copy of the catalog (*.sqlite)")])
        dialog.setDefaultSuffix("sqlite")
        dialog.fileSelected.connect(self._copy_to)
        dialog.open()

    @Slot(str)
    def _copy_to(self, chosen: str) -> None:
        path = Path(chosen)
        self._folder = str(path.parent)
        self._copy(lambda progress: self._desk.copy_to(path, progress), self._tell_copied_to)

    @Slot(object)
    def _tell_copied_to(self, report: object) -> None:
        self._end_waiting()
        if isinstance(report, CopyReport):
            self.said.emit(self.tr("The copy is made and checked: {path}").format(path=report.path))

    # -- putting one back

    @Slot()
    def choose_file(self) -> None:
        """Ask for a copy that lies elsewhere: on a stick, on another disk."""
        dialog = reading_box(self._window, "copies_from_dialog", self.tr("Which copy?"), self._folder)
        dialog.setNameFilters([self.tr("Copy of the catalog (*.sqlite)"), self.tr("All files (*)")])
        dialog.fileSelected.connect(self._look_at)
        dialog.open()

    @Slot(str)
    def _look_at(self, chosen: str) -> None:
        path = Path(chosen)
        self._folder = str(path.parent)
        self._reads.run(partial(self._desk.line_of, path), self._show_line)

    @Slot(object)
    def _show_line(self, line: object) -> None:
        if isinstance(line, CopyLine):
            self.sheet.show_elsewhere(line)

    @Slot()
    def put_all_back(self) -> None:
        """Tell what putting the chosen copy back would do, then ask."""
        self._ask_back(Way.ALL)

    @Slot()
    def bring_back_missing(self) -> None:
        """Tell what of the chosen copy is missing, then ask."""
        self._ask_back(Way.MISSING)

    def _ask_back(self, way: Way) -> None:
        line = self.sheet.line
        if line is None or line.holds is None:
            self.said.emit(self.tr("Choose a copy that can be read."))
        elif self.sheet.told.only_as_file:
            self._ask_in_place(line)
        else:
            self.sheet.details.say_would((self.tr("Comparing the copy with the catalog…"),))
            self._reads.run(partial(self._desk.would_change, line.path, way), partial(self._ask_after, line, way))

    def _ask_after(self, line: CopyLine, way: Way, change: object) -> None:
        if not isinstance(change, WouldChange) or not self.is_shown:
            return
        sentences = change_lines(change, only_missing=way is Way.MISSING)
        self.sheet.details.say_would(sentences)
        if change.is_nothing:
            self.said.emit(" ".join(sentences))
            return
        if self._bar.is_open:
            self.said.emit(self.tr("Answer the question above first, then ask again."))
            return
        words = {
            Way.ALL: self.tr("Put all back from the copy of {when}? {what} Ctrl+Z takes it back."),
            Way.MISSING: self.tr(
                "Bring back from the copy of {when} only what is missing? {what} Ctrl+Z takes it back."
            ),
        }
        question = words[way].format(when=when_of(line), what=" ".join(sentences))
        do = partial(self._put_back, line, way, change)
        self._bar.ask(question, self.tr("Put it back"), (self._somebody.blank(),), do, only_f12=True)

    def _put_back(self, line: CopyLine, way: Way, told_of: WouldChange, given: Answers) -> None:
        who = self._somebody.note_or_say(given, self.said.emit)
        if not who:
            return
        self._bar.leave()
        answer = partial(self._tell_put_back, line, way, told_of)
        self._acts.do_stoppable(partial(self._desk.put_back, line.path, way, who), answer)

    def _tell_put_back(self, line: CopyLine, way: Way, told_of: WouldChange, done: object) -> None:
        if done is None:
            self.said.emit(self.tr("Stopped; nothing was changed."))
        if isinstance(done, Restored):
            self.said.emit(self._done_text(line, way, told_of, done.change))
            self.go_on()

    def _done_text(self, line: CopyLine, way: Way, told_of: WouldChange, change: WouldChange | None) -> str:
        """Return what was done; where another counter did something meanwhile, also what that came to."""
        done = "" if change is None else " ".join(change_lines(change, only_missing=way is Way.MISSING))
        if change is not None and change.is_nothing:
            return done
        words = {
            Way.ALL: self.tr("The copy of {when} is put back. Ctrl+Z takes it back."),
            Way.MISSING: self.tr("What was missing is back from the copy of {when}. Ctrl+Z takes it back."),
        }
        said = words[way].format(when=when_of(line))
        if change == told_of:
            return said
        return said + " " + self.tr("The catalog was changed meanwhile: {what}").format(what=done)

    def _ask_in_place(self, line: CopyLine) -> None:
        question = self.tr(
            "Put the copy of {when} in the place of the catalog? The window closes and opens again; what lies there "
            "is set aside first, byte by byte."
        ).format(when=when_of(line))
        do = partial(self._hand_over, line)
        self._bar.ask(question, self.tr("Put it in its place"), (self._somebody.blank(),), do, only_f12=True)

    def _hand_over(self, line: CopyLine, given: Answers) -> None:
        who = self._somebody.note_or_say(given, self.said.emit)
        if who:
            self._bar.leave()
            self.put_in_place.emit(line.path, who)

    # -- after an act

    @Slot()
    def go_on(self) -> None:
        """Have everything see what stands there now."""
        self._bar.leave()
        self._bench.flow.ask_names()
        if self._job.job is not None:
            self._job.open_again()
        self._look_where_from()
        if self._page.is_built:
            self._read()

    @Slot(str, bool)
    def _note_taken_back(self, _name: str, _is_undo: bool) -> None:  # noqa: FBT001 - the signal's own arguments
        self._look_where_from()
        if self.is_shown:
            self._read()

    def _look_where_from(self) -> None:
        self._acts.read(self._desk.working_from, self._tell_where_from)

    @Slot(object)
    def _tell_where_from(self, found: object) -> None:
        self.works_from.emit(found if isinstance(found, LastRestore) else None)
