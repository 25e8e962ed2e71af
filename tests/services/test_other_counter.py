"""What another program changes in the same store is seen before the next job is opened or judged, without a restart."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.sample.make_sample_catalog import sample_rows
from tests.services.bench_store import sample_desk
from tests.services.tiny import Quiet
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import Entry, Number
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.progress import NO_PROGRESS
from xref_app.services.answers import Candidate, Job
from xref_app.services.live_desk import LiveDesk
from xref_app.services.opened_catalog import MOST_IN_MEMORY
from xref_app.store.copies import make_copy
from xref_app.store.edits import RowEdit, save_edits
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository

MACHINE, PUMP = "M-001", "P-002"
OpenDesk = Callable[[], LiveDesk]


@pytest.fixture(params=[MOST_IN_MEMORY, 0], ids=["in memory", "entry by entry"])
def open_desk(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[OpenDesk]:
    desks: list[LiveDesk] = []

    def open_one() -> LiveDesk:
        desks.append(sample_desk(tmp_path, most_in_memory=request.param))
        return desks[-1]

    yield open_one
    for desk in desks:
        desk.close()


def job_of(desk: LiveDesk) -> Job:
    return desk.pick_build(desk.open_job(None, MACHINE, NO_PROGRESS), MACHINE, NO_PROGRESS)


def candidates(desk: LiveDesk) -> dict[str, Candidate]:
    return {row.entry_id: row for row in desk.judge_all(job_of(desk), Quiet()).rows}


def correct(desk: LiveDesk, entry: str, field: str, *, change: float) -> None:
    """Withdraw what is known of a size and write another down, as somebody at another counter would."""
    store = desk._store
    old = [row for row in CatalogRepository(store).observations_of([entry])[entry] if row.field == field]
    like = old[0]
    assert like.value is not None
    new = replace(like, observation_id=2_000_000_000, value=like.value + change)
    edits = [*(RowEdit("observations", row, None) for row in old), RowEdit("observations", None, new)]
    save_edits(store, lambda _numbers: edits, name="correct", who="Ilvane", why="measured again", save_id="correct")


def test_a_reading_corrected_elsewhere_stands_behind_the_next_verdict(open_desk: OpenDesk) -> None:
    one, other = open_desk(), open_desk()
    assert candidates(one)[PUMP].judgement.verdict is Verdict.FITS_WITH_PARTS
    correct(other, PUMP, "bore_diameter_mm", change=-3.0)
    assert candidates(one)[PUMP].judgement.verdict is Verdict.DOES_NOT_FIT


def test_a_pump_withdrawn_elsewhere_goes_from_the_list_and_a_new_one_is_found(open_desk: OpenDesk) -> None:
    one, other = open_desk(), open_desk()
    assert PUMP in candidates(one)
    gone = other.catalog.entries[PUMP]
    edits = [
        RowEdit("entries", gone, None),
        RowEdit("entries", None, Entry("OWN-0900", "pump", "Quillmoor", "Pump")),
        RowEdit("numbers", None, Number("OWN-0900", "QM 4411", "maker", "plate")),
    ]
    save_edits(other._store, lambda _numbers: edits, name="list", who="Ilvane", why="list", save_id="list")
    assert PUMP not in candidates(one)
    assert [hit.entry_id for hit in one.find("QM 4411", NO_PROGRESS).hits][:1] == ["OWN-0900"]


def test_an_import_elsewhere_is_read_whole(open_desk: OpenDesk) -> None:
    one, other = open_desk(), open_desk()
    before = len(candidates(one))
    rows = sample_rows()
    more = CatalogRows(entries=(replace(rows.entries[0], entry_id="X-900", kind="pump", name="Pump"),))
    import_catalog(other._store, more, who="Ilvane", why="stick")
    assert len(candidates(one)) == before + 1


def test_a_store_that_cannot_be_read_just_now_stops_no_judging(open_desk: OpenDesk, tmp_path: Path) -> None:
    one = open_desk()
    job = job_of(one)
    before = len(one.judge_all(job, Quiet()).rows)
    one._seen = -1  # as if something had changed
    one._store.dispose()
    (tmp_path / "shop.sqlite").rename(tmp_path / "away.sqlite")
    (tmp_path / "shop.sqlite").mkdir()
    assert len(one.judge_all(job, Quiet()).rows) == before


def test_an_older_copy_put_in_place_of_the_store_is_read_whole(open_desk: OpenDesk, tmp_path: Path) -> None:
    desk = open_desk()
    make_copy(desk._store, tmp_path / "older.sqlite")
    entry = Entry("OWN-00001", "pump", "", "bench pump", added_by="Ana")
    edits = [RowEdit("entries", None, entry)]
    save_edits(desk._store, lambda _numbers: edits, name="one", who="Ana", why="", save_id="one")
    job_of(desk)
    assert "OWN-00001" in desk.catalog.entries
    desk._store.dispose()
    for ending in ("-wal", "-shm"):
        (tmp_path / f"shop.sqlite{ending}").unlink(missing_ok=True)
    (tmp_path / "older.sqlite").replace(tmp_path / "shop.sqlite")
    job_of(desk)
    assert "OWN-00001" not in desk.catalog.entries
