"""What every sheet that lies over the work sheet can be asked."""

from __future__ import annotations

from typing import Protocol


class Stepped(Protocol):
    """A page with panes."""

    def step_pane(self, step: int) -> None:
        """Put the keys into the next pane, the one before for -1."""


class SheetPart(Protocol):
    """One sheet; it may be in front or not."""

    @property
    def is_shown(self) -> bool:
        """Say whether it is in front."""

    @property
    def sheet(self) -> Stepped:
        """Return its page."""

    def leave(self) -> None:
        """Leave what is open in it, or go back to the work sheet."""
