"""Makes the window whole behind its first paint: brought by a worker, built in steps between which one can type."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from xref_app.core.progress import Progress
from xref_app.gui.actions import Command
from xref_app.gui.early_entries import EarlyEntries
from xref_app.gui.main_window import MainWindow
from xref_app.gui.tasks import Task

# Loads and opens what the window needs (in a worker thread) and returns the steps that build it in (GUI thread).
Bring = Callable[[Progress], Iterator[None]]

# Between two steps, ms: enough for all that waits to be handled.
_PAUSE_MS = 2


class WindowStart(QObject):
    """Begins with the first paint; afterwards every text entered until then is carried out.

    Where nothing can be brought, the window says why in one sentence, and ``fault`` holds it. A window closed before
    it is whole waits for the worker's next step only, and is built no further.
    """

    done = Signal()
    failed = Signal(str)

    def __init__(self, window: MainWindow, bring: Bring) -> None:
        super().__init__(window)
        self.fault = ""
        self._window = window
        self._steps: Iterator[None] = iter(())
        self._early = EarlyEntries(window.entry)
        self._task = self._prepared(bring)
        self._between = QTimer(self)
        self._between.setInterval(_PAUSE_MS)
        self._between.timeout.connect(self._step)
        # Not from within the painting: what was painted must first reach the screen.
        window.painted.connect(self._launch_soon)
        window.actions_by_command[Command.QUIT].triggered.connect(window.close)

    def _prepared(self, bring: Bring) -> Task:
        task = self._window.tasks.prepare(bring)
        task.finished.connect(self._build)
        task.failed.connect(self._tell_fault)
        task.crashed.connect(self._tell_crash)
        return task

    def again(self, bring: Bring) -> None:
        """Begin anew after a fault, with another ``bring``."""
        self.fault = ""
        self._window.tell_opening()
        self._task = self._prepared(bring)
        self._launch()

    @Slot()
    def _launch_soon(self) -> None:
        QTimer.singleShot(0, self, self._launch)

    @Slot()
    def _launch(self) -> None:
        self._window.tasks.launch(self._task)

    @Slot(object)
    def _build(self, steps: Iterator[None]) -> None:
        self._steps = steps
        self._between.start()

    @Slot()
    def _step(self) -> None:
        if self._window.is_closed:
            self._between.stop()
            self._steps = iter(())
            return
        try:
            is_last = self._is_last_step()
        except Exception as trouble:
            self._between.stop()
            self._tell_crash(trouble)
            raise
        if is_last and not self._window.is_closed:
            self._between.stop()
            self._window.actions_by_command[Command.QUIT].triggered.disconnect(self._window.close)
            self._early.hand_over(self._window.flow)
            self.done.emit()

    def _is_last_step(self) -> bool:
        """Take one step. No key can come within it, and the guards need not hear of every widget that is made."""
        self._window.leave_keys()
        try:
            next(self._steps)
        except StopIteration:
            return True
        finally:
            if not self._window.is_closed:
                self._window.watch_keys()
        return False

    @Slot(str)
    def _tell_fault(self, sentence: str) -> None:
        self.fault = sentence
        self._window.tell_unopened(sentence)
        self.failed.emit(sentence)

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self._tell_fault(self.tr("A fault inside the program: it cannot go on. Close it and start it again."))
