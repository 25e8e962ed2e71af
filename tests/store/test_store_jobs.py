"""Jobs are kept, the newest 200 of them, and one damaged job does not hinder the others."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from sqlalchemy import Engine

from xref_app.store.connect import writing
from xref_app.store.engine import open_engine
from xref_app.store.errors import UnstorableValueError
from xref_app.store.health import check_store
from xref_app.store.history import read_history
from xref_app.store.jobs import MOST_JOBS, JobText, drop_job, read_jobs
from xref_app.store.jobs import keep_job as keep_if_seen

AT = "2026-11-25T10:00:00+00:00"


def job(job_id: str = "j1", content: str = '{"reference": "Söhne"}', at: str = AT) -> JobText:
    return JobText(job_id, content, at)


def keep_job(engine: Engine, one: JobText) -> None:
    """Keep as somebody does who has seen what stands there."""
    seen = {before.job_id: before.changed_at for before in read_jobs(engine).sound}
    assert keep_if_seen(engine, one, seen_at=seen.get(one.job_id, ""))


def ids(engine: Engine) -> list[str]:
    return [one.job_id for one in read_jobs(engine).sound]


def test_a_job_is_kept_replaced_and_dropped(path: Path, engine: Engine) -> None:
    keep_job(engine, job())
    keep_job(engine, job(content="{}"))
    engine.dispose()
    again = open_engine(path)
    assert read_jobs(again).sound == (job(content="{}"),)
    drop_job(again, "j1")
    drop_job(again, "never there")
    assert ids(again) == []
    again.dispose()


def test_the_job_kept_last_is_first_also_when_the_clock_was_set_back(engine: Engine) -> None:
    keep_job(engine, job("j1", at="2099-01-01T00:00:00+00:00"))
    keep_job(engine, job("j2", at="1980-01-01T00:00:00+00:00"))
    keep_job(engine, job("j1", at="1970-01-01T00:00:00+00:00"))
    assert ids(engine) == ["j1", "j2"]


def test_of_201_jobs_the_oldest_goes(engine: Engine) -> None:
    assert MOST_JOBS == 200
    for place in range(201):
        keep_job(engine, job(f"j{place}"))
    assert ids(engine) == [f"j{place}" for place in range(200, 0, -1)]


def test_a_job_changed_again_is_not_the_oldest_any_more(engine: Engine) -> None:
    for place in range(200):
        keep_job(engine, job(f"j{place}"))
    keep_job(engine, job("j0", "{}"))
    keep_job(engine, job("new"))
    assert ids(engine)[:2] == ["new", "j0"]
    assert "j1" not in ids(engine)
    assert len(ids(engine)) == 200


def test_the_catalog_and_its_history_know_nothing_of_it(filled: Engine) -> None:
    before = read_history(filled)
    keep_job(filled, job())
    assert read_history(filled) == before
    assert check_store(filled).is_whole


@pytest.mark.parametrize("column", ["job_id", "content", "changed_at", "turn", "row_hash"])
def test_a_damaged_job_is_set_aside_and_the_others_are_there(engine: Engine, column: str) -> None:
    for one in ("j1", "j2", "j3"):
        keep_job(engine, job(one))
    with writing(engine) as connection:
        connection.exec_driver_sql(f"UPDATE jobs SET {column} = '7' WHERE job_id = 'j2'")
    assert ids(engine) == ["j3", "j1"]
    assert read_jobs(engine).damaged == ("7" if column == "job_id" else "j2",)


@pytest.mark.parametrize("text", ["a\0b", "half \ud83d"])
def test_what_cannot_come_back_unchanged_is_refused_and_the_old_job_stands(engine: Engine, text: str) -> None:
    keep_job(engine, job())
    with pytest.raises(UnstorableValueError, match=r"^jobs, content"):
        keep_if_seen(engine, job(content=text), seen_at=AT)
    assert read_jobs(engine).sound == (job(),)


def test_two_counters_keep_their_jobs_beside_each_other(path: Path, engine: Engine) -> None:
    other = open_engine(path)

    def keep(counter: Engine, name: str) -> None:
        for place in range(30):
            keep_job(counter, job(f"{name}{place % 10}", f'{{"place": {place}}}'))

    threads = [threading.Thread(target=keep, args=pair) for pair in ((engine, "a"), (other, "b"))]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    kept = {one.job_id: one.content for one in read_jobs(engine).sound}
    assert kept == {f"{name}{place % 10}": f'{{"place": {place}}}' for name in "ab" for place in range(20, 30)}
    other.dispose()


@pytest.mark.parametrize("seen_at", ["", "2026-11-25T09:59:59+00:00"])
def test_a_job_that_somebody_else_went_on_with_stands(engine: Engine, seen_at: str) -> None:
    keep_job(engine, job())
    assert not keep_if_seen(engine, job(content="{}"), seen_at=seen_at)
    assert read_jobs(engine).sound == (job(),)
    assert keep_if_seen(engine, job(content="{}"), seen_at=AT)
    assert read_jobs(engine).sound == (job(content="{}"),)


def test_a_damaged_job_is_not_written_over(engine: Engine) -> None:
    keep_job(engine, job())
    with writing(engine) as connection:
        connection.exec_driver_sql("UPDATE jobs SET changed_at = 'x', content = CAST(x'ff41' AS TEXT)")
    assert not keep_if_seen(engine, job(content="{}"), seen_at=AT)
    assert read_jobs(engine).damaged == ("j1",)
