"""Join everything: the window at once, and behind its first paint the catalog and all that asks it."""

from __future__ import annotations

import linecache
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from xref_app.core.progress import Progress
from xref_app.files.program_log import begin_log, keep_crashes
from xref_app.gui.main_window import MainWindow
from xref_app.gui.start import first_window
from xref_app.gui.window_start import Bring, WindowStart
from xref_app.settings import log_folder, settings_path

if TYPE_CHECKING:  # named only: it is loaded behind the first paint
    from xref_app.services.live_desk import LiveDesk

FAULT = 2
# A copy that is to take the place of the catalog, and who wants it.
_PutBack = tuple[Path, str]
# How far the start can be given up in between.
_STAGES = 4


def run_window(*, sample: bool) -> int:
    """Show the window on the sample or on the shop's own catalog until it is closed; return the exit code.

    Whether the store can be opened is not known before the window is painted: only opening it tells, and what opens
    it takes longer to load than the window. So the one sentence stands in the window, where somebody who started the
    program with the mouse sees it, and on standard error; the exit code is 2 once the window is closed.

    Where a copy is to take the place of a catalog that is open, the window closes, and another opens with the copy.
    """
    begin_log(log_folder())
    keep_crashes(log_folder())
    application = QApplication(sys.argv[:1])
    put_back: _PutBack | None = None
    while True:
        window = first_window(settings_path())
        opening = Opening(window, sample=sample)
        start = WindowStart(window, opening.bring if put_back is None else opening.after(*put_back))
        start.failed.connect(_write_fault)
        if not sample:
            start.failed.connect(partial(offer_copy, window, start, opening))
        window.show()
        try:
            code = application.exec()
        finally:
            opening.close()
        put_back = opening.wanted
        if put_back is None:
            return FAULT if start.fault else code


def _write_fault(sentence: str) -> None:
    sys.stderr.write(f"{sentence}\n")


def offer_copy(window: MainWindow, start: WindowStart, opening: Opening, _sentence: str) -> None:
    """Offer a copy where the catalog is beyond opening; what that needs is loaded only then."""
    from xref_app.gui.start_offer import StartOffer  # noqa: PLC0415 - not before the first paint

    StartOffer(window, start, _find_copy, opening.after).look()


def _find_copy(progress: Progress) -> object:
    from xref_app.services.own_store import own_store_path  # noqa: PLC0415 - loaded where a copy is wanted
    from xref_app.services.store_copies import offered_at_start  # noqa: PLC0415

    return offered_at_start(own_store_path(), progress)


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


class Opening:
    """Loads what the first paint did without, opens the store, and closes it at the end."""

    def __init__(self, window: MainWindow, *, sample: bool) -> None:
        self._window = window
        self._sample = sample
        self._desk: LiveDesk | None = None
        self.wanted: _PutBack | None = None

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

    def after(self, copy: Path, who: str) -> Bring:
        """Return what puts ``copy`` in the place of the shop's catalog, as ``who``, and then brings it."""

        def bring(progress: Progress) -> Iterator[None]:
            _load(progress)
            from xref_app.services.own_store import own_store_path  # noqa: PLC0415 - behind the first paint
            from xref_app.services.restore import Way, restore  # noqa: PLC0415

            restore(own_store_path(), copy, Way.ALL, who=who)
            return self.bring(progress)

        return bring

    def _want(self, copy: Path, who: str) -> None:
        """Have the window closed, and another opened with ``copy`` in the place of the catalog."""
        self.wanted = (copy, who)
        self._window.close()

    def _steps(self, desk: LiveDesk) -> Iterator[None]:
        from xref_app.gui.desks import all_desks  # noqa: PLC0415 - behind the first paint
        from xref_app.gui.filling import fill  # noqa: PLC0415

        yield from fill(self._window, all_desks(desk))
        # The first questions load more.
        self._window.flow.working.connect(_forget_source_lines)
        if self._window.copies is not None and self._window.watch is not None:
            self._window.copies.put_in_place.connect(self._want)
            self._window.watch.begin()
        # A large catalog takes longer to open than the window to become whole.
        desk.open_soon()

    def close(self) -> None:
        """Stop what is still being read, and let the store go."""
        if self._desk is not None:
            self._desk.close()
