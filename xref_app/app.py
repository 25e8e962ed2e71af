"""Join everything: the window at once, and behind its first paint the catalog and all that asks it."""

from __future__ import annotations

import linecache
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from xref_app.core.progress import Progress
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import first_window
from xref_app.gui.window_start import WindowStart
from xref_app.settings import settings_path

if TYPE_CHECKING:  # named only: it is loaded behind the first paint
    from xref_app.services.live_desk import LiveDesk

FAULT = 2
# How far the start can be given up in between.
_STAGES = 4


def run_window(*, sample: bool) -> int:
    """Show the window on the sample or on the shop's own catalog until it is closed; return the exit code.

    Whether the store can be opened is not known before the window is painted: only opening it tells, and what opens
    it takes longer to load than the window. So the one sentence stands in the window, where somebody who started the
    program with the mouse sees it, and on standard error; the exit code is 2 once the window is closed.
    """
    application = QApplication(sys.argv[:1])
    window = first_window(settings_path())
    opening = _Opening(window, sample=sample)
    start = WindowStart(window, opening.bring)
    start.failed.connect(_write_fault)
    window.show()
    try:
        code = application.exec()
    finally:
        opening.close()
    return FAULT if start.fault else code


def _write_fault(sentence: str) -> None:
    sys.stderr.write(f"{sentence}\n")


def _load(progress: Progress) -> None:
    """Load what the first paint did without, the largest piece first; can be given up between two pieces."""
    progress.step(0, _STAGES)
    import xref_app.store.engine  # noqa: PLC0415

    _forget_source_lines()
    progress.step(1, _STAGES)
    import xref_app.services.open_catalog  # noqa: PLC0415

    _forget_source_lines()
    progress.step(2, _STAGES)
    import xref_app.gui.filling  # noqa: F401, PLC0415

    _forget_source_lines()
    progress.step(3, _STAGES)


def _forget_source_lines(_is_working: bool = False) -> None:  # noqa: FBT001, FBT002 - the signal's own argument
    """Give back the memory of source text: tens of MB that nobody needs.

    PySide6 reads the source of every module imported after it, to see whether it names PySide6, by way of
    ``linecache``, which keeps all lines it was ever asked for. A traceback reads its lines anew.
    """
    linecache.clearcache()


class _Opening:
    """Loads what the first paint did without, opens the store, and closes it at the end."""

    def __init__(self, window: MainWindow, *, sample: bool) -> None:
        self._window = window
        self._sample = sample
        self._desk: LiveDesk | None = None

    def bring(self, progress: Progress) -> Iterator[None]:
        """Return the steps that make the window whole; called in a worker thread.

        Raises:
            XrefError: the store cannot be opened, in one sentence.
            WorkCancelledError: the window was closed meanwhile.
        """
        _load(progress)
        from xref_app.services.open_catalog import open_own, open_sample  # noqa: PLC0415 - behind the first paint

        self._desk = open_sample() if self._sample else open_own()
        progress.step(_STAGES, _STAGES)
        return self._steps(self._desk)

    def _steps(self, desk: LiveDesk) -> Iterator[None]:
        from xref_app.gui.desks import all_desks  # noqa: PLC0415 - behind the first paint
        from xref_app.gui.filling import fill  # noqa: PLC0415

        yield from fill(self._window, all_desks(desk))
        # The first questions load more.
        self._window.flow.working.connect(_forget_source_lines)
        # A large catalog takes longer to open than the window to become whole.
        desk.open_soon()

    def close(self) -> None:
        """Stop what is still being read."""
        if self._desk is not None:
            self._desk.close()
