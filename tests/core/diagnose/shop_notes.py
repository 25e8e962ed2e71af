"""What a shop would note of a simulated machine: readings with doubts, looks, trials, gaps."""

from __future__ import annotations

from dataclasses import fields, replace
from random import Random
from typing import Any

from tests.core.diagnose.seeded_faults import Machine
from tests.core.diagnose.simulated_machine import running, shut_bar
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
