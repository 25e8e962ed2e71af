"""Builds the window: its frame at once, what works in it behind the first paint."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from xref_app.gui.main_window import MainWindow
from xref_app.gui.memory import WindowMemory
from xref_app.gui.theme import Look

if TYPE_CHECKING:  # named only: the first paint must not load it
    from xref_app.gui.desks import Desks


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


def build_window(desks: Desks, settings: Path) -> MainWindow:
    """Return the whole window at once, not yet shown; ``settings`` is as for ``first_window``."""
    from xref_app.gui.filling import fill  # noqa: PLC0415 - loads all that the first paint does without

    window = first_window(settings)
    for _ in fill(window, desks):
        pass
    return window
