"""A value together with how it is known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref_app.core.model.known import Dimension, How, weakest
from xref_app.core.quantity.range import Range, hull

sizes = st.floats(-100, 100).map(lambda value: round(value, 3))
ranges = st.tuples(sizes, sizes).map(lambda ends: Range(min(ends), max(ends)))
shares = st.floats(0, 1)


def inside(one: Range, share: float) -> float:
    return one.low + share * (one.high - one.low)


@given(one=ranges, other=ranges, first=shares, second=shares)
def test_sum_difference_and_product_hold_every_value_they_can_be_of(
    one: Range, other: Range, first: float, second: float
) -> None:
    # interval arithmetic after R. E. Moore: the result holds the result of every pair of values
    x, y = inside(one, first), inside(other, second)
    assert Range.exactly(x + y).within(one + other)
    assert Range.exactly(x - y).within(one - other)
    assert (one * other).low - 1e-6 <= x * y <= (one * other).high + 1e-6
    assert Range.exactly(-x).within(-one)


@given(one=ranges, other=ranges)
def test_two_ranges_overlap_exactly_where_they_meet(one: Range, other: Range) -> None:
    shared = one.overlap_or_none(other)
    assert (shared is not None) is one.meets(other)
    if shared is not None:
        assert shared.within(one)
        assert shared.within(other)
    assert one.within(hull((one, other)))
    assert other.within(hull((one, other)))


def test_a_quotient_of_a_range_that_holds_zero_is_refused() -> None:
    assert (Range(6, 8) / Range(2, 4)) == Range(1.5, 4)
    with pytest.raises(ZeroDivisionError) as caught:
        Range(1, 2) / Range(-1, 1)
    assert str(caught.value) == "cannot divide by a range that holds zero: -1 to 1"


def test_a_range_upside_down_or_of_no_number_is_refused() -> None:
    for low, high in ((2.0, 1.0), (float("nan"), 1.0)):
        with pytest.raises(ValueError, match=f"^a range from {low} to {high} holds nothing$"):
            Range(low, high)


def test_limits_that_differ_by_rounding_only_are_the_same() -> None:
    assert Range(0, 0.1 + 0.2).surely_at_most(0.3)
    assert Range(0.3, 1).surely_at_least(0.1 + 0.2)
    assert not Range(0.3, 1).surely_above(0.1 + 0.2)
    assert not Range(0, 0.1 + 0.2).surely_below(0.3)


def test_a_dimension_is_its_value_give_or_take_its_doubt() -> None:
    size = Dimension(19.0, 0.1)
    assert [size.range.low, size.range.high] == pytest.approx([18.9, 19.1])
    assert [size.range.middle, size.range.doubt] == pytest.approx([19.0, 0.1])


def test_the_weakest_way_of_knowing_is_the_last_in_the_list() -> None:
    assert weakest((How.MEASURED, How.CLAIMED, How.PLATE)) is How.CLAIMED
    assert weakest(()) is None


def test_only_habit_never_decides() -> None:
    assert [how.word for how in How if not how.decides] == ["typical"]
    assert [how.word for how in How] == ["measured", "plate", "standard", "sheet", "claimed", "typical"]
