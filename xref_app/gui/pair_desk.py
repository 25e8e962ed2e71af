"""What the pair sheet asks of the services; everything is called off the GUI thread."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from xref_app.core.plan.pair_value import ShelfTake
from xref_app.core.progress import Progress
from xref_app.services.answers import Candidate
from xref_app.services.pair_matrix import PairMatrix, PairUnit


class PairDesk(Protocol):
    """Salvaged units side by side, and the acts on two of them. Each may raise ``XrefError``, one sentence."""

    def matrix(self, progress: Progress) -> PairMatrix:
        """Return every free unit in good condition, engines with pumps, judged."""
        ...

    def look_at(self, engine: PairUnit, pump: PairUnit) -> Candidate:
        """Return the judgement of one pair in full."""
        ...

    def reserve(
        self, engine: PairUnit, pump: PairUnit, who: str, *, job: str = "", takes: Sequence[ShelfTake] = ()
    ) -> str:
        """Put both units and the pieces that join them by, and return the act's name."""
        ...

    def release(self, unit_ids: Sequence[str], who: str) -> str:
        """Give units free again and return the act's name."""
        ...
