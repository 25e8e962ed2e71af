"""Builds the window; the one place that joins desk, memory and look."""

from __future__ import annotations

from pathlib import Path

from xref_app.gui.bench_desk import BenchDesk
from xref_app.gui.desk import Desk
from xref_app.gui.main_window import MainWindow
from xref_app.gui.memory import WindowMemory
from xref_app.gui.pair_desk import PairDesk
from xref_app.gui.shelf_desk import ShelfDesk
from xref_app.gui.theme import Look
from xref_app.gui.window_commands import WindowCommands


def build_window(
    desk: Desk,
    settings: Path,
    bench: BenchDesk | None = None,
    shelf: ShelfDesk | None = None,
    pairs: PairDesk | None = None,
) -> MainWindow:
    """Return the window, not yet shown; a QApplication must exist.

    Args:
        desk: Answers the window's questions, off the GUI thread.
        bench: Measures, keeps and saves; None where the catalog is only looked at.
        shelf: The parts with their bins and counts; None where there is no bench.
        pairs: The salvaged units; None where there is no shelf.
        settings: INI file that remembers text size, colours and unit; made on the first change.
    """
    memory = WindowMemory(settings)
    look = Look()
    look.set_theme(memory.theme)
    look.set_text_percent(memory.text_percent)
    window = MainWindow(desk, memory, look, bench, shelf)
    if pairs is not None:
        window.add_pairs(pairs)
    WindowCommands(window)
    return window
