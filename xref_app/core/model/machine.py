"""The machine side: all that a pump meets. None stands for 'not known' everywhere."""

from __future__ import annotations

from dataclasses import dataclass, field

from xref_app.core.model.known import Dimension, Fact, Pattern, Seats
from xref_app.core.model.water import End
from xref_app.core.model.words import Axis, HoleKind, Material, PilotKind, PowerKind, SeatKind, ShaftForm, Turn


@dataclass(frozen=True, slots=True)
class Shaft:
    """The driving shaft.

    Lengths run from the mounting face, positive toward the pump; ``key_top_mm`` is the height over the key from the far
    side of the shaft.
    """

    form: Fact[ShaftForm] | None = None
    axis: Fact[Axis] | None = None
    diameter_mm: Dimension | None = None
    projection_mm: Dimension | None = None
    key_width_mm: Dimension | None = None
    key_top_mm: Dimension | None = None
    keyseat_length_mm: Dimension | None = None
    keyseat_from_end_mm: Dimension | None = None
    turn: Fact[Turn] | None = None


@dataclass(frozen=True, slots=True)
class Face:
    """The driving face the pump bolts to. ``pilot_depth_mm`` is a boss's height or a recess's depth."""

    holes_xy_mm: Pattern | None = None
    hole_kind: Fact[HoleKind] | None = None
    hole_mm: Dimension | None = None
    thickness_mm: Dimension | None = None
    bolt: Fact[str] | None = None
    bolt_length_mm: Dimension | None = None
    tapped_depth_mm: Dimension | None = None
    material: Fact[Material] | None = None
    pilot_kind: Fact[PilotKind] | None = None
    pilot_mm: Dimension | None = None
    pilot_depth_mm: Dimension | None = None
    seat_kind: Fact[SeatKind] | None = None
    seat_heights_mm: Seats | None = None


@dataclass(frozen=True, slots=True)
class Power:
    """The engine or motor as rated."""

    kind: Fact[PowerKind] | None = None
    power_kw: Dimension | None = None
    speed_rpm: Dimension | None = None


@dataclass(frozen=True, slots=True)
class Supply(End):
    """The water that comes in: the hose's end and what it delivers."""

    flow_lpm: Dimension | None = None
    temperature_c: Dimension | None = None
    pressure_bar: Dimension | None = None


@dataclass(frozen=True, slots=True)
class Discharge(End):
    """The high-pressure hose's end; ``rating_bar`` is the weakest of hose, gun and wand."""

    rating_bar: Dimension | None = None


@dataclass(frozen=True, slots=True)
class Water:
    """Everything wet on the machine side."""

    supply: Supply = field(default_factory=Supply)
    discharge: Discharge = field(default_factory=Discharge)
    nozzle_number: Dimension | None = None
    working_pressure_bar: Dimension | None = None


@dataclass(frozen=True, slots=True)
class Room:
    """The room the machine leaves: length, and directions open to the outlet (degrees from x towards y)."""

    outlet_free_deg: Fact[tuple[tuple[float, float], ...]] | None = None
    length_mm: Dimension | None = None


@dataclass(frozen=True, slots=True)
class Machine:
    """All that a pump meets."""

    shaft: Shaft = field(default_factory=Shaft)
    face: Face = field(default_factory=Face)
    power: Power = field(default_factory=Power)
    water: Water = field(default_factory=Water)
    room: Room = field(default_factory=Room)
