"""The same repositories on a PostgreSQL server; CI starts one and names it in XREF_TEST_POSTGRES_URL."""

from __future__ import annotations

import os
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import DBAPIError

from tests.store.rows import small_catalog
from xref_app.core.model.catalog import Entry, Observation, Photo
from xref_app.store.drafts import Draft, keep_draft, read_drafts
from xref_app.store.edits import Numbers, RowEdit, next_redo, redo, save_edits, undo
from xref_app.store.engine import open_engine
from xref_app.store.errors import ChangedMeanwhileError, StoreError, StoreUnreachableError
from xref_app.store.health import check_store
from xref_app.store.history import read_history
from xref_app.store.importing import ImportCount, import_catalog
from xref_app.store.jobs import JobText, drop_job, keep_job, read_jobs
from xref_app.store.photos import keep_photo_file
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import bring_back, withdraw

URL = os.environ.get("XREF_TEST_POSTGRES_URL", "")

pytestmark = pytest.mark.skipif(not URL, reason="no PostgreSQL server is named in XREF_TEST_POSTGRES_URL")


@pytest.fixture
def server() -> Iterator[Engine]:
    """An empty store on the server; whatever lay there is dropped first."""
    engine = open_engine(URL)
    with engine.begin() as connection:
        connection.execute(text("DROP SCHEMA public CASCADE"))
        connection.execute(text("CREATE SCHEMA public"))
    engine.dispose()
    engine = open_engine(URL)
    yield engine
    engine.dispose()


def test_a_package_goes_in_comes_out_equal_and_goes_in_once(server: Engine) -> None:
    first = import_catalog(server, small_catalog(), who="Ana", why="first stock")
    assert first.changed == 0
    assert import_catalog(server, small_catalog(), who="Ana", why="again") == ImportCount(0, 0, first.added)
    stored, given = CatalogRepository(server).everything(), small_catalog()
    assert set(stored.observations) == set(given.observations)
    assert set(stored.entries) == set(given.entries)
    assert set(stored.parts) == set(given.parts)
    assert check_store(server).is_whole


def test_withdrawing_and_bringing_back_are_kept_in_the_history(server: Engine) -> None:
    import_catalog(server, small_catalog(), who="Ana", why="first stock")
    withdraw(server, "numbers", ("P001", "QX-0001"), who="Ana", why="belongs to another pump")
    assert CatalogRepository(server).numbers_of("P001") == ()
    bring_back(server, "numbers", ("P001", "QX-0001"), who="Ben", why="it was right")
    assert [row.change.action for row in read_history(server)] == ["bring back", "withdraw", "import"]
    assert check_store(server).is_whole


def test_an_altered_row_is_set_aside(server: Engine) -> None:
    import_catalog(server, small_catalog(), who="Ana", why="first stock")
    with server.begin() as connection:
        connection.execute(text("UPDATE observations SET value = 99 WHERE observation_id = 6"))
    repository = CatalogRepository(server)
    repository.all_observations("pump")
    assert [one.key for one in repository.damaged()] == [("6",)]


def a_pump(numbers: Numbers) -> list[RowEdit]:
    entry = numbers.entry_id()
    seen = Observation(numbers.observation_id(), entry, "bore_depth_mm", "20 mm", 20.1, "", 0.05, "measured", "José")
    return [
        RowEdit("observations", None, seen),
        RowEdit("photos", None, Photo(entry, "cd" * 32, "", 800, 600)),
        RowEdit("entries", None, Entry(entry, "pump", "Nobody", "100 % new")),
    ]


def test_saves_undo_and_redo_are_the_same_there(server: Engine) -> None:
    import_catalog(server, small_catalog(), who="Ana", why="first stock")
    repository = CatalogRepository(server)
    before = repository.everything()
    keep_draft(server, Draft("s1", "pump", "{}", "2026-11-25T10:00:00+00:00"))
    keep_draft(server, Draft("s2", "pump", '{"maker": "Söhne"}', "2026-11-25T10:00:00+00:00"))
    keep_draft(server, Draft("s2", "pump", "{}", "2026-11-25T10:00:01+00:00"))
    saved = save_edits(server, a_pump, name="New", who="Ana", why="bench", save_id="s1")
    assert save_edits(server, a_pump, name="New", who="Ana", why="bench", save_id="s1") == replace(saved, again=True)
    assert [one.draft_id for one in read_drafts(server)] == ["s2"]
    after = repository.everything()
    assert (undo(server, who="Ben") or saved).serial == saved.serial
    assert {one for one in repository.everything().observations if not one.withdrawn_on} == set(before.observations)
    assert repository.photos_of(["OWN-0001"]) == {"OWN-0001": ()}
    assert next_redo(server) is not None
    redo(server, who="Ben")
    assert repository.everything() == after
    assert check_store(server).is_whole


def test_racing_saves_lose_nothing_there(server: Engine) -> None:
    import_catalog(server, small_catalog(), who="Ana", why="first stock")
    with ThreadPoolExecutor(4) as pool:
        ids = [f"s{place // 2}" for place in range(60)]
        results = list(pool.map(lambda one: save_edits(server, a_pump, name=one, who="Ana", why="", save_id=one), ids))
    assert sum(not one.again for one in results) == 30
    assert len([one for one in CatalogRepository(server).entries("pump") if one.entry_id.startswith("OWN-")]) == 30
    assert check_store(server).is_whole


def test_somebody_elses_change_is_told_there_too(server: Engine) -> None:
    import_catalog(server, small_catalog(), who="Ana", why="first stock")
    entry = CatalogRepository(server).entry("P001")
    assert entry is not None
    theirs, mine = (RowEdit("entries", entry, replace(entry, note=note)) for note in ("theirs", "mine"))
    save_edits(server, lambda _: [theirs], name="x", who="Ben", why="", save_id="1")
    with pytest.raises(ChangedMeanwhileError, match="Ben changed entries P001"):
        save_edits(server, lambda _: [mine], name="x", who="Ana", why="", save_id="2")
    assert [row.change.who for row in read_history(server)] == ["Ben", "Ana"]


def test_a_server_keeps_no_photos(server: Engine) -> None:
    with pytest.raises(StoreUnreachableError, match="a server keeps no photos; name a folder for them"):
        keep_photo_file(server, b"abc")


def test_the_server_too_keeps_the_history(server: Engine) -> None:
    import_catalog(server, small_catalog(), who="Ana", why="first stock")
    with pytest.raises((DBAPIError, StoreError)), server.begin() as connection:
        connection.execute(text("DELETE FROM history"))
    assert len(read_history(server)) == 1


def test_jobs_are_kept_and_the_oldest_dropped_there_too(server: Engine) -> None:
    at = "2026-11-25T10:00:00+00:00"
    for place in range(202):
        keep_job(server, JobText(f"j{place}", "{}", at), seen_at="")
    keep_job(server, JobText("j3", '{"reference": "Söhne"}', at), seen_at=at)
    assert not keep_job(server, JobText("j3", "{}", at), seen_at="earlier")
    kept = read_jobs(server)
    assert [one.job_id for one in kept.sound] == ["j3", *(f"j{place}" for place in range(201, 3, -1)), "j2"]
    assert kept.sound[0].content == '{"reference": "Söhne"}'
    drop_job(server, "j3")
    assert len(read_jobs(server).sound) == 199
    assert not kept.damaged
