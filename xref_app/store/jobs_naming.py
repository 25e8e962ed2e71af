"""Which of the shop's jobs name an entry, looked up in what was kept of each."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator
from contextlib import suppress

from sqlalchemy import Engine, select

from xref_app.store.connect import reading
from xref_app.store.tables import JOBS


def jobs_naming(engine: Engine, entry_ids: Collection[str]) -> tuple[str, ...]:
    """Return the ids of the jobs that name one of ``entry_ids``, the last ones first."""
    wanted = set(entry_ids)
    with reading(engine) as connection:
        kept = connection.execute(select(JOBS.c.job_id, JOBS.c.content).order_by(JOBS.c.turn.desc())).all()
    return tuple(job_id for job_id, content in kept if not wanted.isdisjoint(_texts(content)))


def _texts(content: str) -> Iterator[str]:
    """Yield every text in the JSON ``content``; nothing where it is none."""
    with suppress(ValueError, RecursionError):
        left = [json.loads(content)]
        while left:
            one = left.pop()
            if isinstance(one, str):
                yield one
            elif isinstance(one, list):
                left += one
            elif isinstance(one, dict):
                left += [*one, *one.values()]
