"""Columns for the tests: the job of the hand-worked table, and columns with figures of the caller's choosing."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from xref_app.core.economics.lines import Column, Line, LineKind, Origin, ShopRules, Way
from xref_app.core.economics.span import NOTHING, Span, exactly
from xref_app.core.sentence import Sentence

TODAY = date(2026, 11, 25)
RULES = ShopRules(rate_per_hour=exactly(60), tax_percent=Decimal(8))


def span(low: str, high: str | None = None) -> Span:
    return Span(Decimal(low), Decimal(high or low))


def line(
    kind: LineKind,
    amount: Span | None,
    *,
    what: str = "part",
    pieces: int = 1,
    day: date | None = TODAY,
    confirmed_on: date | None = None,
) -> Line:
    origin = Origin(day, Sentence("made up"), confirmed_on)
    return Line(f"{kind}_{what}", kind, Sentence(what), amount, origin, pieces)


def column(way: Way, *lines: Line, doubts: tuple[str, ...] = ()) -> Column:
    return Column(way, lines, tuple(Sentence(one) for one in doubts))


def worked_columns() -> tuple[Column, ...]:
    """Return the four columns whose arithmetic is written out in ``test_table_by_hand``."""
    part, work, trade_in = LineKind.PART, LineKind.WORK, LineKind.TRADE_IN
    spacers = line(part, span("1.20"), what="spacers", pieces=4)
    plate = line(part, span("14"), what="plate")
    return (
        column(
            Way.KEEP,
            line(part, span("24", "30"), what="seal kit"),
            line(part, span("12"), what="valve kit"),
            line(part, NOTHING, what="other parts"),
            line(work, span("70"), what="work"),
        ),
        column(
            Way.PUT_ON,
            line(LineKind.PUMP, span("149"), what="pump"),
            spacers,
            plate,
            line(work, span("25"), what="work"),
            line(trade_in, span("10"), what="core"),
        ),
        column(
            Way.USED,
            line(LineKind.PUMP, span("60", "70"), what="used pump"),
            spacers,
            plate,
            line(work, span("25"), what="work"),
        ),
        column(
            Way.NEW,
            line(LineKind.MACHINE, span("399"), what="machine"),
            line(work, span("10"), what="setting up"),
            line(trade_in, span("30"), what="old machine"),
        ),
    )
