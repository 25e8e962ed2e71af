"""How the end of a straight inch thread seals, written behind it: 9/16-18 UNF O-ring, 9/16-18 UNF flare 37.

One thread comes in several forms that screw together and do not seal: a flare of 37° (SAE J514), one of 45° (SAE J512)
and an O-ring port (SAE J1926-1, ISO 11926-1); the standards' numbers are from memory. That they screw together: common
practice, no published source.
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import Final

from xref_app.core.quantity.errors import MeasureError
from xref_app.core.quantity.metric_threads import ADVICE
from xref_app.core.quantity.thread_table import Family
from xref_app.core.quantity.threads import Thread, parse_thread
from xref_app.core.quantity.written import tidy

SEVERAL_FORMS: Final = frozenset({Family.UN, Family.UNF})
"""The families whose water ends come in several forms."""

FORM_ADVICE: Final = "9/16-18 UNF O-ring"


class SealForm(StrEnum):
    """What makes the joint tight."""

    O_RING = "O-ring"
    FLARE_37 = "flare 37"
    FLARE_45 = "flare 45"


_WRITTEN = re.compile(
    r"(?P<thread>.*?)[ ,]+(?:with |for )?(?:(?P<ring>o[- ]?ring(?: (?:port|boss))?|orb)"
    r"|(?P<first>37|45)? ?°? ?(?:cone|flared?) ?(?P<last>37|45)? ?°?|(?P<jic>jic))",
    re.IGNORECASE,
)
_FLARES: Final = {"37": SealForm.FLARE_37, "45": SealForm.FLARE_45}


def _split(text: str) -> tuple[str, SealForm | None]:
    """Return the thread's own words and the form named behind them; None where none is."""
    match = _WRITTEN.fullmatch(tidy(text, instead=ADVICE))
    if match is None:
        return text, None
    if match["ring"]:
        return match["thread"], SealForm.O_RING
    angle = "37" if match["jic"] else match["first"] or match["last"]
    if angle is None:
        raise MeasureError(text, "names a flare without its angle, 37 or 45 degrees", f"{match['thread']} flare 37")
    return match["thread"], _FLARES[angle]


def parse_end(text: str) -> tuple[Thread, SealForm | None]:
    """Return the thread of a water end and how it seals; None while nobody said, or where its thread has one way only.

    Raises:
        MeasureError: the text is no thread, names a flare without its angle, or a form its thread does not come in.
    """
    words, form = _split(text)
    thread = parse_thread(words)
    if form is not None and thread.family not in SEVERAL_FORMS:
        families = " and ".join(sorted(SEVERAL_FORMS))
        raise MeasureError(text, f"names a form that only {families} ends come in", FORM_ADVICE)
    return thread, form


def end_designation(text: str) -> str:
    """Return the one canonical way to write a water end.

    Raises:
        MeasureError: as ``parse_end``.
    """
    thread, form = parse_end(text)
    return thread.designation if form is None else f"{thread.designation} {form}"
