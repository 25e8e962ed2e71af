"""Reading that takes a while, one at a time: a new one stops the one before, and a person can stop it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.tasks import Task, Tasks, Work


class OneRead(QObject):
    """Tells how far it is; what was stopped is never heard of again."""

    working = Signal(bool)
    progressed = Signal(int, int)
    failed = Signal(str)
    crashed = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._tasks = Tasks(self)
        self._task: Task | None = None

    @property
    def is_working(self) -> bool:
        """Say whether anything is being read, or has still to notice that it was stopped."""
        return self._tasks.running > 0

    @property
    def is_wanted(self) -> bool:
        """Say whether something is being read that somebody waits for."""
        return self._task is not None

    def run(self, work: Work, answer: Callable[[object], None]) -> None:
        """Begin to read and hand the result to ``answer``."""
        self._tasks.cancel(self._task)
        task = self._tasks.prepare(work)
        task.progressed.connect(self.progressed)
        task.finished.connect(answer)
        task.failed.connect(self.failed)
        task.crashed.connect(self._tell_crash)
        task.settled.connect(partial(self._note_settled, task))
        self._task = task
        self.progressed.emit(0, 0)
        self.working.emit(self.is_wanted)
        self._tasks.launch(task)

    def stop(self) -> None:
        """Stop what is being read."""
        self._tasks.cancel(self._task)
        self._task = None
        self.working.emit(self.is_wanted)

    def shut_down(self) -> None:
        """Stop all work for good."""
        self._tasks.shut_down()

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self.crashed.emit()

    def _note_settled(self, task: Task) -> None:
        if self._task is task:
            self._task = None
            self.working.emit(self.is_wanted)
