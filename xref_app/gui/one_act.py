"""Acts of a person, one at a time and off the GUI thread; reading may go on beside them."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.core.progress import Progress, WorkCancelledError
from xref_app.gui.tasks import Task, Tasks, Work


class OneAct(QObject):
    """Runs an act; a second one asked for while it is on its way is not done at all."""

    failed = Signal(str)
    crashed = Signal()
    working = Signal(bool)
    progressed = Signal(int, int)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._tasks = Tasks(self)
        self._is_acting = False
        self._stop: Event | None = None

    @property
    def is_working(self) -> bool:
        """Say whether anything is on its way."""
        return self._tasks.running > 0

    def do(self, work: Callable[[], object], answer: Callable[[object], None]) -> None:
        """Do one act and hand its result to ``answer``."""
        if self._is_acting:
            return
        self._is_acting = True
        task = self._prepared(work, answer)
        task.settled.connect(self._note_settled)
        self._tasks.launch(task)

    def do_stoppable(self, work: Work, answer: Callable[[object], None]) -> None:
        """Do one act that leaves everything as it was where it is stopped; ``answer`` gets None then.

        What was asked to stop too late is done, and answered as such: nobody is told that nothing was changed.
        """
        if self._is_acting:
            return
        self._is_acting = True
        stop = self._stop = Event()
        task = self._tasks.prepare(lambda progress: _unless_stopped(work, _Stoppable(progress, stop)))
        task.finished.connect(answer)
        task.failed.connect(self.failed)
        task.crashed.connect(self._tell_crash)
        task.progressed.connect(self.progressed)
        task.settled.connect(self._note_settled)
        self.progressed.emit(0, 0)
        self.working.emit(self._is_acting)
        self._tasks.launch(task)

    @property
    def is_stoppable(self) -> bool:
        """Say whether an act is on its way that can be stopped."""
        return self._stop is not None

    def stop(self) -> None:
        """Ask the act that is on its way to stop."""
        if self._stop is not None:
            self._stop.set()

    def read(self, work: Callable[[], object], answer: Callable[[object], None]) -> None:
        """Read something and hand it to ``answer``."""
        self._tasks.launch(self._prepared(work, answer))

    def shut_down(self) -> None:
        """Stop all work."""
        self._tasks.shut_down()

    def _prepared(self, work: Callable[[], object], answer: Callable[[object], None]) -> Task:
        task = self._tasks.prepare(lambda _progress: work())
        task.finished.connect(answer)
        task.failed.connect(self.failed)
        task.crashed.connect(self._tell_crash)
        return task

    @Slot()
    def _note_settled(self) -> None:
        self._is_acting = False
        if self._stop is not None:
            self._stop = None
            self.working.emit(self._is_acting)

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self.crashed.emit()


class _Stoppable:
    """Progress that stops the work when it is asked to, without the result being dropped as a cancelled task's is."""

    def __init__(self, progress: Progress, stop: Event) -> None:
        self._progress, self._stop = progress, stop

    def step(self, done: int, total: int) -> None:
        """Tell how far the act is.

        Raises:
            WorkCancelledError: it was asked to stop.
        """
        if self._stop.is_set():
            raise WorkCancelledError
        self._progress.step(done, total)


def _unless_stopped(work: Work, progress: _Stoppable) -> object:
    try:
        return work(progress)
    except WorkCancelledError:
        return None
