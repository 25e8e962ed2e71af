"""Are the bolts long enough to hold, and short enough not to bottom?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref_app.core.fit.bolt_joint import BoltJoint, bolt_joint_or_none, is_through
from xref_app.core.fit.bolt_made import length_as_made_mm
from xref_app.core.fit.bolt_size import no_such_bolt
from xref_app.core.fit.face_parts import FaceParts, NewBolt
from xref_app.core.fit.finding import Finding, Need
from xref_app.core.fit.penetration import allowed_penetration_mm_or_none, frame_penetration_mm_or_none
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.show import mm, span
from xref_app.core.fit.spacing import bolts_used
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.bolts import (
    K_DRY,
    preload_n,
    proof_stress_mpa,
    stress_area_mm2,
    torque_nm,
)

BOLTS = Question(
    "bolts",
    "bolt length and thread",
    "engagement: common practice, no published source; lengths: standard series; motor faces: NEMA MG 1, clause 4.4.4",
)

REUSE = marked(
    "findings",
    "The old bolts go {inside} mm into the thread; {least:.1f} mm hold, {most:.1f} mm are there.",
)
REUSE_THROUGH = marked(
    "findings",
    "The old bolts stand {inside} mm past both faces; nut and two pitches take {least:.1f} mm.",
)
NEW_BOLTS = marked(
    "findings",
    "The old bolts do not serve ({why}). {length:.1f} mm bolts go {inside} mm in; {least:.1f} mm hold.",
)
NEW_BOLTS_THROUGH = marked(
    "findings",
    "The old bolts do not serve ({why}). {length:.1f} mm bolts stand {inside} mm past both faces; {least:.1f} mm hold.",
)
WHY_UNKNOWN = marked("findings", "their length is not known")
WHY_SHORT = marked("findings", "they would go only {inside} mm in, {least:.1f} mm are needed")
WHY_LONG = marked("findings", "they would bottom: {inside} mm into {most:.1f} mm of thread")
WHY_UNSURE = marked("findings", "by these readings they go {inside} mm in, {least:.1f} to {most:.1f} mm is right")
NO_LENGTH = marked(
    "findings",
    "No bolt length holds: {least:.1f} mm of thread are needed and only {most:.1f} mm are tapped.",
)
BOLTS_UNSURE = marked("findings", "Whether a standard bolt length holds hangs on the doubt of flange and thread depth.")
MOTOR_FACE = marked(
    "findings",
    "A motor's face of this bolt circle and thread takes a bolt no more than {allowed:.2f} mm deep, however deep the "
    "hole reads.",
)
NO_LENGTH_IN_MOTOR = marked(
    "findings",
    "No bolt length holds: {least:.1f} mm of thread are needed and a motor's face of this kind takes a bolt only "
    "{most:.1f} mm deep.",
)
CHANGE_MOTOR = marked(
    "findings",
    "Ask the motor's maker how deep a bolt may go; never tap a motor's face deeper: its windings lie behind.",
)
CHANGE_THREAD = marked("findings", "Thread tapped {least:.1f} mm deep in the engine's face.")
BOLT_NEED = marked("findings", "Bolt {thread} x {length:.1f} mm with plain washer")
TORQUE = marked(
    "findings",
    "Torque for a {grade} bolt, dry: {torque:.0f} N·m (K {k:.2f}, 75 % of proof load); the pump maker's "
    "figure goes first.",
)

# What the check does without: it then takes the worse of what may be.
_MAY_LACK = {"face_material", "face_bolt_length_mm", "power_kind"}
# Bolts of unknown marking are torqued as the weakest class of their system.
WEAKEST_GRADE = {"inch": "2", "metric": "8.8"}


def judge_bolts(machine: Machine, pump: Pump, parts: FaceParts) -> Finding:
    """Judge the old bolts, and the new ones in ``parts``: enough thread engaged, not longer than the tapped depth."""
    readings = _readings(machine, pump)
    needed = [(field, value) for field, value in readings if field not in _MAY_LACK]
    if any(value is None for _, value in needed):
        return BOLTS.lacks(needed)
    places = _places_or_none(machine, pump, parts)
    if places is None:
        return BOLTS.unsure(no_such_bolt(machine), readings, ("face_bolt",))
    open_ones = [place for place in places if place.length is None or place.joint.holds(place.length) is not True]
    if open_ones:
        return _not_holding(machine, open_ones, readings)
    new = [place for place in places if place.bolt is not None]
    if new:
        return _with_new_bolts(machine, new, readings)
    worst = min(places, key=lambda place: place.inside_mm.low)
    values = {"inside": span(worst.inside_mm, 1), "least": worst.joint.least_mm, "most": worst.joint.most_mm.low}
    template = REUSE_THROUGH if is_through(machine) else REUSE
    found = BOLTS.passes(Sentence(template, values), readings, _shown(worst.joint, worst.inside_mm))
    return replace(found, notes=(*_motor_notes(machine), *_torque_notes(worst.joint)))


@dataclass(frozen=True, slots=True)
class _Place:
    """One bolt's place (or all of them alike): its joint, the old bolt's length, the new bolt, how many there are."""

    joint: BoltJoint
    old: Range | None
    bolt: NewBolt | None
    count: int

    @property
    def length(self) -> Range | None:
        """Return the length of the bolt that goes in, None while it is not known."""
        return self.old if self.bolt is None else length_as_made_mm(self.joint.bolt, self.bolt.length_mm)

    @property
    def inside_mm(self) -> Range:
        """Return how far it reaches past the grip, mm."""
        return self.joint.inside_mm(self.length or Range.exactly(0.0))


def _places_or_none(machine: Machine, pump: Pump, parts: FaceParts) -> tuple[_Place, ...] | None:
    old = machine.face.bolt_length_mm.range if machine.face.bolt_length_mm else None
    chosen = parts.bolts or (None,)
    each = max(bolts_used(machine, pump), 1) if len(chosen) == 1 else 1
    places = []
    for place, bolt in enumerate(chosen):
        joint = bolt_joint_or_none(machine, pump, parts.stack_under(place))
        if joint is None:
            return None
        places.append(_Place(joint, old, bolt, each))
    return tuple(places)


def _not_holding(machine: Machine, places: Sequence[_Place], readings: tuple[Reading, ...]) -> Finding:
    """Return fail where no length at all can hold, else unknown."""
    notes = _motor_notes(machine)
    reason, change = (NO_LENGTH_IN_MOTOR, CHANGE_MOTOR) if notes else (NO_LENGTH, CHANGE_THREAD)
    for place in places:
        old_is_out = place.old is None or place.joint.holds(place.old) is False
        if old_is_out and not place.joint.can_hold():
            short = {"least": place.joint.surely_too_short_mm, "most": place.joint.most_mm.high}
            return BOLTS.fails(Sentence(reason, short), readings, change=change)
    unsure = BOLTS.unsure(Sentence(BOLTS_UNSURE), readings, ("flange_thickness_mm", "face_tapped_depth_mm"))
    return replace(unsure, notes=notes)


def _with_new_bolts(machine: Machine, places: Sequence[_Place], readings: tuple[Reading, ...]) -> Finding:
    worst = min(places, key=lambda place: place.inside_mm.low - place.joint.least_mm)
    values: dict[str, object] = {
        "why": str(_why_not_old(worst.joint, worst.old)),
        "length": worst.bolt.length_mm if worst.bolt else 0.0,
        "inside": span(worst.inside_mm, 1),
        "least": worst.joint.least_mm,
    }
    template = NEW_BOLTS_THROUGH if is_through(machine) else NEW_BOLTS
    found = BOLTS.by_parts(Sentence(template, values), readings, _shown(worst.joint, worst.inside_mm))
    counted = Counter[NewBolt]()
    for place in places:
        if place.bolt is not None:
            counted[place.bolt] += place.count
    needs = tuple(
        Need(Sentence(BOLT_NEED, {"thread": worst.joint.bolt.designation, "length": bolt.length_mm}), many, bolt.listed)
        for bolt, many in counted.items()
    )
    return replace(found, needs=needs, notes=(*_motor_notes(machine), *_torque_notes(worst.joint)))


def _why_not_old(joint: BoltJoint, old: Range | None) -> Sentence:
    if old is None:
        return Sentence(WHY_UNKNOWN)
    inside = joint.inside_mm(old)
    values = {"inside": span(inside, 1), "least": joint.least_mm, "most": joint.most_mm.low}
    if inside.high < joint.least_mm:
        return Sentence(WHY_SHORT, values)
    if inside.low > joint.most_mm.low:
        return Sentence(WHY_LONG, values)
    return Sentence(WHY_UNSURE, values)


def _shown(joint: BoltJoint, inside: Range) -> Answer:
    return Answer(mm(Range.exactly(joint.least_mm)), mm(inside), mm(inside - joint.least_mm))


def _motor_notes(machine: Machine) -> tuple[Sentence, ...]:
    """Return what a motor's frame allows where it allows less than the thread may be deep."""
    allowed, deep = allowed_penetration_mm_or_none(machine), machine.face.tapped_depth_mm
    if allowed is None or deep is None or deep.range.high <= allowed + SAME_MM:
        return ()
    return (Sentence(MOTOR_FACE, {"allowed": allowed}),)


def _torque_notes(joint: BoltJoint) -> tuple[Sentence, ...]:
    grade = WEAKEST_GRADE[joint.bolt.system]
    area = stress_area_mm2(joint.bolt.designation)
    preload = preload_n(proof_mpa=proof_stress_mpa(grade, joint.bolt.nominal_mm), area_mm2=area)
    torque = torque_nm(k=K_DRY, d_mm=joint.bolt.nominal_mm, preload_n=preload)
    named = f"SAE J429 grade {grade}" if joint.bolt.system == "inch" else f"class {grade}"
    return (Sentence(TORQUE, {"grade": named, "torque": torque, "k": K_DRY}),)


def _readings(machine: Machine, pump: Pump) -> tuple[Reading, ...]:
    face = machine.face
    depth: Reading = (
        ("face_thickness_mm", face.thickness_mm)
        if is_through(machine)
        else ("face_tapped_depth_mm", face.tapped_depth_mm)
    )
    # Whether it is a motor decides only on a face that a motor's frame has.
    is_like_motors = frame_penetration_mm_or_none(machine) is not None
    driver: tuple[Reading, ...] = (("power_kind", machine.power.kind),) if is_like_motors else ()
    return (
        ("face_bolt", face.bolt),
        ("flange_thickness_mm", pump.flange.thickness_mm),
        depth,
        ("face_material", face.material),
        ("face_bolt_length_mm", face.bolt_length_mm),
        *driver,
    )
