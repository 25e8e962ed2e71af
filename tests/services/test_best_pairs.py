"""The pairs of most value: as trying every way one by one finds them, and never one that may not fit."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest

from xref_app.core.fit.finding import Verdict
from xref_app.core.model.catalog import SalvagedUnit
from xref_app.core.plan.pair_value import PairFigures, PairParts, ShelfTake
from xref_app.services.best_pairs import CannotPairError, Pairing, PairsWanted, PairWishes, best_pairs
from xref_app.services.pair_matrix import PairMatrix, PairUnit, PairVerdict

FIGURES = PairFigures(sells_for=100.0, rate_per_hour=0.0)
FIT = frozenset({Verdict.FITS, Verdict.FITS_WITH_PARTS})


def unit(unit_id: str, price: float | None = 0.0) -> PairUnit:
    kind = "machine" if unit_id.startswith("E") else "pump"
    return PairUnit(SalvagedUnit(unit_id, f"of {unit_id}", condition="runs", price=price), kind, unit_id, "")


def parts(cost: float = 0.0, *, lacking: int = 0, takes: tuple[ShelfTake, ...] = ()) -> PairParts:
    return PairParts(cost, 0.0, lacking + len(takes), lacking, 0, 0, takes)


def found(verdict: Verdict, cost: float = 0.0, *, asked: tuple[str, ...] = (), lacking: int = 0) -> PairVerdict:
    return PairVerdict(verdict, asked, parts(cost, lacking=lacking) if verdict in FIT else None)


def matrix(cells: Sequence[Sequence[PairVerdict]]) -> PairMatrix:
    engines = [unit(f"E{row}") for row in range(len(cells))]
    pumps = [unit(f"P{column}") for column in range(len(cells[0]))]
    verdicts = {
        (engine.entry_id, pump.entry_id): cells[row][column]
        for row, engine in enumerate(engines)
        for column, pump in enumerate(pumps)
    }
    return PairMatrix(engines, pumps, verdicts)


def pairs_of(pairing: Pairing) -> set[tuple[str, str]]:
    return {(one.engine.unit_id, one.pump.unit_id) for one in pairing.pairs}


def every_way(rows: int, columns: int) -> Iterator[dict[int, int]]:
    """Yield every way to give some rows a column each."""
    if rows == 0:
        yield {}
        return
    for way in every_way(rows - 1, columns):
        yield way
        for column in set(range(columns)) - set(way.values()):
            yield way | {rows - 1: column}


def most_by_hand(cells: Sequence[Sequence[PairVerdict]], wishes: PairWishes) -> float:
    """Return the most that any allowed way leaves, by trying all of them; ours is not asked for anything."""
    forced = {(int(one[0][1:]), int(one[1][1:])) for one in wishes.forced}
    never = {(int(one[0][1:]), int(one[1][1:])) for one in wishes.forbidden}
    best = float("-inf")
    for way in every_way(len(cells), len(cells[0])):
        chosen = set(way.items())
        if not forced <= chosen or chosen & never:
            continue
        if any(cells[row][column].parts is None for row, column in chosen):
            continue
        worth = 0.0
        for row, column in chosen:
            joined = cells[row][column].parts
            assert joined is not None
            worth += wishes.sells_for.get(f"E{row}", FIGURES.sells_for) - joined.cost
        best = max(best, worth)
    return best


def drawn(rng: random.Random, rows: int, columns: int) -> list[list[PairVerdict]]:
    kinds = (Verdict.FITS, Verdict.FITS_WITH_PARTS, Verdict.NOT_KNOWN_YET, Verdict.DOES_NOT_FIT)
    return [[found(rng.choice(kinds), round(rng.uniform(0, 130), 2)) for _ in range(columns)] for _ in range(rows)]


def drawn_wishes(rng: random.Random, cells: Sequence[Sequence[PairVerdict]]) -> PairWishes:
    """Return up to two forced pairs that fit, up to four forbidden ones, and one engine with its own figure."""
    wishes = PairWishes(sells_for={"E0": rng.choice((40.0, 250.0))})
    fitting = [
        (f"E{row}", f"P{column}")
        for row, line in enumerate(cells)
        for column, one in enumerate(line)
        if one.parts is not None
    ]
    for pair in rng.sample(fitting, min(len(fitting), rng.randrange(3))):
        wishes = wishes.force(pair)
    for _ in range(rng.randrange(5)):
        pair = (f"E{rng.randrange(len(cells))}", f"P{rng.randrange(len(cells[0]))}")
        if pair not in wishes.forced | wishes.forbidden:
            wishes = wishes.forbid(pair)
    return wishes


@pytest.mark.parametrize("seed", range(60))
def test_no_other_way_leaves_more(seed: int) -> None:
    rng = random.Random(seed)
    cells = drawn(rng, rng.randrange(1, 7), rng.randrange(1, 7))
    check_against_every_way(cells, drawn_wishes(rng, cells))


@pytest.mark.parametrize("seed", range(2))
def test_no_other_way_leaves_more_of_eight_by_eight(seed: int) -> None:
    """8 × 8 has 1,441,729 ways."""
    rng = random.Random(1_000 + seed)
    cells = drawn(rng, 8, 8)
    check_against_every_way(cells, drawn_wishes(rng, cells))


def check_against_every_way(cells: Sequence[Sequence[PairVerdict]], wishes: PairWishes) -> None:
    pairing = best_pairs(matrix(cells), FIGURES, wishes)
    pairs = pairs_of(pairing)
    assert pairing.value == pytest.approx(most_by_hand(cells, wishes), abs=0.005)
    assert wishes.forced <= pairs
    assert not wishes.forbidden & pairs
    assert all(one.found.verdict in FIT for one in pairing.pairs)
    units = [unit_id for pair in pairs for unit_id in pair]
    assert len(units) == len(set(units))
    assert all(one.sum.value > 0 or one.is_forced for one in pairing.pairs)


def test_what_does_not_surely_fit_is_never_paired_however_much_it_would_leave() -> None:
    cells = [[found(Verdict.NOT_KNOWN_YET, asked=("bore_depth_mm",)), found(Verdict.DOES_NOT_FIT)]]
    assert best_pairs(matrix(cells), PairFigures(9_999.0, 0.0), PairWishes()).pairs == ()
    for pump in ("P0", "P1"):
        with pytest.raises(CannotPairError, match=f"E0 with {pump} does not surely fit"):
            best_pairs(matrix(cells), FIGURES, PairWishes(forced=frozenset({("E0", pump)})))


def test_what_fits_only_if_a_claim_holds_is_paired_only_where_somebody_wants_it_surely() -> None:
    cells = [[replace(found(Verdict.FITS), rests_on_claims=True), found(Verdict.FITS_WITH_PARTS, 90.0)]]
    assert pairs_of(best_pairs(matrix(cells), FIGURES, PairWishes())) == {("E0", "P1")}
    (wanted,) = best_pairs(matrix(cells), FIGURES, PairWishes(forced=frozenset({("E0", "P0")}))).pairs
    assert wanted.found.rests_on_claims


def test_a_pair_that_loses_money_is_made_only_where_it_is_wanted() -> None:
    cells = [[found(Verdict.FITS_WITH_PARTS, 120.0)]]
    assert best_pairs(matrix(cells), FIGURES, PairWishes()).pairs == ()
    (made,) = best_pairs(matrix(cells), FIGURES, PairWishes().force(("E0", "P0"))).pairs
    assert (made.sum.value, made.is_forced) == (-20.0, True)


def test_one_unit_in_two_wanted_pairs_is_refused() -> None:
    cells = [[found(Verdict.FITS), found(Verdict.FITS)]]
    wishes = PairWishes(forced=frozenset({("E0", "P0"), ("E0", "P1")}))
    with pytest.raises(CannotPairError, match="E0 is wanted in two pairs"):
        best_pairs(matrix(cells), FIGURES, wishes)
    # By the keys it cannot come to that: the later wish takes the place of the earlier.
    assert PairWishes().force(("E0", "P0")).force(("E0", "P1")).forced == {("E0", "P1")}


def test_a_wish_is_taken_back_by_the_same_key_and_wanted_and_never_exclude_each_other() -> None:
    pair = ("E0", "P0")
    assert PairWishes().force(pair).force(pair) == PairWishes()
    assert PairWishes().forbid(pair).forbid(pair) == PairWishes()
    assert PairWishes().force(pair).forbid(pair) == PairWishes(forbidden=frozenset({pair}))
    assert PairWishes().forbid(pair).force(pair) == PairWishes(forced=frozenset({pair}))


def test_a_wish_for_a_unit_that_is_gone_does_no_harm() -> None:
    assert len(best_pairs(matrix([[found(Verdict.FITS)]]), FIGURES, PairWishes().force(("E9", "P0"))).pairs) == 1


def test_the_filter_lets_through_what_it_says() -> None:
    cells = [
        [found(Verdict.FITS, 0.0), found(Verdict.DOES_NOT_FIT), found(Verdict.DOES_NOT_FIT)],
        [found(Verdict.DOES_NOT_FIT), found(Verdict.FITS_WITH_PARTS, 5.0), found(Verdict.DOES_NOT_FIT)],
        [found(Verdict.DOES_NOT_FIT), found(Verdict.DOES_NOT_FIT), found(Verdict.FITS_WITH_PARTS, 5.0, lacking=1)],
    ]
    wishes = PairWishes()
    made = {one: pairs_of(best_pairs(matrix(cells), FIGURES, wishes.only(one))) for one in PairsWanted}
    assert made[PairsWanted.ANY_FIT] == {("E0", "P0"), ("E1", "P1"), ("E2", "P2")}
    assert made[PairsWanted.ON_SHELF] == {("E0", "P0"), ("E1", "P1")}
    assert made[PairsWanted.AS_IS] == {("E0", "P0")}


def test_the_better_pair_has_the_last_pieces_and_the_other_is_told() -> None:
    take = (ShelfTake("S32", "Spacer", 3, 4),)
    cells = [
        [replace(found(Verdict.FITS_WITH_PARTS), parts=parts(10.0, takes=take)), found(Verdict.DOES_NOT_FIT)],
        [found(Verdict.DOES_NOT_FIT), replace(found(Verdict.FITS_WITH_PARTS), parts=parts(5.0, takes=take))],
    ]
    made = best_pairs(matrix(cells), FIGURES, PairWishes()).pairs
    assert [(one.engine.unit_id, one.parts_go_to_better) for one in made] == [("E1", False), ("E0", True)]


def test_what_to_measure_is_what_most_pairs_wait_for_alone() -> None:
    """Two pairs want the bore's depth of P0 (1 min) alone; four want the water supply of E1, and more besides."""
    alone = found(Verdict.NOT_KNOWN_YET, asked=("bore_depth_mm",))
    more = found(Verdict.NOT_KNOWN_YET, asked=("supply_flow_lpm", "nozzle_number"))
    nothing = found(Verdict.FITS)
    cells = [[alone, nothing, nothing, nothing, nothing], [more, more, more, more, nothing], [alone, *[nothing] * 4]]
    best = best_pairs(matrix(cells), FIGURES, PairWishes()).measure_next
    assert best is not None
    assert (best.field, best.number) == ("bore_depth_mm", "P0")
    assert (best.by_itself, best.asking, best.open) == (2, 2, 6)
    assert best_pairs(matrix([[nothing]]), FIGURES, PairWishes()).measure_next is None


def test_without_units_there_are_no_pairs() -> None:
    assert best_pairs(PairMatrix(), FIGURES, PairWishes()) == Pairing()
