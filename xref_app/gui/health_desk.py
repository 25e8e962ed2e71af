"""What the health sheet asks of the services; everything is called off the GUI thread."""

from __future__ import annotations

from typing import Protocol

from xref_app.core.progress import Progress
from xref_app.services.health_lines import HealthLine, WholeCheck


class HealthDesk(Protocol):
    """What is not right with the catalog. Each may raise ``XrefError``, one sentence."""

    def lines(self, progress: Progress) -> tuple[HealthLine, ...]:
        """Return what is not right, fits that failed first."""
        ...

    def check_everything(self, progress: Progress) -> WholeCheck:
        """Read every row of the store and compare it with its hash."""
        ...
