"""The pump that could go on. None stands for 'not known' everywhere."""

from __future__ import annotations

from dataclasses import dataclass, field

from xref_app.core.model.known import Dimension, Fact, Pattern, Seats
from xref_app.core.model.water import End
from xref_app.core.model.words import Axis, BoreForm, Oil, PilotKind, SeatKind, Turn


@dataclass(frozen=True, slots=True)
class Bore:
    """Where the shaft goes.

    Lengths run inward from the pump's mounting face; ``keyway_floor_mm`` is from the far
    side of the bore; ``recess_mm`` is how far the bore's mouth lies behind the face. On a solid-shaft pump the
    diameter is that of its own shaft.
    """

    form: Fact[BoreForm] | None = None
    axis: Fact[Axis] | None = None
    diameter_mm: Dimension | None = None
    depth_mm: Dimension | None = None
    recess_mm: Dimension | None = None
    keyway_width_mm: Dimension | None = None
    keyway_floor_mm: Dimension | None = None
    keyway_from_mm: Dimension | None = None
    keyway_to_mm: Dimension | None = None
    turn: Fact[Turn] | None = None


@dataclass(frozen=True, slots=True)
class Flange:
    """The pump's mounting flange or legs. ``pilot_depth_mm`` is a boss's height or a recess's depth."""

    holes_xy_mm: Pattern | None = None
    hole_mm: Dimension | None = None
    thickness_mm: Dimension | None = None
    pilot_kind: Fact[PilotKind] | None = None
    pilot_mm: Dimension | None = None
    pilot_depth_mm: Dimension | None = None
    seat_kind: Fact[SeatKind] | None = None
    seat_heights_mm: Seats | None = None


@dataclass(frozen=True, slots=True)
class Outlet(End):
    """The pressure port; ``direction_deg`` from x towards y at clocking 0, in the view of the holes."""

    direction_deg: Dimension | None = None


@dataclass(frozen=True, slots=True)
class Ports:
    """Where water comes in and goes out."""

    inlet: End = field(default_factory=End)
    outlet: Outlet = field(default_factory=Outlet)


@dataclass(frozen=True, slots=True)
class Rating:
    """What the maker says the pump may do. Absent ``max_speed_rpm``: the rated speed is the limit."""

    pressure_bar: Dimension | None = None
    flow_lpm: Dimension | None = None
    speed_rpm: Dimension | None = None
    max_speed_rpm: Dimension | None = None
    max_inlet_c: Dimension | None = None
    min_supply_bar: Dimension | None = None
    max_supply_bar: Dimension | None = None


@dataclass(frozen=True, slots=True)
class Has:
    """What is built in."""

    unloader: Fact[bool] | None = None
    thermal_relief: Fact[bool] | None = None
    chemical_inlet: Fact[bool] | None = None
    inlet_screen: Fact[bool] | None = None


@dataclass(frozen=True, slots=True)
class Pump:
    """A pump that could go on."""

    bore: Bore = field(default_factory=Bore)
    flange: Flange = field(default_factory=Flange)
    ports: Ports = field(default_factory=Ports)
    rating: Rating = field(default_factory=Rating)
    has: Has = field(default_factory=Has)
    oil: Fact[Oil] | None = None
    length_mm: Dimension | None = None
