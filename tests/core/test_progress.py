"""Steps of longer work are told as stretches of the whole, and stopped like it."""

from __future__ import annotations

import pytest

from tests.heard import Heard
from xref_app.core import progress
from xref_app.core.progress import NO_PROGRESS, WorkCancelledError, stretches, told_through


def test_each_step_is_told_as_its_stretch_of_the_whole() -> None:
    heard = Heard()
    first, second = stretches(heard, 1, 3)
    inner, _other = stretches(second, 1, 1)
    first.step(1, 2)
    first.step(2, 2)
    inner.step(1, 1)
    second.step(4, 4)
    assert heard.shares == [0.125, 0.25, 0.625, 1.0]


def test_a_step_of_nothing_is_through_at_once_and_steps_without_weight_take_no_room() -> None:
    heard = Heard()
    nothing, all_of_it = stretches(heard, 0, 5)
    nothing.step(0, 0)
    all_of_it.step(0, 0)
    assert heard.shares == [0.0, 1.0]
    (alone,) = stretches(heard, 0)
    alone.step(0, 1)
    assert heard.shares[-1] == 0.0


def test_small_items_all_come_and_are_told_of_now_and_then(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(progress, "_ITEMS_AT_ONCE", 4)
    heard = Heard()
    assert list(told_through(range(10), heard, 8)) == list(range(10))
    assert heard.shares == [0.0, 0.5, 1.0]  # there may be more than were foretold
    assert list(told_through("abc", NO_PROGRESS, 3)) == ["a", "b", "c"]


def test_work_is_stopped_in_the_middle_of_a_step(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(progress, "_ITEMS_AT_ONCE", 1)
    (only,) = stretches(Heard(patience=3), 1)
    through: list[int] = []
    with pytest.raises(WorkCancelledError):
        through.extend(told_through(range(10), only, 10))
    assert through == [0, 1, 2]
    with pytest.raises(WorkCancelledError):
        only.step(1, 1)
