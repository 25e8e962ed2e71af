"""What the fix-or-replace sheet asks of the services; called off the GUI thread."""

from __future__ import annotations

from typing import Protocol

from xref_app.services.answers import Candidate, Job
from xref_app.services.fix_plan import FixPlan


class FixDesk(Protocol):
    """Suggests figures from the records."""

    def suggest(self, job: Job | None, candidate: Candidate | None) -> FixPlan:
        """Return what the records suggest for ``job`` and the pump chosen in its list; may raise ``XrefError``."""
        ...
