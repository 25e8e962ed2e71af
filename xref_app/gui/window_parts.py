"""What works in the window: built behind its first paint."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from xref_app.gui.bench_part import BenchPart
from xref_app.gui.bundle_part import BundlePart
from xref_app.gui.catalog_file_part import CatalogFilePart
from xref_app.gui.copies_part import CopiesPart
from xref_app.gui.copy_watch import CopyWatch
from xref_app.gui.counter_part import CounterPart
from xref_app.gui.export_part import ExportPart
from xref_app.gui.fix_part import FixPart
from xref_app.gui.happened_part import HappenedPart
from xref_app.gui.health_part import HealthPart
from xref_app.gui.is_it_part import IsItPart
from xref_app.gui.jobs_part import JobsPart
from xref_app.gui.mending_part import MendingPart
from xref_app.gui.pair_part import PairPart
from xref_app.gui.paper_part import PaperPart
from xref_app.gui.shelf_part import ShelfPart
from xref_app.gui.supplier_part import SupplierPart


class WorkingPart(Protocol):
    """One part of the window that works in the background."""

    @property
    def is_working(self) -> bool:
        """Say whether something is awaited."""

    def shut_down(self) -> None:
        """Stop all work."""


@dataclass(frozen=True, slots=True)
class WindowParts:
    """The counter; the others are None where the catalog is only looked at."""

    counter: CounterPart
    bench: BenchPart | None = None
    shelf: ShelfPart | None = None
    fix: FixPart | None = None
    pairs: PairPart | None = None
    is_it: IsItPart | None = None
    jobs: JobsPart | None = None
    happened: HappenedPart | None = None
    health: HealthPart | None = None
    suppliers: SupplierPart | None = None
    paper: PaperPart | None = None
    catalog_file: CatalogFilePart | None = None
    export: ExportPart | None = None
    copies: CopiesPart | None = None
    bundle: BundlePart | None = None
    mending: MendingPart | None = None
    watch: CopyWatch | None = None

    @property
    def is_working(self) -> bool:
        """Say whether any of them awaits something."""
        return self.counter.flow.is_working or any(one.is_working for one in self._others)

    def shut_down(self) -> None:
        """Stop all work of the others; the counter's tasks are the window's own."""
        for part in self._others:
            part.shut_down()

    @property
    def _others(self) -> tuple[WorkingPart, ...]:
        """Return the others that are there; the bench last, which the sheets lie on."""
        data = (self.watch, self.bundle, self.mending, self.copies, self.suppliers, self.catalog_file, self.export)
        sheets = (self.paper, self.jobs, self.health, self.happened, self.is_it, self.pairs, self.fix)
        others: tuple[WorkingPart | None, ...] = (*data, *sheets, self.shelf, self.bench)
        return tuple(one for one in others if one is not None)
