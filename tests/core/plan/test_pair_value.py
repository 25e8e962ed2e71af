"""The sum of a pair, worked by hand beside each case."""

from __future__ import annotations

import pytest

from xref_app.core.fit.finding import Need
from xref_app.core.model.shelf import Part
from xref_app.core.model.words import PartKind
from xref_app.core.plan.pair_value import PairFigures, ShelfTake, pair_parts, pair_sum
from xref_app.core.sentence import Sentence

SPACER = Part(PartKind.SPACER, count=4, cost=0.46, part_id="S32", name="Spacer 3.2 mm")
BOLT = Part(PartKind.BOLT, count=9, cost=1.5, part_id="B1", to_order=True, lying=1)
FIGURES = PairFigures(sells_for=300.0, rate_per_hour=50.0)


def need(quantity: int, listed: Part | None = None, *, to_make: bool = False) -> Need:
    return Need(Sentence("it"), quantity, listed, to_make=to_make)


def test_nothing_needed_costs_the_time_of_putting_it_on() -> None:
    parts = pair_parts(())
    assert (parts.cost, parts.minutes, parts.pieces, parts.all_on_shelf) == (0.0, 45.0, 0, True)
    # 300 − 0 − 45/60 × 50 − (60 + 25) = 177.50
    total = pair_sum(parts, FIGURES, (60.0, 25.0))
    assert (total.time, total.own, total.unpriced, total.value) == (37.5, 85.0, 0, 177.5)


def test_pieces_cost_their_price_and_minutes_and_say_where_they_lie() -> None:
    # 3 × 0.46 + 2 × 1.5 = 4.38; 45 + 5 × 3 = 60 minutes; of the two bolts one lies there.
    parts = pair_parts((need(3, SPACER), need(2, BOLT)))
    assert (parts.cost, parts.minutes, parts.pieces, parts.lacking) == (4.38, 60.0, 5, 1)
    assert not parts.all_on_shelf
    assert parts.takes == (ShelfTake("S32", "Spacer 3.2 mm", 3, 4), ShelfTake("B1", "", 1, 1))


def test_what_nobody_lists_counts_at_the_house_rules_price_and_a_made_piece_takes_an_hour() -> None:
    # 4 standard bolts and 1 piece to make: 5 × 2 = 10; 45 + 5 × 3 + 60 = 120 minutes = 100.00
    parts = pair_parts((need(4), need(1, to_make=True)))
    assert (parts.cost, parts.minutes, parts.lacking, parts.to_make, parts.unlisted) == (10.0, 120.0, 5, 1, 5)
    assert pair_sum(parts, FIGURES, (0.0, 0.0)).value == 190.0


def test_an_engine_with_a_figure_of_its_own_and_units_without_a_price() -> None:
    total = pair_sum(pair_parts(()), FIGURES, (None, 20.0), sells_for=120.0)
    assert (total.value, total.unpriced) == (62.5, 1)
    assert pair_sum(pair_parts(()), FIGURES, (None, None)).unpriced == 2


@pytest.mark.parametrize(("sells_for", "value"), [(0.1, -37.4), (37.53, 0.03)])
def test_money_is_told_to_the_hundredth(sells_for: float, value: float) -> None:
    assert pair_sum(pair_parts(()), PairFigures(sells_for, 50.0), ()).value == value
