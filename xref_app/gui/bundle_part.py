"""Where the help bundle meets the rest: put together, shown, and saved where the person says."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.bench_part import BenchPart
from xref_app.gui.bundle_sheet import BundleSheet
from xref_app.gui.copies_desk import CopiesDesk
from xref_app.gui.file_boxes import documents_folder, writing_box
from xref_app.gui.late_page import LatePage
from xref_app.gui.one_act import OneAct
from xref_app.gui.one_read import OneRead
from xref_app.gui.theme import Look
from xref_app.services.help_bundle import BundlePart as Part

_FILE_NAME = "xref-help.zip"


class BundlePart(QObject):
    """Puts a bundle together anew whenever the sheet is shown or the tick is switched."""

    said = Signal(str)
    working = Signal(bool)
    progressed = Signal(int, int)

    def __init__(self, desk: CopiesDesk, bench: BenchPart, *, look: Look) -> None:
        super().__init__(bench)
        self._desk, self._bench = desk, bench
        self._page = LatePage(bench.pages, lambda: BundleSheet(look), self._connect)
        self._folder = documents_folder()
        self._reads = OneRead(self)
        self._reads.working.connect(self.working)
        self._reads.progressed.connect(self.progressed)
        self._acts = OneAct(self)
        self._reads.failed.connect(self._tell_unmade)
        self._acts.failed.connect(self.said)
        for work in (self._reads, self._acts):
            work.crashed.connect(bench.flow.crashed)

    def _connect(self, sheet: BundleSheet) -> None:
        sheet.names_switched.connect(self._read)
        sheet.save_button.clicked.connect(self.ask_where)
        sheet.leave_button.clicked.connect(self.leave)

    @property
    def sheet(self) -> BundleSheet:
        """Return the sheet."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether something is being read or written."""
        return self._acts.is_working or self._reads.is_working

    def shut_down(self) -> None:
        """Stop all work."""
        self._reads.shut_down()
        self._acts.shut_down()

    def show(self) -> None:
        """Bring the sheet to the front, read anew."""
        self._bench.show_page(self.sheet)
        self._read()
        self.sheet.focus_contents()

    @Slot()
    def leave(self) -> None:
        """Stop what is being read; where nothing is, go back to the work sheet."""
        if self._reads.is_wanted:
            self._reads.stop()
            self._tell_unmade(self.tr("Stopped; no bundle was made."))
        else:
            self._bench.show_work()

    @Slot()
    def _read(self) -> None:
        with_names = self.sheet.names_button.isChecked()
        self.sheet.show_reading()
        self._reads.run(lambda _progress: self._desk.bundle(with_names=with_names), self._show_parts)

    @Slot(object)
    def _show_parts(self, parts: object) -> None:
        if isinstance(parts, tuple):
            self.sheet.show_parts(parts)

    @Slot(str)
    def _tell_unmade(self, sentence: str) -> None:
        self.sheet.show_unmade(sentence)
        self.said.emit(sentence)

    @Slot()
    def ask_where(self) -> None:
        """Ask where the bundle goes; what is shown is what is written."""
        title = self.tr("Save the help bundle")
        dialog = writing_box(self._bench.pages, "bundle_save_dialog", title, self._folder)
        dialog.setNameFilters([self.tr("Help bundle (*.zip)")])
        dialog.setDefaultSuffix("zip")
        dialog.selectFile(_FILE_NAME)
        dialog.fileSelected.connect(partial(self._save, self.sheet.parts))
        dialog.open()

    def _save(self, parts: tuple[Part, ...], chosen: str) -> None:
        path = Path(chosen)
        self._folder = str(path.parent)
        self._acts.do(partial(self._desk.write_bundle, path, parts), self._tell_saved)

    @Slot(object)
    def _tell_saved(self, path: object) -> None:
        self.said.emit(self.tr("The help bundle is saved: {path}").format(path=path))
