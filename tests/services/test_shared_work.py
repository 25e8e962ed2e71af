"""Work that several wait for is done once, outlives those who give up, and can be stopped."""

from __future__ import annotations

from threading import Event, Thread

import pytest

from tests.services.tiny import Cancelled, Quiet
from xref_app.core.progress import Progress, WorkCancelledError
from xref_app.services.shared_work import SharedWork


class Waiting:
    """Work that goes on when it is told to."""

    def __init__(self) -> None:
        self.go_on, self.begun, self.runs = Event(), Event(), 0

    def work(self, progress: Progress) -> str:
        """Return a word once it may."""
        self.runs += 1
        progress.step(3, 10)
        self.begun.set()
        while not self.go_on.wait(0.01):
            progress.step(3, 10)
        return "done"


def test_who_gives_up_does_not_stop_it_and_the_others_hear_how_far_it_is() -> None:
    waiting, quiet = Waiting(), Quiet()
    shared = SharedWork(waiting.work, "a test")
    waiting.begun.wait(5)
    with pytest.raises(WorkCancelledError):
        shared.result(Cancelled())
    results: list[str] = []
    others = [Thread(target=lambda: results.append(shared.result(quiet))) for _ in range(3)]
    for one in others:
        one.start()
    while not quiet.told:
        Event().wait(0.01)
    waiting.go_on.set()
    for one in others:
        one.join()
    assert (results, waiting.runs, set(quiet.told)) == (["done"] * 3, 1, {(3, 10)})


def test_it_can_be_stopped() -> None:
    waiting = Waiting()
    shared = SharedWork(waiting.work, "a test")
    waiting.begun.wait(5)
    shared.stop()
    with pytest.raises(WorkCancelledError):
        shared.result(Quiet())
    assert shared.has_failed


def test_what_goes_wrong_is_told_to_everybody_who_waits() -> None:
    def fails(_progress: Progress) -> None:
        raise OSError("no disk")

    shared = SharedWork(fails, "a test")
    for _ in range(2):
        with pytest.raises(OSError, match="no disk"):
            shared.result(Quiet())
