"""Builds the window: its frame at once, what works in it behind the first paint."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from xref_app.gui.main_window import MainWindow
from xref_app.gui.memory import WindowMemory
from xref_app.gui.theme import Look

if TYPE_CHECKING:  # named only: the first paint must not load them
    from xref_app.gui.bench_desk import BenchDesk
    from xref_app.gui.desk import Desk
    from xref_app.gui.fix_desk import FixDesk
    from xref_app.gui.happened_desk import HappenedDesk
    from xref_app.gui.health_desk import HealthDesk
    from xref_app.gui.jobs_desk import JobsDesk
    from xref_app.gui.pair_desk import PairDesk
    from xref_app.gui.shelf_desk import ShelfDesk


def first_window(settings: Path) -> MainWindow:
    """Return the window ready to type into, not yet shown and not yet whole; a QApplication must exist.

    Args:
        settings: INI file that remembers text size, colours and unit; made on the first change.
    """
    memory = WindowMemory(settings)
    look = Look()
    look.set_theme(memory.theme)
    look.set_text_percent(memory.text_percent)
    return MainWindow(memory, look)


def build_window(  # noqa: PLR0913, PLR0917 - one desk for each sheet
    desk: Desk,
    settings: Path,
    bench: BenchDesk | None = None,
    shelf: ShelfDesk | None = None,
    fix: FixDesk | None = None,
    pairs: PairDesk | None = None,
    jobs: JobsDesk | None = None,
    *,
    happened: HappenedDesk | None = None,
    health: HealthDesk | None = None,
) -> MainWindow:
    """Return the whole window at once, not yet shown; the arguments are those of ``first_window`` and ``Desks``."""
    from xref_app.gui.desks import Desks  # noqa: PLC0415 - loads all that the first paint does without
    from xref_app.gui.filling import fill  # noqa: PLC0415

    window = first_window(settings)
    desks = Desks(desk, bench, shelf, fix, pairs, jobs, happened=happened, health=health)
    for _ in fill(window, desks):
        pass
    return window
