"""What works in the window: built behind its first paint."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.gui.bench_part import BenchPart
from xref_app.gui.counter_part import CounterPart
from xref_app.gui.shelf_part import ShelfPart


@dataclass(frozen=True, slots=True)
class WindowParts:
    """The counter; bench and shelf are None where the catalog is only looked at."""

    counter: CounterPart
    bench: BenchPart | None = None
    shelf: ShelfPart | None = None

    def shut_down(self) -> None:
        """Stop all work of bench and shelf; the counter's tasks are the window's own."""
        if self.shelf is not None:
            self.shelf.shut_down()
        if self.bench is not None:
            self.bench.shut_down()
