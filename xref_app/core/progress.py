"""How long work tells how far it is, and learns that nobody waits for it any more."""

from typing import Protocol


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
