"""What the sheet "What happened" asks of the services; everything is called off the GUI thread."""

from __future__ import annotations

from collections.abc import Collection
from typing import Protocol

from xref_app.services.answers import Candidate, Job
from xref_app.services.what_happened import Happened, WrittenDown


class HappenedDesk(Protocol):
    """Outcomes, and the sizes blamed for them. Each act may raise ``XrefError``, one sentence."""

    def write_down(self, job: Job, candidate: Candidate, happened: Happened, who: str) -> WrittenDown:
        """Write down what happened when a pump was put on the machine of a job."""
        ...

    def clear_doubts(self, blamed_ids: Collection[str], who: str, why: str) -> str:
        """Take the blame off sizes that were right after all, with the reason; return the act's name."""
        ...
