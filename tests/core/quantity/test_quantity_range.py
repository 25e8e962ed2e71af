"""Interval arithmetic: what comes of any members lies in the result, and its ends are reached."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from xref_app.core.quantity.range import Range, hull

NUMBERS = st.integers(-1000, 1000).map(float)
RANGES = st.tuples(NUMBERS, NUMBERS).map(lambda ends: Range(min(ends), max(ends)))
SHARES = st.floats(0, 1)


def member(values: Range, share: float) -> float:
    """Return the value that lies the given share of the way from low to high."""
    return min(values.low + share * (values.high - values.low), values.high)


@given(RANGES, RANGES, SHARES, SHARES)
def test_results_hold_the_result_of_any_members(one: Range, two: Range, share: float, other: float) -> None:
    a, b = member(one, share), member(two, other)
    assert Range.exactly(a + b).within(one + two)
    assert Range.exactly(a - b).within(one - two)
    assert Range.exactly(-a).within(-one)
    assert Range.exactly(a * b).within(one * two)
    assert Range.exactly(a).within(hull([one, two]))


@given(RANGES, RANGES, SHARES, SHARES)
def test_quotient_holds_the_quotient_of_any_members(one: Range, two: Range, share: float, other: float) -> None:
    assume(two.low > 0 or two.high < 0)
    assert Range.exactly(member(one, share) / member(two, other)).within(one / two)


@given(RANGES, RANGES)
def test_limits_are_tight(one: Range, two: Range) -> None:
    corners = [a * b for a in (one.low, one.high) for b in (two.low, two.high)]
    assert (one * two) == Range(min(corners), max(corners))
    assert (one + two) == Range(one.low + two.low, one.high + two.high)
    assert (one - two) == Range(one.low - two.high, one.high - two.low)


@given(RANGES, RANGES)
def test_overlap_lies_in_both_or_is_none(one: Range, two: Range) -> None:
    overlap = one.overlap_or_none(two)
    if overlap is None:
        assert one.surely_above(two.high) or one.surely_below(two.low)
    else:
        assert overlap.within(one)
        assert overlap.within(two)


@given(RANGES, NUMBERS)
def test_a_range_is_surely_on_one_side_or_holds_the_limit(values: Range, limit: float) -> None:
    assert values.surely_above(limit) is (values.low > limit)
    assert values.surely_below(limit) is (values.high < limit)
    assert values.surely_at_least(limit) is (values.low >= limit)
    assert values.surely_at_most(limit) is (values.high <= limit)


@given(NUMBERS, st.integers(0, 50).map(float))
def test_middle_and_doubt_are_what_it_was_made_of(value: float, doubt: float) -> None:
    values = Range.around(value, doubt)
    assert (values.middle, values.doubt) == (value, doubt)
    assert values + 1.0 == Range.around(value + 1, doubt)


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(ValueError, match="holds nothing"):
        Range(2, 1)
    with pytest.raises(ValueError, match="holds nothing"):
        Range(float("nan"), 1)
    with pytest.raises(ZeroDivisionError, match="holds zero"):
        Range(1, 2) / Range(-1, 1)
