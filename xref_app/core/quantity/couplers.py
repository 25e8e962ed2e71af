"""Plug-in couplers as people write them: quick coupler 3/8, 3/8 in quick coupler."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.written import tidy

COUPLER: Final = "coupler"
"""The kind of end that every plug-in coupler is, where a thread has its series."""

COUPLER_ADVICE: Final = "quick coupler 3/8"

# Nominal sizes that water couplers come in: common practice, no published source.
_SIZES: Final = ("1/4", "3/8", "1/2", "3/4")
_INCH = r'(?: ?(?:"|inch|in\.?))?'
_WRITTEN = re.compile(
    rf"(?:quick|plug[- ]in)[- ]?coupler ?(?P<last>[0-9]+/[0-9]+){_INCH}"
    rf"|(?P<first>[0-9]+/[0-9]+){_INCH} ?(?:quick|plug[- ]in)[- ]?coupler",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Coupler:
    """One half of a plug-in coupler; the plug counts as the male end, the socket as the female.

    ``nominal`` is its size in inches (``3/8``), a name and no measure; ``designation`` the one canonical way to write
    it.
    """

    nominal: str

    @property
    def family(self) -> str:
        """Return the kind of end it is, where a thread has its series."""
        return COUPLER

    @property
    def designation(self) -> str:
        """Return the one canonical way to write it."""
        return f"quick {COUPLER} {self.nominal}"


def names_coupler(text: str) -> bool:
    """Say whether ``text`` speaks of a coupler at all, be it one known here or not."""
    return COUPLER in text.casefold()


def parse_coupler(text: str) -> Coupler:
    """Return the coupler that ``text`` names.

    Raises:
        MeasureError: the text names no coupler, or one of a size not known here.
    """
    match = _WRITTEN.fullmatch(tidy(text, instead=COUPLER_ADVICE))
    if match is None:
        raise MeasureError(text, "is no plug-in coupler with its size", COUPLER_ADVICE)
    size = match["last"] or match["first"]
    if size not in _SIZES:
        raise MeasureError(text, f"is no size of coupler known here: {', '.join(_SIZES)}", COUPLER_ADVICE)
    return Coupler(size)
