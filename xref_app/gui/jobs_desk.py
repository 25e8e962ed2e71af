"""What the kept jobs ask of the services; everything is called off the GUI thread, but for a last keep at closing."""

from __future__ import annotations

from typing import Protocol

from xref_app.core.sentence import Sentence
from xref_app.services.answers import Candidate, Job
from xref_app.services.jobs import LastJobs
from xref_app.services.kept_job import KeptJob


class JobsDesk(Protocol):
    """The book of jobs. Each may raise ``XrefError``, one sentence."""

    def keep(self, job: KeptJob) -> KeptJob:
        """Keep ``job`` on the disk and return it with its id and moment."""
        ...

    def last(self) -> LastJobs:
        """Return the last jobs, newest first."""
        ...

    def still_there(self, kept: KeptJob) -> KeptJob:
        """Return ``kept`` without what is in the catalog no more."""
        ...

    def changed_since(self, kept: KeptJob, job: Job | None, chosen: Candidate | None) -> tuple[Sentence, ...]:
        """Return what has changed since ``kept`` was left; one sentence where nothing has."""
        ...
