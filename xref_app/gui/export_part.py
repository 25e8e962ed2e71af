"""Where the export meets the rest: its page, the place to write to, and what was written."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.bench_part import BenchPart
from xref_app.gui.catalog_file_desk import CatalogFileDesk
from xref_app.gui.export_sheet import ExportSheet, Form, What
from xref_app.gui.file_boxes import documents_folder, writing_box
from xref_app.gui.job_flow import JobFlow
from xref_app.gui.late_page import LatePage
from xref_app.gui.pane_area import PaneArea
from xref_app.gui.tasks import Tasks
from xref_app.gui.theme import Look
from xref_app.services.answers import Candidate
from xref_app.services.export_catalog import Exported
from xref_app.services.export_rows import ExportWish

_BETWEEN_IDS = re.compile(r"[\s,;]+")


class ExportPart(QObject):
    """Writes the catalog, or some of it, off the GUI thread; one at a time."""

    said = Signal(str)

    def __init__(self, desk: CatalogFileDesk, job: JobFlow, panes: PaneArea, bench: BenchPart, *, look: Look) -> None:
        super().__init__(bench)
        self._desk = desk
        self._job = job
        self._bench = bench
        self._candidate: Candidate | None = None
        self._folder = documents_folder()
        self._tasks = Tasks(self)
        self._page = LatePage(bench.pages, lambda: ExportSheet(look), self._connect)
        panes.candidates.chosen.connect(self._note_candidate)

    def _connect(self, sheet: ExportSheet) -> None:
        sheet.write_button.clicked.connect(self.choose_place)
        sheet.leave_button.clicked.connect(self.leave)

    @property
    def sheet(self) -> ExportSheet:
        """Return the sheet."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether something is being written."""
        return self._tasks.running > 0

    def shut_down(self) -> None:
        """Wait for what is being written, and begin nothing more."""
        self._tasks.shut_down()

    def show(self) -> None:
        """Bring the sheet to the front."""
        self.sheet.begin(has_job=bool(self._job.facts), is_sample=bool(self._desk.refusal()))
        self._bench.show_page(self.sheet)
        self.sheet.focus_first()

    @Slot()
    def leave(self) -> None:
        """Go back to the work sheet; what is being written is written."""
        self._bench.show_work()

    # -- the writing

    @Slot()
    def choose_place(self) -> None:
        """Ask where it goes; what is lacking is said first."""
        sheet, wish = self.sheet, self._wish()
        if wish.entry_ids is not None and not wish.entry_ids:
            sheet.say_state(self.tr("Type which entries: their ids stand in brackets, such as (P-001)."))
            sheet.ids.setFocus()
            return
        is_folder = sheet.form is Form.FOLDER
        title = self.tr("A new folder for the catalog") if is_folder else self.tr("The workbook of the catalog")
        dialog = writing_box(sheet, "export_write_dialog", title, self._folder)
        if not is_folder:
            dialog.setNameFilters([self.tr("Workbook (*.xlsx)")])
            dialog.setDefaultSuffix("xlsx")
        dialog.selectFile(self._free_name("" if is_folder else ".xlsx"))
        dialog.fileSelected.connect(partial(self._write, wish, sheet.form))
        dialog.open()

    def _wish(self) -> ExportWish:
        chosen = self._candidate
        ids = {
            What.ALL: None,
            What.JOB: frozenset((*self._job_ids(), *((chosen.entry_id,) if chosen is not None else ()))),
            What.THESE: frozenset(one.upper() for one in _BETWEEN_IDS.split(self.sheet.ids.text()) if one),
        }
        return ExportWish(ids[self.sheet.what], with_shop=self.sheet.with_shelf)

    def _job_ids(self) -> tuple[str, ...]:
        """Return the entries of the open job; of a model that is not told apart yet, every build."""
        facts = self._job.facts
        ids = [one for fact in facts for one in (fact.entry_id, *fact.sisters, *fact.builds)]
        job = self._job.job
        named = (job.pump_id, job.machine_id) if job is not None else ()
        return tuple(one for one in (*ids, *named) if one)

    def _free_name(self, ending: str) -> str:
        """Return a name with today's date that nothing in the folder has."""
        first = f"catalog-{datetime.now(UTC).astimezone():%Y-%m-%d}"
        names = (first, *(f"{first}-{number}" for number in range(2, 100)))
        return next((f"{one}{ending}" for one in names if not (Path(self._folder) / f"{one}{ending}").exists()), first)

    def _write(self, wish: ExportWish, form: Form, chosen: str) -> None:
        if self._tasks.running:
            self.said.emit(
                self.tr("Nothing was written: the catalog is still being written elsewhere. Try again then.")
            )
            return
        self._folder = str(Path(chosen).parent)
        write = self._desk.export_folder if form is Form.FOLDER else self._desk.export_workbook
        task = self._tasks.prepare(partial(write, Path(chosen), wish))
        task.finished.connect(self._tell_written)
        task.failed.connect(self.sheet.say_state)
        task.crashed.connect(self._tell_crash)
        self.sheet.say_state(self.tr("Writing…"))
        self._tasks.launch(task)

    @Slot(object)
    def _tell_written(self, written: object) -> None:
        if isinstance(written, Exported):
            words = self._words(written)
            self.sheet.say_state(words)
            if not self.is_shown:
                self.said.emit(words)

    def _words(self, written: Exported) -> str:
        rows = sum(written.rows.values())
        words = self.tr("Written: {path}. {entries} entries, {rows} rows in all.").format(
            path=written.path, entries=f"{written.rows.get('entries', 0):,}", rows=f"{rows:,}"
        )
        left = []
        if written.of_sample:
            left.append(self.tr("{count} entries of the made-up sample").format(count=f"{written.of_sample:,}"))
        if written.damaged:
            left.append(self.tr("{count} damaged rows (Ctrl+Shift+E shows them)").format(count=f"{written.damaged:,}"))
        return words if not left else words + " " + self.tr("Left out: {what}.").format(what=", ".join(left))

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self.sheet.say_state("")
        self._bench.flow.crashed.emit()

    @Slot(object)
    def _note_candidate(self, candidate: Candidate | None) -> None:
        self._candidate = candidate
