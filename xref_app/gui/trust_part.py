"""Where trusting a supplier meets the rest: its page, the key file, and the adding of the keys."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.bench_part import BenchPart
from xref_app.gui.catalog_file_desk import CatalogFileDesk
from xref_app.gui.file_boxes import documents_folder, reading_box
from xref_app.gui.late_page import LatePage
from xref_app.gui.one_act import OneAct
from xref_app.gui.theme import Look
from xref_app.gui.trust_sheet import TrustSheet


class TrustPart(QObject):
    """Adds the keys of a supplier whose fingerprint was typed; ``trusted`` once they are added, ``left`` without."""

    said = Signal(str)
    trusted = Signal()
    left = Signal()

    def __init__(self, desk: CatalogFileDesk, bench: BenchPart, look: Look) -> None:
        super().__init__(bench)
        self._desk, self._bench = desk, bench
        self._page = LatePage(bench.pages, lambda: TrustSheet(look), self._connect)
        self._folder = documents_folder()
        self._keys: Path | None = None
        self._acts = OneAct(self)
        self._acts.failed.connect(self._tell_failed)
        self._acts.crashed.connect(bench.flow.crashed)

    def _connect(self, sheet: TrustSheet) -> None:
        sheet.trusted.connect(self.add)
        sheet.choose_button.clicked.connect(self.choose_keys)
        sheet.leave_button.clicked.connect(self.leave)

    @property
    def sheet(self) -> TrustSheet:
        """Return the sheet."""
        return self._page.page

    @property
    def is_shown(self) -> bool:
        """Say whether the sheet is in front."""
        return self._page.is_shown

    @property
    def is_working(self) -> bool:
        """Say whether keys are being read or added."""
        return self._acts.is_working

    def shut_down(self) -> None:
        """Stop all work."""
        self._acts.shut_down()

    @Slot()
    def show(self) -> None:
        """Bring the sheet to the front, with nothing typed, and ask for the key file."""
        self._keys = None
        self.sheet.name.clear()
        self.sheet.show_keys("", "")
        self._bench.show_page(self.sheet)
        self.sheet.focus_first()
        self.choose_keys()

    @Slot()
    def leave(self) -> None:
        """Go back to the file; nothing was added."""
        self.left.emit()

    @Slot()
    def choose_keys(self) -> None:
        """Ask which key file."""
        title = self.tr("The supplier's key file")
        dialog = reading_box(self.sheet, "trust_choose_dialog", title, self._folder)
        dialog.setNameFilters([self.tr("Key file (*.pem)"), self.tr("All files (*)")])
        dialog.fileSelected.connect(self.read)
        dialog.open()

    @Slot(str)
    def read(self, chosen: str) -> None:
        """Show the fingerprint of the keys in this file."""
        path = Path(chosen)
        self._folder = str(path.parent)
        self._acts.read(partial(self._desk.fingerprint_of, path), partial(self._show_keys, path))

    def _show_keys(self, path: Path, fingerprint: object) -> None:
        self._keys = path
        self.sheet.show_keys(path.name, str(fingerprint))
        self.sheet.focus_first()

    @Slot()
    def add(self) -> None:
        """Add the keys, if what was typed is their fingerprint."""
        if self._keys is None:
            self.sheet.say_state(self.tr("Choose the supplier's key file first."))
            return
        add = partial(self._desk.trust, self._keys, self.sheet.name.text(), self.sheet.fingerprint)
        self._acts.do(add, self._tell_trusted)

    @Slot(object)
    def _tell_trusted(self, name: object) -> None:
        self._keys = None
        self.trusted.emit()
        self.said.emit(self.tr("Catalog files of {name} are taken from now on.").format(name=name))

    @Slot(str)
    def _tell_failed(self, sentence: str) -> None:
        self.sheet.say_state(sentence)
