"""All that a window asks: one desk for each of its sheets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from xref_app.gui.bench_desk import BenchDesk
from xref_app.gui.catalog_file_desk import CatalogFileDesk
from xref_app.gui.copies_desk import CopiesDesk
from xref_app.gui.desk import Desk
from xref_app.gui.fix_desk import FixDesk
from xref_app.gui.happened_desk import HappenedDesk
from xref_app.gui.health_desk import HealthDesk
from xref_app.gui.jobs_desk import JobsDesk
from xref_app.gui.pair_desk import PairDesk
from xref_app.gui.shelf_desk import ShelfDesk
from xref_app.gui.supplier_desk import SupplierDesk

if TYPE_CHECKING:
    from xref_app.services.live_desk import LiveDesk


@dataclass(frozen=True, slots=True)
class Desks:
    """The counter's desk answers the window's questions, off the GUI thread; the others do so for their sheets.

    Where the catalog is only looked at there is no bench, and without a bench none of those that follow.
    """

    counter: Desk
    bench: BenchDesk | None = None
    shelf: ShelfDesk | None = None
    fix: FixDesk | None = None
    pairs: PairDesk | None = None
    jobs: JobsDesk | None = None
    happened: HappenedDesk | None = None
    health: HealthDesk | None = None
    copies: CopiesDesk | None = None
    suppliers: SupplierDesk | None = None
    catalog_files: CatalogFileDesk | None = None


def all_desks(desk: LiveDesk) -> Desks:
    """Return every desk of a store that may be changed."""
    return Desks(
        desk,
        bench=desk,
        shelf=desk.shelf,
        fix=desk.fix,
        pairs=desk.pairs,
        jobs=desk.jobs,
        happened=desk.happened,
        health=desk.health,
        copies=desk.copies,
        suppliers=desk.suppliers,
        catalog_files=desk.catalog_files,
    )
