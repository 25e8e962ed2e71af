"""The adapter plate in numbers, as it must be made."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.model.known import How
from xref_app.core.model.words import Material
from xref_app.core.sentence import Sentence


@dataclass(frozen=True, slots=True)
class EngineHole:
    """A clearance hole for a screw into the engine, and the counterbore that sinks its head from the pump side, mm."""

    x_mm: float
    y_mm: float
    clearance_mm: float
    counterbore_mm: float
    counterbore_depth_mm: float


@dataclass(frozen=True, slots=True)
class PumpHole:
    """A hole tapped right through the plate for a bolt of the pump; place in mm."""

    x_mm: float
    y_mm: float
    thread: str


@dataclass(frozen=True, slots=True)
class Recess:
    """A recess turned into one side of the plate, about its centre, mm."""

    diameter_mm: float
    depth_mm: float


@dataclass(frozen=True, slots=True)
class Plate:
    """An adapter plate: places in mm from the shaft's axis, in the view of the holes; sizes as drawn.

    ``turn_deg`` is the turn of the pump, counter-clockwise in that view. ``thread_depth_mm`` is the
    thread a bolt of the pump finds, give or take ``thread_depth_doubt_mm``: the whole thickness, less the engine's
    recess where a hole opens into it.
    ``pump_boss_room`` is what the pump's boss goes into, its own recess or the opened bore; None where it has no boss.
    ``least_web_mm`` and ``least_edge_mm`` are as drawn; what making may take is left for in them.
    """

    material: Material
    thickness_mm: float
    outline_mm: float
    turn_deg: int
    engine_holes: tuple[EngineHole, ...]
    pump_holes: tuple[PumpHole, ...]
    centre_bore_mm: float
    engine_recess: Recess | None
    pump_recess: Recess | None
    pump_boss_room: Recess | None
    screw_thread: str
    screw_length_mm: float
    screw_count: int
    pump_bolt_thread: str
    pump_bolt_length_mm: float
    thread_depth_mm: float
    thread_depth_doubt_mm: float
    least_web_mm: float
    least_edge_mm: float
    how: How


@dataclass(frozen=True, slots=True)
class PlateRefused:
    """Why no plate is proposed, and the fields whose closer measurement might allow one (none: nothing would)."""

    reason: Sentence
    measure: tuple[str, ...] = ()
