"""Acts of a person, one at a time and off the GUI thread; reading may go on beside them."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.gui.tasks import Task, Tasks


class OneAct(QObject):
    """Runs an act; a second one asked for while it is on its way is not done at all."""

    failed = Signal(str)
    crashed = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._tasks = Tasks(self)
        self._is_acting = False

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

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self.crashed.emit()
