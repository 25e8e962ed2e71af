"""What a bolt passes through and screws into, and which lengths of it hold."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.fit.bolt_made import length_as_made_mm, washer_mm
from xref_app.core.fit.bolt_size import Bolt, bolt_or_none
from xref_app.core.fit.house_rules import NUT_DIAMETERS, THREAD_DIAMETERS_HARD, THREAD_DIAMETERS_SOFT
from xref_app.core.fit.penetration import room_for_bolt_mm_or_none
from xref_app.core.fit.stack import Stack
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import HoleKind, Material
from xref_app.core.quantity.range import SAME_MM, Range


@dataclass(frozen=True, slots=True)
class BoltJoint:
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

    def new_holds(self, length_mm: float) -> bool:
        """Say whether a new bolt sold as that long surely holds without bottoming."""
        return self.holds(length_as_made_mm(self.bolt, length_mm)) is True

    def can_hold(self) -> bool:
        """Say whether some length could hold in the best case."""
        return self.most_mm.high >= self.surely_too_short_mm - SAME_MM


def bolt_joint_or_none(machine: Machine, pump: Pump, stack: Stack) -> BoltJoint | None:
    """Return the joint of one bolt with ``stack`` under the pump's ear; None while a size of it is not known."""
    face, thickness = machine.face, pump.flange.thickness_mm
    bolt = bolt_or_none(machine)
    if bolt is None or thickness is None:
        return None
    grip = thickness.range + stack.thickness_mm + washer_mm(bolt)
    if is_through(machine):
        if face.thickness_mm is None:
            return None
        past = NUT_DIAMETERS * bolt.nominal_mm + 2 * bolt.pitch_mm
        # A through bolt may stick out as far as it likes: what fits is not limited.
        through = grip + face.thickness_mm.range + washer_mm(bolt)
        return BoltJoint(bolt, through, past, past, Range.exactly(float("inf")))
    room = room_for_bolt_mm_or_none(machine)
    if room is None:
        return None
    material = face.material.value if face.material else None
    least = least_thread_mm(bolt.nominal_mm, material)
    surely_too_short = least_thread_mm(bolt.nominal_mm, material or Material.STEEL)
    return BoltJoint(bolt, grip, least, surely_too_short, room)


def least_thread_mm(nominal_mm: float, material: Material | None) -> float:
    """Return how much thread must be engaged in that material, mm; an unknown one is taken as the softest.

    Args:
        nominal_mm: The bolt's nominal diameter, mm.
        material: What the thread is cut into; None while not known.

    Source: common practice, no published source.
    """
    is_hard = material in {Material.IRON, Material.STEEL}
    return nominal_mm * (THREAD_DIAMETERS_HARD if is_hard else THREAD_DIAMETERS_SOFT)


def is_through(machine: Machine) -> bool:
    """Say whether the bolts pass through the engine's face to a nut."""
    return machine.face.hole_kind is not None and machine.face.hole_kind.value is HoleKind.THROUGH
