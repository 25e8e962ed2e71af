"""Where printing meets the rest: the sheets of the pump looked at, printers, PDF files; no printer is waited for."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QDate, QObject, QStandardPaths, Qt, Signal, Slot
from PySide6.QtWidgets import QFileDialog

from xref_app.core.progress import Progress
from xref_app.gui.bench_part import BenchPart
from xref_app.gui.desk import Desk
from xref_app.gui.drawing_saver import paper_here
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.late_page import LatePage
from xref_app.gui.memory import WindowMemory
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.paper_make import Asked, pages_of
from xref_app.gui.paper_painter import sheet_pdf
from xref_app.gui.paper_sheet import PAPERS, PaperSheet, SheetKind
from xref_app.gui.rows import named
from xref_app.gui.tasks import Task, Tasks, Work
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate
from xref_app.services.paper import save_pdf
from xref_app.services.sample_name import is_sample
from xref_app.services.shelf_lines import ShelfLine
from xref_app.sheets.page import Paper
from xref_app.sheets.sheet_page import SheetPage
from xref_app.sheets.shelf_label import LabelCase

_PAPER_KEY, _PRINTER_KEY = "paper/size", "paper/printer"
# What some disk or other does not take in a file name.
_ODD = re.compile(r"[^\w -]")


class PaperPart(QObject):
    """Opens the print page; the sheet stays there until somebody leaves it, whatever a printer does."""

    said = Signal(str)

    def __init__(  # noqa: PLR0913 - it joins what the window holds
        self, desk: Desk, job: JobFlow, panes: PaneArea, bench: BenchPart, *, look: Look, memory: WindowMemory
    ) -> None:
        super().__init__(bench)
        self._desk, self._job, self._bench, self._memory = desk, job, bench, memory
        self._candidate: Candidate | None = None
        self._label: LabelCase | None = None
        self._kind = SheetKind.FIT
        self._shown: Asked | None = None
        self._folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        self._tasks = Tasks(self)
        self._making: Task | None = None
        self._printing: Task | None = None
        self._page = LatePage(bench.pages, lambda: PaperSheet(look), self._connect_sheet)
        panes.candidates.chosen.connect(self._note_candidate)

    def _connect_sheet(self, sheet: PaperSheet) -> None:
        sheet.kind_chosen.connect(self._choose_kind)
        sheet.paper_chosen.connect(self._choose_paper)
        sheet.print_button.clicked.connect(self.print_sheet)
        sheet.save_button.clicked.connect(self.save_pdf)
        sheet.leave_button.clicked.connect(self.leave)

    @property
    def sheet(self) -> PaperSheet:
        """Return the sheet."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether the print page is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether pages, printers or a file are still on their way."""
        return self._tasks.running > 0

    def shut_down(self) -> None:
        """Stop all work."""
        self._tasks.shut_down()

    # -- the page

    def show(self) -> None:
        """Show the sheets of the pump looked at as they will be printed."""
        if self._candidate is None or self._job.job is None:
            self.said.emit(self.tr("Choose a pump first: Ctrl+P shows its fit sheet as it will be printed."))
            return
        self._kind = SheetKind.FIT if self._kind is SheetKind.LABEL else self._kind
        self._label = None
        self._open()

    def show_label(self, line: ShelfLine) -> None:
        """Show the label of a place of the shelf."""
        self._kind, self._label = SheetKind.LABEL, LabelCase(line.place.shelf_id, line.name, line.place.bin)
        self._open()

    @Slot()
    def leave(self) -> None:
        """Go back to the work sheet."""
        self._bench.show_work()

    def _open(self) -> None:
        self._bench.show_page(self.sheet)
        self.sheet.view.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self._ask_printers()
        self._make()

    @Slot(object)
    def _choose_kind(self, kind: object) -> None:
        if isinstance(kind, SheetKind):
            self._kind = kind
            self._make()

    @Slot(object)
    def _choose_paper(self, paper: object) -> None:
        if isinstance(paper, Paper):
            self._memory.keep_text(_PAPER_KEY, paper.name)
            self._make()

    @property
    def paper(self) -> Paper:
        """Return the paper chosen last; at first the one usual here."""
        named_papers = {one.name: one for one in PAPERS}
        return named_papers.get(self._memory.text(_PAPER_KEY, ""), paper_here())

    @Slot(object)
    def _note_candidate(self, candidate: object) -> None:
        self._candidate = candidate if isinstance(candidate, Candidate) else None
        if self.is_shown and self._kind is not SheetKind.LABEL:
            self._make()

    # -- pages

    def _make(self) -> None:
        """Make the pages anew; those not wanted any more are dropped."""
        title = self._desk.title()
        asked = Asked(
            self._kind,
            self.paper,
            QDate.currentDate().toString(Qt.DateFormat.ISODate),
            title,
            is_sample(title),
            self._memory.length_first,
            self._job.job,
            self._candidate,
            self._label,
        )
        has_pump = self._candidate is not None and self._job.job is not None
        self.sheet.show_choice(self._kind, asked.paper, has_label=self._label is not None, has_pump=has_pump)
        self._shown = None
        waiting = has_pump or self._kind is SheetKind.LABEL
        self.sheet.show_pages((), self.tr("Drawing…") if waiting else self.tr("No pump is chosen."))
        self._tasks.cancel(self._making)
        self._making = self._run(partial(_made, asked, self._desk), self._show_made)

    @Slot(object)
    def _show_made(self, made: object) -> None:
        if isinstance(made, tuple) and isinstance(made[0], Asked) and made[1]:
            self._shown = made[0]
            self.sheet.show_pages(made[1], made[0].about)
            if self.sheet.view.hasFocus():
                self.sheet.focus_act()

    # -- printers and files

    def _ask_printers(self) -> None:
        """Ask which printers there are, off this thread: one that is off keeps the question waiting."""
        self.sheet.show_printers(None)
        self._run(_printers, self._show_printers)

    @Slot(object)
    def _show_printers(self, names: object) -> None:
        if isinstance(names, tuple):
            last = self._memory.text(_PRINTER_KEY, "")
            self.sheet.show_printers(sorted(names, key=lambda one: one != last))
            if self.sheet.view.hasFocus() or self.sheet.save_button.hasFocus():
                self.sheet.focus_act()

    @Slot()
    def print_sheet(self) -> None:
        """Send what is shown to the chosen printer; a second time only once the first was taken."""
        name = self.sheet.printers.currentText()
        if self._shown is None or not name or self._printing is not None:
            return
        self._memory.keep_text(_PRINTER_KEY, name)
        self.said.emit(self.tr("Sent to {printer}…").format(printer=name))
        work = partial(_printed, name, self.sheet.view.pages, self._shown.about)
        self._printing = self._run(work, self._tell_printed)
        self._printing.settled.connect(self._note_printed)

    @Slot()
    def _note_printed(self) -> None:
        self._printing = None

    @Slot(object)
    def _tell_printed(self, name: object) -> None:
        self.said.emit(self.tr("{printer} has taken the sheet; it stays here until you leave it.").format(printer=name))

    @Slot()
    def save_pdf(self) -> None:
        """Ask where the PDF of what is shown goes."""
        if self._shown is None:
            return
        dialog = named(QFileDialog(self.sheet), "paper_save_dialog", self.tr("Save the PDF"))
        dialog.setWindowTitle(self.tr("Save the sheet as a PDF"))
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setFileMode(QFileDialog.FileMode.AnyFile)
        dialog.setNameFilters([self.tr("PDF (*.pdf)")])
        dialog.setDefaultSuffix("pdf")
        dialog.setDirectory(self._folder)
        dialog.selectFile(_ODD.sub("_", self._shown.about))
        dialog.fileSelected.connect(partial(self._save, self.sheet.view.pages, self._shown.about))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def _save(self, pages: tuple[SheetPage, ...], about: str, chosen: str) -> None:
        self._folder = str(Path(chosen).parent)
        self._run(partial(_saved, pages, about, Path(chosen)), self._tell_saved)

    @Slot(object)
    def _tell_saved(self, path: object) -> None:
        self.said.emit(self.tr("The sheet is saved: {path}").format(path=path))

    def _run(self, work: Work, answer: Callable[[object], None]) -> Task:
        task = self._tasks.prepare(work)
        task.finished.connect(answer)
        task.failed.connect(self.said)
        task.crashed.connect(self._tell_crash)
        self._tasks.launch(task)
        return task

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self._bench.flow.crashed.emit()


def _made(asked: Asked, desk: Desk, progress: Progress) -> tuple[Asked, tuple[SheetPage, ...]]:
    return asked, pages_of(asked, desk, progress)


def _printers(progress: Progress) -> tuple[str, ...]:
    from xref_app.gui.paper_printers import printer_names  # noqa: PLC0415 - loads the printing system first when asked

    progress.step(0, 1)
    return printer_names()


def _printed(name: str, pages: tuple[SheetPage, ...], title: str, progress: Progress) -> str:
    from xref_app.gui.paper_printers import print_on  # noqa: PLC0415 - as above

    progress.step(0, 1)
    return print_on(name, pages, title)


def _saved(pages: tuple[SheetPage, ...], title: str, path: Path, progress: Progress) -> Path:
    progress.step(0, 1)
    return save_pdf(path, sheet_pdf(pages, title))
