"""Where the sheet of suppliers' files meets the rest: reading, looking, what is said, the take."""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.core.progress import Progress
from xref_app.exchange.supplier_sheet import HowToRead
from xref_app.gui.ask_bar import Answers, AskBar
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.late_page import LatePage
from xref_app.gui.memory import WindowMemory
from xref_app.gui.one_act import OneAct
from xref_app.gui.one_read import OneRead
from xref_app.gui.somebody import Somebody
from xref_app.gui.supplier_changes import column_change, kind_change, sheet_change
from xref_app.gui.supplier_columns import TakenAs
from xref_app.gui.supplier_desk import SupplierDesk
from xref_app.gui.supplier_dialogs import SupplierDialogs
from xref_app.gui.supplier_sheet import SupplierSheet
from xref_app.gui.supplier_words import (
    NOT_READ,
    ask_text,
    counts_text,
    heading_rows_typed,
    take_text,
    taken_text,
    told,
    why_not_take,
)
from xref_app.gui.supplier_work import Change, Result, look_at, read_and_look
from xref_app.gui.theme import Look
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_decimals import Decimals
from xref_app.services.supplier_heading_said import read_heading_rows, with_heading_rows
from xref_app.services.supplier_import import SupplierInputError, Taken
from xref_app.services.supplier_looked import ListedRow, Looked
from xref_app.services.supplier_preview import Preview, SaidOfFile
from xref_app.services.supplier_rows import Answers as CellAnswers
from xref_app.services.supplier_said import with_accepted, with_answers, with_decimals, with_how, without_answers


class SupplierPart(QObject):
    """Keeps one list until another is read. What is shown is what was said of it and looked at; nothing else is taken.

    Each change is put on those that are not looked at yet, and one look is on its way at a time; stopped, it leaves
    the list as it was shown before.
    """

    said = Signal(str)
    working = Signal(bool)
    progressed = Signal(int, int)

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self,
        desk: SupplierDesk,
        job: JobFlow,
        bench: BenchPart,
        bar: AskBar,
        *,
        look: Look,
        memory: WindowMemory,
    ) -> None:
        super().__init__(bench)
        self._desk = desk
        self._job = job
        self._bench = bench
        self._bar = bar
        self._somebody = Somebody(bar, memory, bench.flow, self)
        self._dialogs = SupplierDialogs(bench.pages, self)
        self._page = LatePage(bench.pages, lambda: SupplierSheet(look), self._connect)
        self._path = Path()
        self._looked: Looked | None = None
        self._changes: list[Change] = []
        self._asked: Preview | None = None
        self._reads, self._acts = OneRead(self), OneAct(self)
        self._reads.progressed.connect(self.progressed)
        self._reads.working.connect(self._show_waiting)
        self._reads.failed.connect(self._tell_failed)
        self._reads.crashed.connect(self._tell_crash)
        self._acts.failed.connect(self._tell_not_done)
        self._acts.crashed.connect(bench.flow.crashed)
        bench.flow.taken_back.connect(self._look_again)

    def _connect(self, sheet: SupplierSheet) -> None:
        about, details = sheet.details.about, sheet.details
        about.supplier_said.connect(self.say_supplier)
        about.kind_said.connect(self.say_kind)
        about.how_said.connect(self.say_how)
        about.sheet_said.connect(self.say_sheet)
        about.separator_said.connect(self.say_separator)
        about.headings_said.connect(self.say_headings)
        about.decimals_said.connect(self.say_decimals)
        details.column.taken_as.connect(self.say_column)
        details.row.answered.connect(self.answer)
        details.row.accepted.connect(self.accept)
        details.row.taken_back.connect(self.take_answers_back)
        details.take_button.clicked.connect(self.take)
        details.refused_button.clicked.connect(self.save_refused)
        details.other_button.clicked.connect(self.choose_file)
        details.leave_button.clicked.connect(self.leave)
        sheet.row_chosen.connect(self._look_beside)

    @property
    def sheet(self) -> SupplierSheet:
        """Return the sheet."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether a list is read or looked at, or an act is on its way."""
        return self._acts.is_working or self._reads.is_working

    @property
    def looked(self) -> Looked | None:
        """Return the list as it was looked at last."""
        return self._looked

    def shut_down(self) -> None:
        """Stop all work."""
        self._reads.shut_down()
        self._acts.shut_down()

    # -- the page

    def show(self) -> None:
        """Bring the sheet to the front with the list that is kept; without one, or from the sheet, ask for a file."""
        is_asked = self.is_shown or self._looked is None
        self._bench.show_page(self.sheet)
        self.sheet.focus_first()
        if is_asked:
            self.choose_file()
        else:
            self._look_again()

    @Slot()
    def leave(self) -> None:
        """Stop what is being read or looked at; where nothing is, go back to the work sheet. The list is kept."""
        if self._reads.is_wanted:
            self._stop()
            self.said.emit(self.tr("Stopped. Nothing was changed."))
            return
        self._bench.show_work()
        if self._looked is not None and self._looked.preview.to_take:
            words = self.tr("{name} is kept as it stands until another file is read; Ctrl+Shift+R goes on with it.")
            self.said.emit(words.format(name=self._looked.preview.file.name))

    def _stop(self) -> None:
        self._reads.stop()
        self._changes.clear()
        self._show(self._looked)

    # -- the file

    @Slot()
    def choose_file(self) -> None:
        """Ask which file to read."""
        self._dialogs.ask_file(self.read)

    def read(self, path: Path) -> None:
        """Read a file; one that is refused leaves the list that is there."""
        self._read(path, HowToRead(), None)

    def _read(self, path: Path, how: HowToRead, said: SaidOfFile | None) -> None:
        """Read a file, of which is known already whose it is and what it lists where ``said`` is given."""
        self._bench.show_page(self.sheet)
        self.sheet.say_count(self.tr("Reading {name}… Esc stops.").format(name=path.name))
        self._changes.clear()
        self._run(partial(read_and_look, self._desk, path, how, said), partial(self._take_file, path))

    def _take_file(self, path: Path, result: object) -> None:
        if isinstance(result, Result):
            self._path = path
            self._take_looked(result)
            self.sheet.focus_first()

    @Slot(str, bool)
    def _look_again(self, _name: str = "", _is_undo: bool = False) -> None:  # noqa: FBT001, FBT002 - the signal's own
        if self._looked is not None:
            self._look()

    # -- what is said

    @Slot(str)
    def say_supplier(self, supplier: str) -> None:
        """Say whose list it is; columns said of it before come up."""
        self._change(lambda file, said: self._desk.of_supplier(file, said, supplier))

    @Slot(object)
    def say_kind(self, kind: object) -> None:
        """Say what the list lists."""
        self._change(kind_change(self._desk, SheetKind(str(kind))))

    @Slot(str)
    def say_how(self, how: str) -> None:
        """Say how its values are known."""
        self._change(lambda _file, said: with_how(said, how))

    @Slot(int)
    def say_sheet(self, sheet: int) -> None:
        """Look at another sheet of the workbook; what was said of this one's rows is gone."""
        self._change(sheet_change(self._desk, sheet))

    @Slot(str)
    def say_headings(self, typed: str) -> None:
        """Say in which rows the headings stand; what names no rows is one sentence and changes nothing."""
        if self._looked is None:
            return
        try:
            place = read_heading_rows(heading_rows_typed(typed), len(self._looked.preview.sheet.rows))
        except SupplierInputError as error:
            self.said.emit(str(error))
            return
        self._change(lambda file, said: with_heading_rows(file.sheets[said.sheet].rows, said, place))

    @Slot(object)
    def say_decimals(self, decimals: object) -> None:
        """Say what stands before decimals in the whole list."""
        self._change(lambda _file, said: with_decimals(said, Decimals(str(decimals))))

    @Slot(str)
    def say_separator(self, separator: str) -> None:
        """Read the file anew, its cells parted by this."""
        preview = None if self._looked is None else self._looked.preview
        if preview is not None and separator != preview.file.separator:
            self._read(self._path, HowToRead(separator=separator), preview.said)

    @Slot(int, object)
    def say_column(self, place: int, what: object) -> None:
        """Say what a column is."""
        if isinstance(what, TakenAs):
            self._change(column_change(place, what))
            self.sheet.focus_columns()

    @Slot(object)
    def answer(self, answers: CellAnswers) -> None:
        """Read these texts instead of cells."""
        self._change(lambda _file, said: with_answers(said, answers))

    @Slot(object)
    def accept(self, rows: Collection[int]) -> None:
        """Take these rows as they are, with the others."""
        self._change(lambda _file, said: with_accepted(said, rows))

    @Slot(int)
    def take_answers_back(self, row: int) -> None:
        """Take back what was answered of a row."""
        self._change(lambda _file, said: without_answers(said, row))

    def _change(self, change: Change) -> None:
        if self._looked is not None:
            self._changes.append(change)
            self._look()

    def _look(self) -> None:
        """Look at the list again, with all that was said since it was looked at last."""
        before = self._looked
        if before is not None:
            preview, changes = before.preview, tuple(self._changes)
            self._run(partial(look_at, self._desk, preview.file, preview.said, changes), self._take_looked)

    @Slot(object)
    def _take_looked(self, result: object) -> None:
        if isinstance(result, Result):
            self._looked = result.looked
            self._changes.clear()
            self.sheet.show_looked(result.looked, result.suppliers)

    def _show(self, found: Looked | None) -> None:
        """Show the list again as it was looked at last: what was said since and not looked at is not taken."""
        self.sheet.show_again()
        self.sheet.say_count(told(NOT_READ) if found is None else counts_text(found))

    def _run(self, work: Callable[[Progress], object], answer: Callable[[object], None]) -> None:
        self._leave_question()
        self._reads.run(work, answer)

    @Slot(bool)
    def _show_waiting(self, is_waiting: bool) -> None:  # noqa: FBT001 - the signal's own argument
        self.working.emit(is_waiting)
        self.sheet.show_working(is_working=is_waiting)

    @Slot(str)
    def _tell_failed(self, sentence: str) -> None:
        self._changes.clear()
        self._show(self._looked)
        self.said.emit(sentence)

    @Slot()
    def _tell_crash(self) -> None:
        self._tell_failed("")
        self._bench.flow.crashed.emit()

    @Slot(object)
    def _look_beside(self, listed: object) -> None:
        """Show what is entered otherwise than the chosen row says."""
        found = self._looked
        if not isinstance(listed, ListedRow) or not listed.row.entry_id or not listed.row.reasons or found is None:
            return

        def show(differing: object) -> None:
            if isinstance(differing, tuple) and differing and self.sheet.row is listed and self._looked is found:
                self.sheet.details.row.show_row(found, listed, differing)

        self._acts.read(partial(self._desk.beside, listed.row), show)

    # -- the acts

    @Slot()
    def take(self) -> None:
        """Ask whether the good and the accepted rows are to be taken, and who takes them."""
        found = self._looked
        lacking = why_not_take(found, is_working=self._reads.is_wanted)
        if lacking or found is None:
            self.said.emit(lacking)
            return
        self._asked = found.preview
        act = partial(self._take, found.preview)
        self._bar.ask(ask_text(found.preview), take_text(found), (self._somebody.blank(),), act, only_f12=True)

    def _take(self, preview: Preview, given: Answers) -> None:
        who = self._somebody.note(given)
        if not who:
            self.said.emit(self.tr("Say who you are first."))
            return
        self._acts.do(partial(self._desk.take, preview, who), partial(self._tell_taken, preview))

    def _tell_taken(self, preview: Preview, taken: object) -> None:
        if not isinstance(taken, Taken):
            return
        self._leave_question()
        self._look_again()
        self._bench.flow.ask_names()
        if self._job.job is not None:
            self._job.open_again()
        self.said.emit(taken_text(taken, preview))

    @Slot(str)
    def _tell_not_done(self, sentence: str) -> None:
        """Say why an act was not done; after a take the list is looked at again, for somebody may have entered more."""
        self.said.emit(sentence)
        if self._asked is not None:
            self._look_again()

    def _leave_question(self) -> None:
        """Ask no more whether to take a list that is about to be another."""
        if self._asked is not None and self._bar.is_open:
            self._bar.leave()
        self._asked = None

    @Slot()
    def save_refused(self) -> None:
        """Ask where the rows go that are not to be taken."""
        found = self._looked
        if found is None:
            self.said.emit(told(NOT_READ))
            return
        stem = Path(found.preview.file.name).stem
        name = self.tr("{name} not taken.csv").format(name=stem)
        self._dialogs.ask_place(name, partial(self._save_refused, found.preview))

    def _save_refused(self, preview: Preview, path: Path) -> None:
        self._acts.do(partial(self._desk.save_refused, preview, path), partial(self._tell_saved, path))

    def _tell_saved(self, path: Path, count: object) -> None:
        words = self.tr("{count} rows that were not taken are in {path}, each with its reasons.")
        self.said.emit(words.format(count=count, path=path))
