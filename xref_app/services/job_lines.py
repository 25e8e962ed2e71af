"""The kept jobs as lines to choose from, and those of them that hold what was typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref_app.core.fit.finding import Verdict
from xref_app.services.jobs import LastJobs
from xref_app.services.kept_job import KeptJob


@dataclass(frozen=True, slots=True)
class JobLine:
    """One kept job; ``about`` is what came off or stands on the bench, ``outcome`` what was entered on it, if any."""

    job: KeptJob
    about: str
    outcome: str

    @property
    def verdict(self) -> Verdict | None:
        """Return the verdict on the pump chosen, as it was told."""
        return self.job.told.verdict


def job_lines(last: LastJobs) -> tuple[JobLine, ...]:
    """Return one line for each job, newest first."""
    return tuple(JobLine(job, _about(job), _outcome(job, last)) for job in last.jobs)


def filtered(lines: Sequence[JobLine], typed: str) -> tuple[JobLine, ...]:
    """Return the lines that hold every word of ``typed``, in whatever case and order."""
    words = typed.casefold().split()
    return tuple(line for line in lines if all(word in _all_text(line) for word in words))


def _about(job: KeptJob) -> str:
    return job.title or ", ".join(one.label for one in job.facts)


def _outcome(job: KeptJob, last: LastJobs) -> str:
    return ", ".join(last.outcomes[one] for one in job.outcome_ids if one in last.outcomes)


def _all_text(line: JobLine) -> str:
    job = line.job
    labels = (one.label for one in job.facts)
    parts = (job.reference, line.about, *labels, job.chosen_number, line.verdict or "", line.outcome, job.changed_at)
    return "\n".join(parts).casefold()
