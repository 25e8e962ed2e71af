"""Do the bolts meet the holes at some turn of the pump?"""

from __future__ import annotations

import math
from dataclasses import replace

from xref_app.core.fit.bolt_joint import is_through
from xref_app.core.fit.bolt_size import bolt_or_none, no_such_bolt
from xref_app.core.fit.face_parts import FaceParts, NoPlate
from xref_app.core.fit.face_turns import FaceTurns, face_turns_or_none
from xref_app.core.fit.finding import Finding, Outcome
from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.house_rules import LEAST_BOLTS
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.show import mm
from xref_app.core.fit.spacing import bolts_used
from xref_app.core.model.known import Pattern
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

PATTERN = Question("pattern", "bolt holes", "floating fastener, ASME Y14.5; turns solved exactly")

MEETS = marked("findings", "All {bolts} bolts pass with the pump turned {turns}.")
MISSES = marked(
    "findings",
    "At no turn of the pump do its holes meet the bolts: circle {ours} against {theirs} mm.",
)
PLATE_REFUSED = marked("findings", "{misses} An adapter plate: {why}")
TOO_FEW = marked(
    "findings",
    "Only {bolts} bolts would hold the pump; faces with different numbers of holes need at least {least}.",
)
HOLE_SMALL = marked("findings", "The bolt is {bolt:.2f} mm thick and does not go through a {hole:.2f} mm hole.")
PATTERN_UNSURE = marked(
    "findings",
    "The holes may meet the bolts: by these readings a bolt can be {doubt:.2f} mm out of place and "
    "{free:.2f} mm are free.",
)
CHANGE_COUNT = marked("findings", "A pump with as many holes as the engine has.")
CHANGE_HOLE = marked("findings", "A pump whose holes let a {bolt:.2f} mm bolt through.")
CHANGE_PATTERN = marked("findings", "A pump with a {ours} mm bolt circle and {count} holes in the engine's spacing.")


def judge_pattern(machine: Machine, pump: Pump, parts: FaceParts) -> Finding:
    """Judge whether a turn of the pump exists at which every bolt passes its hole.

    With an adapter plate ``machine`` is the one with the plate on; where the pump goes on that, it is by parts.
    """
    found = _pattern(machine, pump)
    if found.outcome is Outcome.FAIL and parts.no_plate is not None:
        return _without_plate(found, parts.no_plate)
    if parts.plate is None or found.outcome is not Outcome.PASS:
        return found
    plate = parts.plate
    return replace(
        found,
        outcome=Outcome.BY_PARTS,
        reason=plate.reason,
        needs=plate.needs,
        notes=plate.notes,
        used=(*found.used, *plate.used),
    )


def _without_plate(found: Finding, no_plate: NoPlate) -> Finding:
    """Return a misfit with the reason why no adapter plate bridges it; open where a reading may still allow one."""
    reason = Sentence(PLATE_REFUSED, {"misses": found.reason, "why": no_plate.reason})
    found = replace(found, reason=reason, notes=(*found.notes, *no_plate.notes))
    if no_plate.measure:
        return replace(found, outcome=Outcome.UNKNOWN, measure=no_plate.measure, change=None)
    return found


def _pattern(machine: Machine, pump: Pump) -> Finding:
    readings = _readings(machine, pump)
    face, flange = machine.face, pump.flange
    if face.holes_xy_mm is None or flange.holes_xy_mm is None or any(value is None for _, value in readings):
        return PATTERN.lacks(readings)
    turns = face_turns_or_none(machine, pump)
    if turns is None:
        return PATTERN.unsure(no_such_bolt(machine), readings, ("face_bolt",))
    bolts = bolts_used(machine, pump)
    if too_few_bolts(machine, pump):
        return PATTERN.fails(Sentence(TOO_FEW, {"bolts": bolts, "least": LEAST_BOLTS}), readings, change=CHANGE_COUNT)
    return _judge(turns, face.holes_xy_mm, flange.holes_xy_mm, _Told(machine, pump, readings, bolts))


def too_few_bolts(machine: Machine, pump: Pump) -> bool:
    """Say whether too few bolts would hold the pump on a face with another number of holes; False while not known."""
    ours, theirs = machine.face.holes_xy_mm, pump.flange.holes_xy_mm
    if ours is None or theirs is None:
        return False
    return len(ours.holes) != len(theirs.holes) and bolts_used(machine, pump) < LEAST_BOLTS


class _Told:
    """What the reasons need besides the turns."""

    def __init__(self, machine: Machine, pump: Pump, readings: tuple[Reading, ...], bolts: int) -> None:
        self.readings = readings
        self.bolts = bolts
        bolt = bolt_or_none(machine)
        self.bolt_mm = bolt.major_mm if bolt else Range.exactly(0.0)
        self.hole_mm = pump.flange.hole_mm.range if pump.flange.hole_mm else Range.exactly(0.0)


def _judge(turns: FaceTurns, ours: Pattern, theirs: Pattern, told: _Told) -> Finding:
    circles = Answer(_circle(ours), _circle(theirs))
    if turns.sure:
        shown = replace(circles, gap=mm(Range.exactly(turns.offset_mm.low - turns.position_doubt_mm)))
        values = {"bolts": told.bolts, "turns": worded_turns(turns.sure)}
        return PATTERN.passes(Sentence(MEETS, values), told.readings, shown)
    if told.hole_mm.high < told.bolt_mm.low:
        values = {"bolt": told.bolt_mm.high, "hole": told.hole_mm.middle}
        return PATTERN.fails(Sentence(HOLE_SMALL, values), told.readings, circles, change=CHANGE_HOLE)
    if not turns.possible:
        values = {"ours": _worded_circle(ours), "theirs": _worded_circle(theirs)}
        change = Sentence(CHANGE_PATTERN, {"ours": _worded_circle(ours), "count": len(ours.holes)})
        return replace(PATTERN.fails(Sentence(MISSES, values), told.readings, circles), change=change)
    values = {"doubt": turns.position_doubt_mm, "free": max(turns.offset_mm.low, 0.0)}
    measure = ("flange_holes_xy_mm", "face_holes_xy_mm", "flange_hole_mm")
    return PATTERN.unsure(Sentence(PATTERN_UNSURE, values), told.readings, measure, circles)


def worded_turns(turns: tuple[Turn, ...]) -> str:
    """Return the turns in words: whole degrees, in order, '0°' for as drawn."""
    degrees = sorted({round(math.degrees(turn.middle)) % 360 for turn in turns})
    return ", ".join(f"{degree}°" for degree in degrees)


def _radii(pattern: Pattern) -> list[float]:
    return [math.hypot(hole.x_mm, hole.y_mm) for hole in pattern.holes]


def _circle(pattern: Pattern) -> str:
    return f"{len(pattern.holes)} on {_worded_circle(pattern)} mm"


def _worded_circle(pattern: Pattern) -> str:
    low, high = 2 * min(_radii(pattern)), 2 * max(_radii(pattern))
    return f"{low:.1f}" if high - low < 0.1 else f"{low:.1f} to {high:.1f}"


def _readings(machine: Machine, pump: Pump) -> tuple[Reading, ...]:
    face, flange = machine.face, pump.flange
    ours: tuple[Reading, ...] = (("face_holes_xy_mm", face.holes_xy_mm), ("face_bolt", face.bolt))
    free: tuple[Reading, ...] = (("face_hole_mm", face.hole_mm),) if is_through(machine) else ()
    theirs: tuple[Reading, ...] = (("flange_holes_xy_mm", flange.holes_xy_mm), ("flange_hole_mm", flange.hole_mm))
    return (*ours, *free, *theirs)
