"""What the shelf sheet asks of the services; everything is called off the GUI thread."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from xref_app.core.fit.finding import Need
from xref_app.services.shelf import PutBy
from xref_app.services.shelf_lines import ShelfLine


class ShelfDesk(Protocol):
    """The shelf and the acts on it, each of which returns its name. Each may raise ``XrefError``, one sentence."""

    def lines(self) -> tuple[ShelfLine, ...]:
        """Return every place of the shelf as it stands in the store now."""
        ...

    def last_job(self) -> str:
        """Return the job for which something was put by last; empty where nothing ever was."""
        ...

    def reserve(self, line: ShelfLine, pieces: int, job: str, who: str) -> str:
        """Put pieces of one place by for a job."""
        ...

    def reserve_needs(self, needs: Sequence[Need], job: str, who: str) -> PutBy:
        """Put everything a verdict needs that lies on the shelf by for a job, all of it or nothing."""
        ...

    def release(self, line: ShelfLine, reservation_ids: Sequence[str], who: str) -> str:
        """Give reservations of one place free again."""
        ...

    def take_out(self, line: ShelfLine, reservation_ids: Sequence[str], who: str) -> str:
        """Take reserved pieces out of their bin."""
        ...

    def take_free(self, line: ShelfLine, pieces: int, who: str) -> str:
        """Take free pieces out of one place."""
        ...

    def put_in(self, line: ShelfLine, pieces: int, who: str) -> str:
        """Put pieces into one place."""
        ...

    def count_again(self, line: ShelfLine, pieces: int, who: str) -> str:
        """Write down what was counted in one place today."""
        ...

    def move(self, line: ShelfLine, bin_label: str, who: str) -> str:
        """Write down that one place lies in another bin from now on."""
        ...

    def set_low_mark(self, line: ShelfLine, low_at: int | None, who: str) -> str:
        """Mark one place as low from so many pieces down, or take the mark away."""
        ...
