"""The window with every sheet over one live desk, and the same for as long as a picture takes."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from xref_app.gui.colours import ThemeName
from xref_app.gui.desks import all_desks
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import build_window
from xref_app.services.live_desk import LiveDesk


def whole_window(desk: LiveDesk, settings: Path) -> MainWindow:
    """Return the window with all that ``desk`` answers, not yet shown; ``settings`` is the file of its memory."""
    return build_window(all_desks(desk), settings)


@contextmanager
def pictured_window(desk: LiveDesk, settings: Path) -> Iterator[MainWindow]:
    """Yield the whole window, shown at 1366 by 768; afterwards it is gone, and colours and text are as at first."""
    window = whole_window(desk, settings)
    window.resize(1366, 768)
    window.show()
    window.activateWindow()
    yield window
    window.look.set_theme(ThemeName.LIGHT)
    window.look.set_text_percent(100)
    window.close()
    window.deleteLater()
    QApplication.sendPostedEvents(None, int(QEvent.Type.DeferredDelete.value))
