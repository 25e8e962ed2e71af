"""Decimal comma or point: what the columns of a list vote for, and numbers written so that they mean one thing."""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import StrEnum
from typing import Final

_FIGURES: Final = re.compile(r"(?<![\w.,])[-+]?\d*(?:[.,]\d+)+(?![\d.,])")
_GROUPED: Final = re.compile(r"[1-9]\d{0,2}([.,]|\s)\d{3}(?:\1\d{3})*")
_BY_POINTS: Final = re.compile(r"[-+]?[1-9]\d{0,2}(?:\.\d{3})+")


class Decimals(StrEnum):
    """What stands before the decimals of a number."""

    POINT = "."
    COMMA = ","
    UNTOLD = ""

    @property
    def grouping(self) -> str:
        """Return what sets off the thousands then."""
        return {".": ",", ",": ".", "": ""}[self.value]


def votes(cells: Iterable[str]) -> frozenset[str]:
    """Return the marks that stand before decimals somewhere in ``cells``.

    ``2,700`` tells nothing: it may be two and a bit, or two thousand and more. ``19,05`` and ``1.234,5`` tell.
    """
    return frozenset(vote for cell in cells for one in _FIGURES.findall(cell) if (vote := _vote(one)))


def decided(column: frozenset[str], others: frozenset[str]) -> Decimals:
    """Return what counts in a column: what all its own numbers vote for, or where none tells, all others.

    Untold where some vote one way and some the other.
    """
    counted = column or others
    return Decimals(next(iter(counted))) if len(counted) == 1 else Decimals.UNTOLD


def _vote(number: str) -> str:
    marks = [one for one in number if one in ".,"]
    if len(set(marks)) == 2:  # 1.234,5: the last one
        return marks[-1] if marks.count(marks[-1]) == 1 else ""
    if len(marks) > 1:  # 1.234.567: they set off thousands
        return Decimals(marks[0]).grouping if _GROUPED.fullmatch(number.lstrip("+-")) else ""
    return "" if _GROUPED.fullmatch(number.lstrip("+-")) else marks[0]


def plainly(text: str, decimals: Decimals) -> str:
    """Return ``text`` with its numbers written as they are meant where decimals stand behind ``decimals``.

    Thousands are not set off any more, and decimals stand behind a point. Untold, nothing is changed.
    """
    if decimals is Decimals.UNTOLD:
        return text
    return _FIGURES.sub(lambda found: _plain(found[0], decimals), text)


def is_written_with(text: str, decimals: Decimals) -> bool:
    """Say whether every number in ``text`` can be meant where decimals stand behind ``decimals``.

    ``19.05`` cannot with a decimal comma, for a point sets off three figures; ``2.700`` can. Untold, all can.
    """
    return all(_is_number_with(one.lstrip("+-"), decimals) for one in _FIGURES.findall(text))


def has_thousands_by_point(text: str) -> bool:
    """Say whether a number in ``text`` may have its thousands set off by points, and has no other mark."""
    return any(_BY_POINTS.fullmatch(one) for one in _FIGURES.findall(text))


def _is_number_with(digits: str, decimals: Decimals) -> bool:
    if decimals is Decimals.UNTOLD:
        return True
    whole, _, parts = digits.partition(decimals.value)
    is_grouped = _GROUPED.fullmatch(whole) is not None and whole[-4] == decimals.grouping
    return (is_grouped or not whole.strip("0123456789")) and not parts.strip("0123456789")


def _plain(number: str, decimals: Decimals) -> str:
    sign, digits = (number[0], number[1:]) if number[0] in "+-" else ("", number)
    if _GROUPED.fullmatch(digits) and digits[-4] == decimals.grouping:
        return sign + digits.replace(decimals.grouping, "")
    whole, mark, parts = digits.rpartition(decimals.value)
    if mark and _GROUPED.fullmatch(whole):
        whole = whole.replace(decimals.grouping, "")
    return f"{sign}{whole}.{parts}" if mark else number
