"""How fix or replace is told: money, ranges, days, and what comes out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from PySide6.QtCore import QCoreApplication, QLocale

from xref_app.core.economics.break_even import BreakEven
from xref_app.core.economics.compare import Against, Share
from xref_app.core.economics.lines import LineKind, Way
from xref_app.core.economics.span import Span
from xref_app.core.economics.totals import LineMoney, Total
from xref_app.core.sentence import marked
from xref_app.gui.fix_chart import Bar, BarLook
from xref_app.gui.messages import say
from xref_app.gui.shelf_words import day_text
from xref_app.services.fix_or_replace import Worked
from xref_app.services.fix_plan import PlannedColumn

FROM_TO = marked("fix", "{low} to {high}")
CERTAIN = marked("fix", "Cheapest for certain: {way}, {money}.")
CERTAIN_OF_THOSE = marked("fix", "Of those compared the cheapest for certain: {way}, {money}.")
MAY_BE = marked("fix", "May be the cheapest: {ways}.")
OR = marked("fix", " or ")
WAY_MONEY = marked("fix", "{way} ({money})")
OVERLAP = marked("fix", "Their ranges overlap: the figures do not settle it.")
DOUBT = marked("fix", "In doubt: {way}. {doubt}")
ONLY_ONE = marked("fix", "Only one way has a total that counts: {way}, {money}.")
NONE_YET = marked("fix", "Nothing can be compared yet.")
LEFT_OUT = marked("fix", "Not compared: {ways}.")
NOT_KNOWN = marked("fix", "not known yet: {what}")
AND_MORE = marked("fix", "{what} and {count} more")
OLD = marked("fix", "an old price is set aside")
BREAK_EVEN = marked("fix", "At a pump price of {money} putting it on costs as much as a new machine.")
BREAK_EVEN_SPAN = marked(
    "fix",
    "Up to a pump price of {low} putting it on surely costs no more than a new machine; above {high} it surely costs "
    "more.",
)
BREAK_EVEN_NEVER = marked("fix", "Even with a pump for nothing, putting one on costs more than a new machine.")
BREAK_EVEN_OPEN = marked(
    "fix",
    "No pump price makes putting it on the cheaper way for certain; above {high} it surely costs more than a new "
    "machine.",
)
SHARE = marked("fix", "{share} % of a new machine, {against}")
AGAINST: Mapping[Against, str] = {
    Against.BELOW: marked("fix", "not above the shop's {limit}"),
    Against.ABOVE: marked("fix", "above the shop's {limit}: customers walk away"),
    Against.EITHER: marked("fix", "may be above or below the shop's {limit}"),
}
TODAY = marked("fix", "today")
LEGEND: Mapping[BarLook, str] = {
    BarLook.CHEAPEST: marked("fix", "solid: may be the cheapest"),
    BarLook.COMPARED: marked("fix", "hatched: costs more"),
    BarLook.SET_ASIDE: marked("fix", "dashed: set aside"),
}
LEGEND_LIMIT = marked("fix", "dotted line: {limit} of a new machine's price")
DATED = marked("fix", "{source}, {day}")
NO_DAY = marked("fix", "{source}, day not known")
HOLDS = marked("fix", "{source}; still holds, {day}")
ASIDE = marked("fix", "set aside: {origin}")
COMES_TO = marked("fix", "{pieces} × {each} = {all}")
WORK_COMES_TO = marked("fix", "= {all}")

_CENT = Decimal("0.01")


def said(template: str, **values: object) -> str:
    """Return ``template`` translated, with its values."""
    return str(QCoreApplication.translate("fix", template)).format(**values)


def money_text(money: Decimal, sign: str) -> str:
    """Return an amount to the cent, the shop's sign before it, after it where the sign is letters."""
    cents = money.quantize(_CENT, ROUND_HALF_UP)
    number = QLocale().toString(float(abs(cents)), "f", 2)
    minus = "−" if cents < 0 else ""
    plain = sign.strip()
    return f"{minus}{number} {plain}" if plain.isalpha() else f"{minus}{plain}{number}"


def span_text(span: Span, sign: str) -> str:
    """Return one amount, or the two ends of a range that shows as one."""
    low, high = money_text(span.low, sign), money_text(span.high, sign)
    return low if low == high else said(FROM_TO, low=low, high=high)


def total_text(total: Total, sign: str) -> str:
    """Return the total of a column, or what is missing for it."""
    if total.column.ruled_out is not None:
        return say(total.column.ruled_out).rstrip(".")
    if total.total is None:
        return said(NOT_KNOWN, what=", ".join(say(one) for one in total.unknown))
    return span_text(total.total, sign)


def origin_text(money: LineMoney, today: date, sign: str) -> str:
    """Return whose figure a line is and of which day, and what it comes to where that is not what was typed."""
    line = money.line
    source = say(line.origin.source)
    if line.origin.confirmed_on is not None:
        told = said(HOLDS, source=source, day=_day(line.origin.confirmed_on, today))
    elif line.origin.day is not None:
        told = said(DATED, source=source, day=_day(line.origin.day, today))
    elif line.amount is None or line.amount.high == 0 or line.kind is LineKind.WORK:
        told = source
    else:
        told = said(NO_DAY, source=source)
    if money.is_set_aside:
        told = said(ASIDE, origin=told)
    came_to = _comes_to(money, sign)
    return f"{came_to}  {told}" if came_to else told


def _comes_to(money: LineMoney, sign: str) -> str:
    line = money.line
    if money.money is None or line.amount is None:
        return ""
    if line.kind is LineKind.WORK:
        return said(WORK_COMES_TO, all=span_text(money.money, sign))
    if line.pieces > 1:
        each, everything = span_text(line.amount, sign), span_text(money.money, sign)
        return said(COMES_TO, pieces=line.pieces, each=each, all=everything)
    return ""


def _day(day: date, today: date) -> str:
    return str(QCoreApplication.translate("fix", TODAY)) if day == today else day_text(day.isoformat())


def result_lines(worked: Worked, sign: str) -> tuple[str, ...]:
    """Return what comes out, a sentence or two each: the cheapest, what was left out, the break-even."""
    titles = {one.way: say(one.title) for one in worked.planned}
    lines = [_cheapest(worked, titles, sign), *_doubts(worked, titles), _left_out(worked, titles)]
    if worked.comparison.break_even is not None:
        lines.append(break_even_text(worked.comparison.break_even, sign))
    return tuple(one for one in lines if one)


def _cheapest(worked: Worked, titles: Mapping[Way, str], sign: str) -> str:
    found = worked.comparison
    totals = [one for one in found.totals if one.way in found.cheapest and one.total is not None]
    told = [(titles[one.way], total_text(one, sign)) for one in totals]
    if not told:
        return said(NONE_YET)
    way, money = told[0]
    if len(found.compared) == 1:
        return said(ONLY_ONE, way=way, money=money)
    if found.is_certain:
        is_whole = all(one.is_compared or one.column.ruled_out is not None for one in found.totals)
        return said(CERTAIN if is_whole else CERTAIN_OF_THOSE, way=way, money=money)
    ways = said(OR).join(said(WAY_MONEY, way=one, money=amount) for one, amount in told)
    sentences = [said(MAY_BE, ways=ways)]
    if _any_meet([one.total for one in totals if one.total is not None]):
        sentences.append(said(OVERLAP))
    return " ".join(sentences)


def _doubts(worked: Worked, titles: Mapping[Way, str]) -> list[str]:
    """Return what keeps a way that may be the cheapest from being it for certain."""
    found = worked.comparison
    doubted = [one for one in found.totals if one.way in found.cheapest and not one.is_sure]
    return [said(DOUBT, way=titles[one.way], doubt=say(one.column.doubts[0])) for one in doubted]


def _any_meet(spans: Sequence[Span]) -> bool:
    return any(one.meets(other) for place, one in enumerate(spans) for other in spans[place + 1 :])


def _left_out(worked: Worked, titles: Mapping[Way, str]) -> str:
    found = worked.comparison
    out = [one for one in found.totals if not one.is_compared] if found.compared else []
    told = [said(WAY_MONEY, way=titles[one.way], money=_why_left_out(one)) for one in out]
    return said(LEFT_OUT, ways="; ".join(told)) if told else ""


def short_total_text(total: Total, sign: str) -> str:
    """Return the total of a column, or in a few words why there is none."""
    return _why_left_out(total) if total.total is None else span_text(total.total, sign)


def _why_left_out(total: Total) -> str:
    if total.column.ruled_out is not None:
        return say(total.column.ruled_out).rstrip(".")
    if not total.unknown:
        return said(OLD)
    first, more = say(total.unknown[0]), len(total.unknown) - 1
    return said(NOT_KNOWN, what=said(AND_MORE, what=first, count=more) if more else first)


def break_even_text(found: BreakEven, sign: str) -> str:
    """Return at which price of the pump the two ways cost the same."""
    low, high = money_text(found.low, sign), money_text(found.high, sign)
    if found.high < 0:
        return said(BREAK_EVEN_NEVER)
    if found.low < 0:
        return said(BREAK_EVEN_OPEN, high=high)
    if found.high - found.low <= _CENT:
        return said(BREAK_EVEN, money=low)
    return said(BREAK_EVEN_SPAN, low=low, high=high)


def share_text(share: Share, limit: Fraction) -> str:
    """Return one way's share of a new machine's price against the shop's rule."""
    low, high = percent_text(share.low), percent_text(share.high)
    both = low if low == high else said(FROM_TO, low=low, high=high)
    against = said(AGAINST[share.against], limit=limit_text(limit))
    return said(SHARE, share=both, against=against)


def percent_text(share: Fraction) -> str:
    """Return a share in whole per cent."""
    return QLocale().toString(round(share * 100))


def legend_text(bars: Sequence[Bar], limit: Fraction, *, has_limit: bool) -> str:
    """Return what the patterns of the bars that are drawn stand for."""
    looks = {one.look for one in bars}
    told = [said(words) for look, words in LEGEND.items() if look in looks]
    if has_limit:
        told.append(said(LEGEND_LIMIT, limit=limit_text(limit)))
    return "; ".join(told)


def limit_text(limit: Fraction) -> str:
    """Return the shop's rule as a fraction where it is a plain one, else in per cent."""
    return f"{limit.numerator}/{limit.denominator}" if limit.denominator <= 10 else f"{percent_text(limit)} %"


def state_text(planned: PlannedColumn, *, is_ticked: bool) -> str:
    """Return what speaks against one way, one line each."""
    doubts = planned.doubts if is_ticked else (*planned.open_state, *planned.doubts)
    return "\n".join(say(one) for one in doubts)
