"""The checks in families that look at the same part of a pump: what two pumps have alike is judged once.

A family is judged on a pump stripped to the family's part, so nothing else of the pump can change its findings.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from xref_app.core.fit.checks import CHECKS, Check
from xref_app.core.model.pump import Bore, Has, Outlet, Ports, Pump, Rating

_BY_NAME: Final[Mapping[str, Check]] = {check.question.check: check for check in CHECKS}


@dataclass(frozen=True, slots=True)
class Family:
    """Checks, and the pump stripped to what they look at."""

    name: str
    checks: tuple[Check, ...]
    part_of: Callable[[Pump], Pump]


@dataclass(frozen=True, slots=True)
class PartVersions:
    """A pump stripped to one family's part, once per combination of the versions its sizes come in (n ≥ 1).

    ``contradicted`` are the fields that come in several versions.
    """

    versions: tuple[Pump, ...]
    contradicted: tuple[str, ...] = ()


def _drive(pump: Pump) -> Pump:
    bore = pump.bore
    return Pump(
        bore=Bore(
            form=bore.form,
            axis=bore.axis,
            diameter_mm=bore.diameter_mm,
            keyway_width_mm=bore.keyway_width_mm,
            keyway_floor_mm=bore.keyway_floor_mm,
        )
    )


def _faces(pump: Pump) -> Pump:
    outlet = Outlet(direction_deg=pump.ports.outlet.direction_deg)
    return Pump(bore=replace(pump.bore, turn=None), flange=pump.flange, ports=Ports(outlet=outlet))


def _water(pump: Pump) -> Pump:
    return Pump(
        ports=replace(pump.ports, outlet=replace(pump.ports.outlet, direction_deg=None)),
        rating=Rating(pressure_bar=pump.rating.pressure_bar),
        has=Has(unloader=pump.has.unloader),
    )


def _running(pump: Pump) -> Pump:
    return Pump(bore=Bore(turn=pump.bore.turn), rating=pump.rating, has=Has(unloader=pump.has.unloader))


def _built_in(pump: Pump) -> Pump:
    return Pump(rating=Rating(pressure_bar=pump.rating.pressure_bar), has=pump.has, oil=pump.oil)


def _length(pump: Pump) -> Pump:
    return Pump(length_mm=pump.length_mm)


def _checks(*names: str) -> tuple[Check, ...]:
    return tuple(_BY_NAME[name] for name in names)


FACES: Final = Family("faces", _checks("key load", "reach", "pattern", "pilot", "seat", "bolts", "way out"), _faces)
"""The family whose checks hang on the plan for what lies between the faces."""

ALONE: Final = (
    Family("drive", _checks("axis", "drive", "bore", "key"), _drive),
    Family("water", _checks("inlet", "outlet"), _water),
    Family("running", _checks("speed", "pressure", "power", "nozzle", "supply", "turn"), _running),
    Family("built in", _checks("carried over", "comforts", "oil"), _built_in),
)
"""The families that nothing between the faces changes."""

ROOM: Final = Family("room", _checks("identity", "room"), _length)
"""What is left: whether the number was read whole, and the room once a plate is on."""

FAMILIES: Final = (FACES, *ALONE, ROOM)
"""Every family; together they hold every check once."""


def parts_of(pump: Pump) -> tuple[PartVersions, ...]:
    """Return a pump of one version stripped for each of ``FAMILIES``, in their order."""
    return tuple(PartVersions((family.part_of(pump),)) for family in FAMILIES)
