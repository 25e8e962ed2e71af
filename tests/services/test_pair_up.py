"""Salvaged units of the sample paired up: judged as one by one, remembered, put by on both sides, undone by name."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.bench_store import sample_desk
from tests.services.tiny import Cancelled, Quiet
from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import BlamedSize, Observation
from xref_app.core.plan.pair_value import PairFigures, pair_parts
from xref_app.core.progress import WorkCancelledError
from xref_app.services.best_pairs import MadePair, PairWishes, best_pairs
from xref_app.services.catalog import Catalog, Damage
from xref_app.services.doubts import Doubt
from xref_app.services.judge_candidates import judgement_of
from xref_app.services.live_desk import LiveDesk
from xref_app.services.pair_judging import PairsJudged, engine_values
from xref_app.services.pair_matrix import BOTH_FIT, PairMatrix, PairUnit
from xref_app.services.shelf import ShelfInputError
from xref_app.store.connect import writing
from xref_app.store.engine import open_engine
from xref_app.store.errors import DamagedStoreError
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.shelf_errors import NotFreeError
from xref_app.store.unit_errors import UnitNotFreeError

ROWS = sample_rows()
SAMPLE = catalog_of(ROWS)
FIGURES = PairFigures(sells_for=300.0, rate_per_hour=50.0)
ENGINES = ("M-001", "M-016", "D-03")
PUMPS = ("P-001", "P-026", "P-054", "P-101")


@pytest.fixture
def desk(tmp_path: Path) -> LiveDesk:
    return sample_desk(tmp_path)


def matrix_of(desk: LiveDesk) -> PairMatrix:
    return desk.pairs.matrix(Quiet())


def with_parts(matrix: PairMatrix) -> MadePair:
    """Return a pair to be made that takes pieces from the shelf."""
    return next(one for one in best_pairs(matrix, FIGURES, PairWishes()).pairs if one.parts.takes)


def ids(units: object) -> set[str]:
    assert isinstance(units, list)
    return {one.unit_id for one in units if isinstance(one, PairUnit)}


def same_as_one_by_one(catalog: Catalog, pairs: list[tuple[str, str]]) -> Counter[Verdict]:
    """Check the verdicts against the judge asked for each pair by itself, and return how often each came."""
    engines, pumps = sorted({one for one, _ in pairs}), sorted({one for _, one in pairs})
    found = PairsJudged().verdicts(catalog, engines, pumps, Quiet())
    for engine, pump in pairs:
        alone = judgement_of(catalog, engine_values(catalog, engine), pump)
        one = found[engine, pump]
        assert one.verdict is alone.verdict, (engine, pump)
        if alone.verdict in BOTH_FIT:
            assert one.parts == pair_parts(alone.needs)
            assert one.rests_on_claims == bool(alone.claims)
        else:
            assert one.parts is None
        if alone.verdict is Verdict.NOT_KNOWN_YET:
            assert set(one.asked) == set(alone.measure_next)
    return Counter(found[pair].verdict for pair in pairs)


def test_the_matrix_says_what_the_judge_says_of_each_pair() -> None:
    rng = random.Random(8)
    units = [one.entry_id for one in ROWS.salvaged_units]
    engines = [*rng.sample(sorted({one for one in units if one.startswith("M")}), 4), "D-03", "D-11"]
    pumps = sorted({one for one in units if one.startswith("P")})
    every = [(engine, pump) for engine in engines for pump in pumps]
    counted = same_as_one_by_one(SAMPLE, every)
    assert all(counted[verdict] for verdict in Verdict)


def test_contradicting_and_damaged_pumps_are_judged_as_one_by_one() -> None:
    twice = Observation(9_999_999, "P-026", "bore_diameter_mm", "20.00 mm", 20.0, "", 0.05, "measured")
    seen = {**SAMPLE.observations, "P-026": (*SAMPLE.observations["P-026"], twice)}
    damaged = Damage(1, frozenset({"P-001", "M-017"}))
    catalog = replace(SAMPLE, observations=seen, damaged=damaged)
    pairs = [(engine, pump) for engine in ("M-001", "M-016", "M-017") for pump in PUMPS]
    same_as_one_by_one(catalog, pairs)
    found = PairsJudged().verdicts(catalog, [one for one, _ in pairs], PUMPS, Quiet())
    assert not {pair for pair, one in found.items() if one.verdict in BOTH_FIT and {*pair} & {"P-001", "M-017"}}


def judged_again(catalog: Catalog, change: Callable[[Catalog], Catalog]) -> tuple[int, int]:
    """Return how many steps judging takes at first and after ``change``."""
    judged, first, second = PairsJudged(), Quiet(), Quiet()
    judged.verdicts(catalog, ENGINES, PUMPS, first)
    changed = change(catalog)
    again = judged.verdicts(changed, ENGINES, PUMPS, second)
    assert again == PairsJudged().verdicts(changed, ENGINES, PUMPS, Quiet())
    return len(first.told), len(second.told)


def test_what_was_judged_is_remembered_until_something_it_rests_on_changes() -> None:
    unchanged = judged_again(SAMPLE, lambda one: replace(one, observations={**one.observations}))
    assert unchanged[1] == len(ENGINES) + 1 < unchanged[0]
    assert judged_again(SAMPLE, without("P-026", "bore_depth_mm"))[1] > unchanged[1]
    assert judged_again(SAMPLE, without("D-03", "shaft_diameter_mm"))[1] > unchanged[1]
    assert judged_again(SAMPLE, lambda one: replace(one, bins=()))[1] > unchanged[1]
    assert judged_again(SAMPLE, lambda one: replace(one, damaged=Damage(1, frozenset({"P-026"}))))[1] > unchanged[1]
    doubt = Doubt(BlamedSize("B1", "O-001", "M-016", "supply_thread", 1))
    assert judged_again(SAMPLE, lambda one: replace(one, doubts={"M-016": (doubt,)}))[1] > unchanged[1]
    of_driver = without(SAMPLE.machines["M-016"].driver_id, "shaft_diameter_mm")
    assert judged_again(SAMPLE, of_driver)[1] > unchanged[1]


def without(entry_id: str, field: str) -> Callable[[Catalog], Catalog]:
    def change(catalog: Catalog) -> Catalog:
        left = tuple(one for one in catalog.observations[entry_id] if one.field != field)
        assert len(left) < len(catalog.observations[entry_id])
        return replace(catalog, observations={**catalog.observations, entry_id: left})

    return change


def test_judging_is_stopped_and_goes_on_where_it_stopped() -> None:
    judged, whole = PairsJudged(), Quiet()
    PairsJudged().verdicts(SAMPLE, ENGINES, PUMPS, whole)
    with pytest.raises(WorkCancelledError):
        judged.verdicts(SAMPLE, ENGINES, PUMPS, Cancelled(after=len(whole.told) - 5))
    rest = Quiet()
    judged.verdicts(SAMPLE, ENGINES, PUMPS, rest)
    assert len(rest.told) < len(whole.told)


def test_progress_never_goes_back_and_ends_at_the_whole() -> None:
    told = Quiet()
    PairsJudged().verdicts(SAMPLE, ENGINES, PUMPS, told)
    done = [one for one, _ in told.told]
    assert done == sorted(done)
    assert told.told[-1][0] == told.told[-1][1]


def test_only_free_units_in_good_condition_are_paired_up(desk: LiveDesk) -> None:
    matrix = matrix_of(desk)
    units = {one.unit_id: one for one in CatalogRepository(desk._store).salvaged()}
    shown = [*matrix.engines, *matrix.pumps]
    assert {one.unit.condition for one in shown} == {"tested good", "runs"}
    assert [unit.unit_id for _, unit in matrix.put_by] == ["U-016"]
    assert "U-016" not in ids(matrix.pumps)
    assert len(shown) + sum(matrix.left_out.values()) + len(matrix.put_by) == len(units)
    assert {one.kind for one in matrix.engines} == {"driver", "machine"}


def test_an_engine_alone_is_never_said_to_fit(desk: LiveDesk) -> None:
    """Nobody knows its hoses and nozzle; a whole machine without its pump tells them."""
    matrix = matrix_of(desk)
    alone = [found.verdict for engine, _, found in matrix.pairs() if engine.kind == "driver"]
    assert alone
    assert not BOTH_FIT & set(alone)


def test_both_sides_and_the_pieces_are_put_by_in_one_act_and_undone_by_name(desk: LiveDesk) -> None:
    before = matrix_of(desk)
    made = with_parts(before)
    name = desk.pairs.reserve(made.engine, made.pump, "Ana", takes=made.parts.takes)
    both = f"{made.engine.unit_id} with {made.pump.unit_id}"
    assert name == f"reserve {both}"
    after = matrix_of(desk)
    assert ids(after.engines) == ids(before.engines) - {made.engine.unit_id}
    assert ids(after.pumps) == ids(before.pumps) - {made.pump.unit_id}
    assert {(row.job, row.reserved_by) for row, unit in after.put_by if unit.unit_id != "U-016"} == {(both, "Ana")}
    held = [one for one in CatalogRepository(desk._store).reservations() if one.job == both]
    assert {one.quantity for one in held} == {take.pieces for take in made.parts.takes}
    assert desk.undo_names().undo == name
    desk.undo("Ben")
    assert ids(matrix_of(desk).engines) == ids(before.engines)
    assert not [one for one in CatalogRepository(desk._store).reservations() if one.job == both]
    desk.redo("Ben")
    assert ids(matrix_of(desk).pumps) == ids(after.pumps)


def test_the_second_counter_is_told_who_has_the_unit(desk: LiveDesk) -> None:
    matrix = matrix_of(desk)
    made = with_parts(matrix)
    desk.pairs.reserve(made.engine, made.pump, "Ana", job="131")
    other = next(one for one in matrix.pumps if one.unit_id != made.pump.unit_id)
    with pytest.raises(UnitNotFreeError, match=f"Unit {made.engine.unit_id} is reserved for job 131 by Ana"):
        desk.pairs.reserve(made.engine, other, "Ben", job="132")
    assert other.unit_id in ids(matrix_of(desk).pumps)


def test_units_stay_free_where_the_pieces_are_gone(desk: LiveDesk) -> None:
    made = with_parts(matrix_of(desk))
    takes = [replace(take, pieces=take.lying + 1) for take in made.parts.takes]
    with pytest.raises(NotFreeError):
        desk.pairs.reserve(made.engine, made.pump, "Ana", takes=takes)
    assert made.engine.unit_id in ids(matrix_of(desk).engines)


def test_a_released_pair_is_back(desk: LiveDesk) -> None:
    made = with_parts(matrix_of(desk))
    desk.pairs.reserve(made.engine, made.pump, "Ana")
    pair = (made.engine.unit_id, made.pump.unit_id)
    assert desk.pairs.release(pair, "Ben") == f"release {pair[0]} and {pair[1]}"
    assert {*pair} <= ids(matrix_of(desk).engines) | ids(matrix_of(desk).pumps)


def test_nobody_reserves_without_saying_who(desk: LiveDesk) -> None:
    made = with_parts(matrix_of(desk))
    with pytest.raises(ShelfInputError, match="Say who you are first"):
        desk.pairs.reserve(made.engine, made.pump, " ")


@pytest.mark.parametrize("table", ["salvaged_units", "unit_reservations"])
def test_nothing_is_paired_up_over_a_damaged_row(desk: LiveDesk, table: str) -> None:
    change = {"salvaged_units": "condition = 'tested good'", "unit_reservations": "released_on = '2025-12-01'"}[table]
    with writing(desk._store) as connection:
        connection.exec_driver_sql(f"UPDATE {table} SET {change}")
    with pytest.raises(DamagedStoreError, match=f"of {table} does not match its check sum"):
        matrix_of(desk)


def test_a_pair_looked_at_is_judged_in_full(desk: LiveDesk) -> None:
    matrix = matrix_of(desk)
    made = with_parts(matrix)
    candidate = desk.pairs.look_at(made.engine, made.pump)
    assert candidate.judgement.verdict is made.found.verdict
    assert pair_parts(candidate.judgement.needs) == made.parts
    assert str(candidate.headline).startswith("needs ")


def test_a_store_without_salvaged_units_has_an_empty_matrix(tmp_path: Path) -> None:
    rows = replace(ROWS, salvaged_units=(), unit_reservations=())
    store = open_engine(tmp_path / "none.sqlite")
    import_catalog(store, rows, who="test", why="no units")
    matrix = matrix_of(LiveDesk(store, "None"))
    assert (list(matrix.engines), list(matrix.pumps), matrix.verdicts) == ([], [], {})
    store.dispose()
