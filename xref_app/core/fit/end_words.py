"""Ends of hoses, ports and fittings in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from xref_app.core.model.shelf import Part
from xref_app.core.model.words import Gender
from xref_app.core.parts.joints import ReadEnd, read_part_end_or_none
from xref_app.core.quantity.couplers import Coupler
from xref_app.core.quantity.thread_table import Family
from xref_app.core.sentence import marked

NO_INSIDE_R = marked("findings", "none: R is an outside thread, so a female end is another one")


# The two halves of a plug-in coupler.
PLUG = marked("findings", "plug")
SOCKET = marked("findings", "socket")


_FORMS_WORDED: Final[Mapping[str, str]] = {
    Family.UN: " (O-ring or flare)",
    Family.UNF: " (O-ring or flare)",
    Family.UNC: " (washer or O-ring)",
    Family.G: " (cone, washer or O-ring)",
    Family.METRIC: " (cone, washer or O-ring)",
    Family.NPSM: " (cone or washer)",
}


def named_fitting(part: Part) -> str:
    """Return the name of a listed fitting, else its ends."""
    return part.name or " to ".join(ends_worded(part))


def ends_worded(part: Part) -> list[str]:
    """Return both ends of a fitting whose threads were understood, each with gender and, where it has one, seal."""
    ends = [read_part_end_or_none(end) for end in part.ends]
    return [worded_end(end) for end in ends if end is not None]


def port_for(hose: ReadEnd) -> str:
    """Return what the pump's port must be to take the hose directly: the other half of the joint."""
    if isinstance(hose.thread, Coupler):
        return f"{hose.thread.designation} {SOCKET if hose.gender is Gender.MALE else PLUG}"
    family, nominal = hose.thread.family, hose.thread.nominal
    if hose.gender is Gender.MALE:
        # ISO 7-1: the taper outside thread screws into either of the two inside ones.
        inside = f"{Family.RC}{nominal} or {Family.RP}{nominal}"
        named = inside if family is Family.R else hose.designation
        return f"{named} {Gender.FEMALE.value}{_seal_worded(hose)}"
    if family is Family.R:
        return NO_INSIDE_R
    named = f"{Family.R}{nominal}" if family in {Family.RP, Family.RC} else hose.designation
    return f"{named} {Gender.MALE.value}{_seal_worded(hose)}"


def worded_end(end: ReadEnd) -> str:
    """Return thread, gender and, where the thread comes with two, seal."""
    if isinstance(end.thread, Coupler):
        return f"{end.thread.designation} {PLUG if end.gender is Gender.MALE else SOCKET}"
    return f"{end.designation} {end.gender.value}{_seal_worded(end)}"


def _seal_worded(end: ReadEnd) -> str:
    """Return the seal in brackets where the thread comes with two; all of them, and all forms, while nobody knows."""
    if end.is_form_open:
        return _FORMS_WORDED[end.thread.family]
    if end.seals_mm:
        return f" ({' or '.join(f'{size:.0f}' for size in end.seals_mm)} mm seal)"
    return " (seal read as neither 14 nor 15 mm)" if end.is_seal_open else ""
