"""The shop's jobs: kept after each change, the last 200 of them read again, and what has changed since one was left."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from weakref import ref

from xref_app.core.sentence import Sentence
from xref_app.services.answers import Candidate, Job
from xref_app.services.catalog import Catalog
from xref_app.services.job_changes import changes_since
from xref_app.services.job_told import Told, told_of_job
from xref_app.services.kept_job import KeptJob
from xref_app.services.kept_job_text import JobUnreadableError, job_as_text, job_from_text
from xref_app.services.used_fact import UsedFact
from xref_app.store.engine import Store
from xref_app.store.history import last_serial
from xref_app.store.jobs import JobText, keep_job, read_jobs
from xref_app.store.repository import CatalogRepository


@dataclass(frozen=True, slots=True)
class LastJobs:
    """The jobs that can be reopened, newest first, and by id one sentence on each that is left aside.

    ``outcomes`` are the results entered on jobs, by the outcome's id: "fits", "leaks" and the like.
    """

    jobs: tuple[KeptJob, ...] = ()
    aside: Mapping[str, str] = field(default_factory=dict)
    outcomes: Mapping[str, str] = field(default_factory=dict)


class JobBook:
    """The jobs of one store; every method may be called in any thread."""

    def __init__(self, store: Store, catalog: Callable[[], Catalog]) -> None:
        """Make it; ``catalog`` returns the catalog of the moment."""
        self._store = store
        self._catalog = catalog
        self._numbered: tuple[Callable[[], Catalog | None], int] = (lambda: None, 0)

    def catalog_number(self) -> int:
        """Return the serial of the last change when the catalog of the moment was first asked for, 0 before any."""
        catalog = self._catalog()
        seen, number = self._numbered
        if seen() is not catalog:
            number = last_serial(self._store)
            self._numbered = (ref(catalog), number)
        return number

    def keep(self, job: KeptJob) -> KeptJob:
        """Keep ``job`` on the disk and return it with its moment; where it has no id, with a new one.

        What was told of it is of the catalog of now, where it does not say of which.

        ``job.changed_at`` must be the moment at which it was read or kept last. Where somebody else has gone on with
        it since, theirs stands and this one is kept beside it, under a new id.

        Raises:
            StoreError: it could not be kept; what was kept of it before stands.
        """
        if job.told != Told() and job.told.catalog_number is None:
            job = replace(job, told=replace(job.told, catalog_number=self.catalog_number()))
        kept = replace(job, changed_at=_now()) if job.job_id else self._new(job)
        if not self._write(kept, seen_at=job.changed_at if job.job_id else ""):
            kept = self._new(job)
            self._write(kept, seen_at="")
        return kept

    def _new(self, job: KeptJob) -> KeptJob:
        return replace(job, job_id=uuid.uuid4().hex, changed_at=_now())

    def _write(self, job: KeptJob, *, seen_at: str) -> bool:
        return keep_job(self._store, JobText(job.job_id, job_as_text(job), job.changed_at), seen_at=seen_at)

    def last(self) -> LastJobs:
        """Return the last jobs, newest first."""
        texts = read_jobs(self._store)
        jobs: list[KeptJob] = []
        aside = {one: str(JobUnreadableError(one, "it is damaged")) for one in texts.damaged}
        for text in texts.sound:
            try:
                jobs.append(job_from_text(text.job_id, text.content, text.changed_at))
            except JobUnreadableError as error:
                aside[text.job_id] = str(error)
        return LastJobs(tuple(jobs), aside, self._results(jobs))

    def _results(self, jobs: list[KeptJob]) -> Mapping[str, str]:
        wanted = {one for job in jobs for one in job.outcome_ids}
        if not wanted:
            return {}
        rows = CatalogRepository(self._store).outcomes()
        return {row.outcome_id: row.result for row in rows if row.outcome_id in wanted}

    def still_there(self, kept: KeptJob) -> KeptJob:
        """Return ``kept`` without what is in the catalog no more: facts, and builds that one of them could be."""
        entries = self._catalog().entries
        facts: list[UsedFact] = []
        for fact in kept.facts:
            sisters = tuple(one for one in fact.sisters if one in entries)
            builds = tuple(one for one in fact.builds if one in entries)
            # No builds would mean all of the model, not none of those that were left.
            if fact.entry_id in entries and bool(builds) == bool(fact.builds):
                facts.append(replace(fact, sisters=sisters, builds=builds))
        return replace(kept, facts=tuple(facts))

    def changed_since(self, kept: KeptJob, job: Job | None, chosen: Candidate | None) -> tuple[Sentence, ...]:
        """Return what has changed since ``kept`` was left; one sentence where nothing has.

        Args:
            kept: The job as it was left.
            job: The same job opened now, None where nothing of it is in the catalog any more.
            chosen: The pump chosen then as it is judged now, None where it is not among those shown.
        """
        entries = self._catalog().entries
        named = {one.entry_id: one.label for one in kept.facts}
        named.setdefault(kept.chosen_id, kept.chosen_number)
        gone = tuple(label for entry_id, label in named.items() if entry_id and entry_id not in entries)
        now = kept.told if job is None else told_of_job(job, chosen)
        return changes_since(kept, replace(now, catalog_number=self.catalog_number()), gone)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds")
