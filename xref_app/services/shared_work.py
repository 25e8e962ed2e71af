"""Work that is done once for all who need its result: whoever gives up waiting does not stop it."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event, Thread
from typing import Final, Generic, TypeVar

from xref_app.core.progress import Progress, WorkCancelledError

Result = TypeVar("Result")

# How often a waiting thread looks whether it is still wanted, seconds.
_LOOK_EVERY_S: Final = 0.05


class SharedWork(Generic[Result]):
    """One piece of work in a thread of its own, begun at once."""

    def __init__(self, work: Callable[[Progress], Result], name: str) -> None:
        self._work = work
        self._ended, self._stopped = Event(), Event()
        self._at = (0, 1)
        self._result: list[Result] = []
        self._trouble: BaseException | None = None
        # Should the program end without stopping it, it must not be kept alive by this.
        self._thread = Thread(target=self._run, name=name, daemon=True)
        self._thread.start()

    def result(self, progress: Progress) -> Result:
        """Return what the work comes to; ``progress`` hears how far it is.

        Raises:
            WorkCancelledError: ``progress`` says that this caller waits no more, or the work was stopped.
        """
        while not self._ended.wait(_LOOK_EVERY_S):
            progress.step(*self._at)
        if self._trouble is not None:
            raise self._trouble
        return self._result[0]

    def stop(self) -> None:
        """Have the work end as soon as it can, and wait until it has."""
        self._stopped.set()
        self._thread.join()

    @property
    def has_failed(self) -> bool:
        """Say whether the work ended without a result."""
        return self._trouble is not None

    def step(self, done: int, total: int) -> None:
        """Note how far the work is (called by the work).

        Raises:
            WorkCancelledError: the work was stopped.
        """
        if self._stopped.is_set():
            raise WorkCancelledError
        self._at = (done, total)

    def _run(self) -> None:
        try:
            self._result.append(self._work(self))
        except BaseException as trouble:  # noqa: BLE001 - told to everybody who waits
            self._trouble = trouble
        finally:
            self._ended.set()
