"""The adapter plate between an engine's face and a pump whose holes do not meet it."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.fit.bolt_joint import is_through, least_thread_mm
from xref_app.core.fit.bolt_size import Bolt, bolt_or_none, no_such_bolt
from xref_app.core.fit.hints import without_hints
from xref_app.core.fit.house_rules import LEAST_BOLTS, SEAT_GAP_MM
from xref_app.core.fit.pattern import too_few_bolts
from xref_app.core.fit.question import NOT_KNOWN, FieldNames
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import Material
from xref_app.core.plan import plate_refusals as why
from xref_app.core.plan.house_rules import LEAST_WEB_MM, MADE_THICKNESS_MM, MATERIAL, STOCK_MM
from xref_app.core.plan.plate_bolts import (
    Sunk,
    engine_offset_mm,
    head_floor_mm,
    head_floor_needed_mm,
    out_of_place_mm,
    pump_bolt_length_or_none,
    pump_bolt_or_none,
    screw_length_or_none,
    sunk_hole,
)
from xref_app.core.plan.plate_centre import Centre, bosses_take_mm, centres
from xref_app.core.plan.plate_layout import WEB_LOST_MM, Holes, Layout, free_turns, layout, places
from xref_app.core.plan.plate_parts import EngineHole, Plate, PlateRefused, PumpHole, Recess
from xref_app.core.plan.plate_readings import PlateReadings, plate_readings_or_none, readings_needed
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence
from xref_app.core.standards.socket_screws import SocketScrew, socket_screw_or_none

__all__ = ["EngineHole", "Plate", "PlateRefused", "PumpHole", "Recess", "plate_or_why_not"]


@dataclass(frozen=True, slots=True)
class _Job:
    """What does not hang on the readings' doubts: screw, turns to prefer, material, window."""

    bolt: Bolt
    screw: SocketScrew
    free_turns: frozenset[int]
    material: Material
    window_mm: Range


@dataclass(frozen=True, slots=True)
class _Flat:
    """The plate in its plane, before its thickness is chosen."""

    sunk: Sunk
    pump_bolt: Bolt
    centre: Centre
    layout: Layout


def plate_or_why_not(
    machine: Machine, pump: Pump, *, window_mm: Range, material: Material = MATERIAL
) -> Plate | PlateRefused:
    """Return the thinnest stock plate that surely works, or why there is none and what to measure for one.

    Args:
        machine: the engine side; what is only typical counts as not known.
        pump: the pump that is to go on.
        window_mm: every thickness in it lets the shaft reach, worst case; the plate as made stays inside.
        material: what the plate is to be made of.

    Source: house design and common practice, no published source; fasteners after ASME Y14.5.
    """
    machine, pump = without_hints(machine), without_hints(pump)
    unfit = _unfit_or_none(machine, pump)
    if unfit is not None:
        return PlateRefused(unfit)
    readings = plate_readings_or_none(machine, pump)
    if readings is None:
        missing = tuple(field for field, value in readings_needed(machine, pump) if value is None)
        return PlateRefused(Sentence(NOT_KNOWN, {"fields": FieldNames(missing)}), missing)
    bolt = bolt_or_none(machine)
    if bolt is None:
        return PlateRefused(no_such_bolt(machine), ("face_bolt",))
    screw = socket_screw_or_none(bolt.designation)
    if screw is None:
        return PlateRefused(Sentence(why.NO_SCREW, {"thread": bolt.designation}))
    job = _Job(bolt, screw, free_turns(machine, pump), material, window_mm)
    found = _designed(readings, job)
    if isinstance(found, Plate):
        return found
    # Measuring helps only where some readings inside the doubts would do.
    helps = any(isinstance(_designed(best, job), Plate) for best in readings.at_best)
    read = {field for field, _ in readings_needed(machine, pump)}
    fields = tuple(field for field in why.fields_to_measure(found) if field in read)
    return PlateRefused(found, fields if helps else ())


def _unfit_or_none(machine: Machine, pump: Pump) -> Sentence | None:
    """Return why faces of this kind get no plate whatever their sizes; None where they may.

    A plate must not hide that too few bolts hold the pump: with it, as many holes as the pump has are always met.
    """
    if is_through(machine):
        return Sentence(why.THROUGH_HOLES)
    if not too_few_bolts(machine, pump):
        return None
    ours, theirs = (len(side.holes_xy_mm.holes) if side.holes_xy_mm else 0 for side in (machine.face, pump.flange))
    return Sentence(why.TOO_FEW, {"ours": ours, "theirs": theirs, "least": LEAST_BOLTS})


def _designed(readings: PlateReadings, job: _Job) -> Plate | Sentence:
    """Return the thinnest plate that works, or the first rule the thickest one in the window breaks."""
    flats = _flats(readings, job)
    if isinstance(flats, Sentence):
        return flats
    found: Plate | Sentence = Sentence(why.NO_STOCK, {"least": job.window_mm.low, "most": job.window_mm.high})
    for thickness in STOCK_MM:
        if Range.around(thickness, MADE_THICKNESS_MM).within(job.window_mm):
            for flat in flats:
                found = _thick(readings, job, flat, thickness)
                if isinstance(found, Plate):
                    return found
    return found


def _flats(readings: PlateReadings, job: _Job) -> tuple[_Flat, ...] | Sentence:
    """Return the layouts that leave web enough, most material first, or why there is none."""
    for spread, reason in (
        (readings.engine_seats_spread_mm, why.ENGINE_SEATS),
        (readings.pump_seats_spread_mm, why.PUMP_SEATS),
    ):
        if not spread.surely_at_most(SEAT_GAP_MM):
            return Sentence(reason, {"gap": spread.high, "allowed": SEAT_GAP_MM})
    away, free = out_of_place_mm(readings.face_holes.doubt_mm), engine_offset_mm(job.screw, job.bolt)
    if free < away - SAME_MM:
        return Sentence(why.SCREWS_TIGHT, {"away": away, "free": free})
    pump_bolt = pump_bolt_or_none(readings, job.bolt)
    if pump_bolt is None:
        away = out_of_place_mm(readings.flange_holes.doubt_mm)
        return Sentence(why.NO_PUMP_BOLT, {"hole": readings.flange_hole_mm.low, "away": away})
    sunk = sunk_hole(job.screw, job.bolt)
    holes = Holes(places(readings.face_holes), places(readings.flange_holes), sunk, pump_bolt.nominal_mm)
    all_ways = [(centre, layout(holes, centre, job.free_turns)) for centre in centres(readings)]
    good = tuple(_Flat(sunk, pump_bolt, centre, laid) for centre, laid in all_ways if laid.leaves_web)
    if good:
        return good
    best = max(laid.least_web_mm for _, laid in all_ways)
    return Sentence(why.NO_WEB, {"web": best - WEB_LOST_MM, "least": LEAST_WEB_MM})


def _thick(readings: PlateReadings, job: _Job, flat: _Flat, thickness: float) -> Plate | Sentence:
    """Return the plate of that layout and thickness, or the first rule it breaks."""
    thin = _too_thin_or_none(readings, job, flat, thickness)
    if thin is not None:
        return thin
    thread, doubt = _thread_depth_mm(flat, thickness)
    screw = screw_length_or_none(readings, job.bolt, head_floor_mm(flat.sunk, thickness))
    if screw is None:
        return Sentence(why.NO_SCREW_LENGTH, {"thickness": thickness, "thread": job.bolt.designation})
    length = pump_bolt_length_or_none(readings, flat.pump_bolt, job.material, thread - doubt)
    if length is None:
        return Sentence(why.NO_BOLT_LENGTH, {"thickness": thickness, "thread": flat.pump_bolt.designation})
    return _plate(readings, job, flat, _Lengths(thickness, thread, doubt, screw, length))


def _too_thin_or_none(readings: PlateReadings, job: _Job, flat: _Flat, thickness: float) -> Sentence | None:
    """Return what a plate of that thickness is too thin for, as made; None where it is thick enough."""
    floor, needed = head_floor_mm(flat.sunk, thickness), head_floor_needed_mm(job.bolt)
    if not floor.surely_at_least(needed):
        return Sentence(why.HEAD_FLOOR, {"thickness": thickness, "floor": floor.low, "needed": needed})
    bosses = bosses_take_mm(readings)
    if bosses > thickness - MADE_THICKNESS_MM + SAME_MM:
        return Sentence(why.BOSSES_HIGH, {"thickness": thickness, "bosses": bosses})
    if not flat.centre.leaves_floor(thickness):
        return Sentence(why.RECESS_FLOOR, {"thickness": thickness, "taken": flat.centre.depth_taken_mm()})
    thread, doubt = _thread_depth_mm(flat, thickness)
    wanted = least_thread_mm(flat.pump_bolt.nominal_mm, job.material)
    if thread - doubt < wanted - SAME_MM:
        return Sentence(why.THREAD_SHORT, {"thickness": thickness, "thread": thread - doubt, "wanted": wanted})
    return None


@dataclass(frozen=True, slots=True)
class _Lengths:
    """What runs along the axis, mm."""

    thickness: float
    thread: float
    thread_doubt: float
    screw: float
    pump_bolt: float


def _thread_depth_mm(flat: _Flat, thickness: float) -> tuple[float, float]:
    """Return the thread a pump bolt finds and its doubt, mm: less where a hole opens into the engine's recess."""
    recess = flat.centre.engine_recess
    if recess is None or not flat.layout.in_recess:
        return thickness, MADE_THICKNESS_MM
    return thickness - recess.depth_mm, 2 * MADE_THICKNESS_MM


def _pump_boss_room(readings: PlateReadings, centre: Centre, thickness: float) -> Recess | None:
    """Return what the pump's boss goes into: its recess, or the bore as far as the engine's boss leaves it."""
    if readings.pump_boss is None or centre.pump_recess is not None:
        return centre.pump_recess
    taken = readings.engine_boss.height_mm.high if readings.engine_boss else 0.0
    return Recess(centre.bore_mm, thickness - taken)


def _plate(readings: PlateReadings, job: _Job, flat: _Flat, lengths: _Lengths) -> Plate:
    sunk, laid, engine = flat.sunk, flat.layout, places(readings.face_holes)
    cut = (sunk.clearance_mm, sunk.counterbore_mm, sunk.depth_mm)
    return Plate(
        material=job.material,
        thickness_mm=lengths.thickness,
        outline_mm=laid.outline_mm,
        turn_deg=laid.turn_deg,
        engine_holes=tuple(EngineHole(x, y, *cut) for x, y in engine),
        pump_holes=tuple(PumpHole(x, y, flat.pump_bolt.designation) for x, y in laid.pump),
        centre_bore_mm=flat.centre.bore_mm,
        engine_recess=flat.centre.engine_recess,
        pump_recess=flat.centre.pump_recess,
        pump_boss_room=_pump_boss_room(readings, flat.centre, lengths.thickness),
        screw_thread=job.bolt.designation,
        screw_length_mm=lengths.screw,
        screw_count=len(engine),
        pump_bolt_thread=flat.pump_bolt.designation,
        pump_bolt_length_mm=lengths.pump_bolt,
        thread_depth_mm=lengths.thread,
        thread_depth_doubt_mm=lengths.thread_doubt,
        least_web_mm=laid.least_web_mm,
        least_edge_mm=laid.least_edge_mm,
        how=readings.how,
    )
