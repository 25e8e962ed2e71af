"""Join everything: the catalog behind the window, and the window in front of it."""

from __future__ import annotations

import sys

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from xref_app.core.errors import XrefError
from xref_app.gui.start import build_window
from xref_app.services.open_catalog import open_own, open_sample
from xref_app.settings import settings_path


def run_window(*, sample: bool) -> int:
    """Show the window on the sample or on the shop's own catalog until it is closed; return the exit code."""
    try:
        desk = open_sample() if sample else open_own()
    except XrefError as error:
        sys.stderr.write(f"{error}\n")
        return 2
    application = QApplication(sys.argv[:1])
    window = build_window(desk, settings_path(), bench=desk, shelf=desk.shelf, pairs=desk.pairs)
    window.show()
    # Once the window is painted: a large catalog takes longer to open than the window.
    QTimer.singleShot(0, desk.open_soon)
    try:
        return application.exec()
    finally:
        desk.close()
