"""The turns at which the pump's holes meet the bolts: those that surely work, and those that possibly do."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from xref_app.core.fields.fields import field_for
from xref_app.core.fit.bolt_joint import is_through
from xref_app.core.fit.bolt_size import bolt_or_none
from xref_app.core.fit.bore import most_play_mm
from xref_app.core.fit.geometry import Turn, turns_that_meet
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.quantity.range import Range
from xref_app.core.standards.fits import floating_fastener_offset_mm


@cache
def _most_play_mm() -> float:
    """Return the play the bore check allows at the largest bore the catalog may hold, mm.

    The pump hangs on the shaft: it can never be shifted further off its centre than half of it while it still fits.
    """
    largest = field_for("bore_diameter_mm").maximum
    if largest is None:
        raise ValueError("sizes.schema.json gives bore_diameter_mm no maximum")
    return most_play_mm(largest)


@dataclass(frozen=True, slots=True)
class FaceTurns:
    """Turns of the pump on the face.

    At each of ``sure`` every bolt passes whatever the true sizes are within their doubts, with the pump centred on the
    shaft. Outside ``possible`` no bolt pattern passes whatever they are, even with the pump shifted by all the play the
    bore allows. ``offset_mm`` is how far off a bolt may be from its hole's centre, without any doubt of position.
    """

    sure: tuple[Turn, ...]
    possible: tuple[Turn, ...]
    offset_mm: Range
    position_doubt_mm: float


def face_turns_or_none(machine: Machine, pump: Pump) -> FaceTurns | None:
    """Return the turns that work, or None while a pattern, a hole or the bolt is not known.

    A bolt passes while it is no further than (hole - bolt)/2 from the hole's centre, once for each face it passes
    through freely (floating and fixed fastener, ASME Y14.5). Each coordinate of each side carries its doubt, so two
    positions are uncertain by √2 times the sum of the doubts.
    """
    face, flange = machine.face, pump.flange
    offset = allowed_offset_mm(machine, pump)
    if face.holes_xy_mm is None or flange.holes_xy_mm is None or offset is None:
        return None
    doubt = math.sqrt(2) * (face.holes_xy_mm.doubt_mm + flange.holes_xy_mm.doubt_mm)
    bolts, holes = face.holes_xy_mm.holes, flange.holes_xy_mm.holes
    return FaceTurns(
        sure=turns_that_meet(bolts, holes, reach_mm=offset.low - doubt),
        possible=turns_that_meet(bolts, holes, reach_mm=offset.high + doubt + _most_play_mm() / 2),
        offset_mm=offset,
        position_doubt_mm=doubt,
    )


def allowed_offset_mm(machine: Machine, pump: Pump) -> Range | None:
    """Return how far a bolt may sit from the centre of its pump hole, mm; None while hole, bolt or kind is unknown."""
    face, hole = machine.face, pump.flange.hole_mm
    bolt = bolt_or_none(machine)
    if hole is None or bolt is None:
        return None
    free = _offset_mm(hole.range, bolt.major_mm)
    if is_through(machine):
        if face.hole_mm is None:
            return None
        free = free + _offset_mm(face.hole_mm.range, bolt.major_mm)
    return free


def _offset_mm(hole: Range, bolt: Range) -> Range:
    """Return how far a bolt may sit from its hole's centre, mm, over all holes and bolts in the ranges."""
    return Range(floating_fastener_offset_mm(hole.low, bolt.high), floating_fastener_offset_mm(hole.high, bolt.low))
