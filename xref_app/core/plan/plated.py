"""The machine as the pump meets it once an adapter plate is on the engine."""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.model.known import Dimension, Fact, Hole, How, Pattern, Seats, weakest
from xref_app.core.model.machine import Face, Machine
from xref_app.core.model.words import HoleKind, PilotKind, SeatKind
from xref_app.core.plan.house_rules import CENTRING_MM, MADE_DIAMETER_MM, MADE_POSITION_MM, MADE_THICKNESS_MM
from xref_app.core.plan.plate_parts import Plate


def machine_with_plate(machine: Machine, plate: Plate) -> Machine:
    """Return ``machine`` with ``plate`` on its face; the mounting face is the plate's pump side.

    The shaft stands out by the thickness less, the keyseat stays: it is measured from the shaft's end. Everything of
    the plate is known no better than what the plate was designed from.
    """
    projection, room = machine.shaft.projection_mm, machine.room.length_mm
    return replace(
        machine,
        face=_face(plate),
        shaft=replace(machine.shaft, projection_mm=_less_the_plate(projection, plate)),
        room=replace(machine.room, length_mm=_less_the_plate(room, plate)),
    )


def _less_the_plate(length: Dimension | None, plate: Plate) -> Dimension | None:
    if length is None:
        return None
    doubt = length.doubt + MADE_THICKNESS_MM
    return Dimension(length.value - plate.thickness_mm, doubt, _weaker(length.how, plate.how))


def _weaker(one: How, other: How) -> How:
    return weakest((one, other)) or one


def _face(plate: Plate) -> Face:
    """Return the plate's pump side as a face: tapped, flat, with the room for a boss the plate was made for."""
    how = plate.how
    holes = tuple(Hole(hole.x_mm, hole.y_mm) for hole in plate.pump_holes)
    room = plate.pump_boss_room
    return Face(
        holes_xy_mm=Pattern(holes, MADE_POSITION_MM + CENTRING_MM, how),
        hole_kind=Fact(HoleKind.TAPPED, how),
        bolt=Fact(plate.pump_bolt_thread, how),
        tapped_depth_mm=Dimension(plate.thread_depth_mm, plate.thread_depth_doubt_mm, how),
        material=Fact(plate.material, how),
        pilot_kind=Fact(PilotKind.RECESS if room else PilotKind.NONE, how),
        pilot_mm=Dimension(room.diameter_mm, MADE_DIAMETER_MM, how) if room else None,
        pilot_depth_mm=Dimension(room.depth_mm, MADE_THICKNESS_MM, how) if room else None,
        seat_kind=Fact(SeatKind.FLAT, how),
        seat_heights_mm=Seats((0.0,) * len(holes), 0.0, how),
    )
