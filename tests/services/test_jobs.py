"""The book of jobs over a real store: read again newest first, and held against what the catalog says now."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.services.bench_store import sample_desk, sample_store
from xref_app.core.fit.finding import Verdict
from xref_app.core.progress import NO_PROGRESS
from xref_app.core.sentence import Sentence
from xref_app.services.answers import Candidate, Job
from xref_app.services.job_changes import MOST_NAMED, changes_since
from xref_app.services.job_told import Told, ToldNeed, ToldSize, told_of_job
from xref_app.services.kept_job import KeptJob
from xref_app.services.live_desk import LiveDesk
from xref_app.services.used_fact import UsedFact
from xref_app.store.connect import writing
from xref_app.store.history import last_serial, read_history
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import withdraw

MACHINE, PUMP = "M-001", "P-001"
NOTHING = "Nothing that it rests on has changed since."


def judged(desk: LiveDesk, pump: str = PUMP) -> tuple[Job, Candidate | None]:
    job = desk.pick_build(Job(None, None, "", ()), MACHINE, NO_PROGRESS)
    rows = desk.judge_all(job, NO_PROGRESS).rows
    return job, next((one for one in rows if one.entry_id == pump), None)


def kept_job(desk: LiveDesk, reference: str = "", pump: str = PUMP) -> KeptJob:
    job, chosen = judged(desk, pump)
    assert chosen is not None
    return desk.jobs.keep(
        KeptJob(
            "",
            reference,
            title=job.title,
            facts=(UsedFact("machine", MACHINE, "FL-54C3", is_build=True),),
            chosen_id=pump,
            chosen_number=chosen.number,
            told=told_of_job(job, chosen),
        )
    )


def since(desk: LiveDesk, kept: KeptJob) -> list[str]:
    job, chosen = judged(desk, kept.chosen_id)
    return [str(one) for one in desk.jobs.changed_since(kept, job, chosen)]


def opened_again(place: Path) -> LiveDesk:
    """Return a desk that has read all of the store anew."""
    return LiveDesk(sample_store(place), "Again")


def test_jobs_are_read_again_newest_first_by_another_window(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    first, second = kept_job(desk, "j1"), kept_job(desk, "j2", "P-002")
    other = opened_again(tmp_path)
    assert other.jobs.last().jobs == (second, first)
    again = other.jobs.keep(replace(first, reference="4711"))
    assert other.jobs.last().jobs == (again, second)
    assert again == replace(first, reference="4711", changed_at=again.changed_at)


def test_two_windows_that_go_on_with_one_job_leave_two(tmp_path: Path) -> None:
    desk, other = sample_desk(tmp_path), opened_again(tmp_path)
    first = kept_job(desk)
    theirs = other.jobs.keep(replace(first, reference="theirs"))
    ours = desk.jobs.keep(replace(first, reference="ours"))
    assert ours.job_id != theirs.job_id == first.job_id
    ours = desk.jobs.keep(replace(ours, reference="ours again"))
    assert desk.jobs.last().jobs == (ours, theirs)


def test_a_job_that_cannot_be_read_is_named_and_the_others_are_there(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    kept = [kept_job(desk, f"j{place}") for place in range(3)]
    with writing(sample_store(tmp_path)) as connection:
        connection.exec_driver_sql(
            f"UPDATE jobs SET content = replace(content, 'FL-54C3', 'FL-54C4') WHERE job_id = '{kept[1].job_id}'"
        )
    last = desk.jobs.last()
    assert last.jobs == (kept[2], kept[0])
    assert list(last.aside.values()) == [
        f"The job {kept[1].job_id} cannot be read (it is damaged); it is left aside as it is, nothing else is."
    ]


def test_a_job_of_a_newer_program_is_named_and_left_as_it_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = sample_desk(tmp_path)
    with monkeypatch.context() as newer:
        newer.setattr("xref_app.services.kept_job_text._FORMAT", 2)
        kept = kept_job(desk)
    before = kept_job(desk)
    last = desk.jobs.last()
    assert last.jobs == (before,)
    assert "its format is 2, this program knows 1" in last.aside[kept.job_id]
    with monkeypatch.context() as newer:
        newer.setattr("xref_app.services.kept_job_text._FORMAT", 2)
        assert desk.jobs.last().jobs == (kept,)


def test_the_catalog_number_is_that_of_its_last_change(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    store = sample_store(tmp_path)
    assert desk.jobs.catalog_number() == read_history(store, limit=1)[0].serial == last_serial(store)


def test_a_change_of_another_counter_has_no_number_before_it_is_read_here(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    then = desk.jobs.catalog_number()
    withdraw(sample_store(tmp_path), "entries", (PUMP,), who="Ana", why="never existed")
    assert desk.jobs.catalog_number() == then
    assert opened_again(tmp_path).jobs.catalog_number() == then + 1


def test_nothing_changed_is_one_sentence(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    assert since(desk, kept_job(desk)) == [NOTHING]


@pytest.mark.parametrize(
    ("field", "checks", "size"),
    [
        (
            "face_holes_xy_mm",
            ("pattern", "way out"),
            "Bolt holes of the face: 3 on 202.201 mm (7.9607 in) then, 3 on 202.2 mm (7.96 in) now.",
        ),
        ("power_kw", ("key load", "power"), "Rated power is not known any more; it was 4.847 kW (6.5 hp)."),
    ],
)
def test_a_reading_withdrawn_since_is_told_with_all_it_decides(
    tmp_path: Path, field: str, checks: tuple[str, ...], size: str
) -> None:
    """What the old pump tells of its holes stands in for the face's own reading; nothing stands in for its power."""
    desk = sample_desk(tmp_path)
    kept = kept_job(desk)
    assert kept.told.verdict is Verdict.FITS
    store = sample_store(tmp_path)
    machine = CatalogRepository(store).machine(MACHINE)
    assert machine is not None
    (row,) = CatalogRepository(store).versions_of(machine.driver_id, field)
    withdraw(store, "observations", (row.observation_id,), who="Ana", why="misread")
    then = kept.told.catalog_number
    assert then is not None
    assert since(opened_again(tmp_path), kept) == [
        f"Catalog number {then} then, {then + 1} now.",
        f"{kept.chosen_number}: “Fits as is” then, “Not known yet” now.",
        *(f"Check {check}: pass then, unknown now." for check in checks),
        size,
    ]


def test_a_chosen_pump_that_was_withdrawn_is_told(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    kept = kept_job(desk)
    withdraw(sample_store(tmp_path), "entries", (PUMP,), who="Ana", why="never existed")
    told = since(opened_again(tmp_path), kept)
    assert told[1:] == [f"{kept.chosen_number} is not in the catalog any more."]


def test_what_is_gone_is_no_fact_of_the_reopened_job(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    whole = UsedFact("machine", MACHINE, "FL-54C3", is_build=True, sisters=("M-002",))
    gone = UsedFact("pump", PUMP, "K1")
    left = UsedFact("machine", "M-003", "FL", builds=("M-002",))
    kept = KeptJob("j1", facts=(gone, whole, left))
    assert desk.jobs.still_there(kept) == kept
    withdraw(sample_store(tmp_path), "entries", (PUMP,), who="Ana", why="never existed")
    withdraw(sample_store(tmp_path), "entries", ("M-002",), who="Ana", why="never existed")
    again = opened_again(tmp_path).jobs.still_there(kept)
    assert again.facts == (replace(whole, sisters=()),)


def test_results_of_outcomes_entered_on_a_job_are_read_with_it(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    row = CatalogRepository(sample_store(tmp_path)).outcomes()[0]
    desk.jobs.keep(KeptJob("", outcome_ids=(row.outcome_id, "never there")))
    assert desk.jobs.last().outcomes == {row.outcome_id: row.result}


# -- the sentences themselves


def size(field: str, shown: str) -> ToldSize:
    return ToldSize(field, field.upper(), shown, "measured")


def told(*, kept: Told, now: Told) -> list[str]:
    return [str(one) for one in changes_since(KeptJob("j1", chosen_number="K1", told=kept), now, ())]


def test_checks_are_told_worst_first_and_at_most_four_named() -> None:
    before = tuple((f"c{place}", "pass") for place in range(7))
    words = ("pass", "by parts", "unknown", "fail", "unknown", "by parts", "by parts")
    after = tuple((f"c{place}", word) for place, word in enumerate(words))
    said = told(kept=Told(1, Verdict.FITS, before), now=Told(1, Verdict.DOES_NOT_FIT, after))
    assert MOST_NAMED == 4
    assert said == [
        "K1: “Fits as is” then, “Does not fit” now.",
        "Check c3: pass then, fail now.",
        "Check c2: pass then, unknown now.",
        "Check c4: pass then, unknown now.",
        "Check c1: pass then, by parts now.",
        "And 2 more checks come out otherwise.",
    ]


def test_sizes_changed_known_and_lost_are_told() -> None:
    before = Told(sizes=(size("a", "1 mm"), size("b", "2 mm"), size("c", "3 mm")))
    after = Told(sizes=(size("a", "1 mm"), size("b", "2.1 mm"), size("d", "4 mm")))
    assert told(kept=before, now=after) == [
        "B: 2 mm then, 2.1 mm now.",
        "C is not known any more; it was 3 mm.",
        "D has become known: 4 mm.",
    ]


def test_needs_are_told_whatever_their_order() -> None:
    spacer, bolt = ToldNeed(2, "spacer 3.2"), ToldNeed(4, "bolt M8x30")
    before = Told(1, Verdict.FITS_WITH_PARTS, needs=(spacer, bolt))
    assert told(kept=before, now=replace(before, needs=(bolt, spacer))) == [NOTHING]
    assert told(kept=before, now=replace(before, needs=(bolt,))) == [
        "Needs 2 × spacer 3.2, 4 × bolt M8x30 then, 4 × bolt M8x30 now."
    ]
    assert told(kept=replace(before, needs=()), now=before)[0].startswith("Needs nothing then, 2 × spacer")


def test_a_pump_that_is_not_shown_now_is_told() -> None:
    assert told(kept=Told(1, Verdict.FITS), now=Told(1)) == ["K1: “Fits as is” then, not among the pumps shown now."]


def test_a_job_without_a_pump_judged_tells_its_sizes_only(tmp_path: Path) -> None:
    desk = sample_desk(tmp_path)
    job, _ = judged(desk)
    snapshot = told_of_job(job, None)
    assert snapshot.verdict is None
    assert snapshot.sizes
    assert all(one.shown and "?" not in one.shown for one in snapshot.sizes)
    assert not any(isinstance(one.title, Sentence) for one in snapshot.sizes)
