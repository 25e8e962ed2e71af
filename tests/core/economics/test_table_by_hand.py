"""The totals of one job, worked by hand on paper first; the arithmetic stands beside each figure."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from tests.core.economics.columns import RULES, TODAY, column, line, span, worked_columns
from xref_app.core.economics.break_even import BreakEven
from xref_app.core.economics.compare import Against, Comparison, compare
from xref_app.core.economics.lines import Column, LineKind, ShopRules, Way
from xref_app.core.economics.span import NOTHING, Span


def compared(*columns: Column, rules: ShopRules = RULES) -> Comparison:
    return compare(columns or worked_columns(), rules, today=TODAY)


def total_of(comparison: Comparison, way: Way) -> Span:
    found = comparison.total(way)
    assert found is not None
    assert found.total is not None
    return found.total


@pytest.mark.parametrize(
    ("way", "low", "high"),
    [
        # 24 to 30 + 12 + 0 + 70 min at 60 an hour (70) = 106 to 112; times 1.08 = 114.48 to 120.96
        (Way.KEEP, "114.48", "120.96"),
        # 149 + 4 x 1.20 (4.80) + 14 + 25 min (25) = 192.80; times 1.08 = 208.224; less 10 = 198.224
        (Way.PUT_ON, "198.224", "198.224"),
        # 60 to 70 + 4.80 + 14 + 25 = 103.80 to 113.80; times 1.08 = 112.104 to 122.904
        (Way.USED, "112.104", "122.904"),
        # 399 + 10 min (10) = 409; times 1.08 = 441.72; less 30 = 411.72
        (Way.NEW, "411.72", "411.72"),
    ],
)
def test_each_total_is_the_one_worked_by_hand(way: Way, low: str, high: str) -> None:
    assert total_of(compared(), way) == span(low, high)


def test_ranges_that_overlap_leave_both_perhaps_the_cheapest() -> None:
    # 112.104 to 122.904 and 114.48 to 120.96 overlap; 198.224 and 411.72 lie above both.
    found = compared()
    assert found.cheapest == (Way.KEEP, Way.USED)
    assert not found.is_certain


def test_equal_totals_leave_both_perhaps_the_cheapest() -> None:
    new = column(Way.NEW, line(LineKind.MACHINE, span("50")))
    keep = column(Way.KEEP, line(LineKind.PART, span("40", "50")))
    assert compared(keep, new).cheapest == (Way.KEEP, Way.NEW)


def test_one_range_below_all_others_is_the_cheapest_for_certain() -> None:
    keep, put_on, _, new = worked_columns()
    found = compared(keep, put_on, new)
    assert found.cheapest == (Way.KEEP,)
    assert found.is_certain


def test_a_way_in_doubt_is_never_the_cheapest_for_certain_and_beats_nobody() -> None:
    keep, put_on, _, new = worked_columns()
    doubted = replace(keep, doubts=column(Way.KEEP, doubts=("seats not looked at",)).doubts)
    found = compared(doubted, put_on, new)
    # Should the seats be worn, the substitute at 198.224 is the cheapest; the new machine at 411.72 never is.
    assert found.cheapest == (Way.KEEP, Way.PUT_ON)
    assert not found.is_certain


def test_one_way_alone_is_not_the_cheapest_for_certain() -> None:
    assert not compared(worked_columns()[0]).is_certain


def test_a_way_that_is_ruled_out_has_no_total() -> None:
    keep, put_on, _, new = worked_columns()
    found = compared(keep, replace(put_on, ruled_out=put_on.lines[0].what), new)
    total = found.total(Way.PUT_ON)
    assert total is not None
    assert total.total is None
    assert found.compared == (Way.KEEP, Way.NEW)
    assert found.break_even is None


def test_the_break_even_is_the_one_worked_by_hand() -> None:
    # (p + 4.80 + 14 + 25) x 1.08 - 10 = 411.72, so p = 421.72 / 1.08 - 43.80 = 390.4888... - 43.80 = 346.6888...
    assert compared().break_even == BreakEven(Decimal("346.68"), Decimal("346.69"))


def test_the_break_even_can_lie_below_a_pump_for_nothing() -> None:
    _, put_on, _, _ = worked_columns()
    # 27.78 x 1.08 = 30.0024; (p + 43.80) x 1.08 - 10 = 30.0024, so p = 40.0024 / 1.08 - 43.80 = 37.0392... - 43.80
    # = -6.7607...
    cheap = column(Way.NEW, line(LineKind.MACHINE, span("27.78")))
    assert compared(put_on, cheap).break_even == BreakEven(Decimal("-6.77"), Decimal("-6.76"))


def test_shares_are_of_the_new_machine_with_its_tax() -> None:
    # 399 x 1.08 = 430.92; 114.48 / 430.92 = 0.2656..., 198.224 / 430.92 = 0.4600...
    shares = {one.way: one for one in compared().shares}
    assert shares[Way.KEEP].low == Fraction(11448, 43092)
    assert shares[Way.PUT_ON].high == Fraction(198224, 430920)
    assert {one.against for one in shares.values()} == {Against.BELOW}
    assert Way.NEW not in shares


@pytest.mark.parametrize(
    ("part", "against"),
    [
        # Two thirds of 300 are 200.
        (span("150", "200"), Against.BELOW),
        (span("200", "200.01"), Against.EITHER),
        (span("200.01", "250"), Against.ABOVE),
    ],
)
def test_a_share_is_held_against_two_thirds_exactly(part: Span, against: Against) -> None:
    rules = ShopRules()
    keep = column(Way.KEEP, line(LineKind.PART, part))
    found = compared(keep, column(Way.NEW, line(LineKind.MACHINE, span("300"))), rules=rules)
    assert [one.against for one in found.shares] == [against]


def test_what_is_not_known_is_named_and_is_not_zero() -> None:
    keep, put_on, _, new = worked_columns()
    lacking = replace(keep, lines=(line(LineKind.PART, None, what="seal kit"), *keep.lines[1:]))
    found = compared(lacking, put_on, new)
    total = found.total(Way.KEEP)
    assert total is not None
    assert total.total is None
    assert [str(one) for one in total.unknown] == ["price of seal kit"]
    assert found.compared == (Way.PUT_ON, Way.NEW)
    # The same with nothing to pay for it has a total.
    none = replace(keep, lines=(line(LineKind.PART, NOTHING, what="seal kit"), *keep.lines[1:]))
    # 12 + 70 = 82; times 1.08 = 88.56
    assert total_of(compared(none, put_on, new), Way.KEEP) == span("88.56")


def test_work_without_an_hourly_rate_is_not_known() -> None:
    found = compared(rules=replace(RULES, rate_per_hour=None))
    assert found.compared == ()
    assert [str(one) for total in found.totals for one in total.unknown] == ["what an hour of work costs"] * 4


def test_without_the_tax_nothing_is_known() -> None:
    found = compared(rules=replace(RULES, tax_percent=None))
    assert found.compared == ()
    assert [str(one) for total in found.totals for one in total.unknown] == ["the tax"] * 4
    assert (found.shares, found.break_even) == ((), None)


def test_no_work_needs_no_hourly_rate() -> None:
    new = column(Way.NEW, line(LineKind.MACHINE, span("300")), line(LineKind.WORK, NOTHING))
    assert total_of(compared(new, rules=ShopRules()), Way.NEW) == span("300")


@pytest.mark.parametrize(
    ("day", "confirmed_on", "is_set_aside"),
    [
        (TODAY - timedelta(days=365), None, False),
        (TODAY - timedelta(days=366), None, True),
        (TODAY - timedelta(days=3000), TODAY, False),
        (TODAY - timedelta(days=3000), TODAY - timedelta(days=366), True),
        (None, None, True),
        (None, TODAY, False),
        # A day that lies ahead: one of two clocks was wrong, so of no known day.
        (TODAY + timedelta(days=1), None, True),
        (date(1980, 1, 1), TODAY, False),
    ],
)
def test_an_old_price_is_set_aside_until_confirmed(
    day: date | None, confirmed_on: date | None, *, is_set_aside: bool
) -> None:
    keep, put_on, _, new = worked_columns()
    old = line(LineKind.PART, span("1"), day=day, confirmed_on=confirmed_on)
    found = compared(replace(keep, lines=(old,)), put_on, new)
    total = found.total(Way.KEEP)
    assert total is not None
    assert total.is_set_aside is is_set_aside
    # Its total is shown all the same: 1 x 1.08 = 1.08.
    assert total.total == span("1.08")
    assert found.cheapest == ((Way.PUT_ON,) if is_set_aside else (Way.KEEP,))
    assert (Way.KEEP in {one.way for one in found.shares}) is not is_set_aside


def test_the_limit_on_age_is_the_shop_s() -> None:
    keep, put_on, _, _ = worked_columns()
    old = replace(keep, lines=(line(LineKind.PART, span("1"), day=TODAY - timedelta(days=31)),))
    assert compared(old, put_on).cheapest == (Way.KEEP,)
    assert compared(old, put_on, rules=replace(RULES, price_age_limit_days=30)).cheapest == (Way.PUT_ON,)


def test_an_old_price_of_the_new_machine_gives_no_break_even_and_no_share() -> None:
    keep, put_on, _, new = worked_columns()
    old = replace(new, lines=(line(LineKind.MACHINE, span("399"), day=None), *new.lines[1:]))
    found = compared(keep, put_on, old)
    assert found.break_even is None
    assert found.shares == ()


def test_the_pump_s_own_price_may_be_unknown_or_old_for_the_break_even() -> None:
    keep, put_on, used, new = worked_columns()
    worked = compared().break_even
    for pump in (line(LineKind.PUMP, None), line(LineKind.PUMP, span("9"), day=None)):
        assert compared(keep, replace(put_on, lines=(pump, *put_on.lines[1:])), used, new).break_even == worked


@pytest.mark.parametrize("place", [1, 2, 3, 4])
def test_any_other_figure_that_is_not_known_leaves_no_break_even(place: int) -> None:
    _, put_on, _, new = worked_columns()
    lacking = [replace(one, amount=None) if number == place else one for number, one in enumerate(put_on.lines)]
    found = compared(replace(put_on, lines=tuple(lacking)), new)
    assert found.break_even is None
    total = found.total(Way.PUT_ON)
    assert total is not None
    assert total.lines[place].money is None
