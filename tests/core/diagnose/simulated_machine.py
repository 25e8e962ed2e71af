"""A pressure washer by physics, knowing nothing of the program: a positive-displacement pump on orifices, in SI inside.

Sources: positive displacement less slip in proportion to pressure (textbook, laminar leakage); orifice equation
q = Cd·A·√(2p/ρ) (textbook; compared with the `fluids` library in test_simulated_machine.py); nozzle number N passes
N US gpm at 4000 psi (trade nozzle charts).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

WATER_KG_M3 = 998.2
PSI_PA = 4.4482216152605 / 0.0254**2
GALLON_M3 = 231 * 0.0254**3
LPM_PER_M3S = 60_000
BAR_PA = 1e5


def orifice_area_m2(number: float) -> float:
    """Return Cd·A of a nozzle, m²: what passes ``number`` US gpm at 4000 psi."""
    return number * GALLON_M3 / 60 / math.sqrt(2 * 4000 * PSI_PA / WATER_KG_M3)


def orifice_flow_lpm(number: float, bar: float) -> float:
    """Return the flow of water through a nozzle, L/min."""
    return orifice_area_m2(number) * math.sqrt(2 * max(bar, 0.0) * BAR_PA / WATER_KG_M3) * LPM_PER_M3S


def in_series(*numbers: float) -> float:
    """Return the number of one orifice that passes what several do one behind the other."""
    return 1 / math.sqrt(sum(1 / number**2 for number in numbers))


@dataclass(frozen=True)
class Washer:
    """One machine. Orifices are given as nozzle numbers; an orifice of 0 is none, a way of 1000 costs nothing."""

    displacement_l: float
    rpm: float
    slip_lpm_per_bar: float
    supply_lpm: float
    number: float
    set_bar: float
    screen_lpm: float = 1e3
    air_share: float = 0.0
    valve_share: float = 1.0
    hose_way: float = 25.0
    wand_way: float = 30.0
    hose_leak: float = 0.0
    head_leak: float = 0.0
    relief_leak: float = 0.0
    unloader_leak: float = 0.0
    shut_peak: float = 1.1


@dataclass(frozen=True)
class Running:
    """What a machine does while it sprays: flows in L/min, pressures in bar."""

    pump_bar: float
    gun_bar: float
    spray_lpm: float
    back_lpm: float
    lost_lpm: float
    starved: bool


def pumped_lpm(washer: Washer, bar: float) -> float:
    """Return what the pump delivers against ``bar``."""
    swept = washer.displacement_l * washer.rpm * washer.valve_share * (1 - washer.air_share)
    there = min(washer.supply_lpm, washer.screen_lpm)
    return max(min(swept, there) - washer.slip_lpm_per_bar * bar, 0.0)


def running(washer: Washer, *, nozzle_off: bool = False) -> Running:
    """Return the state in which what is pumped is what leaves, the unloader opening where its setting is reached."""
    nozzle = 1e3 if nozzle_off else washer.number
    way = in_series(washer.hose_way, washer.wand_way, nozzle)
    leaks = washer.head_leak + washer.relief_leak + washer.unloader_leak
    low, high = 0.0, 2000.0
    for _ in range(50):
        bar = (low + high) / 2
        leaves = orifice_flow_lpm(way + leaks, bar) + orifice_flow_lpm(washer.hose_leak, bar)
        low, high = (bar, high) if pumped_lpm(washer, bar) > leaves else (low, bar)
    bar = min((low + high) / 2, washer.set_bar)
    spray = orifice_flow_lpm(way, bar)
    lost = orifice_flow_lpm(washer.hose_leak + washer.head_leak + washer.relief_leak, bar)
    hose_loss = bar * (way / washer.hose_way) ** 2
    swept = washer.displacement_l * washer.rpm * washer.valve_share * (1 - washer.air_share)
    return Running(
        pump_bar=bar,
        gun_bar=bar - hose_loss,
        spray_lpm=spray,
        back_lpm=max(pumped_lpm(washer, bar) - spray - lost, 0.0),
        lost_lpm=lost,
        starved=swept > min(washer.supply_lpm, washer.screen_lpm),
    )


def shut_bar(washer: Washer) -> float:
    """Return the pressure with the trigger shut: where the unloader opens, or what the leaks allow."""
    leaks = washer.head_leak + washer.relief_leak + washer.unloader_leak + washer.hose_leak
    low, high = 0.0, 2000.0
    for _ in range(50):
        bar = (low + high) / 2
        low, high = (bar, high) if pumped_lpm(washer, bar) > orifice_flow_lpm(leaks, bar) else (low, bar)
    return min((low + high) / 2, washer.set_bar * washer.shut_peak)
