"""Which chains of fittings join both hoses to the pump, and what stands in the way where none does."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass

from xref_app.core.fit.rated import highest_pressure_bar
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.water import End
from xref_app.core.parts.fitting_index import FittingIndex, fitting_index
from xref_app.core.parts.house_rules import UNLISTED_MAX_C
from xref_app.core.parts.joints import ReadEnd, mates, read_end_or_none
from xref_app.core.parts.water import NOT_BRIDGED, Bridged, Port, bridge_both, bridge_one
from xref_app.core.quantity.range import Range

# How many shelves, each for one pressure and temperature, are remembered as graphs.
_REMEMBERED = 64
# Water so cold that every fitting stands it, to ask what temperature aside would join two ends, °C.
ANY_C = -273.0


@dataclass(frozen=True, slots=True)
class WaterPlan:
    """The chains of both ports; a port that needs none, or is not known yet, is not bridged."""

    inlet: Bridged = NOT_BRIDGED
    outlet: Bridged = NOT_BRIDGED

    @staticmethod
    def pieces_of(port: Bridged) -> tuple[Part, ...]:
        """Return the pieces that one port uses."""
        return () if port.chain is None else port.chain.pieces


@dataclass(frozen=True, slots=True)
class Demand:
    """What a fitting must stand: a pressure (None on the supply side) and a water temperature."""

    bar: float | None
    hottest_c: float


def water_plan(machine: Machine, pump: Pump, shelf: Shelf) -> WaterPlan:
    """Return the least chains for both ports together, every piece strong enough in the worst case."""
    inlet = _port_or_none(machine.water.supply, pump.ports.inlet, inlet_demand(machine), shelf)
    outlet = _port_or_none(
        machine.water.discharge, pump.ports.outlet, outlet_demand_or_none(machine, pump, shelf), shelf
    )
    if inlet is not None and outlet is not None:
        both = bridge_both(outlet, inlet)
        return WaterPlan(both[1], both[0])
    return WaterPlan(
        bridge_one(inlet) if inlet is not None else NOT_BRIDGED,
        bridge_one(outlet) if outlet is not None else NOT_BRIDGED,
    )


def inlet_demand(machine: Machine) -> Demand:
    """Return what a fitting on the supply side must stand."""
    return Demand(None, water_c(machine).high)


def outlet_demand_or_none(machine: Machine, pump: Pump, shelf: Shelf) -> Demand | None:
    """Return what a fitting on the pressure side must stand; None while the highest pressure is not known."""
    highest = highest_pressure_bar(pump, shelf)
    return None if highest is None else Demand(highest.high, water_c(machine).high)


def water_c(machine: Machine) -> Range:
    """Return how hot the water may be, °C.

    While it is not known the supply stays open, and with it the verdict: fittings are then taken for cold water.
    """
    known = machine.water.supply.temperature_c
    return Range.exactly(UNLISTED_MAX_C) if known is None else known.range


def leads_there(ours: ReadEnd, theirs: ReadEnd, demand: Demand, shelf: Shelf) -> bool:
    """Say whether listed fittings that stand ``demand`` would join the two ends."""
    return bridge_one(Port(_index(shelf, demand), ours, theirs)).chain is not None


def weakest_on_the_way(ours: ReadEnd, theirs: ReadEnd, shelf: Shelf) -> Part:
    """Return the weakest piece of the strongest chain that joins two ends (one does, strength aside)."""
    ratings = sorted({part.rating_bar for part in shelf if part.rating_bar is not None}, reverse=True)
    for bar in (*ratings, None):
        chain = bridge_one(Port(_index(shelf, Demand(bar, ANY_C)), ours, theirs)).chain
        if chain is not None:
            return min(chain.pieces, key=lambda part: part.rating_bar or 0.0)
    raise ValueError("no chain joins the two ends: ask leads_there first")


def _port_or_none(hose: End, port: End, demand: Demand | None, shelf: Shelf) -> Port | None:
    """Return the port where a chain is needed and can be chosen; None where not."""
    ours, theirs = read_end_or_none(hose), read_end_or_none(port)
    if demand is None or ours is None or theirs is None or mates(ours, theirs) is not False:
        return None
    if ours.is_seal_open or theirs.is_seal_open:
        return None
    return Port(_index(shelf, demand), ours, theirs)


class _Indexes:
    """The graphs of the last shelves, by the shelf itself (not its equal: comparing long shelves takes longer)."""

    def __init__(self, build: Callable[[Shelf, Demand], FittingIndex]) -> None:
        self._build = build
        self._kept: OrderedDict[tuple[int, Demand], tuple[Shelf, FittingIndex]] = OrderedDict()

    def __call__(self, shelf: Shelf, demand: Demand) -> FittingIndex:
        key = (id(shelf), demand)
        kept = self._kept.get(key)
        if kept is not None and kept[0] is shelf:
            return kept[1]
        index = self._build(shelf, demand)
        self._kept[key] = (shelf, index)
        while len(self._kept) > _REMEMBERED:
            self._kept.popitem(last=False)
        return index


_index = _Indexes(lambda shelf, demand: fitting_index(shelf, least_bar=demand.bar, hottest_c=demand.hottest_c))
