"""The one window: entry line, what was understood, three panes, status; nothing in it is decided here."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent

from xref_app.gui.length_first import LengthFirst
from xref_app.gui.memory import WindowMemory
from xref_app.gui.theme import Look
from xref_app.gui.window_frame import WindowFrame

if TYPE_CHECKING:  # named only: the first paint must not load what is built behind it
    from xref_app.gui.bench_part import BenchPart
    from xref_app.gui.bundle_part import BundlePart
    from xref_app.gui.catalog_file_part import CatalogFilePart
    from xref_app.gui.copies_part import CopiesPart
    from xref_app.gui.copy_watch import CopyWatch
    from xref_app.gui.counter_part import CounterPart
    from xref_app.gui.drawing_saver import DrawingSaver
    from xref_app.gui.export_part import ExportPart
    from xref_app.gui.fix_part import FixPart
    from xref_app.gui.happened_part import HappenedPart
    from xref_app.gui.health_part import HealthPart
    from xref_app.gui.hits_drop import HitsDrop
    from xref_app.gui.is_it_part import IsItPart
    from xref_app.gui.job_flow import JobFlow
    from xref_app.gui.jobs_part import JobsPart
    from xref_app.gui.mending_part import MendingPart
    from xref_app.gui.pair_part import PairPart
    from xref_app.gui.pane_area import PaneArea
    from xref_app.gui.paper_part import PaperPart
    from xref_app.gui.shelf_part import ShelfPart
    from xref_app.gui.supplier_part import SupplierPart
    from xref_app.gui.window_parts import WindowParts


# What lists come as; a photo that is dropped beside its place is none.
_LIST_ENDINGS: Final = frozenset({".csv", ".tsv", ".txt", ".xlsx"})


class MainWindow(WindowFrame):
    """The frame, and the parts that work in it once they are there; every command lies in ``WindowCommands``."""

    closing = Signal()
    # The path of a list of a supplier.
    file_dropped = Signal(Path)

    def __init__(self, memory: WindowMemory, look: Look) -> None:
        super().__init__(memory, look)
        self._parts: WindowParts | None = None
        self._is_closed = False

    def take_parts(self, parts: WindowParts) -> None:
        """Work with these from here on; once only."""
        self._parts = parts

    @property
    def is_whole(self) -> bool:
        """Say whether the parts are there."""
        return self._parts is not None

    @property
    def is_working(self) -> bool:
        """Say whether anything is awaited, by the window or by a part of it."""
        return self.tasks.running > 0 or (self._parts is not None and self._parts.is_working)

    @property
    def is_closed(self) -> bool:
        """Say whether the window was closed: nothing is built into it any more."""
        return self._is_closed

    @property
    def _counter(self) -> CounterPart:
        if self._parts is None:
            raise RuntimeError("the window is not whole yet")
        return self._parts.counter

    @property
    def flow(self) -> JobFlow:
        """Return the job's flow of questions. This and what follows: RuntimeError before the window is whole."""
        return self._counter.flow

    @property
    def panes(self) -> PaneArea:
        """Return the three panes."""
        return self._counter.panes

    @property
    def hits(self) -> HitsDrop:
        """Return what drops from the entry line."""
        return self._counter.hits

    @property
    def drawing_saver(self) -> DrawingSaver:
        """Return what saves a drawing."""
        return self._counter.drawing_saver

    @property
    def bench(self) -> BenchPart | None:
        """Return the bench; None where the catalog is only looked at."""
        return None if self._parts is None else self._parts.bench

    @property
    def shelf(self) -> ShelfPart | None:
        """Return the shelf; None where there is no bench."""
        return None if self._parts is None else self._parts.shelf

    @property
    def fix(self) -> FixPart | None:
        """Return the sheet of fix or replace; None where there is no bench."""
        return None if self._parts is None else self._parts.fix

    @property
    def pairs(self) -> PairPart | None:
        """Return the sheet that pairs up salvaged units; None where there is no shelf."""
        return None if self._parts is None else self._parts.pairs

    @property
    def is_it(self) -> IsItPart | None:
        """Return the sheet "Is it the pump?"; None where there is no bench."""
        return None if self._parts is None else self._parts.is_it

    @property
    def jobs(self) -> JobsPart | None:
        """Return the kept jobs; None where there is no bench."""
        return None if self._parts is None else self._parts.jobs

    @property
    def happened(self) -> HappenedPart | None:
        """Return the sheet "What happened"; None where there is no shelf."""
        return None if self._parts is None else self._parts.happened

    @property
    def health(self) -> HealthPart | None:
        """Return the sheet of what is not right with the catalog; None where there is no shelf."""
        return None if self._parts is None else self._parts.health

    @property
    def suppliers(self) -> SupplierPart | None:
        """Return the sheet that reads suppliers' files; None where there is no shelf."""
        return None if self._parts is None else self._parts.suppliers

    @property
    def paper(self) -> PaperPart | None:
        """Return the print page; None where there is no bench."""
        return None if self._parts is None else self._parts.paper

    @property
    def copies(self) -> CopiesPart | None:
        """Return the sheet of the copies; None where there is no shelf."""
        return None if self._parts is None else self._parts.copies

    @property
    def bundle(self) -> BundlePart | None:
        """Return the sheet of the help bundle; None where there is no shelf."""
        return None if self._parts is None else self._parts.bundle

    @property
    def mending(self) -> MendingPart | None:
        """Return what puts damaged rows right; None where there is no shelf."""
        return None if self._parts is None else self._parts.mending

    @property
    def watch(self) -> CopyWatch | None:
        """Return what has today's copy made; None where there is no shelf."""
        return None if self._parts is None else self._parts.watch

    @property
    def catalog_file(self) -> CatalogFilePart | None:
        """Return the sheet of suppliers' catalog files; None where there is no shelf."""
        return None if self._parts is None else self._parts.catalog_file

    @property
    def export(self) -> ExportPart | None:
        """Return the sheet that takes the catalog out; None where there is no shelf."""
        return None if self._parts is None else self._parts.export

    def show_length_first(self, first: LengthFirst) -> None:
        """Show this unit of length first everywhere."""
        self._counter.show_first(first)
        if self.bench is not None:
            self.bench.show_first(first)
        self.show_unit(first)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Let a list of a supplier in."""
        if _list_in(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Tell of a list of a supplier that was dropped."""
        path = _list_in(event)
        if path is not None:
            event.acceptProposedAction()
            self.file_dropped.emit(path)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Stop all work before the window goes."""
        self._is_closed = True
        self.leave_keys()
        self.closing.emit()
        self.tasks.shut_down()
        if self._parts is not None:
            self._parts.shut_down()
        super().closeEvent(event)


def _list_in(event: QDropEvent) -> Path | None:
    """Return the one file that is dragged, if it can be a list of a supplier."""
    paths = [Path(one.toLocalFile()) for one in event.mimeData().urls() if one.isLocalFile()]
    return paths[0] if len(paths) == 1 and paths[0].suffix.casefold() in _LIST_ENDINGS else None
