"""Plugs that nobody lists, to find the tees that would join two ends if only their further end could be closed."""

from __future__ import annotations

from math import inf

from xref_app.core.model.shelf import Part, PartEnd, Shelf
from xref_app.core.model.words import Gender, PartKind
from xref_app.core.parts.house_rules import MOST_FITTINGS
from xref_app.core.parts.joints import ReadEnd, read_part_end_or_none
from xref_app.core.quantity.thread_table import Family


def with_missing_plugs(shelf: Shelf) -> Shelf:
    """Return the shelf with one plug, of any strength and to order, for every end of a fitting with three or more."""
    tees = [part for part in shelf if part.kind is PartKind.FITTING and len(part.ends) > 2]
    ends = {end for part in tees for end in map(read_part_end_or_none, part.ends) if end is not None}
    return (
        *shelf,
        *(_plug_for(end) for end in sorted(ends, key=lambda one: (one.designation, one.gender, one.seals_mm))),
    )


def is_missing(plug: Part) -> bool:
    """Say whether a piece is none of the shelf but one that ``with_missing_plugs`` made up."""
    return plug.rating_bar == inf


def _plug_for(end: ReadEnd) -> Part:
    """Return a plug for ``end``; one whose seal, profile or form is open closes nothing, nor does a piece with it."""
    gender = Gender.FEMALE if end.gender is Gender.MALE else Gender.MALE
    seal = end.seals_mm[0] if len(end.seals_mm) == 1 else None
    closing = PartEnd(_thread_for(end), gender, seal)
    return Part(PartKind.FITTING, count=MOST_FITTINGS, ends=(closing,), rating_bar=inf, max_c=inf, to_order=True)


def _thread_for(end: ReadEnd) -> str:
    """Return the thread that goes with that of ``end``: its own, but ISO 7-1 has other names inside than outside."""
    if end.thread.family == Family.R:
        return f"{Family.RC}{end.thread.nominal}"
    if end.thread.family in {Family.RP, Family.RC}:
        return f"{Family.R}{end.thread.nominal}"
    return end.designation
