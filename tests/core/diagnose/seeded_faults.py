"""Machines with one fault each, and what a shop would note of them: readings with doubts, looks, trials, gaps."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from functools import cached_property
from random import Random
from typing import Any

from tests.core.diagnose.simulated_machine import Running, Washer, running, shut_bar
from xref_app.core.diagnose.evidence import Bucket, Evidence
from xref_app.core.diagnose.words import (
    Cause,
    FlowBack,
    GaugePlace,
    Leak,
    Noise,
    Nozzle,
    Oil,
    Part,
    Relief,
    Screen,
    SuctionAir,
    Symptom,
)
from xref_app.core.quantity.range import Range

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


ALWAYS_TOLD = frozenset({"symptoms", "cured_by", "no_change_by", "cannot_say"})


def noted(machine: Machine, random: Random, *, missing: float) -> Evidence:
    """Return what a shop notes: true looks, readings with doubts that hold the truth, each item missing by chance."""
    whole = everything(machine, random)
    kept: dict[str, Any] = {
        item.name: getattr(whole, item.name)
        for item in fields(whole)
        if item.name in ALWAYS_TOLD or random.random() >= missing
    }
    return Evidence(**kept)


def everything(machine: Machine, random: Random) -> Evidence:
    """Return all that could be noted of the machine, with reading doubts that hold the truth."""
    washer, state = machine.washer, machine.state
    place = random.choice(tuple(GaugePlace))
    cured_by, no_change_by = _trials(machine, random)
    return Evidence(
        symptoms=_symptoms(machine, random),
        taken_while_bad=True,
        gauge_bar=_read(state.pump_bar if place is GaugePlace.PUMP else state.gun_bar, 0.03, random),
        gauge_place=place,
        shut_bar=_read(shut_bar(washer), 0.04, random),
        bucket=_poured(state.spray_lpm, random),
        open_bucket=_poured(running(washer, nozzle_off=True).spray_lpm, random),
        supply_bucket=_poured(washer.supply_lpm, random),
        supply_c=_read(random.uniform(8, 25), 0.05, random),
        nozzle_number=Range.exactly(machine.printed_number),
        nozzle=_nozzle_look(machine),
        rated_lpm=Range.exactly(machine.rated_lpm),
        rated_bar=Range.exactly(machine.rated_bar),
        rated_rpm=Range.exactly(machine.rated_rpm),
        shaft_rpm=_read(washer.rpm, 0.01, random),
        screen=Screen.CLOGGED if washer.screen_lpm < machine.rated_lpm else Screen.CLEAN,
        suction_air=SuctionAir.BUBBLES if washer.air_share else SuctionAir.NONE,
        flow_back=FlowBack.FLOWS if state.back_lpm > 0.3 else FlowBack.NONE,
        relief=Relief.OPEN if washer.relief_leak else Relief.SHUT,
        leak=_leak(machine),
        oil=machine.oil,
        noise=_noise(machine, random),
        low_pressure_nozzle=machine.soap_nozzle,
        bypass_minutes=_read(random.uniform(4, 15) if machine.long_bypass else random.uniform(0.2, 1.5), 0.2, random),
        stood_in_frost=machine.frost,
        cured_by=cured_by,
        no_change_by=no_change_by,
    )


def _read(truth: float, doubt_share: float, random: Random) -> Range:
    doubt = abs(truth) * doubt_share
    return Range.around(truth + random.uniform(-doubt, doubt), doubt)


def _poured(flow_lpm: float, random: Random) -> Bucket:
    seconds = random.uniform(30, 60)
    return Bucket(_read(flow_lpm * seconds / 60, 0.01, random), _read(seconds, 0.5 / seconds, random))


def _symptoms(machine: Machine, random: Random) -> frozenset[Symptom]:
    state, found = machine.state, set()
    share = state.gun_bar / machine.rated_bar
    if share < 0.85:
        found.add(Symptom.NO_PRESSURE if share < 0.15 else Symptom.LOW_PRESSURE)
    if state.spray_lpm < 0.1 * machine.rated_lpm:
        found.add(Symptom.NO_FLOW)
    told = {
        Symptom.PULSES: (machine.washer.air_share > 0 or machine.washer.valve_share < 1) and random.random() < 0.8,
        Symptom.DROPS_LATER: machine.washer.relief_leak > 0 and random.random() < 0.7,
        Symptom.STARTS_HARD: machine.washer.shut_peak > 1.4,
        Symptom.LEAKS: _leak(machine) is not Leak.NONE,
        Symptom.MILKY_OIL: machine.oil is not Oil.CLEAR,
        Symptom.NOISY: _noise(machine, random) is not Noise.EVEN and random.random() < 0.6,
    }
    found |= {symptom for symptom, does in told.items() if does}
    return frozenset(found)


def _nozzle_look(machine: Machine) -> Nozzle | None:
    if machine.soap_nozzle:
        return None
    acts = machine.washer.number / machine.printed_number
    if acts < 0.8:
        return Nozzle.BLOCKED
    if acts > 1.35:
        return Nozzle.WIDE
    return Nozzle.GOOD if acts < 1.1 else None


def _leak(machine: Machine) -> Leak:
    if machine.washer.head_leak:
        return Leak.CRACK
    if machine.weeps:
        return Leak.WEEP_HOLES
    return Leak.HOSE_OR_GUN if machine.washer.hose_leak else Leak.NONE


def _noise(machine: Machine, random: Random) -> Noise:
    if machine.state.starved or machine.washer.air_share:
        return Noise.GRAVEL
    return Noise.TICK if machine.washer.valve_share < 1 and random.random() < 0.7 else Noise.EVEN


def _trials(machine: Machine, random: Random) -> tuple[frozenset[Part], frozenset[Part]]:
    """Return which changed parts cured it and which did not, by running the machine with that part as built."""
    parts = {
        Part.WAND_AND_HOSE: (0.4, ("hose_way", "wand_way", "hose_leak")),
        Part.NOZZLE: (0.2, ("number",)),
        Part.UNLOADER: (0.1, ("set_bar", "unloader_leak", "shut_peak")),
    }
    cured, same = set(), set()
    for part, (chance, names) in parts.items():
        if random.random() >= chance or machine.cause is Cause.HEALTHY:
            continue
        built = {name: getattr(machine.sound, name) for name in names}
        if replace(machine.washer, **built) == machine.sound and machine.washer != machine.sound:
            cured.add(part)
        else:
            same.add(part)
    return frozenset(cured), frozenset(same)
