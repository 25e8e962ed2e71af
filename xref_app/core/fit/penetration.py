"""How far a bolt may go into the driving face: the tapped depth, and in a motor's face what its frame allows.

Behind a motor's face lie its bearing and windings, and its holes may be tapped right through: a depth rod then reads
more than a bolt may take.
"""

from __future__ import annotations

import math

from xref_app.core.fit.bolt_size import bolt_or_none
from xref_app.core.fit.house_rules import C_FACE_CIRCLE_SLACK_MM
from xref_app.core.model.machine import Machine
from xref_app.core.model.words import HoleKind, PowerKind
from xref_app.core.quantity.range import Range
from xref_app.core.standards.bolt_penetration import bolt_penetrations


def room_for_bolt_mm_or_none(machine: Machine) -> Range | None:
    """Return how far a bolt may go into the face's thread, mm; None while its depth is not known.

    On a face that may be a motor's the published most holds for what must surely be kept (the low end), and on one that
    surely is a motor's for both ends.
    """
    if machine.face.tapped_depth_mm is None:
        return None
    deep = machine.face.tapped_depth_mm.range
    allowed = allowed_penetration_mm_or_none(machine)
    if allowed is None:
        return deep
    is_motor = machine.power.kind is not None and machine.power.kind.value is PowerKind.ELECTRIC
    low = min(deep.low, allowed)
    return Range(low, max(low, min(deep.high, allowed)) if is_motor else deep.high)


def allowed_penetration_mm_or_none(machine: Machine) -> float | None:
    """Return how deep a motor's frame lets a bolt go, mm; None where the face is an engine's, or no frame's."""
    kind = machine.power.kind
    is_engine = kind is not None and kind.value is PowerKind.PETROL
    return None if is_engine else frame_penetration_mm_or_none(machine)


def frame_penetration_mm_or_none(machine: Machine) -> float | None:
    """Return the most that the frames with such a face allow, mm, whatever drives; None where no frame has one.

    House rule: of all frames with that circle and thread the least is taken, for one whose row has none (56C) too.

    Source: NEMA MG 1, clause 4.4.4 (Type C face), bolt penetration allowance.
    """
    face, bolt = machine.face, bolt_or_none(machine)
    if face.hole_kind is not None and face.hole_kind.value is HoleKind.THROUGH:
        return None
    if bolt is None or face.holes_xy_mm is None:
        return None
    slack = C_FACE_CIRCLE_SLACK_MM / 2 + math.sqrt(2) * face.holes_xy_mm.doubt_mm
    radii = [math.hypot(hole.x_mm, hole.y_mm) for hole in face.holes_xy_mm.holes]
    allowed = [
        frame.most_mm
        for frame in bolt_penetrations()
        if frame.thread == bolt.designation.split(" ")[0]
        and any(abs(radius - frame.bolt_circle_mm / 2) <= slack for radius in radii)
    ]
    return min(allowed, default=None)
