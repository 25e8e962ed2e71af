"""Somebody who hears of progress: notes what is told, and may stop the work after so many steps."""

from __future__ import annotations

from xref_app.core.progress import WorkCancelledError


class Heard:
    """Notes the shares told (0 to 1); raises from the step on that comes after ``patience`` others."""

    def __init__(self, patience: int | None = None) -> None:
        self.shares: list[float] = []
        self._patience = patience

    def step(self, done: int, total: int) -> None:
        assert 0 <= done <= total
        if self._patience is not None and len(self.shares) >= self._patience:
            raise WorkCancelledError
        self.shares.append(done / total if total else 1.0)
