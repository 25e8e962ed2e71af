"""Whatever the figures: a wider input never narrows a total, and the totals cross where the break-even says."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from tests.core.economics.columns import TODAY, column, line
from xref_app.core.economics.compare import compare
from xref_app.core.economics.lines import Column, Line, LineKind, ShopRules, Way
from xref_app.core.economics.span import Span
from xref_app.core.economics.totals import total_of

_FIGURES = st.decimals(min_value=0, max_value=5000, places=2, allow_nan=False)
_TAXES = st.decimals(min_value=0, max_value=30, places=1, allow_nan=False)
_CENT = Decimal("0.01")
# Decimal keeps 28 digits; what the last of them is worth here.
_DUST = Decimal("1e-18")


@st.composite
def spans(draw: st.DrawFn) -> Span:
    low, high = sorted((draw(_FIGURES), draw(_FIGURES)))
    return Span(low, high)


@st.composite
def lines(draw: st.DrawFn, *kinds: LineKind) -> Line:
    return line(draw(st.sampled_from(kinds)), draw(spans()), pieces=draw(st.integers(1, 8)))


REST = st.lists(lines(LineKind.PART, LineKind.WORK, LineKind.TRADE_IN), max_size=5)


@st.composite
def rules(draw: st.DrawFn) -> ShopRules:
    return ShopRules(rate_per_hour=draw(spans()), tax_percent=draw(_TAXES))


def put_on(pump: Span, rest: list[Line], pumps: int = 1) -> Column:
    return column(Way.PUT_ON, line(LineKind.PUMP, pump, pieces=pumps), *rest)


def worked(one: Column, shop: ShopRules) -> Span:
    total = total_of(one, shop, today=TODAY).total
    assert total is not None
    return total


def wider(span: Span, by: tuple[Decimal, Decimal]) -> Span:
    return Span(max(span.low - by[0], Decimal(0)), span.high + by[1])


@given(rest=REST, shop=rules(), by=st.tuples(_FIGURES, _FIGURES), data=st.data())
def test_a_wider_figure_never_narrows_a_total(
    rest: list[Line], shop: ShopRules, by: tuple[Decimal, Decimal], data: st.DataObject
) -> None:
    one = put_on(data.draw(spans()), rest)
    place = data.draw(st.integers(0, len(one.lines) - 1))
    amount = one.lines[place].amount
    assert amount is not None
    widened = replace(one.lines[place], amount=wider(amount, by))
    changed = replace(one, lines=(*one.lines[:place], widened, *one.lines[place + 1 :]))
    assert worked(changed, shop).holds(worked(one, shop))
    assert shop.rate_per_hour is not None
    assert worked(one, replace(shop, rate_per_hour=wider(shop.rate_per_hour, by))).holds(worked(one, shop))


@given(rest=REST, shop=rules(), pump=spans(), data=st.data())
def test_any_figure_within_the_ranges_comes_to_a_total_within_the_total(
    rest: list[Line], shop: ShopRules, pump: Span, data: st.DataObject
) -> None:
    one = put_on(pump, rest)

    def picked(span: Span | None) -> Span:
        assert span is not None
        figure = span.low + (span.high - span.low) * Decimal(data.draw(st.integers(0, 8))) / 8
        return Span(figure, figure)

    exact = replace(one, lines=tuple(replace(each, amount=picked(each.amount)) for each in one.lines))
    rate = picked(shop.rate_per_hour)
    found, bounds = worked(exact, replace(shop, rate_per_hour=rate)), worked(one, shop)
    assert bounds.low - _DUST <= found.low <= found.high <= bounds.high + _DUST


@given(rest=REST, shop=rules(), machine=spans(), new_rest=REST, pumps=st.integers(1, 2))
def test_the_totals_cross_at_the_break_even(
    rest: list[Line], shop: ShopRules, machine: Span, new_rest: list[Line], pumps: int
) -> None:
    new = column(Way.NEW, line(LineKind.MACHINE, machine), *new_rest)
    found = compare((put_on(machine, rest, pumps), new), shop, today=TODAY).break_even
    assert found is not None
    assert found.low <= found.high
    new_total = worked(new, shop)

    def fix_at(price: Decimal) -> Span:
        return worked(put_on(Span(price, price), rest, pumps), shop)

    # Up to the low end the dearest fix costs no more than the cheapest machine; one cent more, and it does.
    assert fix_at(found.low).high <= new_total.low + _DUST
    assert fix_at(found.low + _CENT).high >= new_total.low - _DUST
    # At the high end the cheapest fix costs at least as much as the dearest machine; one cent less, and it does not.
    assert fix_at(found.high).low >= new_total.high - _DUST
    assert fix_at(found.high - _CENT).low <= new_total.high + _DUST


@given(keep=spans(), put=spans(), new=spans(), doubted=st.booleans(), data=st.data())
def test_the_cheapest_for_certain_is_the_cheapest_whatever_the_true_figures(
    keep: Span, put: Span, new: Span, doubted: bool, data: st.DataObject
) -> None:
    columns = (
        column(Way.KEEP, line(LineKind.PART, keep), doubts=("worn?",) if doubted else ()),
        column(Way.PUT_ON, line(LineKind.PUMP, put)),
        column(Way.NEW, line(LineKind.MACHINE, new)),
    )
    found = compare(columns, ShopRules(), today=TODAY)
    ends = {Way.KEEP: keep, Way.PUT_ON: put, Way.NEW: new}
    true = {way: data.draw(st.sampled_from((one.low, one.high))) for way, one in ends.items()}
    works = [way for way in true if way is not Way.KEEP or not doubted or data.draw(st.booleans())]
    cheapest = min(works, key=lambda way: true[way])
    assert cheapest in found.cheapest or true[cheapest] in {true[way] for way in found.cheapest}
    if found.is_certain:
        assert found.cheapest == (cheapest,)
