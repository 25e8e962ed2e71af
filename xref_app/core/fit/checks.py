"""The list of checks, in the order they are shown. Adding a check touches its own module and this list."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from xref_app.core.fit.bolts import BOLTS, judge_bolts
from xref_app.core.fit.bore import BORE, judge_bore
from xref_app.core.fit.built_in import CARRIED_OVER, COMFORTS, judge_carried_over, judge_comforts
from xref_app.core.fit.drive import AXIS, DRIVE, judge_axis, judge_drive
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.finding import Finding, Outcome
from xref_app.core.fit.identity import IDENTITY, judge_identity
from xref_app.core.fit.key import KEY, judge_key
from xref_app.core.fit.key_load import KEY_LOAD, judge_key_load
from xref_app.core.fit.nozzle import NOZZLE, judge_nozzle
from xref_app.core.fit.pattern import PATTERN, judge_pattern
from xref_app.core.fit.pilot import PILOT, judge_pilot
from xref_app.core.fit.power import POWER, judge_power
from xref_app.core.fit.pressure import PRESSURE, judge_pressure
from xref_app.core.fit.question import Question
from xref_app.core.fit.reach import REACH, judge_reach
from xref_app.core.fit.room import OIL, ROOM, judge_oil, judge_room
from xref_app.core.fit.seat import SEAT, judge_seat
from xref_app.core.fit.speed import SPEED, TURN, judge_speed, judge_turn
from xref_app.core.fit.stack_needs import needs_of_stacks, unlisted_hole_notes
from xref_app.core.fit.supply import SUPPLY, judge_supply
from xref_app.core.fit.water_joints import INLET, OUTLET, judge_inlet, judge_outlet
from xref_app.core.fit.way_out import WAY_OUT, judge_way_out
from xref_app.core.model.case import Case
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Shelf


@dataclass(frozen=True, slots=True)
class Check:
    """A question and the pure function that answers it, given what is put between the faces."""

    question: Question
    run: Callable[[Case, FaceParts], Finding]


def _alone(judge: Callable[[Case], Finding]) -> Callable[[Case, FaceParts], Finding]:
    return lambda case, _parts: judge(case)


def _sides(judge: Callable[[Machine, Pump, Shelf], Finding]) -> Callable[[Case, FaceParts], Finding]:
    return lambda case, _parts: judge(case.machine, case.pump, case.shelf)


def _faces(judge: Callable[[Machine, Pump, FaceParts], Finding]) -> Callable[[Case, FaceParts], Finding]:
    def run(case: Case, parts: FaceParts) -> Finding:
        found = judge(case.machine, case.pump, parts)
        if not parts.has_stacks or found.outcome > Outcome.BY_PARTS:
            return found
        bare = judge(case.machine, case.pump, parts.without_stacks)
        return found if bare.outcome <= Outcome.BY_PARTS else _with_stacks(found, case, parts)

    return run


def _with_stacks(found: Finding, case: Case, parts: FaceParts) -> Finding:
    """Return a finding that holds only with what lies under the bolts as 'by parts', those pieces among its needs."""
    pieces = needs_of_stacks(case.machine, case.pump, parts)
    missing = tuple(need for need in pieces if need not in found.needs)
    notes = (*found.notes, *unlisted_hole_notes(case.machine, parts))
    return replace(found, outcome=Outcome.BY_PARTS, needs=(*found.needs, *missing), notes=notes)


CHECKS: tuple[Check, ...] = (
    Check(IDENTITY, _alone(judge_identity)),
    Check(AXIS, _sides(judge_axis)),
    Check(DRIVE, _sides(judge_drive)),
    Check(BORE, _sides(judge_bore)),
    Check(KEY, _sides(judge_key)),
    Check(KEY_LOAD, _faces(judge_key_load)),
    Check(REACH, _faces(judge_reach)),
    Check(PATTERN, _faces(judge_pattern)),
    Check(PILOT, _faces(judge_pilot)),
    Check(SEAT, _faces(judge_seat)),
    Check(BOLTS, _faces(judge_bolts)),
    Check(INLET, _sides(judge_inlet)),
    Check(OUTLET, _sides(judge_outlet)),
    Check(WAY_OUT, _faces(judge_way_out)),
    Check(SPEED, _sides(judge_speed)),
    Check(PRESSURE, _sides(judge_pressure)),
    Check(POWER, _sides(judge_power)),
    Check(NOZZLE, _sides(judge_nozzle)),
    Check(SUPPLY, _sides(judge_supply)),
    Check(CARRIED_OVER, _alone(lambda case: judge_carried_over(case.old_has, case.pump, case.shelf))),
    Check(COMFORTS, _alone(lambda case: judge_comforts(case.old_has, case.pump.has, case.shelf))),
    Check(TURN, _sides(judge_turn)),
    Check(OIL, _sides(judge_oil)),
    Check(ROOM, _sides(judge_room)),
)
