"""How long work tells how far it is, and learns that nobody waits for it any more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Final, Protocol, TypeVar

Item = TypeVar("Item")

# House rules: in how many parts a share of the whole is told, and after how many small items somebody is told again.
_PARTS: Final = 1000
_ITEMS_AT_ONCE: Final = 2_000


class WorkCancelledError(Exception):
    """The person asked for something else; whoever started the work drops it without a word."""


class Progress(Protocol):
    """Told by long work how far it is."""

    def step(self, done: int, total: int) -> None:
        """Note that ``done`` of ``total`` pieces are through (0 ≤ done ≤ total).

        Raises:
            WorkCancelledError: the work is no longer wanted; stop without a partial result.
        """
        ...


class _Unheard:
    """Progress that nobody hears of."""

    def step(self, done: int, total: int) -> None:
        """Do nothing."""


NO_PROGRESS: Progress = _Unheard()


@dataclass(frozen=True, slots=True)
class Stretch:
    """Progress of one step of longer work, told as the stretch of the whole from ``begin`` to ``end`` (0 to 1)."""

    whole: Progress
    begin: float
    end: float

    def step(self, done: int, total: int) -> None:
        """Tell the whole how far this step is.

        Raises:
            WorkCancelledError: the work is no longer wanted.
        """
        share = done / total if total else 1.0
        self.whole.step(round(_PARTS * (self.begin + (self.end - self.begin) * share)), _PARTS)


def stretches(progress: Progress, *weights: float) -> tuple[Stretch, ...]:
    """Return a stretch of ``progress`` for each step of the work, as long as its weight beside the others."""
    whole = sum(weights) or 1.0
    ends = accumulate(weights, initial=0.0)
    return tuple(Stretch(progress, begin / whole, end / whole) for begin, end in pairwise(ends))


def told_through(items: Iterable[Item], progress: Progress, total: int) -> Iterator[Item]:
    """Yield every one of the ``total`` small items, telling of them now and then.

    Raises:
        WorkCancelledError: the work is no longer wanted.
    """
    for done, item in enumerate(items):
        if not done % _ITEMS_AT_ONCE:
            progress.step(min(done, total), total)
        yield item
