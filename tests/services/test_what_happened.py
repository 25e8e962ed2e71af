"""A pump that was said to fit and did not: its blamed sizes count no more until somebody looks again.

Everything here holds of a catalog in memory and of one whose entries are read out of the store one by one.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import text

from tests.services.bench_store import sample_desk
from tests.services.tiny import Quiet
from xref_app.core.fields.fields import Kind, Side, all_fields, field_for
from xref_app.core.fit.finding import Judgement, Verdict
from xref_app.core.model.catalog import BlamedSize, MachineRow, Observation
from xref_app.core.model.words import Result
from xref_app.core.progress import NO_PROGRESS
from xref_app.services.answers import Candidate, FactState, Job, RemarkKind
from xref_app.services.catalog import Catalog
from xref_app.services.doubts import Doubt, counted
from xref_app.services.health_lines import LineKind
from xref_app.services.judge_candidates import judge_one
from xref_app.services.live_desk import LiveDesk
from xref_app.services.machine_side import job_values
from xref_app.services.opened_catalog import MOST_IN_MEMORY
from xref_app.services.what_happened import (
    LONGEST_NOTE,
    SAYS_FITS,
    Happened,
    OutcomeError,
    WrittenDown,
    blameable,
    suspects,
)
from xref_app.store.edits import Numbers, RowEdit, save_edits
from xref_app.store.numbers import OWN_OBSERVATIONS_FROM
from xref_app.store.repository import CatalogRepository

# A build of the sample on which P-002 fits with three spacers; its engine drives other machines, too.
MACHINE, PUMP = "M-001", "P-002"
BOTH_BORES = frozenset({"bore_diameter_mm", "shaft_diameter_mm"})
BOUND = Happened(Result.BOUND, BOTH_BORES, "did not turn")

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


@pytest.fixture
def desk(open_desk: OpenDesk) -> LiveDesk:
    return open_desk()


def job_of(desk: LiveDesk, machine: str = MACHINE) -> Job:
    job = desk.open_job(None, machine, NO_PROGRESS)
    return desk.pick_build(job, machine, NO_PROGRESS)


def candidate(desk: LiveDesk, pump: str = PUMP, machine: str = MACHINE) -> Candidate:
    rows = desk.judge_all(job_of(desk, machine), Quiet()).rows
    return next(row for row in rows if row.entry_id == pump)


def judged(desk: LiveDesk, pump: str = PUMP, machine: str = MACHINE) -> Judgement:
    return candidate(desk, pump, machine).judgement


def write(desk: LiveDesk, happened: Happened = BOUND, pump: str = PUMP) -> WrittenDown:
    return desk.happened.write_down(job_of(desk), candidate(desk, pump), happened, "Odrin")


def measure(desk: LiveDesk, entry: str, field: str, *, how: str = "measured", change: float = 0.0) -> None:
    """Write a reading of a size down that says what an older one said, or something else."""
    store = desk._store
    old = CatalogRepository(store).observations_of([entry])[entry]
    like = next(row for row in old if row.field == field)

    def build(numbers: Numbers) -> list[RowEdit]:
        value = None if like.value is None else like.value + change
        row = replace(like, observation_id=numbers.observation_id(), value=value, how=how, seen_by="Ilvane")
        return [RowEdit("observations", None, row)]

    save_edits(
        store, build, name="look again", who="Ilvane", why="looked again", save_id=f"{entry}{field}{how}{change}"
    )
    desk._refresh([entry])


def owner(desk: LiveDesk, field: str) -> str:
    """Return whose readings of a size of the machine side the sample has."""
    row = desk.catalog.machines[MACHINE]
    entries = (PUMP,) if field_for(field).side is Side.PUMP else (row.driver_id, MACHINE)
    known = CatalogRepository(desk._store).observations_of(entries)
    return next(one for one in entries if any(row.field == field for row in known[one]))


def test_what_was_said_to_fit_and_did_not_is_not_known_until_somebody_looks_again(desk: LiveDesk) -> None:
    before = judged(desk)
    assert before.verdict is Verdict.FITS_WITH_PARTS
    done = write(desk)
    assert set(done.in_doubt) == BOTH_BORES
    after = judged(desk)
    assert after.verdict is Verdict.NOT_KNOWN_YET
    assert set(after.measure_next) >= BOTH_BORES
    for field in sorted(BOTH_BORES):
        measure(desk, owner(desk, field), field)
    assert judged(desk) == before


def test_one_of_two_sizes_looked_at_again_leaves_the_other_in_doubt(desk: LiveDesk) -> None:
    write(desk)
    measure(desk, PUMP, "bore_diameter_mm")
    found = judged(desk)
    assert found.verdict is Verdict.NOT_KNOWN_YET
    assert "shaft_diameter_mm" in found.measure_next
    assert "bore_diameter_mm" not in found.measure_next


@pytest.mark.parametrize("how", ["sheet", "claimed", "typical", "standard"])
def test_what_somebody_else_writes_settles_no_doubt(desk: LiveDesk, how: str) -> None:
    write(desk, Happened(Result.BOUND, frozenset({"bore_diameter_mm"})))
    measure(desk, PUMP, "bore_diameter_mm", how=how)
    assert judged(desk).verdict is Verdict.NOT_KNOWN_YET


def test_a_new_reading_that_says_otherwise_contradicts_the_old_one(desk: LiveDesk) -> None:
    write(desk, Happened(Result.BOUND, frozenset({"bore_diameter_mm"})))
    measure(desk, PUMP, "bore_diameter_mm", change=-1.0)
    assert len(desk.catalog.known(PUMP)["bore_diameter_mm"]) == 2
    assert judged(desk).verdict not in {Verdict.FITS, Verdict.FITS_WITH_PARTS}


def test_the_doubt_is_about_the_engine_in_every_machine_it_drives(desk: LiveDesk) -> None:
    write(desk, Happened(Result.BOUND, frozenset({"shaft_diameter_mm"})))
    driver = desk.catalog.machines[MACHINE].driver_id
    others = [row.entry_id for row in desk.catalog.machines_driven_by(driver)]
    assert len(others) > 1
    for machine in others:
        assert "shaft_diameter_mm" not in desk.catalog.known(driver, machine)
        assert judged(desk, PUMP, machine).verdict not in {Verdict.FITS, Verdict.FITS_WITH_PARTS}


def test_undo_and_redo_take_it_back_and_bring_it_again(desk: LiveDesk) -> None:
    before = candidate(desk)
    name = write(desk).name
    after = candidate(desk)
    assert desk.undo_names().undo == name
    assert desk.undo("Odrin") == name
    assert candidate(desk) == before
    assert desk.redo("Odrin") == name
    assert candidate(desk) == after


def test_a_catalog_opened_anew_knows_of_the_doubt(open_desk: OpenDesk) -> None:
    write(open_desk())
    assert judged(open_desk()).verdict is Verdict.NOT_KNOWN_YET


def test_another_counter_hears_of_it_with_its_next_act(open_desk: OpenDesk) -> None:
    one, other = open_desk(), open_desk()
    assert judged(other).verdict is Verdict.FITS_WITH_PARTS
    write(one)
    other.shelf.lines()
    assert judged(other).verdict is Verdict.NOT_KNOWN_YET


def test_a_misfit_without_a_size_to_blame_is_refused_where_it_was_said_to_fit(desk: LiveDesk) -> None:
    before = CatalogRepository(desk._store).outcomes()
    for result in (Result.DID_NOT_FIT, Result.BOUND, Result.EAR_BROKE, Result.LEAKED):
        with pytest.raises(OutcomeError, match="tick those that may be"):
            write(desk, Happened(result))
    assert CatalogRepository(desk._store).outcomes() == desk.catalog.outcomes == before
    write(desk, Happened(Result.RETURNED))
    assert judged(desk).verdict is Verdict.FITS_WITH_PARTS


def test_what_went_well_blames_nothing(desk: LiveDesk) -> None:
    done = write(desk, Happened(Result.WITH_PARTS, BOTH_BORES))
    assert done.in_doubt == ()
    found = candidate(desk)
    assert found.judgement.verdict is Verdict.FITS_WITH_PARTS
    assert any(one.kind is RemarkKind.CONFIRMED and "Odrin" in str(one.line) for one in found.remarks)


def test_where_it_was_not_said_to_fit_nothing_is_put_in_doubt(desk: LiveDesk) -> None:
    rows = desk.judge_all(job_of(desk), Quiet()).rows
    never = next(row for row in rows if row.judgement.verdict is Verdict.DOES_NOT_FIT)
    known = desk.catalog.known(never.entry_id)
    fields = frozenset(field for field in BOTH_BORES if field in known)
    done = desk.happened.write_down(job_of(desk), never, Happened(Result.DID_NOT_FIT, fields), "Odrin")
    assert done.in_doubt == ()
    assert desk.catalog.known(never.entry_id) == known
    assert [one.doubts_up_to for one in desk.catalog.blamed] == [0] * len(fields)


def test_a_job_without_a_machine_and_a_note_too_long_are_refused(desk: LiveDesk) -> None:
    with pytest.raises(OutcomeError, match="which machine"):
        desk.happened.write_down(Job(PUMP, None, "", ()), candidate(desk), BOUND, "Odrin")
    with pytest.raises(OutcomeError, match="longer than"):
        write(desk, Happened(Result.FINE, note="x" * (LONGEST_NOTE + 1)))


def test_the_sheet_says_what_a_size_in_doubt_was_thought_to_be(desk: LiveDesk) -> None:
    (before,) = [row for row in job_of(desk).facts if row.field == "shaft_diameter_mm"]
    write(desk)
    (row,) = [row for row in job_of(desk).facts if row.field == "shaft_diameter_mm"]
    assert (row.state, row.shown) == (FactState.IN_DOUBT, before.shown)
    assert row.known_by.startswith("blamed: bound when turned by hand")


def test_the_list_tells_which_sizes_are_in_doubt(desk: LiveDesk) -> None:
    write(desk)
    told = [one for one in candidate(desk).remarks if one.kind is RemarkKind.WENT_WRONG]
    assert any("did not turn" in str(one.line) and "In doubt since then" in str(one.further) for one in told)


def test_health_tells_of_failed_fits_first_and_forgets_those_looked_at_again(desk: LiveDesk) -> None:
    assert all(line.kind is not LineKind.FAILED_FIT for line in desk.health.lines(NO_PROGRESS))
    measure(desk, "P-005", "bore_diameter_mm", change=-1.0)
    write(desk)
    first, second, *_ = desk.health.lines(NO_PROGRESS)
    assert (first.kind, first.machine_id, first.pump_id) == (LineKind.FAILED_FIT, MACHINE, PUMP)
    assert second.kind is LineKind.CONFLICT
    assert len(first.sizes) == len(first.blamed_ids) == 2
    assert "bound when turned by hand: did not turn, Odrin" in str(first.told)
    for field in sorted(BOTH_BORES):
        measure(desk, owner(desk, field), field)
    assert all(line.kind is not LineKind.FAILED_FIT for line in desk.health.lines(NO_PROGRESS))


def test_sizes_that_were_right_after_all_count_again_with_the_reason_on_record(desk: LiveDesk) -> None:
    before = judged(desk)
    write(desk)
    (line, *_) = desk.health.lines(NO_PROGRESS)
    with pytest.raises(OutcomeError, match="Say why"):
        desk.happened.clear_doubts(line.blamed_ids, "Odrin", "  ")
    desk.happened.clear_doubts(line.blamed_ids, "Odrin", "the key was left out")
    assert judged(desk) == before
    with pytest.raises(OutcomeError, match="not in doubt any more"):
        desk.happened.clear_doubts(line.blamed_ids, "Odrin", "the key was left out")
    desk.undo("Odrin")
    assert judged(desk).verdict is Verdict.NOT_KNOWN_YET


def test_all_rows_are_what_was_written(desk: LiveDesk) -> None:
    write(desk)
    found = desk.health.check_everything(NO_PROGRESS)
    assert found.is_whole
    assert found.rows > 1000


def test_whatever_is_blamed_no_verdict_rests_on_it_and_all_ways_of_judging_agree(desk: LiveDesk) -> None:
    """The list of all pumps, each pump by itself, in memory and entry by entry: one answer, none built on a doubt."""
    draw = random.Random(20261126)
    sizes = [one.field for one in blameable(judged(desk))]
    assert len(sizes) > 20
    for _ in range(4):
        picked = frozenset(draw.sample(sizes, draw.randint(1, 6)))
        write(desk, Happened(Result.DID_NOT_FIT, picked))
        job = job_of(desk)
        values = job_values(desk.catalog, None, MACHINE)
        rows = desk.judge_all(job, Quiet()).rows
        for row in rows:
            alone = judge_one(desk.catalog, values, row.entry_id, guessed_number=False)
            assert (row.judgement.verdict, row.judgement.findings) == (
                alone.judgement.verdict,
                alone.judgement.findings,
            )
        used = {field for finding in judged(desk).findings for field, _ in finding.used}
        assert used.isdisjoint(picked)
        assert judged(desk).verdict is Verdict.NOT_KNOWN_YET
        assert not any(row.judgement.verdict in SAYS_FITS for row in rows if _is_touched(row, picked))
        desk.undo("Odrin")


def _is_touched(row: Candidate, picked: frozenset[str]) -> bool:
    """Say whether a pump is judged with a size in doubt: its own, or one of the machine that all are judged with."""
    return row.entry_id == PUMP or any(field_for(field).side is Side.MACHINE for field in picked)


# Checks that only look on arrival, and the one that falls back on another size: without the value they say less.
@pytest.mark.parametrize(
    ("field", "told"),
    [
        ("pump_length_mm", "410"),
        ("oil", "vented for a horizontal shaft"),
        ("rating_max_speed_rpm", "1800"),
        ("outlet_direction_deg", "90"),
        ("has_inlet_screen", "no"),
        ("flange_seat_heights_mm", "0; 0; 0"),
    ],
)
def test_a_doubt_never_makes_a_verdict_better(desk: LiveDesk, field: str, told: str) -> None:
    put(desk, PUMP, field, told)
    before = judged(desk).verdict
    blame(desk, PUMP, field)
    assert judged(desk).verdict not in SAYS_FITS
    assert judged(desk).verdict is Verdict.DOES_NOT_FIT or field in judged(desk).measure_next
    assert before is Verdict.DOES_NOT_FIT or judged(desk).verdict is Verdict.NOT_KNOWN_YET


def put(desk: LiveDesk, entry: str, field: str, told: str) -> None:
    """Write a first reading of a size down."""
    is_number = field_for(field).kind is Kind.NUMBER
    value, words = (float(told), "") if is_number else (None, told)

    def build(numbers: Numbers) -> list[RowEdit]:
        row = Observation(numbers.observation_id(), entry, field, told, value, words, 0.0, "measured", "Odrin")
        return [RowEdit("observations", None, row)]

    save_edits(desk._store, build, name="reading", who="Odrin", why="test", save_id=f"{entry}{field}{told}")
    desk._refresh([entry])


def blame(desk: LiveDesk, entry: str, field: str) -> None:
    """Put a size in doubt as a failed fit elsewhere would."""
    row = BlamedSize(f"B-{entry}", "O-001", entry, field, 10**10)
    edits = [RowEdit("blamed_sizes", None, row)]
    save_edits(desk._store, lambda _numbers: edits, name="blame", who="Odrin", why="test", save_id=f"{entry}{field}")
    desk._refresh([entry])


@pytest.mark.parametrize("field", sorted(one for one, field in all_fields().items()))
def test_any_size_in_doubt_keeps_the_verdict_open(sample: Catalog, field: str) -> None:
    entry = MACHINE if field_for(field).side is Side.MACHINE else PUMP
    doubt = Doubt(BlamedSize("B1", "O-001", entry, field, 1))
    catalog = replace(sample, doubts={entry: (doubt,)})
    job = job_values(catalog, None, MACHINE)
    found = judge_one(catalog, job, PUMP, guessed_number=False).judgement
    assert found.verdict is Verdict.NOT_KNOWN_YET
    assert field in found.measure_next


def test_what_a_package_brings_after_the_doubt_settles_nothing(desk: LiveDesk) -> None:
    write(desk, Happened(Result.BOUND, frozenset({"bore_diameter_mm"})))
    assert all(one.doubts_up_to >= OWN_OBSERVATIONS_FROM - 1 for one in desk.catalog.blamed)
    old = CatalogRepository(desk._store).observations_of([PUMP])[PUMP]
    like = next(row for row in old if row.field == "bore_diameter_mm")
    later = replace(like, observation_id=max(row.observation_id for row in old) + 100_000, how="measured")
    save_edits(
        desk._store,
        lambda _numbers: [RowEdit("observations", None, later)],
        name="package",
        who="Odrin",
        why="stick",
        save_id="package",
    )
    desk._refresh([PUMP])
    assert judged(desk).verdict is Verdict.NOT_KNOWN_YET


def test_every_build_that_may_be_meant_is_in_doubt(desk: LiveDesk) -> None:
    job = replace(job_of(desk), sisters=("M-002",))
    row = desk.catalog.machines["M-002"]
    desk.happened.write_down(job, candidate(desk), Happened(Result.LEAKED, frozenset({"supply_thread"})), "Odrin")
    assert {one.entry_id for one in desk.catalog.blamed} <= {MACHINE, "M-002", row.driver_id, owner_driver(desk)}
    assert any(one.entry_id in {"M-002", row.driver_id} for one in desk.catalog.blamed)


def owner_driver(desk: LiveDesk) -> str:
    return desk.catalog.machines[MACHINE].driver_id


def test_a_damaged_blame_is_no_way_back_to_a_fit(open_desk: OpenDesk) -> None:
    desk = open_desk()
    write(desk, Happened(Result.BOUND, frozenset({"bore_diameter_mm"})))
    with desk._store.begin() as connection:
        connection.execute(text("UPDATE blamed_sizes SET doubts_up_to = 0"))
    assert judged(open_desk()).verdict is Verdict.NOT_KNOWN_YET
    with desk._store.begin() as connection:
        connection.execute(text("DELETE FROM blamed_sizes"))
    assert judged(open_desk()).verdict is Verdict.NOT_KNOWN_YET


def test_suspects_are_sizes_of_the_checks_that_can_do_it(desk: LiveDesk) -> None:
    sizes = blameable(judged(desk))
    by_result = {result: {one.field for one in suspects(sizes, result)} for result in Result}
    assert {"bore_diameter_mm", "shaft_diameter_mm", "bore_depth_mm"} <= by_result[Result.BOUND]
    assert {"inlet_thread", "discharge_thread"} <= by_result[Result.LEAKED]
    assert "flange_seat_heights_mm" in by_result[Result.EAR_BROKE]
    assert not by_result[Result.FINE]
    assert all(by_result[result] for result in Result if result.is_misfit)


# -- the rule itself, row by row


def seen(number: int, field: str, value: float, how: str = "measured") -> Observation:
    return Observation(number, "P1", field, str(value), value, "", 0.05, how)


def test_younger_is_told_by_number_and_never_by_date() -> None:
    old = replace(seen(5, "bore_diameter_mm", 19.05), seen_on="2099-01-01")
    new = replace(seen(6, "bore_diameter_mm", 19.05), seen_on="1980-01-01")
    blamed = BlamedSize("B1", "O1", "P1", "bore_diameter_mm", 5)
    assert counted([old], [], [blamed]).observations == ()
    assert counted([old, new], [], [blamed]).observations == (old, new)
    assert counted([old, new], [], [blamed]).doubts == ()


def test_a_blank_reading_settles_nothing() -> None:
    blank = replace(seen(6, "bore_diameter_mm", 0), value=None)
    found = counted([blank], [], [BlamedSize("B1", "O1", "P1", "bore_diameter_mm", 5)])
    assert found.observations == ()
    assert found.doubts


def test_other_sizes_of_the_entry_count_as_before() -> None:
    rows = [seen(1, "bore_diameter_mm", 19.05), seen(2, "bore_depth_mm", 60)]
    found = counted(rows, [], [BlamedSize("B1", "O1", "P1", "bore_diameter_mm", 5)])
    assert found.observations == (rows[1],)
    assert found.doubts[0].readings == (rows[0],)


def test_every_size_can_be_in_doubt_and_none_is_filled_up_from_the_old_pump(desk: LiveDesk) -> None:
    """What the old pump tells of its machine is a claim, and no claim stands in for a size in doubt."""
    row = next(one for one in desk.catalog.machines.values() if one.pump_id)
    assert isinstance(row, MachineRow)
    fields = [one for one, field in all_fields().items() if field.side is Side.MACHINE]
    blamed = tuple(BlamedSize(f"B{n}", "O-001", row.entry_id, one, 10**10) for n, one in enumerate(fields))
    store = desk._store
    edits = [RowEdit("blamed_sizes", None, one) for one in blamed]
    save_edits(store, lambda _numbers: edits, name="all", who="Odrin", why="all", save_id="all")
    desk.shelf.lines()
    held = [row.driver_id, row.entry_id]
    left = {one.field for entry in held for one in desk.catalog.observations.get(entry, ()) if one.field in fields}
    assert left == {one.field for one in desk.catalog.observations.get(row.driver_id, ()) if one.field in fields}
    told = job_values(desk.catalog, row.pump_id, row.entry_id).machine
    assert set(told) <= left
