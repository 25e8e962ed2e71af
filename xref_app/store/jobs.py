"""The shop's jobs as they were left: kept after each change, the newest of them, so that they reopen so."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Final

from sqlalchemy import Engine

from xref_app.store.kept_texts import KeptTexts
from xref_app.store.tables import JOBS

# House rule.
MOST_JOBS: Final = 200

_JOBS: Final = KeptTexts(JOBS, most=MOST_JOBS)


@dataclass(frozen=True, slots=True)
class JobText:
    """One job: all that is kept of it (JSON), and when that was (ISO 8601, UTC)."""

    job_id: str
    content: str
    changed_at: str


@dataclass(frozen=True, slots=True)
class KeptJobTexts:
    """The jobs that are whole, newest first, and the ids of those set aside because they are damaged."""

    sound: tuple[JobText, ...]
    damaged: tuple[str, ...]


def keep_job(engine: Engine, job: JobText, *, seen_at: str) -> bool:
    """Keep ``job`` in place of what was kept under its id, and drop all beyond the newest 200 in the same step.

    ``seen_at`` is the moment of what is replaced, empty for a new job. Where another is kept under that id by now,
    somebody else went on with the job: nothing is written and False returned.

    Raises:
        UnstorableValueError: a text that no database takes.
        StoreError: another of its kinds; what was kept before stands.
    """
    return _JOBS.keep(engine, asdict(job), over={"changed_at": seen_at})


def read_jobs(engine: Engine) -> KeptJobTexts:
    """Return the jobs that are whole, newest first, and the ids of the damaged ones."""
    kept = _JOBS.read(engine)
    return KeptJobTexts(tuple(_job(one) for one in kept.sound), kept.damaged)


def drop_job(engine: Engine, job_id: str) -> None:
    """Forget the job ``job_id``, a damaged one too; nothing happens where there is none."""
    _JOBS.drop(engine, job_id)


def _job(values: Mapping[str, str]) -> JobText:
    return JobText(values["job_id"], values["content"], values["changed_at"])
