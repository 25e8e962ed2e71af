"""The lengths along the shaft that decide whether a pump goes on, each by its worst case, for the side view."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.fit.bolt_joint import is_through, least_thread_mm
from xref_app.core.fit.bolt_made import length_as_made_mm, washer_mm
from xref_app.core.fit.bolt_size import Bolt, bolt_or_none
from xref_app.core.fit.house_rules import (
    ENGAGEMENT_DIAMETERS,
    NUT_DIAMETERS,
    SPACER_DOUBT_MM,
)
from xref_app.core.model.known import Dimension
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import PilotKind
from xref_app.core.quantity.range import Range

# Seats that meet as they were measured from hold the faces neither apart nor closer.
FLUSH_MM = Range.exactly(0.0)


@dataclass(frozen=True, slots=True)
class Between:
    """What lies between the engine's face and the pump's flange, and the bolt that holds it, mm.

    ``plate_mm`` lies against the engine, the spacers on it. With a plate the bolt shown is the pump's, which screws
    through the plate and no farther; ``pump_bolt`` is its thread where it is not the engine's bolt. A
    ``bolt_length_mm`` of None stands for the old bolt, and with a plate for none.
    ``seats_mm`` is how far apart the seats alone hold the faces (negative: high seats meet low ones).
    """

    spacers_mm: tuple[float, ...] = ()
    plate_mm: float | None = None
    bolt_length_mm: float | None = None
    pump_bolt: Bolt | None = None
    seats_mm: Range = FLUSH_MM

    @property
    def plate_range_mm(self) -> Range:
        """Return how thick the plate is, 0 without one."""
        return Range.exactly(0.0) if self.plate_mm is None else Range.around(self.plate_mm, SPACER_DOUBT_MM)

    @property
    def spacers_range_mm(self) -> Range:
        """Return how thick the spacers are together."""
        total = Range.exactly(0.0)
        for thickness_mm in self.spacers_mm:
            total += Range.around(thickness_mm, SPACER_DOUBT_MM)
        return total

    @property
    def thickness_mm(self) -> Range:
        """Return how far apart the two faces are."""
        return self.plate_range_mm + self.spacers_range_mm + self.seats_mm


NOTHING = Between()


@dataclass(frozen=True, slots=True)
class BoltLengths:
    """How one bolt sits, mm. ``inside_mm`` is in thread (through holes: past the back face), ``left_mm`` beyond it.

    ``length_mm`` is the nominal length; ``washer_mm`` lies under the head and under a nut. ``needed_mm`` holds;
    ``left_mm`` is None where nothing limits the length, or where the depth is not known.
    """

    length_mm: float
    diameter_mm: float
    washer_mm: Range
    inside_mm: Range
    needed_mm: float | None
    left_mm: Range | None
    is_through: bool


def bottom_clearance_or_none(machine: Machine, pump: Pump, between: Between) -> Range | None:
    """Return what is left between shaft end and bottom of the bore, mm; negative: the shaft is too long by that."""
    projection, depth = machine.shaft.projection_mm, pump.bore.depth_mm
    if projection is None or depth is None:
        return None
    return depth.range - projection.range + between.thickness_mm


def engagement_or_none(machine: Machine, pump: Pump, between: Between) -> Range | None:
    """Return how much of the shaft is inside the bore, mm; negative: it does not reach it."""
    projection, recess = machine.shaft.projection_mm, pump.bore.recess_mm
    if projection is None or recess is None:
        return None
    return projection.range - recess.range - between.thickness_mm


def engagement_needed_or_none(machine: Machine) -> float | None:
    """Return how much of the shaft must be inside, mm."""
    diameter = machine.shaft.diameter_mm
    return None if diameter is None else diameter.range.high * ENGAGEMENT_DIAMETERS


def boss_room_or_none(machine: Machine, pump: Pump, between: Between) -> Range | None:
    """Return the room over the bosses, mm; negative: a boss holds the faces apart. None: no boss, or not known."""
    room, has_boss = between.thickness_mm, False
    for side in (machine.face, pump.flange):
        if side.pilot_kind is None:
            return None
        if side.pilot_kind.value is PilotKind.NONE:
            continue
        if side.pilot_depth_mm is None:
            return None
        is_boss = side.pilot_kind.value is PilotKind.BOSS
        has_boss = has_boss or is_boss
        room = room - side.pilot_depth_mm.range if is_boss else room + side.pilot_depth_mm.range
    return room if has_boss else None


def pilot_play_or_none(machine: Machine, pump: Pump) -> Range | None:
    """Return recess less boss, mm across; negative: the boss does not go in. None: no such pair, or not known."""
    kinds = {side.pilot_kind.value: side for side in (machine.face, pump.flange) if side.pilot_kind is not None}
    boss, recess = kinds.get(PilotKind.BOSS), kinds.get(PilotKind.RECESS)
    if boss is None or recess is None or boss.pilot_mm is None or recess.pilot_mm is None:
        return None
    return recess.pilot_mm.range - boss.pilot_mm.range


def bolt_lengths_or_none(machine: Machine, pump: Pump, between: Between) -> BoltLengths | None:
    """Return how the bolt sits; None while its thread, its length, or what it passes through is not known."""
    thickness, bolt = pump.flange.thickness_mm, between.pump_bolt or bolt_or_none(machine)
    if thickness is None or bolt is None:
        return None
    length = _length_or_none(machine, between, bolt)
    if length is None:
        return None
    washer = washer_mm(bolt)
    inside = length - thickness.range - between.spacers_range_mm - washer
    nominal = between.bolt_length_mm if between.bolt_length_mm is not None else length.middle
    if between.plate_mm is not None:
        left: Range | None = between.plate_range_mm - inside
        return BoltLengths(nominal, bolt.nominal_mm, washer, inside, None, left, is_through=False)
    face = machine.face
    if not is_through(machine):
        left = None if face.tapped_depth_mm is None else face.tapped_depth_mm.range - inside
        thread = least_thread_mm(bolt.nominal_mm, face.material.value if face.material else None)
        return BoltLengths(nominal, bolt.nominal_mm, washer, inside, thread, left, is_through=False)
    if face.thickness_mm is None:
        return None
    past, needed = inside - face.thickness_mm.range - washer, NUT_DIAMETERS * bolt.nominal_mm + 2 * bolt.pitch_mm
    return BoltLengths(nominal, bolt.nominal_mm, washer, past, needed, None, is_through=True)


def _length_or_none(machine: Machine, between: Between, bolt: Bolt) -> Range | None:
    if between.bolt_length_mm is not None:
        return length_as_made_mm(bolt, between.bolt_length_mm)
    old: Dimension | None = machine.face.bolt_length_mm
    return None if old is None or between.plate_mm is not None else old.range
