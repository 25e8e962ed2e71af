"""Typed figures read exactly: money, minutes, a share; one figure or a range, point or comma."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Final

from xref_app.core.economics.house_rules import MOST_DAYS, MOST_MINUTES, MOST_MONEY
from xref_app.core.economics.span import NOTHING, Span
from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.written import tidy

LIKE_MONEY: Final = "149, 149.50 or 140-160; none for nothing"
LIKE_MINUTES: Final = "70 min, 1 h 10 or 60-90"
LIKE_PERCENT: Final = "19 or 7.5 %"
LIKE_SHARE: Final = "2/3 or 66 %"
LIKE_DAYS: Final = "365"

# A bare figure below this is rather meant in hours: no pump is off and on again in four minutes. House rule.
_LEAST_BARE_MINUTES: Final = 5
_NONE_WORDS: Final = frozenset({"none", "nothing", "no"})
_NUMBER: Final = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_RANGE: Final = re.compile(r"(?P<low>.+?)\s*(?:\.\.\.?|…| to |-)\s*(?P<high>.+)")
_CLOCK: Final = re.compile(r"(?P<hours>[0-9]{1,3})(?: ?h ?|:)(?P<minutes>[0-5]?[0-9])(?: ?min)?")
_TIME: Final = re.compile(rf"(?P<number>{_NUMBER})(?: ?(?P<unit>h|hours?|min|minutes?|m))?")
_HOURS: Final = ("h", "hour", "hours")
_FRACTION: Final = re.compile(r"(?P<top>[0-9]{1,3})/(?P<bottom>[0-9]{1,3})")


def read_money(text: str, *, sign: str = "") -> Span:
    """Return what a typed amount of money can be.

    Args:
        text: As typed: ``149``, ``149.50``, ``149,50``, ``140-160``, ``none``.
        sign: The shop's own sign of money, which may stand before or after the number.

    Raises:
        MeasureError: it is no such amount, runs down, or could mean two amounts.
    """

    def one(part: str) -> Decimal:
        return _money(part, sign=tidy(sign, instead="$") if sign.strip() else "", found=text)

    plain = tidy(text, instead=LIKE_MONEY)
    if plain.casefold() in _NONE_WORDS:
        return NOTHING
    return _span(plain, one, found=text, instead=LIKE_MONEY)


def read_minutes(text: str) -> Span:
    """Return how many minutes a typed time can be: ``70``, ``70 min``, ``1 h 10``, ``1:10``, ``1.5 h``, ``60-90``.

    Raises:
        MeasureError: it is no time, or runs down.
    """
    plain = tidy(text, instead=LIKE_MINUTES).casefold()
    if plain in _NONE_WORDS:
        return NOTHING
    return _span(_with_unit_twice(plain), lambda part: _minutes(part, text), found=text, instead=LIKE_MINUTES)


def read_percent(text: str) -> Decimal:
    """Return a typed percentage from 0 to 100.

    Raises:
        MeasureError: it is none.
    """
    plain = tidy(text, instead=LIKE_PERCENT).removesuffix("%").rstrip()
    percent = _number(plain, found=text, why="is not a percentage", instead=LIKE_PERCENT)
    if percent > 100:
        raise MeasureError(text, "is more than 100 %", LIKE_PERCENT)
    return percent


def read_share(text: str) -> Fraction:
    """Return a typed share above 0 and up to 1: ``2/3``, ``66 %`` or ``66``.

    Raises:
        MeasureError: it is none.
    """
    match = _FRACTION.fullmatch(tidy(text, instead=LIKE_SHARE))
    if match is not None and int(match["bottom"]) == 0:
        raise MeasureError(text, "divides by zero", LIKE_SHARE)
    share = Fraction(int(match["top"]), int(match["bottom"])) if match else Fraction(read_percent(text)) / 100
    if not 0 < share <= 1:
        raise MeasureError(text, "is not a share of one", LIKE_SHARE)
    return share


def read_days(text: str) -> int:
    """Return a typed number of days.

    Raises:
        MeasureError: it is no whole number from 1 to ``MOST_DAYS``.
    """
    plain = tidy(text, instead=LIKE_DAYS).removesuffix("days").rstrip()
    if not (plain.isascii() and plain.isdigit() and 1 <= int(plain) <= MOST_DAYS):
        raise MeasureError(text, f"is not a number of days from 1 to {MOST_DAYS}", LIKE_DAYS)
    return int(plain)


def _span(plain: str, read: Callable[[str], Decimal], *, found: str, instead: str) -> Span:
    if plain.startswith("-"):
        raise MeasureError(found, "is below zero", instead)
    match = _RANGE.fullmatch(plain)
    if match is None:
        figure = read(plain)
        return Span(figure, figure)
    low, high = read(match["low"]), read(match["high"])
    if low > high:
        raise MeasureError(found, "runs down", f"{match['high']}-{match['low']}")
    return Span(low, high)


def _money(part: str, *, sign: str, found: str) -> Decimal:
    plain = part.removeprefix(sign).removesuffix(sign).strip() if sign else part.strip()
    money = _number(plain, found=found, why="is not an amount of money", instead=LIKE_MONEY)
    decimals = len(re.split("[.,]", plain)[1]) if re.search("[.,]", plain) else 0
    if decimals == 3:
        whole = plain.replace(".", "").replace(",", "")
        raise MeasureError(found, "can mean thousands or a part of one", f"{whole} or {money:.2f}")
    if decimals > 2:
        raise MeasureError(found, "has parts of a cent", LIKE_MONEY)
    if money > MOST_MONEY:
        raise MeasureError(found, "is more than any pump or machine costs", LIKE_MONEY)
    return money


def _minutes(part: str, found: str) -> Decimal:
    clock, time = _CLOCK.fullmatch(part), _TIME.fullmatch(part)
    if clock is not None:
        minutes = Decimal(clock["hours"]) * 60 + Decimal(clock["minutes"])
    elif time is not None:
        number = _number(time["number"], found=found, why="is not a time", instead=LIKE_MINUTES)
        if time["unit"] is None and (0 < number < _LEAST_BARE_MINUTES or number != number.to_integral_value()):
            raise MeasureError(found, "can mean minutes or hours", f"{part} min or {part} h")
        minutes = number * 60 if time["unit"] in _HOURS else number
    else:
        raise MeasureError(found, "is not a time", LIKE_MINUTES)
    if minutes > MOST_MINUTES:
        raise MeasureError(found, f"is more than {MOST_MINUTES // 60} hours", LIKE_MINUTES)
    return minutes


def _with_unit_twice(plain: str) -> str:
    """Return ``1-2 h`` as ``1 h-2 h``: one unit at the end counts for both ends."""
    match = re.fullmatch(rf"({_NUMBER})\s*(\.\.\.?|…| to |-)\s*({_NUMBER}) ?(h|hours?|min|minutes?|m)", plain)
    return f"{match[1]} {match[4]}{match[2]}{match[3]} {match[4]}" if match else plain


def _number(plain: str, *, found: str, why: str, instead: str) -> Decimal:
    if re.fullmatch(_NUMBER, plain, re.ASCII) is None:
        raise MeasureError(found, why, instead)
    return Decimal(plain.replace(",", "."))
