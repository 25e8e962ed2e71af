"""Machines as built, and with one fault each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from random import Random

from tests.core.diagnose.simulated_machine import Running, Washer, running
from xref_app.core.diagnose.words import (
    Cause,
    Oil,
)

NUMBERS = (2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0, 7.5, 8.0)


@dataclass(frozen=True)
class Machine:
    """A machine as built (``sound``) and as it stands in the shop, with what its plate says and what can be seen."""

    cause: Cause
    sound: Washer
    washer: Washer
    rated_lpm: float
    rated_bar: float
    rated_rpm: float
    printed_number: float
    soap_nozzle: bool = False
    oil: Oil = Oil.CLEAR
    weeps: bool = False
    frost: bool = False
    long_bypass: bool = False

    @cached_property
    def state(self) -> Running:
        return running(self.washer)


def sound_machine(random: Random) -> Machine:
    """Return a healthy machine whose pump delivers 0.93 to 1.03 of its plate."""
    number = random.choice(NUMBERS[:9])
    rated_bar = random.uniform(120, 260)
    rated_rpm = random.choice((1450.0, 1750.0, 2850.0, 3400.0, 3450.0))
    through_lpm = number * 3.785411784 * (rated_bar / 275.79) ** 0.5
    rated_lpm = through_lpm * random.uniform(0.95, 1.01)
    swept_lpm = rated_lpm * random.uniform(1.0, 1.06)
    slip = swept_lpm * random.uniform(0.02, 0.06) / rated_bar
    washer = Washer(
        displacement_l=swept_lpm / rated_rpm,
        rpm=rated_rpm * random.uniform(0.97, 1.03),
        slip_lpm_per_bar=slip,
        supply_lpm=rated_lpm * random.uniform(1.35, 2.5),
        number=number,
        set_bar=rated_bar * random.uniform(1.12, 1.2),
        hose_way=number * random.uniform(4.5, 9),
        wand_way=number * random.uniform(4.5, 9),
    )
    washer = replace(washer, set_bar=max(washer.set_bar, 1.06 * running(replace(washer, set_bar=1e3)).pump_bar))
    return Machine(Cause.HEALTHY, washer, washer, rated_lpm, rated_bar, rated_rpm, number)


def _supply_starved(machine: Machine, random: Random) -> Machine:
    return _with(machine, supply_lpm=machine.rated_lpm * random.uniform(0.35, 0.75))


def _screen_clogged(machine: Machine, random: Random) -> Machine:
    return _with(machine, screen_lpm=machine.rated_lpm * random.uniform(0.3, 0.72))


def _air_leak(machine: Machine, random: Random) -> Machine:
    return _with(machine, air_share=random.uniform(0.25, 0.6))


def _nozzle_worn(machine: Machine, random: Random) -> Machine:
    return _with(machine, number=machine.washer.number * random.uniform(1.25, 1.8))


def _nozzle_wrong(machine: Machine, random: Random) -> Machine:
    if random.random() < 0.5:
        return _with(machine, number=machine.washer.number * random.uniform(0.4, 0.75))
    larger = [number for number in NUMBERS if 1.3 < number / machine.washer.number < 2.2]
    number = random.choice(larger or [machine.washer.number * 1.5])
    return replace(_with(machine, number=number), printed_number=number)


def _wand_or_hose(machine: Machine, random: Random) -> Machine:
    number = machine.washer.number
    kind = random.choice(("hose", "wand", "leak"))
    if kind == "leak":
        return _with(machine, hose_leak=number * random.uniform(0.3, 0.9))
    return _with(machine, **{f"{kind}_way": number * random.uniform(0.4, 0.85)})


def _unloader(machine: Machine, random: Random) -> Machine:
    kind = random.choice(("leaks", "low", "low", "high"))
    if kind == "leaks":
        return _with(machine, unloader_leak=machine.washer.number * random.uniform(0.35, 2))
    if kind == "low":
        return _with(machine, set_bar=machine.rated_bar * random.uniform(0.05, 0.7))
    return _with(machine, shut_peak=random.uniform(1.5, 1.9))


def _injector(machine: Machine, random: Random) -> Machine:
    return replace(_with(machine, number=random.uniform(20, 45)), soap_nozzle=True)


def _engine_slow(machine: Machine, random: Random) -> Machine:
    return _with(machine, rpm=machine.rated_rpm * random.uniform(0.5, 0.8))


def _valves(machine: Machine, random: Random) -> Machine:
    return _with(machine, valve_share=random.uniform(0.3, 0.7))


def _seals(machine: Machine, random: Random) -> Machine:
    swept = machine.washer.displacement_l * machine.rated_rpm
    slip = swept * random.uniform(0.45, 0.9) / machine.rated_bar
    return replace(_with(machine, slip_lpm_per_bar=slip), weeps=random.random() < 0.6)


def _relief(machine: Machine, random: Random) -> Machine:
    # A relief valve on the loop of the unloader: it takes water that was pumped.
    leak = machine.washer.number * random.uniform(0.35, 1.5)
    return replace(_with(machine, relief_leak=leak), long_bypass=random.random() < 0.8)


def _frozen(machine: Machine, random: Random) -> Machine:
    return replace(_with(machine, head_leak=machine.washer.number * random.uniform(0.5, 4)), frost=True)


def _oil_seals(machine: Machine, random: Random) -> Machine:
    return replace(machine, oil=random.choice((Oil.MILKY, Oil.MILKY_AGAIN)))


FAULTS: dict[Cause, Callable[[Machine, Random], Machine]] = {
    Cause.SUPPLY_STARVED: _supply_starved,
    Cause.SCREEN_CLOGGED: _screen_clogged,
    Cause.AIR_LEAK: _air_leak,
    Cause.NOZZLE_WORN: _nozzle_worn,
    Cause.NOZZLE_WRONG: _nozzle_wrong,
    Cause.WAND_OR_HOSE: _wand_or_hose,
    Cause.UNLOADER: _unloader,
    Cause.INJECTOR: _injector,
    Cause.ENGINE_SLOW: _engine_slow,
    Cause.VALVES: _valves,
    Cause.SEALS: _seals,
    Cause.RELIEF_OPEN: _relief,
    Cause.FROZEN_HEAD: _frozen,
    Cause.OIL_SEALS: _oil_seals,
    Cause.HEALTHY: lambda machine, _random: machine,
}
OUTSIDE = tuple(
    cause
    for cause in FAULTS
    if cause not in {Cause.VALVES, Cause.SEALS, Cause.FROZEN_HEAD, Cause.OIL_SEALS, Cause.HEALTHY}
)


def with_fault(machine: Machine, cause: Cause, random: Random) -> Machine:
    """Return the machine with one more fault."""
    return replace(FAULTS[cause](machine, random), cause=cause)


def _with(machine: Machine, **changes: float) -> Machine:
    return replace(machine, washer=replace(machine.washer, **changes))
