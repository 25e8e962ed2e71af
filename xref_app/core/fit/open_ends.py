"""What to find out about an end before anything may go on it: its profile, its form, its seal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from xref_app.core.parts.joints import ReadEnd
from xref_app.core.quantity.seal_forms import TWO_SEALS_THREAD
from xref_app.core.quantity.thread_table import Family
from xref_app.core.sentence import Sentence, marked

PROFILE_UNKNOWN = marked(
    "findings",
    "{end} comes in several profiles, and a plug locks only in a socket of its own; find out the profile and "
    "write it like {end} profile A.",
)
FORM_UNKNOWN = marked(
    "findings",
    "{end} comes with a flare of 37 or 45 degrees and as an O-ring port: they screw together, and only like ones seal. "
    "Look at the end and write it like {end} O-ring or {end} flare 37.",
)
PIPE_FORM_UNKNOWN = marked(
    "findings",
    "{end} comes with a cone of 60 degrees, a washer under its shoulder or in its nut, and as an O-ring port: they "
    "screw together, and only like ones seal. Look at the end and write it like {end} cone 60, {end} flat shoulder, "
    "{end} flat end or {end} O-ring.",
)
METRIC_FORM_UNKNOWN = marked(
    "findings",
    "{end} comes with a cone of 24 degrees (light or heavy) or 60, with a washer under its shoulder or in its nut, and "
    "as an O-ring port: they screw together, and only like ones seal. Look at it and write it like {end} cone 24 L, "
    "{end} cone 60, {end} flat shoulder, {end} flat end or {end} O-ring.",
)
SWIVEL_FORM_UNKNOWN = marked(
    "findings",
    "{end} comes with a cone of 60 degrees and with a washer in its nut: they screw together, and only like ones seal. "
    "Look at the end and write it like {end} cone 60 or {end} flat end.",
)
BOLT_FORM_UNKNOWN = marked(
    "findings",
    "{end} comes with a washer under its shoulder and as an O-ring port: they screw together, and only like ones seal. "
    "Look at the end and write it like {end} flat shoulder or {end} O-ring.",
)
SEAL_UNKNOWN = marked("findings", "{thread} comes with a 14 mm and a 15 mm seal; measure which one each end has.")

_FORM_UNKNOWN: Final[Mapping[str, str]] = {
    Family.UN: FORM_UNKNOWN,
    Family.UNF: FORM_UNKNOWN,
    Family.UNC: BOLT_FORM_UNKNOWN,
    Family.G: PIPE_FORM_UNKNOWN,
    Family.METRIC: METRIC_FORM_UNKNOWN,
    Family.NPSM: SWIVEL_FORM_UNKNOWN,
}


def seal_question() -> Sentence:
    """Return that the seal of the thread that comes with two has to be measured."""
    return Sentence(SEAL_UNKNOWN, {"thread": TWO_SEALS_THREAD})


def look_question_or_none(ends: tuple[ReadEnd, ReadEnd]) -> tuple[Sentence, tuple[bool, bool]] | None:
    """Return what has to be looked at, and at which of the two ends; None where neither profile nor form is open."""
    open_profiles = (ends[0].is_profile_open, ends[1].is_profile_open)
    open_ones = open_profiles if any(open_profiles) else (ends[0].is_form_open, ends[1].is_form_open)
    if not any(open_ones):
        return None
    first = ends[0] if open_ones[0] else ends[1]
    template = PROFILE_UNKNOWN if first.is_profile_open else _FORM_UNKNOWN[first.thread.family]
    return Sentence(template, {"end": first.thread.designation}), open_ones
