"""Plug-in couplers as people write them: quick coupler 3/8 profile A, 3/8 in quick coupler."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.written import tidy

COUPLER: Final = "coupler"
"""The kind of end that every plug-in coupler is, where a thread has its series."""

COUPLER_ADVICE: Final = "quick coupler 3/8 profile A"

# Nominal sizes that water couplers come in: common practice, no published source.
_SIZES: Final = ("1/4", "3/8", "1/2", "3/4")
_INCH = r'(?: ?(?:"|inch|in\.?))?'
_PROFILE = r"(?:,? profile (?P<profile>[a-z0-9](?:[a-z0-9 ./-]*[a-z0-9])?))?"
_WRITTEN = re.compile(
    rf"(?:(?:quick|plug[- ]in)[- ]?coupler ?(?P<last>[0-9]+/[0-9]+){_INCH}"
    rf"|(?P<first>[0-9]+/[0-9]+){_INCH} ?(?:quick|plug[- ]in)[- ]?coupler){_PROFILE}",
    re.IGNORECASE,
)
# Words for a profile that nobody knows: two such are not one profile. House rule.
_NO_PROFILE: Final = frozenset({"ANY", "N/A", "NA", "NONE", "NOT KNOWN", "OTHER", "STANDARD", "UNIVERSAL", "UNKNOWN"})


@dataclass(frozen=True, slots=True)
class Coupler:
    """One half of a plug-in coupler; the plug counts as the male end, the socket as the female.

    ``nominal`` is its size in inches (``3/8``), a name and no measure; ``profile`` the name of the shape that locks,
    empty while nobody knows it; ``designation`` the one canonical way to write both.
    """

    nominal: str
    profile: str = ""

    @property
    def family(self) -> str:
        """Return the kind of end it is, where a thread has its series."""
        return COUPLER

    @property
    def designation(self) -> str:
        """Return the one canonical way to write it."""
        size = f"quick {COUPLER} {self.nominal}"
        return f"{size} profile {self.profile}" if self.profile else size

    def locks_in(self, other: Coupler) -> bool | None:
        """Say whether a plug of one locks in a socket of the other; None while a profile is not known.

        Common practice, no published source: one size comes in several profiles, and two profiles never lock.
        """
        if self.nominal != other.nominal:
            return False
        return self.profile == other.profile if self.profile and other.profile else None


def names_coupler(text: str) -> bool:
    """Say whether ``text`` speaks of a coupler at all, be it one known here or not."""
    return COUPLER in text.casefold()


def parse_coupler(text: str) -> Coupler:
    """Return the coupler that ``text`` names.

    Raises:
        MeasureError: the text names no coupler, one of a size not known here, or a profile that is none.
    """
    match = _WRITTEN.fullmatch(tidy(text, instead=COUPLER_ADVICE))
    if match is None:
        raise MeasureError(text, "is no plug-in coupler with its size", COUPLER_ADVICE)
    size = match["last"] or match["first"]
    if size not in _SIZES:
        raise MeasureError(text, f"is no size of coupler known here: {', '.join(_SIZES)}", COUPLER_ADVICE)
    profile = (match["profile"] or "").upper()
    if profile in _NO_PROFILE:
        raise MeasureError(text, "names no profile; leave it out until it is known", f"quick {COUPLER} {size}")
    return Coupler(size, profile)
