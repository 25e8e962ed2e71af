"""How the end of a parallel thread seals, written behind it: 9/16-18 UNF flare 37, G3/8 cone 60, M18x1.5 cone 24 L.

One thread comes in several forms that screw together and do not seal (that they screw together: common practice, no
published source; the standards' numbers are from memory):

- straight inch threads: a flare of 37° (SAE J514), one of 45° (SAE J512), an O-ring port (SAE J1926-1, ISO 11926-1);
- metric threads: a cone of 24° (ISO 8434-1, DIN 2353), whose light and heavy series share threads on tubes of two
  sizes, a cone of 60° (DIN 3863), a washer under the shoulder (ISO 9974), a washer in the nut, an O-ring port
  (ISO 6149);
- G: a cone of 60° (ISO 8434-6), a washer or ring under the shoulder (ISO 1179), a washer in the nut, an O-ring port;
- NPSM: a cone of 60° (SAE J514) and a washer in the nut; UNC: a washer under the shoulder and an O-ring port.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import StrEnum
from functools import lru_cache
from typing import Final

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.metric_threads import ADVICE
from xref_app.core.quantity.thread_table import Family
from xref_app.core.quantity.threads import Thread, parse_thread
from xref_app.core.quantity.written import tidy


class SealForm(StrEnum):
    """What makes the joint tight: ``FLAT_SHOULDER`` a washer on the mouth of the port, ``FLAT_END`` one in the nut."""

    O_RING = "O-ring"
    FLARE_37 = "flare 37"
    FLARE_45 = "flare 45"
    CONE_60 = "cone 60"
    CONE_24_LIGHT = "cone 24 L"
    CONE_24_HEAVY = "cone 24 S"
    FLAT_SHOULDER = "flat shoulder"
    FLAT_END = "flat end"


_INCH: Final = (SealForm.O_RING, SealForm.FLARE_37, SealForm.FLARE_45)
_PIPE: Final = (SealForm.CONE_60, SealForm.FLAT_SHOULDER, SealForm.FLAT_END, SealForm.O_RING)
FORMS_OF: Final[Mapping[Family, tuple[SealForm, ...]]] = {
    Family.UN: _INCH,
    Family.UNF: _INCH,
    Family.UNC: (SealForm.FLAT_SHOULDER, SealForm.O_RING),
    Family.G: _PIPE,
    Family.METRIC: (*_PIPE, SealForm.CONE_24_LIGHT, SealForm.CONE_24_HEAVY),
    Family.NPSM: (SealForm.CONE_60, SealForm.FLAT_END),
}
"""The families whose water ends come in several forms, the commonest first, and which; every other has one."""

TWO_SEALS_THREAD: Final = "M22x1.5"
"""The thread that, with no form behind it, is the screw coupling of a pressure hose with its plug of 14 or 15 mm.

Common practice, no published source.
"""

_WRITTEN = re.compile(
    r"(?P<thread>.*?)[ ,]+(?:with |for )?(?:(?P<ring>o[- ]?ring(?: (?:port|boss))?|orb)|(?P<jic>jic)"
    r"|(?P<first>24|37|45|60)? ?°? ?(?P<cone>cone|flared?) ?(?P<last>24|37|45|60)? ?°?(?: ?(?P<series>[ls]))?"
    r"|flat(?: (?:face|seat|washer))?(?: ?(?:at the |in the |under the )?(?P<washer>end|nut|shoulder|collar))?)",
    re.IGNORECASE,
)
_ROUND: Final = {
    ("37", ""): SealForm.FLARE_37,
    ("45", ""): SealForm.FLARE_45,
    ("60", ""): SealForm.CONE_60,
    ("24", "L"): SealForm.CONE_24_LIGHT,
    ("24", "S"): SealForm.CONE_24_HEAVY,
}
_WASHERS: Final = {
    "end": SealForm.FLAT_END,
    "nut": SealForm.FLAT_END,
    "shoulder": SealForm.FLAT_SHOULDER,
    "collar": SealForm.FLAT_SHOULDER,
}


def takes_form(thread: Thread) -> bool:
    """Say whether nothing can be joined to a water end of this thread before somebody said how it seals."""
    return thread.family in FORMS_OF and thread.designation != TWO_SEALS_THREAD


def _split(text: str) -> tuple[str, SealForm | None]:
    """Return the thread's own words and the form named behind them; None where none is."""
    match = _WRITTEN.fullmatch(tidy(text, instead=ADVICE))
    if match is None:
        return text, None
    if match["ring"]:
        return match["thread"], SealForm.O_RING
    if match["jic"]:
        return match["thread"], SealForm.FLARE_37
    return match["thread"], _angled(text, match) if match["cone"] else _flat(text, match)


def _angled(text: str, match: re.Match[str]) -> SealForm:
    """Return the flare or the cone; its angle may stand before or behind it, its series behind."""
    thread, angle, series = match["thread"], match["first"] or match["last"], (match["series"] or "").upper()
    if angle is None and match["cone"].casefold().startswith("flare"):
        raise MeasureError(text, "names a flare without its angle, 37 or 45 degrees", f"{thread} flare 37")
    if angle is None or (match["first"] and match["last"]):
        raise MeasureError(text, "names a cone without its one angle: 24, 37, 45 or 60 degrees", f"{thread} cone 60")
    if angle == "24" and not series:
        wanted = "names a cone of 24 degrees without its series, L (light) or S (heavy)"
        raise MeasureError(text, wanted, f"{thread} cone 24 L")
    form = _ROUND.get((angle, series))
    if form is None:
        raise MeasureError(text, f"names a series that a cone of {angle} degrees has not", f"{thread} cone {angle}")
    return form


def _flat(text: str, match: re.Match[str]) -> SealForm:
    if match["washer"] is None:
        wanted = "names a flat face without saying where its washer lies, under the shoulder or at the end in the nut"
        raise MeasureError(text, wanted, f"{match['thread']} flat shoulder or {match['thread']} flat end")
    return _WASHERS[match["washer"].casefold()]


# The judge reads the same few ends again for every engine and pump.
@lru_cache(maxsize=4096)
def parse_end(text: str) -> tuple[Thread, SealForm | None]:
    """Return the thread of a water end and how it seals; None while nobody said, or where its thread has one way only.

    Raises:
        MeasureError: the text is no thread, names a flare or cone without its angle, a form its thread does not come
            in, or an O-ring on the thread of the screw coupling.
    """
    words, form = _split(text)
    thread = parse_thread(words)
    if form is SealForm.O_RING and thread.designation == TWO_SEALS_THREAD:
        # The plug of the screw coupling has an O-ring as well, and 14 mm does not seal on 15.
        found = "may be the screw coupling, whose plug has an O-ring of its own: measure the plug, 14 or 15 mm"
        raise MeasureError(text, found, thread.designation)
    if form is not None and form not in FORMS_OF.get(thread.family, ()):
        families = [family for family, forms in FORMS_OF.items() if form in forms]
        raise MeasureError(
            text, f"names a form that only {_listed(families)} ends come in", _advice(thread, families[0])
        )
    return thread, form


def _listed(families: list[Family]) -> str:
    *others, last = families
    return f"{', '.join(others)} and {last}" if others else last


def _advice(thread: Thread, family: Family) -> str:
    forms = FORMS_OF.get(thread.family)
    return f"{thread.designation} {forms[0]}" if forms else f"{thread.designation}, or {_EXAMPLES[family]}"


_EXAMPLES: Final = {
    Family.UN: "9/16-18 UNF O-ring",
    Family.UNC: "G3/8 flat shoulder",
    Family.G: "G3/8 cone 60",
    Family.METRIC: "M18x1.5 cone 24 L",
}


def end_designation(text: str) -> str:
    """Return the one canonical way to write a water end.

    Raises:
        MeasureError: as ``parse_end``.
    """
    thread, form = parse_end(text)
    return thread.designation if form is None else f"{thread.designation} {form}"
