"""Are the bolts long enough to hold, and short enough not to bottom?"""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.bolt_size import Bolt, bolt_or_none, no_such_bolt
from xref_app.core.fit.finding import Finding, Need
from xref_app.core.fit.house_rules import NUT_DIAMETERS, THREAD_DIAMETERS_HARD, THREAD_DIAMETERS_SOFT, WASHER_MM
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.seat import judge_seat
from xref_app.core.fit.show import mm, span
from xref_app.core.fit.spacing import bolts_used, spacing
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import HoleKind, Material, PartKind
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.bolts import (
    K_DRY,
    preload_n,
    proof_stress_mpa,
    standard_lengths_mm,
    stress_area_mm2,
    torque_nm,
)

BOLTS = Question(
    "bolts", "bolt length and thread", "engagement: common practice, no published source; lengths: standard series"
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
WHY_UNKNOWN = marked("findings", "their length is not known")
WHY_SHORT = marked("findings", "they would go only {inside} mm in, {least:.1f} mm are needed")
WHY_LONG = marked("findings", "they would bottom: {inside} mm into {most:.1f} mm of thread")
WHY_UNSURE = marked("findings", "by these readings they go {inside} mm in, {least:.1f} to {most:.1f} mm is right")
NO_LENGTH = marked(
    "findings",
    "No bolt length holds: {least:.1f} mm of thread are needed and only {most:.1f} mm are tapped.",
)
BOLTS_UNSURE = marked("findings", "Whether a standard bolt length holds hangs on the doubt of flange and thread depth.")
CHANGE_THREAD = marked("findings", "Thread tapped {least:.1f} mm deep in the engine's face.")
BOLT_NEED = marked("findings", "Bolt {thread} x {length:.1f} mm with plain washer")
TORQUE = marked(
    "findings",
    "Torque for a {grade} bolt, dry: {torque:.0f} N·m (K {k:.2f}, 75 % of proof load); the pump maker's "
    "figure goes first.",
)

# Bolts of unknown marking are torqued as the weakest class of their system.
WEAKEST_GRADE = {"inch": "2", "metric": "8.8"}


def judge_bolts(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the old bolts, then the standard lengths: enough thread engaged, not longer than the tapped depth."""
    readings = _readings(machine, pump)
    needed = [(field, value) for field, value in readings if field not in {"face_material", "face_bolt_length_mm"}]
    if any(value is None for _, value in needed):
        return BOLTS.lacks(needed)
    joint = _joint_or_none(machine, pump, shelf)
    if joint is None:
        return BOLTS.unsure(no_such_bolt(machine), readings, ("face_bolt",))
    old = machine.face.bolt_length_mm
    if old is not None and joint.holds(old.range) is True:
        inside = joint.inside_mm(old.range)
        values = {"inside": span(inside, 1), "least": joint.least_mm, "most": joint.most_mm.low}
        template = REUSE_THROUGH if _is_through(machine) else REUSE
        found = BOLTS.passes(Sentence(template, values), readings, _shown(joint, inside))
        return replace(found, notes=_torque_notes(joint))
    return _new_bolts(joint, old.range if old else None, shelf, readings, bolts_used(machine, pump))


@dataclass(frozen=True, slots=True)
class _Joint:
    """What a bolt passes through and screws into, mm.

    ``grip_mm`` lies between head and thread; of what is beyond it, ``least_mm`` must be in thread
    (``surely_too_short_mm`` in the best case) and no more than ``most_mm`` fits.
    """

    bolt: Bolt
    grip_mm: Range
    least_mm: float
    surely_too_short_mm: float
    most_mm: Range

    def inside_mm(self, length: Range) -> Range:
        """Return how far a bolt of ``length`` reaches past the grip, mm."""
        return length - self.grip_mm

    def holds(self, length: Range) -> bool | None:
        """Say whether a bolt of that length holds without bottoming; None where the doubt leaves it open."""
        inside = self.inside_mm(length)
        if inside.surely_at_least(self.least_mm) and inside.surely_at_most(self.most_mm.low):
            return True
        if inside.surely_below(self.surely_too_short_mm) or inside.surely_above(self.most_mm.high):
            return False
        return None

    def can_hold(self) -> bool:
        """Say whether some length could hold in the best case."""
        return self.most_mm.high >= self.surely_too_short_mm - SAME_MM


def _joint_or_none(machine: Machine, pump: Pump, shelf: Shelf) -> _Joint | None:
    face, thickness = machine.face, pump.flange.thickness_mm
    bolt = bolt_or_none(machine)
    if bolt is None or thickness is None:
        return None
    # A spacer under one leg lengthens the grip of that bolt alone: the joint must hold with it and without.
    leg = Range(0.0, max((part.thickness_mm or 0.0 for part in _leg_spacers(machine, pump, shelf)), default=0.0))
    grip = thickness.range + spacing(machine, pump, shelf).thickness_mm + leg + WASHER_MM
    if _is_through(machine):
        if face.thickness_mm is None:
            return None
        past = NUT_DIAMETERS * bolt.nominal_mm + 2 * bolt.pitch_mm
        # A through bolt may stick out as far as it likes: what fits is not limited.
        through = grip + face.thickness_mm.range + WASHER_MM
        return _Joint(bolt, through, past, past, Range.exactly(float("inf")))
    if face.tapped_depth_mm is None:
        return None
    soft, hard = (share * bolt.nominal_mm for share in (THREAD_DIAMETERS_SOFT, THREAD_DIAMETERS_HARD))
    material = face.material.value if face.material else None
    least = hard if material in {Material.IRON, Material.STEEL} else soft
    return _Joint(bolt, grip, least, soft if material is Material.ALUMINIUM else hard, face.tapped_depth_mm.range)


def _new_bolts(joint: _Joint, old: Range | None, shelf: Shelf, readings: tuple[Reading, ...], count: int) -> Finding:
    choice = _length_or_none(joint, shelf, count)
    old_is_out = old is None or joint.holds(old) is False
    if choice is None:
        if old_is_out and not joint.can_hold():
            short = {"least": joint.surely_too_short_mm, "most": joint.most_mm.high}
            return BOLTS.fails(Sentence(NO_LENGTH, short), readings, change=CHANGE_THREAD)
        return BOLTS.unsure(Sentence(BOLTS_UNSURE), readings, ("flange_thickness_mm", "face_tapped_depth_mm"))
    length, part = choice
    inside = joint.inside_mm(Range.exactly(length))
    why = _why_not_old(joint, old)
    values: dict[str, object] = {"why": str(why), "length": length, "inside": span(inside, 1), "least": joint.least_mm}
    need = Need(Sentence(BOLT_NEED, {"thread": joint.bolt.designation, "length": length}), max(count, 1), part)
    found = BOLTS.by_parts(Sentence(NEW_BOLTS, values), readings, _shown(joint, inside))
    return replace(found, needs=(need,), notes=_torque_notes(joint))


def _length_or_none(joint: _Joint, shelf: Shelf, count: int) -> tuple[float, Part | None] | None:
    """Return the shortest length that surely holds, a listed bolt before one to order; None where none does."""
    listed = [
        (part.length_mm, part)
        for part in shelf
        if part.kind is PartKind.BOLT and part.length_mm and part.count >= count and _same_thread(part, joint.bolt)
    ]
    for length, part in sorted(listed, key=lambda one: one[0]):
        if joint.holds(Range.exactly(length)):
            return length, part
    for length in standard_lengths_mm(joint.bolt.system):
        if joint.holds(Range.exactly(length)):
            return length, None
    return None


def _same_thread(part: Part, bolt: Bolt) -> bool:
    return part.thread.casefold().replace(" ", "") in {
        bolt.designation.casefold().replace(" ", ""),
        bolt.designation.split(" ")[0].casefold(),
    }


def _why_not_old(joint: _Joint, old: Range | None) -> Sentence:
    if old is None:
        return Sentence(WHY_UNKNOWN)
    inside = joint.inside_mm(old)
    values = {"inside": span(inside, 1), "least": joint.least_mm, "most": joint.most_mm.low}
    if inside.high < joint.least_mm:
        return Sentence(WHY_SHORT, values)
    if inside.low > joint.most_mm.low:
        return Sentence(WHY_LONG, values)
    return Sentence(WHY_UNSURE, values)


def _shown(joint: _Joint, inside: Range) -> Answer:
    return Answer(mm(Range.exactly(joint.least_mm)), mm(inside), mm(inside - joint.least_mm))


def _torque_notes(joint: _Joint) -> tuple[Sentence, ...]:
    grade = WEAKEST_GRADE[joint.bolt.system]
    area = stress_area_mm2(joint.bolt.designation)
    preload = preload_n(proof_mpa=proof_stress_mpa(grade, joint.bolt.nominal_mm), area_mm2=area)
    torque = torque_nm(k=K_DRY, d_mm=joint.bolt.nominal_mm, preload_n=preload)
    named = f"SAE J429 grade {grade}" if joint.bolt.system == "inch" else f"class {grade}"
    return (Sentence(TORQUE, {"grade": named, "torque": torque, "k": K_DRY}),)


def _leg_spacers(machine: Machine, pump: Pump, shelf: Shelf) -> tuple[Part, ...]:
    needs = judge_seat(machine, pump, shelf).needs
    return tuple(need.listed for need in needs if need.listed is not None)


def _is_through(machine: Machine) -> bool:
    return machine.face.hole_kind is not None and machine.face.hole_kind.value is HoleKind.THROUGH


def _readings(machine: Machine, pump: Pump) -> tuple[Reading, ...]:
    face = machine.face
    depth: Reading = (
        ("face_thickness_mm", face.thickness_mm)
        if _is_through(machine)
        else ("face_tapped_depth_mm", face.tapped_depth_mm)
    )
    return (
        ("face_bolt", face.bolt),
        ("flange_thickness_mm", pump.flange.thickness_mm),
        depth,
        ("face_material", face.material),
        ("face_bolt_length_mm", face.bolt_length_mm),
    )
