"""All that the plate is designed from, or the fields that are still missing for it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.penetration import room_for_bolt_mm_or_none
from xref_app.core.fit.question import Reading
from xref_app.core.model.known import How, Known, Pattern, Seats, weakest
from xref_app.core.model.machine import Face, Machine
from xref_app.core.model.pump import Flange, Pump
from xref_app.core.model.words import Material, PilotKind, SeatKind, ShaftForm
from xref_app.core.quantity.range import Range


@dataclass(frozen=True, slots=True)
class Boss:
    """A boss that goes into the plate, mm."""

    diameter_mm: Range
    height_mm: Range


@dataclass(frozen=True, slots=True)
class PlateReadings:
    """Both faces and the shaft as read, mm.

    ``tapped_depth_mm`` is how far a screw may go into the engine's holes; ``shaft_radius_mm`` is how far shaft and key
    reach from the axis. The seats' spreads are how far apart the seats of one side may stand.
    """

    face_holes: Pattern
    tapped_depth_mm: Range
    face_material: Material | None
    engine_seats_spread_mm: Range
    engine_boss: Boss | None
    flange_holes: Pattern
    flange_hole_mm: Range
    flange_thickness_mm: Range
    pump_seats_spread_mm: Range
    pump_boss: Boss | None
    shaft_radius_mm: Range
    how: How

    @property
    def at_best(self) -> tuple[PlateReadings, ...]:
        """Return what closer measuring might show at best: exact readings, each at its end that suits a plate.

        The flange's thickness suits at no one end, since bolts come in steps: its middle and both ends are tried. Holes
        stay where they were read.
        """

        def smallest(boss: Boss | None) -> Boss | None:
            return boss and Boss(Range.exactly(boss.diameter_mm.low), Range.exactly(boss.height_mm.low))

        best = replace(
            self,
            face_holes=replace(self.face_holes, doubt_mm=0.0),
            tapped_depth_mm=Range.exactly(self.tapped_depth_mm.high),
            engine_seats_spread_mm=Range.exactly(self.engine_seats_spread_mm.low),
            engine_boss=smallest(self.engine_boss),
            flange_holes=replace(self.flange_holes, doubt_mm=0.0),
            flange_hole_mm=Range.exactly(self.flange_hole_mm.high),
            pump_seats_spread_mm=Range.exactly(self.pump_seats_spread_mm.low),
            pump_boss=smallest(self.pump_boss),
            shaft_radius_mm=Range.exactly(self.shaft_radius_mm.low),
        )
        flange = self.flange_thickness_mm
        ends = (flange.middle, flange.low, flange.high)
        return tuple(replace(best, flange_thickness_mm=Range.exactly(end)) for end in ends)


def readings_needed(machine: Machine, pump: Pump) -> tuple[Reading, ...]:
    """Return every reading the plate rests on, None where it is not known."""
    face, flange, shaft = machine.face, pump.flange, machine.shaft
    plain = shaft.form is not None and shaft.form.value is ShaftForm.STRAIGHT_PLAIN
    key: tuple[Reading, ...] = () if plain else (("shaft_key_top_mm", shaft.key_top_mm),)
    return (
        ("face_holes_xy_mm", _pattern_known(face)),
        ("face_bolt", face.bolt),
        ("face_tapped_depth_mm", face.tapped_depth_mm),
        *_pilot_readings("face", face),
        ("face_seat_heights_mm", _seat_known(face)),
        ("flange_holes_xy_mm", _pattern_known(flange)),
        ("flange_hole_mm", flange.hole_mm),
        ("flange_thickness_mm", flange.thickness_mm),
        *_pilot_readings("flange", flange),
        ("flange_seat_heights_mm", _seat_known(flange)),
        ("shaft_diameter_mm", shaft.diameter_mm),
        *key,
    )


def readings_used(machine: Machine, pump: Pump) -> tuple[Reading, ...]:
    """Return every reading the plate rests on, with what is not needed but decides where it is known."""
    return (*readings_needed(machine, pump), ("face_material", machine.face.material))


def plate_readings_or_none(machine: Machine, pump: Pump) -> PlateReadings | None:
    """Return what the plate is designed from; None while any of ``readings_needed`` is not known."""
    face, flange, shaft = machine.face, pump.flange, machine.shaft
    needed = readings_needed(machine, pump)
    if face.holes_xy_mm is None or face.tapped_depth_mm is None:
        return None
    if flange.holes_xy_mm is None or flange.hole_mm is None or flange.thickness_mm is None:
        return None
    room = room_for_bolt_mm_or_none(machine)
    if room is None or shaft.diameter_mm is None or any(value is None for _, value in needed):
        return None
    hows = [value.how for _, value in readings_used(machine, pump) if value is not None]
    radius = shaft.diameter_mm.range / 2
    key = shaft.key_top_mm.range - radius if shaft.key_top_mm else radius
    return PlateReadings(
        face_holes=face.holes_xy_mm,
        tapped_depth_mm=room,
        face_material=face.material.value if face.material else None,
        engine_seats_spread_mm=_spread_mm(face.seat_heights_mm),
        engine_boss=_boss_or_none(face),
        flange_holes=flange.holes_xy_mm,
        flange_hole_mm=flange.hole_mm.range,
        flange_thickness_mm=flange.thickness_mm.range,
        pump_seats_spread_mm=_spread_mm(flange.seat_heights_mm),
        pump_boss=_boss_or_none(flange),
        shaft_radius_mm=Range(max(radius.low, key.low), max(radius.high, key.high)),
        how=weakest(hows) or How.MEASURED,
    )


def _pilot_readings(side: str, face: Face | Flange) -> tuple[Reading, ...]:
    kind: Reading = (f"{side}_pilot_kind", face.pilot_kind)
    if face.pilot_kind is None or face.pilot_kind.value is not PilotKind.BOSS:
        return (kind,)
    return (kind, (f"{side}_pilot_mm", face.pilot_mm), (f"{side}_pilot_depth_mm", face.pilot_depth_mm))


def _pattern_known(side: Face | Flange) -> Pattern | None:
    """Return the side's holes; a list without any is not known."""
    return side.holes_xy_mm if side.holes_xy_mm and side.holes_xy_mm.holes else None


def _seat_known(side: Face | Flange) -> Known | None:
    """Return what is known of a side's seats: heights for each hole, or that it is one flat face."""
    if side.seat_heights_mm is not None:
        holes = side.holes_xy_mm.holes if side.holes_xy_mm else ()
        return side.seat_heights_mm if len(side.seat_heights_mm.heights_mm) == len(holes) else None
    return side.seat_kind if side.seat_kind is not None and side.seat_kind.value is SeatKind.FLAT else None


def _spread_mm(seats: Seats | None) -> Range:
    """Return how far apart the seats of one side may stand: the highest is exact, the lowest carries the doubt."""
    if seats is None:
        return Range.exactly(0.0)
    spread = max(seats.heights_mm) - min(seats.heights_mm)
    return Range(max(0.0, spread - seats.doubt_mm), spread + seats.doubt_mm)


def _boss_or_none(side: Face | Flange) -> Boss | None:
    if side.pilot_kind is None or side.pilot_kind.value is not PilotKind.BOSS:
        return None
    if side.pilot_mm is None or side.pilot_depth_mm is None:
        return None
    return Boss(side.pilot_mm.range, side.pilot_depth_mm.range)
