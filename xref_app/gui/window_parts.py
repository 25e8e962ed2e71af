"""What works in the window: built behind its first paint."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.gui.bench_part import BenchPart
from xref_app.gui.catalog_file_part import CatalogFilePart
from xref_app.gui.counter_part import CounterPart
from xref_app.gui.export_part import ExportPart
from xref_app.gui.fix_part import FixPart
from xref_app.gui.happened_part import HappenedPart
from xref_app.gui.health_part import HealthPart
from xref_app.gui.is_it_part import IsItPart
from xref_app.gui.jobs_part import JobsPart
from xref_app.gui.pair_part import PairPart
from xref_app.gui.paper_part import PaperPart
from xref_app.gui.shelf_part import ShelfPart


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
    paper: PaperPart | None = None
    catalog_file: CatalogFilePart | None = None
    export: ExportPart | None = None

    def shut_down(self) -> None:
        """Stop all work of the others; the counter's tasks are the window's own."""
        sheets = (self.paper, self.jobs, self.health, self.happened, self.is_it, self.pairs, self.fix)
        for part in (self.catalog_file, self.export, *sheets, self.shelf, self.bench):
            if part is not None:
                part.shut_down()
