"""Numbers as people write them: 19, .750, 19,05, 7/8, 1 1/4, 1-1/4."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from xref_app.core.quantity.errors import MeasureError

_NUMERAL = re.compile(
    r"(?:(?P<whole>[0-9]+)[ -](?=[0-9]+/[0-9]))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
    r"|(?P<digits>[0-9]*)(?P<mark>[.,])(?P<decimals>[0-9]+)"
    r"|(?P<integer>[0-9]+)"
)


@dataclass(frozen=True, slots=True)
class Numeral:
    """A number not below zero, exactly as written.

    ``step`` is the worth of its last digit (of one part, for a fraction); ``bottom`` is the number under the bar
    (1 where there is no bar). ``grouping_mark`` is the separator where it could as well set off thousands: one to
    three digits that do not begin with 0, the mark, then exactly three digits. Empty where nothing else can be meant.
    """

    value: Fraction
    step: Fraction
    bottom: int = 1
    grouping_mark: str = ""

    @property
    def is_whole(self) -> bool:
        """Say whether neither a separator nor a bar was written."""
        return self.bottom == 1 and self.step == 1


def split_numeral(plain: str, *, found: str, instead: str) -> tuple[Numeral, str] | None:
    """Return the number at the start of ``plain`` and what follows it, or None where none stands there.

    Args:
        plain: A text that ``tidy`` returned.
        found: The same text as typed, for the sentence of a refusal.
        instead: How such a text is written, likewise.

    Raises:
        MeasureError: a fraction that is not below one (11/4 may be 1 1/4 with its space lost), or over zero.
    """
    match = _NUMERAL.match(plain)
    if match is None:
        return None
    rest = plain[match.end() :]
    if match["bottom"] is not None:
        return _fraction(match, found=found, instead=instead), rest
    if match["decimals"] is not None:
        return _decimal(match["digits"], match["mark"], match["decimals"]), rest
    return Numeral(Fraction(match["integer"]), Fraction(1)), rest


def _fraction(match: re.Match[str], *, found: str, instead: str) -> Numeral:
    top, bottom = int(match["top"]), int(match["bottom"])
    if bottom == 0:
        raise MeasureError(found, "divides by zero", instead)
    if top >= bottom:
        raise MeasureError(found, f"has {top}/{bottom}, which is not a part of one: a space may be lost", instead)
    return Numeral(int(match["whole"] or 0) + Fraction(top, bottom), Fraction(1, bottom), bottom)


def _decimal(digits: str, mark: str, decimals: str) -> Numeral:
    could_group = 1 <= len(digits) <= 3 and not digits.startswith("0") and len(decimals) == 3
    value = Fraction(f"{digits or '0'}.{decimals}")
    return Numeral(value, Fraction(1, 10 ** len(decimals)), grouping_mark=mark if could_group else "")
