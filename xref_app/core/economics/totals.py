"""What one column comes to, and why it comes to nothing where a figure is not known yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from xref_app.core.economics.lines import Column, Line, LineKind, ShopRules, Way
from xref_app.core.economics.span import NOTHING, Span, sum_of
from xref_app.core.sentence import Sentence, marked

MINUTES_IN_HOUR = 60

PRICE_OF = marked("findings", "price of {what}")
HOURLY_RATE = marked("findings", "what an hour of work costs")
TAX = marked("findings", "the tax")


@dataclass(frozen=True, slots=True)
class LineMoney:
    """A line and what it comes to, before tax; a trade-in is told as what is taken off. None: not known yet."""

    line: Line
    money: Span | None
    is_set_aside: bool = False


@dataclass(frozen=True, slots=True)
class Total:
    """One column worked out.

    ``total`` is None while anything is in ``unknown`` or the way is ruled out. ``is_set_aside`` says that a price is
    too old, or of no known day: the total is shown and not compared.
    """

    column: Column
    lines: tuple[LineMoney, ...]
    unknown: tuple[Sentence, ...]
    tax: Span | None
    total: Span | None

    @property
    def way(self) -> Way:
        """Return which way it is."""
        return self.column.way

    @property
    def is_set_aside(self) -> bool:
        """Say whether a price has to be confirmed before the total counts."""
        return any(one.is_set_aside for one in self.lines)

    @property
    def is_compared(self) -> bool:
        """Say whether the total counts."""
        return self.total is not None and not self.is_set_aside

    @property
    def is_sure(self) -> bool:
        """Say whether nothing speaks against the way itself."""
        return not self.column.doubts


def total_of(column: Column, rules: ShopRules, *, today: date) -> Total:
    """Return what ``column`` comes to: parts and work with tax, less the trade-in."""
    lines = tuple(_line_money(one, rules, today) for one in column.lines)
    unknown = _unknown(column.lines, rules)
    if unknown or column.ruled_out is not None or rules.tax_percent is None:
        return Total(column, lines, unknown, None, None)
    taxed = sum_of([one.money or NOTHING for one in lines if one.line.kind is not LineKind.TRADE_IN])
    taken_off = sum_of([one.money or NOTHING for one in lines if one.line.kind is LineKind.TRADE_IN])
    tax = taxed.times(rules.tax_percent / 100)
    return Total(column, lines, unknown, tax, taxed + tax - taken_off)


def is_old(line: Line, rules: ShopRules, *, today: date) -> bool:
    """Say whether a price is older than the shop's limit, or of no known day, and nobody confirmed it since.

    A day that lies ahead is no known day: one of the two clocks was wrong. Minutes have no price and do not age.
    """
    if line.kind is LineKind.WORK or line.amount is None or line.amount == NOTHING:
        return False
    days = [one for one in (line.origin.day, line.origin.confirmed_on) if one is not None and one <= today]
    return not days or (today - max(days)).days > rules.price_age_limit_days


def work_money(minutes: Span, rate_per_hour: Span) -> Span:
    """Return what ``minutes`` cost at ``rate_per_hour``."""
    hour = Decimal(MINUTES_IN_HOUR)
    return Span(minutes.low * rate_per_hour.low / hour, minutes.high * rate_per_hour.high / hour)


def _line_money(line: Line, rules: ShopRules, today: date) -> LineMoney:
    aside = is_old(line, rules, today=today)
    if line.amount is None:
        return LineMoney(line, None, aside)
    if line.kind is not LineKind.WORK:
        return LineMoney(line, line.amount.times(line.pieces), aside)
    if line.amount == NOTHING:
        return LineMoney(line, NOTHING, aside)
    rate = rules.rate_per_hour
    return LineMoney(line, None if rate is None else work_money(line.amount, rate), aside)


def _unknown(lines: Sequence[Line], rules: ShopRules) -> tuple[Sentence, ...]:
    missing = [_asked(one) for one in lines if one.amount is None]
    works = any(one.kind is LineKind.WORK and one.amount not in (None, NOTHING) for one in lines)
    if works and rules.rate_per_hour is None:
        missing.append(Sentence(HOURLY_RATE))
    if rules.tax_percent is None:
        missing.append(Sentence(TAX))
    return tuple(missing)


def _asked(line: Line) -> Sentence:
    is_price = line.kind not in (LineKind.WORK, LineKind.TRADE_IN)
    return Sentence(PRICE_OF, {"what": line.what}) if is_price else line.what
