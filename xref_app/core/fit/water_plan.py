"""Which chains of fittings join both hoses to the pump, and what stands in the way where none does."""

from __future__ import annotations

from bisect import bisect_left
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from math import inf
from typing import TypeVar

from xref_app.core.fit.rated import highest_pressure_bar
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.water import End
from xref_app.core.model.words import PartKind
from xref_app.core.parts.chains import Chain
from xref_app.core.parts.fitting_index import FittingIndex, fitting_index
from xref_app.core.parts.house_rules import UNLISTED_MAX_C
from xref_app.core.parts.joints import ReadEnd, mates, read_end_or_none
from xref_app.core.parts.missing_plugs import with_missing_plugs
from xref_app.core.parts.nearest import Gap, nearest_gap
from xref_app.core.parts.water import NOT_BRIDGED, Bridged, Port, bridge_both, bridge_one
from xref_app.core.quantity.range import Range

# How many shelves, each for one pressure and temperature, are remembered as graphs.
_REMEMBERED = 64
Key = TypeVar("Key")
Value = TypeVar("Value")

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
    return _plan(machine, pump, shelf, *_demands(machine, pump, shelf, worst=True))


def may_share(machine: Machine, pump: Pump, shelf: Shelf, worst: WaterPlan) -> bool:
    """Say whether the shelf holds enough for both ports if pressure and water are as low as their readings allow.

    Args:
        machine: The machine.
        pump: The pump.
        shelf: What is listed.
        worst: The plan for the worst case; where it bridges the inlet there is nothing to ask.
    """
    if worst.inlet.chain is not None or worst.outlet.chain is None:
        return False
    lowest = _plan(machine, pump, shelf, *_demands(machine, pump, shelf, worst=False))
    return lowest.inlet.chain is not None


def _demands(machine: Machine, pump: Pump, shelf: Shelf, *, worst: bool) -> tuple[Demand, Demand | None]:
    """Return what fittings must stand at inlet and outlet; None at the outlet while its pressure is not known."""
    water, highest = water_c(machine), highest_pressure_bar(pump, shelf)
    hottest = water.high if worst else water.low
    if highest is None:
        return Demand(None, hottest), None
    return Demand(None, hottest), Demand(highest.high if worst else highest.low, hottest)


def _plan(machine: Machine, pump: Pump, shelf: Shelf, at_inlet: Demand, at_outlet: Demand | None) -> WaterPlan:
    inlet = _port_or_none(machine.water.supply, pump.ports.inlet, at_inlet, shelf)
    outlet = _port_or_none(machine.water.discharge, pump.ports.outlet, at_outlet, shelf)
    if inlet is not None and outlet is not None:
        both = bridge_both(outlet, inlet)
        return WaterPlan(both[1], both[0])
    return WaterPlan(
        bridge_one(inlet) if inlet is not None else NOT_BRIDGED,
        bridge_one(outlet) if outlet is not None else NOT_BRIDGED,
    )


def water_c(machine: Machine) -> Range:
    """Return how hot the water may be, °C.

    While it is not known the supply stays open, and with it the verdict: chains are then planned for cold water. How
    cold nobody knows either, so no fitting is refused for the heat.
    """
    known = machine.water.supply.temperature_c
    return Range(ANY_C, UNLISTED_MAX_C) if known is None else known.range


def leads_there(ours: ReadEnd, theirs: ReadEnd, demand: Demand, shelf: Shelf) -> bool:
    """Say whether listed fittings that stand ``demand`` would join the two ends."""
    return bridge_one(Port(_index(shelf, demand), ours, theirs)).chain is not None


def chain_but_for_plugs(ours: ReadEnd, theirs: ReadEnd, demand: Demand, shelf: Shelf) -> Chain | None:
    """Return the chain that would join two ends which none of the listed ones does, were there plugs for its tees."""
    return bridge_one(Port(_index_with_plugs(shelf, demand), ours, theirs)).chain


def gap_between(ours: ReadEnd, theirs: ReadEnd, demand: Demand, shelf: Shelf) -> Gap:
    """Return what the fittings that stand ``demand`` lack to join the two ends."""
    return nearest_gap(_index(shelf, demand), ours, theirs)


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
    if ours.is_open or theirs.is_open:
        return None
    return Port(_index(shelf, demand), ours, theirs)


class _Indexes:
    """The graphs of the last shelves, by the shelf itself (not its equal: comparing long shelves takes longer).

    Two demands that leave the same fittings out share a graph: the next higher rating listed stands for both.
    """

    def __init__(self, build: Callable[[Shelf, Demand], FittingIndex]) -> None:
        self._build = build
        self._levels: OrderedDict[int, tuple[Shelf, _Levels]] = OrderedDict()
        self._kept: OrderedDict[tuple[int, Demand], tuple[Shelf, FittingIndex]] = OrderedDict()

    def __call__(self, shelf: Shelf, demand: Demand) -> FittingIndex:
        same = self._levels_of(shelf).standing_for(demand)
        return _remembered(self._kept, (id(shelf), same), shelf, lambda: self._build(shelf, same))

    def _levels_of(self, shelf: Shelf) -> _Levels:
        return _remembered(self._levels, id(shelf), shelf, lambda: _Levels.of(shelf))


@dataclass(frozen=True, slots=True)
class _Levels:
    """The pressures and temperatures that a shelf's fittings are listed for, lowest first."""

    bars: tuple[float, ...]
    temperatures_c: tuple[float, ...]

    @classmethod
    def of(cls, shelf: Shelf) -> _Levels:
        """Return the levels of a shelf."""
        listed = [part for part in shelf if part.kind is PartKind.FITTING]
        bars = {part.rating_bar for part in listed if part.rating_bar is not None}
        hot = {UNLISTED_MAX_C if part.max_c is None else part.max_c for part in listed}
        return cls(tuple(sorted(bars)), tuple(sorted(hot)))

    def standing_for(self, demand: Demand) -> Demand:
        """Return the highest demand that the same fittings stand; infinite where none does."""
        bar = None if demand.bar is None else _next_or_infinite(self.bars, demand.bar)
        return Demand(bar, _next_or_infinite(self.temperatures_c, demand.hottest_c))


def _next_or_infinite(levels: tuple[float, ...], least: float) -> float:
    place = bisect_left(levels, least)
    return levels[place] if place < len(levels) else inf


def _remembered(
    kept: OrderedDict[Key, tuple[Shelf, Value]], key: Key, shelf: Shelf, build: Callable[[], Value]
) -> Value:
    """Return what was built for this very shelf; an id alone may have passed on to another one."""
    known = kept.get(key)
    if known is not None and known[0] is shelf:
        return known[1]
    built = build()
    kept[key] = (shelf, built)
    while len(kept) > _REMEMBERED:
        kept.popitem(last=False)
    return built


def _built(shelf: Shelf, demand: Demand) -> FittingIndex:
    return fitting_index(shelf, least_bar=demand.bar, hottest_c=demand.hottest_c)


_index = _Indexes(_built)
_index_with_plugs = _Indexes(lambda shelf, demand: _built(with_missing_plugs(shelf), demand))
