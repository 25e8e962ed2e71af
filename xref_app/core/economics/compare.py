"""Which ways are the cheapest: for certain, or perhaps; overlapping ranges are told and never settled by a guess."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from xref_app.core.economics.break_even import BreakEven, break_even
from xref_app.core.economics.lines import Column, LineKind, ShopRules, Way
from xref_app.core.economics.totals import Total, total_of


class Against(StrEnum):
    """How a share stands to the shop's limit."""

    BELOW = "below"
    ABOVE = "above"
    EITHER = "either"


@dataclass(frozen=True, slots=True)
class Share:
    """What share of a new machine's price, with tax, one way takes: from ``low`` to ``high``, 1 is all of it."""

    way: Way
    low: Fraction
    high: Fraction
    against: Against


@dataclass(frozen=True, slots=True)
class Comparison:
    """All columns worked out.

    ``cheapest`` are the ways that may be the cheapest of those ``compared``; ``is_certain`` says that it is one, that
    every other one surely costs more, and that nothing speaks against it.
    """

    totals: tuple[Total, ...]
    compared: tuple[Way, ...]
    cheapest: tuple[Way, ...]
    is_certain: bool
    shares: tuple[Share, ...]
    break_even: BreakEven | None

    def total(self, way: Way) -> Total | None:
        """Return one column; None where it is not there."""
        return next((one for one in self.totals if one.way is way), None)


def compare(columns: Sequence[Column], rules: ShopRules, *, today: date) -> Comparison:
    """Return what the columns come to and how they stand to one another.

    Args:
        columns: n ≥ 0 ways, each once.
        rules: What the shop says for all jobs.
        today: The day from which the age of a price is counted.
    """
    totals = tuple(total_of(one, rules, today=today) for one in columns)
    counted = tuple(one for one in totals if one.is_compared)
    cheapest = tuple(one for one in counted if not _is_surely_beaten(one, counted))
    # One way left over of several is in no doubt itself: only a way in no doubt beats another.
    certain = len(counted) > 1 and len(cheapest) == 1
    by_way = {one.way: one for one in totals}
    return Comparison(
        totals=totals,
        compared=tuple(one.way for one in counted),
        cheapest=tuple(one.way for one in cheapest),
        is_certain=certain,
        shares=_shares(counted, rules),
        break_even=break_even(by_way.get(Way.PUT_ON), by_way.get(Way.NEW), rules, today=today),
    )


def _is_surely_beaten(total: Total, others: Sequence[Total]) -> bool:
    """Say whether a way that surely works costs less, whatever the true figures are."""
    mine = total.total
    return any(
        one.is_sure and one.total is not None and mine is not None and one.total.high < mine.low for one in others
    )


def _shares(counted: Sequence[Total], rules: ShopRules) -> tuple[Share, ...]:
    new = next((one for one in counted if one.way is Way.NEW), None)
    machine = None if new is None else next((one for one in new.lines if one.line.kind is LineKind.MACHINE), None)
    if machine is None or machine.money is None or machine.money.low <= 0:
        return ()
    if rules.tax_percent is None:
        return ()
    with_tax = 1 + Fraction(rules.tax_percent) / 100
    low, high = Fraction(machine.money.low) * with_tax, Fraction(machine.money.high) * with_tax
    return tuple(
        _share(one.way, _at_least_nothing(one.total.low) / high, _at_least_nothing(one.total.high) / low, rules)
        for one in counted
        if one.way is not Way.NEW and one.total is not None
    )


def _at_least_nothing(money: Decimal) -> Fraction:
    return max(Fraction(money), Fraction(0))


def _share(way: Way, low: Fraction, high: Fraction, rules: ShopRules) -> Share:
    if high <= rules.share_of_new:
        return Share(way, low, high, Against.BELOW)
    return Share(way, low, high, Against.ABOVE if low > rules.share_of_new else Against.EITHER)
