"""The screws that hold the plate to the engine, and the bolts that hold the pump to the plate."""

from __future__ import annotations

import math
from dataclasses import dataclass

from xref_app.core.fit.bolt_joint import least_thread_mm
from xref_app.core.fit.bolt_made import length_as_made_mm, washer_mm
from xref_app.core.fit.bolt_size import Bolt, bolt_of_or_none
from xref_app.core.model.words import Material
from xref_app.core.plan.house_rules import (
    BORE_STEP_MM,
    CENTRING_MM,
    DEPTH_STEP_MM,
    HEAD_BELOW_MM,
    HEAD_FLOOR_DIAMETERS,
    MADE_POSITION_MM,
    MADE_THICKNESS_MM,
    OVERSIZE_MM,
    PUMP_THREADS,
)
from xref_app.core.plan.plate_centre import stepped_up
from xref_app.core.plan.plate_readings import PlateReadings
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.standards.bolts import standard_lengths_mm
from xref_app.core.standards.fits import floating_fastener_offset_mm
from xref_app.core.standards.socket_screws import SocketScrew


@dataclass(frozen=True, slots=True)
class Sunk:
    """The hole of a sunk screw: clearance and counterbore, mm as drawn."""

    clearance_mm: float
    counterbore_mm: float
    depth_mm: float


def sunk_hole(screw: SocketScrew, bolt: Bolt) -> Sunk:
    """Return the hole of one screw: its head finds room wherever the screw stands in the clearance hole."""
    play = screw.clearance_mm + OVERSIZE_MM - bolt.major_mm.low
    counterbore = screw.head_diameter_mm + play + 2 * math.sqrt(2) * MADE_POSITION_MM
    depth = screw.head_height_mm + HEAD_BELOW_MM + MADE_THICKNESS_MM
    return Sunk(screw.clearance_mm, stepped_up(counterbore, BORE_STEP_MM), stepped_up(depth, DEPTH_STEP_MM))


def out_of_place_mm(pattern_doubt_mm: float) -> float:
    """Return how far a hole of the plate may lie from the hole of that pattern, mm: read, made and set."""
    return math.sqrt(2) * (pattern_doubt_mm + MADE_POSITION_MM + CENTRING_MM)


def engine_offset_mm(screw: SocketScrew, bolt: Bolt) -> float:
    """Return how far a screw may surely stand from the centre of the plate's hole, mm.

    Source: fixed fastener, ASME Y14.5: the screw is held by the engine's thread.
    """
    return floating_fastener_offset_mm(screw.clearance_mm, bolt.major_mm.high)


def pump_bolt_or_none(readings: PlateReadings, engine_bolt: Bolt) -> Bolt | None:
    """Return the bolt to tap for the pump: the engine's own if it passes the pump's holes, else the thickest that does.

    Source: fixed fastener, ASME Y14.5: (hole - bolt)/2 takes the doubt of both places.
    """
    away = out_of_place_mm(readings.flange_holes.doubt_mm)
    for bolt in (engine_bolt, *(_bolt(name) for name in PUMP_THREADS)):
        offset = floating_fastener_offset_mm(readings.flange_hole_mm.low, bolt.major_mm.high)
        if offset >= away - SAME_MM:
            return bolt
    return None


def head_floor_mm(sunk: Sunk, thickness_mm: float) -> Range:
    """Return what is left under a sunk head, mm, as made."""
    return Range.around(thickness_mm, MADE_THICKNESS_MM) - Range.around(sunk.depth_mm, MADE_THICKNESS_MM)


def head_floor_needed_mm(bolt: Bolt) -> float:
    """Return what must be left under a sunk head, mm."""
    return HEAD_FLOOR_DIAMETERS * bolt.nominal_mm


def screw_length_or_none(readings: PlateReadings, bolt: Bolt, floor_mm: Range) -> float | None:
    """Return the shortest standard screw that surely holds in the engine and surely does not bottom, mm."""
    least = least_thread_mm(bolt.nominal_mm, readings.face_material)
    return _length_or_none(bolt, floor_mm, least, readings.tapped_depth_mm.low)


def pump_bolt_length_or_none(
    readings: PlateReadings, bolt: Bolt, material: Material, thread_depth_mm: float
) -> float | None:
    """Return the shortest standard bolt that surely holds in the plate and never stands out behind it, mm.

    Args:
        readings: for the pump's flange.
        bolt: the thread tapped in the plate.
        material: the plate's.
        thread_depth_mm: least thread in the plate as made.
    """
    grip = readings.flange_thickness_mm + washer_mm(bolt)
    return _length_or_none(bolt, grip, least_thread_mm(bolt.nominal_mm, material), thread_depth_mm)


def _length_or_none(bolt: Bolt, grip_mm: Range, least_mm: float, most_mm: float) -> float | None:
    for length in standard_lengths_mm(bolt.system):
        inside = length_as_made_mm(bolt, length) - grip_mm
        if inside.surely_at_least(least_mm) and inside.surely_at_most(most_mm):
            return length
    return None


def _bolt(name: str) -> Bolt:
    bolt = bolt_of_or_none(name)
    if bolt is None:
        raise ValueError(f"the plate's house rules name a thread no table has: {name}")
    return bolt
