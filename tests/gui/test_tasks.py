"""Work off the GUI thread: told once, on the GUI thread, and never again once it was stopped."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from types import TracebackType

import pytest
from PySide6.QtCore import QObject, QThread, Slot
from pytestqt.qtbot import QtBot

from tests.gui.conftest import worker_threads
from xref_app.core.errors import XrefError
from xref_app.core.progress import Progress
from xref_app.gui.tasks import Task, Tasks


class Listener(QObject):
    """Notes what a task tells, and on which thread."""

    def __init__(self) -> None:
        super().__init__()
        self.heard: list[tuple[str, object]] = []
        self.threads: set[QThread] = set()

    def listen(self, task: Task) -> None:
        task.finished.connect(self.hear_finished)
        task.failed.connect(self.hear_failed)
        task.crashed.connect(self.hear_crashed)
        task.settled.connect(self.hear_settled)
        task.progressed.connect(self.hear_progress)

    def _note(self, what: str, payload: object) -> None:
        self.heard.append((what, payload))
        self.threads.add(QThread.currentThread())

    @Slot(object)
    def hear_finished(self, result: object) -> None:
        self._note("finished", result)

    @Slot(str)
    def hear_failed(self, sentence: str) -> None:
        self._note("failed", sentence)

    @Slot(object)
    def hear_crashed(self, trouble: object) -> None:
        self._note("crashed", type(trouble))

    @Slot()
    def hear_settled(self) -> None:
        self._note("settled", None)

    @Slot(int, int)
    def hear_progress(self, done: int, total: int) -> None:
        self._note("progress", (done, total))


@pytest.fixture
def tasks() -> Iterator[Tasks]:
    made = Tasks()
    yield made
    made.shut_down()
    made.deleteLater()


def run(qtbot: QtBot, tasks: Tasks, work: object) -> Listener:
    task = tasks.prepare(work)  # type: ignore[arg-type]  # each test passes a function of one Progress
    listener = Listener()
    listener.listen(task)
    with qtbot.waitSignal(task.settled):
        tasks.launch(task)
    qtbot.waitUntil(lambda: tasks.running == 0)
    return listener


def test_work_runs_elsewhere_and_its_result_comes_home(qtbot: QtBot, tasks: Tasks) -> None:
    where: list[int] = []

    def work(_progress: Progress) -> int:
        where.append(threading.get_native_id())
        return 42

    listener = run(qtbot, tasks, work)
    assert listener.heard == [("finished", 42), ("settled", None)]
    assert where[0] != threading.get_native_id()
    assert listener.threads == {QThread.currentThread()}


def test_the_count_of_worker_threads_sees_a_running_one(qtbot: QtBot, tasks: Tasks) -> None:
    go_on = threading.Event()

    def work(_progress: Progress) -> None:
        go_on.wait()

    tasks.launch(tasks.prepare(work))
    qtbot.waitUntil(lambda: worker_threads() == 1)
    go_on.set()
    tasks.shut_down()
    # The thread has left our code by now; the system takes a moment more to forget it.
    qtbot.waitUntil(lambda: worker_threads() == 0)


def test_a_fault_a_person_can_mend_comes_as_its_one_sentence(qtbot: QtBot, tasks: Tasks) -> None:
    def work(_progress: Progress) -> int:
        raise XrefError("The catalog was moved: put it back and try again.")

    listener = run(qtbot, tasks, work)
    assert listener.heard == [("failed", "The catalog was moved: put it back and try again."), ("settled", None)]


def test_our_own_mistake_goes_to_the_excepthook(qtbot: QtBot, tasks: Tasks, monkeypatch: pytest.MonkeyPatch) -> None:
    caught: list[type[BaseException]] = []

    def hook(kind: type[BaseException], _error: BaseException, _trace: TracebackType | None) -> None:
        caught.append(kind)

    monkeypatch.setattr(sys, "excepthook", hook)

    def work(_progress: Progress) -> float:
        return 1 / 0

    listener = run(qtbot, tasks, work)
    assert listener.heard == [("crashed", ZeroDivisionError), ("settled", None)]
    assert caught == [ZeroDivisionError]


def test_a_cancelled_task_tells_nothing_but_that_it_settled(qtbot: QtBot, tasks: Tasks) -> None:
    begun, go_on = threading.Event(), threading.Event()
    reached: list[str] = []

    def work(progress: Progress) -> str:
        begun.set()
        go_on.wait()
        progress.step(1, 2)
        reached.append("end")
        return "late"

    task = tasks.prepare(work)
    listener = Listener()
    listener.listen(task)
    tasks.launch(task)
    qtbot.waitUntil(begun.is_set)
    with qtbot.waitSignal(task.settled):
        tasks.cancel(task)
        go_on.set()
    assert listener.heard == [("settled", None)]
    assert not reached


def test_a_result_already_on_its_way_is_dropped_when_cancelled(qtbot: QtBot, tasks: Tasks) -> None:
    done = threading.Event()

    def work(_progress: Progress) -> str:
        done.set()
        return "on its way"

    task = tasks.prepare(work)
    listener = Listener()
    listener.listen(task)
    tasks.launch(task)
    done.wait()
    tasks.cancel(task)
    qtbot.waitUntil(lambda: tasks.running == 0)
    assert listener.heard == [("settled", None)]


def test_progress_is_told_at_most_twenty_times_a_second_and_at_the_end(qtbot: QtBot, tasks: Tasks) -> None:
    def work(progress: Progress) -> None:
        for done in range(20_001):
            progress.step(done, 20_000)

    listener = run(qtbot, tasks, work)
    told = [payload for what, payload in listener.heard if what == "progress"]
    assert told[-1] == (20_000, 20_000)
    assert len(told) < 200


def test_shutting_down_waits_for_every_thread_and_starts_no_more(qtbot: QtBot, tasks: Tasks) -> None:
    begun = threading.Event()
    steps: list[int] = []

    def work(progress: Progress) -> None:
        begun.set()
        while True:
            progress.step(0, 1)
            steps.append(1)

    task = tasks.prepare(work)
    tasks.launch(task)
    qtbot.waitUntil(begun.is_set)
    tasks.shut_down()
    after = len(steps)
    late = tasks.prepare(work)
    tasks.launch(late)
    qtbot.waitUntil(lambda: tasks.running == 0)
    assert len(steps) == after
