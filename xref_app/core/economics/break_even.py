"""The price of the pump at which putting it on costs as much as a new machine."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from xref_app.core.economics.lines import LineKind, ShopRules
from xref_app.core.economics.span import NOTHING, Span, sum_of
from xref_app.core.economics.totals import LineMoney, Total, is_old

_CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class BreakEven:
    """Up to ``low`` putting the pump on surely costs no more than a new machine, above ``high`` it surely costs more.

    Per pump, before tax, to the cent, rounded so that both hold. Below zero: not even a pump for nothing.
    """

    low: Decimal
    high: Decimal


def break_even(put_on: Total | None, new: Total | None, rules: ShopRules, *, today: date) -> BreakEven | None:
    """Return where the two totals cross, whatever the pump costs now; None while any other figure is not known.

    The totals: (p + other parts + work) × (1 + tax) − trade-in = new. Both are ranges, so two prices answer: the one
    where the dearest fix meets the cheapest machine, and the one where the cheapest fix meets the dearest.
    A rate typed as a range counts on both sides by itself, so the two lie no closer than they are.
    """
    if put_on is None or put_on.column.ruled_out is not None or rules.tax_percent is None:
        return None
    if new is None or new.total is None or new.is_set_aside:
        return None
    pumps = [one for one in put_on.lines if one.line.kind is LineKind.PUMP]
    rest = [one for one in put_on.lines if one.line.kind is not LineKind.PUMP]
    if len(pumps) != 1 or any(one.money is None or is_old(one.line, rules, today=today) for one in rest):
        return None
    other, taken_off = _sum(rest, is_trade_in=False), _sum(rest, is_trade_in=True)
    with_tax = 1 + rules.tax_percent / 100
    pieces = pumps[0].line.pieces
    low = ((new.total.low + taken_off.low) / with_tax - other.high) / pieces
    high = ((new.total.high + taken_off.high) / with_tax - other.low) / pieces
    return BreakEven(low.quantize(_CENT, ROUND_FLOOR), high.quantize(_CENT, ROUND_CEILING))


def _sum(lines: list[LineMoney], *, is_trade_in: bool) -> Span:
    return sum_of([one.money or NOTHING for one in lines if (one.line.kind is LineKind.TRADE_IN) == is_trade_in])
