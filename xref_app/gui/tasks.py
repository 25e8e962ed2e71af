"""Work off the GUI thread that reports, can be stopped, and is never heard of again once it was stopped."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal, Slot

from xref_app.core.errors import XrefError
from xref_app.core.progress import Progress, WorkCancelledError

# Progress told more often than this is not seen by anybody, seconds (20 a second).
_TELL_EVERY_S = 0.05

THREAD_NAME = "xref work"

Work = Callable[[Progress], object]


class Task(QObject):
    """One piece of work. Connect to its signals before it is launched; all of them come on the GUI thread.

    ``finished`` carries the result, ``failed`` the one sentence of an ``XrefError``, ``crashed`` anything else that
    was raised. A cancelled task tells none of these. ``settled`` comes last in every case, exactly once.
    """

    progressed = Signal(int, int)
    finished = Signal(object)
    failed = Signal(str)
    crashed = Signal(object)
    settled = Signal()
    _ended = Signal(object, object)
    _stepped = Signal(int, int)

    def __init__(self, work: Work, parent: QObject) -> None:
        super().__init__(parent)
        self._work = work
        self._is_cancelled = False
        self._told_at_s = 0.0
        self._runnable: _Runnable | None = None
        self._ended.connect(self._settle)
        self._stepped.connect(self._tell_progress)

    @property
    def is_cancelled(self) -> bool:
        """Say whether nobody waits for this any more."""
        return self._is_cancelled

    def cancel(self) -> None:
        """Ask the work to stop; from here on its result is dropped."""
        self._is_cancelled = True

    def step(self, done: int, total: int) -> None:
        """Note progress (called by the work, in its thread).

        Raises:
            WorkCancelledError: the task was cancelled.
        """
        if self._is_cancelled:
            raise WorkCancelledError
        now_s = time.monotonic()
        if done == total or now_s - self._told_at_s >= _TELL_EVERY_S:
            self._told_at_s = now_s
            self._stepped.emit(done, total)

    def run_in_worker(self) -> None:
        """Do the work (called by the pool, in its thread) and send the outcome to the GUI thread."""
        result: object = None
        trouble: BaseException | None = None
        try:
            result = None if self._is_cancelled else self._work(self)
        except WorkCancelledError:
            self._is_cancelled = True
        except Exception as error:  # noqa: BLE001 - the one place where a worker's mistakes cross threads
            trouble = error
        self._ended.emit(result, trouble)

    def launch_on(self, pool: QThreadPool) -> None:
        """Queue the work."""
        self._runnable = _Runnable(self)
        pool.start(self._runnable)

    @Slot(int, int)
    def _tell_progress(self, done: int, total: int) -> None:
        if not self._is_cancelled:
            self.progressed.emit(done, total)

    @Slot(object, object)
    def _settle(self, result: object, trouble: object) -> None:
        if not self._is_cancelled:
            self._tell(result, trouble)
        self.settled.emit()

    def _tell(self, result: object, trouble: object) -> None:
        if isinstance(trouble, XrefError):
            self.failed.emit(str(trouble))
        elif isinstance(trouble, BaseException):
            self.crashed.emit(trouble)
            sys.excepthook(type(trouble), trouble, trouble.__traceback__)
        else:
            self.finished.emit(result)


class _Runnable(QRunnable):
    """What the pool runs; kept by its task, so the pool must not delete it."""

    def __init__(self, task: Task) -> None:
        super().__init__()
        self.setAutoDelete(False)
        self._task = task

    def run(self) -> None:
        self._task.run_in_worker()


class Tasks(QObject):
    """All tasks of one window. It owns each until it has settled, and waits for every thread at the end."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        # Every thread of the pool carries this name in the operating system's list.
        self._pool.setObjectName(THREAD_NAME)
        self._running: set[Task] = set()
        self._is_shut = False

    @property
    def running(self) -> int:
        """Return how many tasks have not settled yet."""
        return len(self._running)

    def prepare(self, work: Work) -> Task:
        """Return a task for ``work``; connect to it, then launch it."""
        return Task(work, self)

    def launch(self, task: Task) -> None:
        """Start ``task``; after ``shut_down`` nothing starts any more."""
        if self._is_shut:
            return
        self._running.add(task)
        task.settled.connect(self._drop_settled)
        task.launch_on(self._pool)

    def cancel(self, task: Task | None) -> None:
        """Ask ``task`` to stop; None is no task."""
        if task is not None:
            task.cancel()

    def shut_down(self) -> None:
        """Cancel everything and wait until every thread has come home."""
        self._is_shut = True
        for task in self._running:
            task.cancel()
        self._pool.waitForDone()

    @Slot()
    def _drop_settled(self) -> None:
        task = self.sender()
        if isinstance(task, Task):
            self._running.discard(task)
            task.deleteLater()
