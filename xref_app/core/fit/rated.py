"""What speed, power, nozzle and ratings work out to: flow, pressures, torque. All in ranges."""

from __future__ import annotations

from xref_app.core.fit.house_rules import PUMP_EFFICIENCY, SERVICE_FACTOR
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import PartKind
from xref_app.core.quantity.range import Range
from xref_app.core.standards.hydraulics import (
    flow_at_speed_lpm,
    hydraulic_power_kw,
    nozzle_pressure_bar,
    torque_nm,
)


def drive_torque_nm(machine: Machine) -> Range | None:
    """Return the torque the drive must carry, N·m: rated torque times the service factor; None while not known."""
    power, speed = machine.power.power_kw, machine.power.speed_rpm
    if power is None or speed is None or speed.range.low <= 0:
        return None
    low = torque_nm(power_kw=power.range.low, speed_rpm=speed.range.high)
    high = torque_nm(power_kw=power.range.high, speed_rpm=speed.range.low)
    return Range(low, high) * SERVICE_FACTOR


def flow_lpm(machine: Machine, pump: Pump) -> Range | None:
    """Return the pump's flow at the engine's speed, l/min: in proportion to speed (positive displacement)."""
    flow, rated, speed = pump.rating.flow_lpm, pump.rating.speed_rpm, machine.power.speed_rpm
    if flow is None or rated is None or speed is None or rated.range.low <= 0:
        return None
    low = flow_at_speed_lpm(flow_lpm=flow.range.low, at_rpm=rated.range.high, to_rpm=speed.range.low)
    high = flow_at_speed_lpm(flow_lpm=flow.range.high, at_rpm=rated.range.low, to_rpm=speed.range.high)
    return Range(low, high)


def pressure_at_nozzle_bar(flow: Range, nozzle_number: Range) -> Range | None:
    """Return what a nozzle makes of a flow (l/min), bar; None where the nozzle number could be zero."""
    if nozzle_number.low <= 0 or flow.low <= 0:
        return None
    return Range(
        nozzle_pressure_bar(nozzle_number=nozzle_number.high, flow_lpm=flow.low),
        nozzle_pressure_bar(nozzle_number=nozzle_number.low, flow_lpm=flow.high),
    )


def highest_pressure_bar(pump: Pump, shelf: Shelf) -> Range | None:
    """Return the highest pressure the outlet side can see, bar: what the unloader is set to.

    A built-in unloader without a setting of its own is taken as set to the pump's rated pressure, and so is a listed
    one that stands it and goes on a pump without. None while it is not known, or while nothing limits it.
    """
    unloader, rated = pump.has.unloader, pump.rating.pressure_bar
    if unloader is None or rated is None:
        return None
    if not unloader.value and listed_unloader_or_none(pump, shelf) is None:
        return None
    return rated.range


def listed_unloader_or_none(pump: Pump, shelf: Shelf) -> Part | None:
    """Return the cheapest listed unloader that stands the pump's rated pressure, or None."""
    rated = pump.rating.pressure_bar
    if rated is None:
        return None
    strong = [
        part
        for part in shelf
        if part.kind is PartKind.UNLOADER and part.count > 0 and (part.rating_bar or 0.0) >= rated.range.high
    ]
    return min(strong, key=lambda part: (part.to_order, part.cost), default=None)


def shaft_power_kw(pressure: Range, flow: Range) -> Range:
    """Return the power the pump takes at its shaft, kW."""
    hydraulic = Range(
        hydraulic_power_kw(pressure_bar=pressure.low, flow_lpm=flow.low),
        hydraulic_power_kw(pressure_bar=pressure.high, flow_lpm=flow.high),
    )
    return hydraulic * (1 / PUMP_EFFICIENCY)
