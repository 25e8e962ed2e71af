"""One way out of a broken pump, as a column of figures: what each is for, how much, of which day, and who says so."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from xref_app.core.economics.house_rules import PRICE_AGE_LIMIT_DAYS, SHARE_OF_NEW, TAX_PERCENT
from xref_app.core.economics.span import Span
from xref_app.core.sentence import Sentence


class Way(StrEnum):
    """What can be done, in the order of the columns."""

    KEEP = "keep the old pump"
    PUT_ON = "put the substitute on"
    USED = "put a used pump on"
    NEW = "buy a new machine"


class LineKind(StrEnum):
    """What a figure is for. ``PUMP`` and ``MACHINE`` are the prices that the break-even and the share are told of."""

    PUMP = "pump"
    MACHINE = "machine"
    PART = "part"
    WORK = "work"
    TRADE_IN = "trade-in"


@dataclass(frozen=True, slots=True)
class Origin:
    """Of which day a figure is and who says so; ``day`` None stands for 'not known of when'.

    ``confirmed_on`` is the day on which somebody said that it still holds.
    """

    day: date | None
    source: Sentence
    confirmed_on: date | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """One figure of a column.

    ``amount`` is the price of one piece, before tax; minutes for work; what is taken off for a trade-in; never below
    zero. None stands for 'not known yet', which is not zero.
    """

    key: str
    kind: LineKind
    what: Sentence
    amount: Span | None
    origin: Origin
    pieces: int = 1


@dataclass(frozen=True, slots=True)
class Column:
    """One way with its lines.

    ``doubts`` are reasons why it may not work out at all: such a way is never the cheapest for certain.
    ``ruled_out`` says why it cannot be done; then it is not compared.
    """

    way: Way
    lines: tuple[Line, ...]
    doubts: tuple[Sentence, ...] = ()
    ruled_out: Sentence | None = None


@dataclass(frozen=True, slots=True)
class ShopRules:
    """What the shop says once for all jobs; a rate or a tax of None stands for 'not known yet'.

    Tax is added to parts and work and not to what is taken off for a trade-in (house rule: where the law taxes the
    difference instead, the tax typed is the shop's to choose).
    """

    rate_per_hour: Span | None = None
    tax_percent: Decimal | None = Decimal(TAX_PERCENT)
    share_of_new: Fraction = SHARE_OF_NEW
    price_age_limit_days: int = PRICE_AGE_LIMIT_DAYS
