"""Water, power and torque by formula, in bar, L/min, kW, rpm, N·m, mm and MPa."""

from __future__ import annotations

import math

from xref_app.core.standards.exact import GALLON_IN_LITRES, HORSEPOWER_IN_KW, PSI_IN_BAR

# A number N nozzle passes N US gpm at 4000 psi by definition of the trade; 4000 psi is 275.79 bar (not a round 276).
NOZZLE_REFERENCE_BAR = float(4000 * PSI_IN_BAR)
NOZZLE_NUMBER_LPM = float(GALLON_IN_LITRES)
PETROL_RULE = 1100
ELECTRIC_RULE = 1460


def hydraulic_power_kw(*, pressure_bar: float, flow_lpm: float) -> float:
    """Return the power in the water, kW: p · q / 600, exact.

    Source: derived from the units (NIST SP 811, Guide for the Use of the SI).
    """
    return pressure_bar * flow_lpm / 600


def petrol_rule_kw(*, pressure_bar: float, flow_lpm: float) -> float:
    """Return the engine power that the trade asks for, kW: psi · gpm / 1100 in horsepower.

    Source: common practice, no published source; a petrol engine only.
    """
    return _rule_kw(pressure_bar, flow_lpm, PETROL_RULE)


def electric_rule_kw(*, pressure_bar: float, flow_lpm: float) -> float:
    """Return the motor power that the trade asks for, kW: psi · gpm / 1460 in horsepower.

    Source: common practice, no published source; an electric motor only.
    """
    return _rule_kw(pressure_bar, flow_lpm, ELECTRIC_RULE)


def _rule_kw(pressure_bar: float, flow_lpm: float, divisor: int) -> float:
    kw_per_bar_lpm = HORSEPOWER_IN_KW / (PSI_IN_BAR * GALLON_IN_LITRES * divisor)
    return pressure_bar * flow_lpm * float(kw_per_bar_lpm)


def nozzle_flow_lpm(*, nozzle_number: float, pressure_bar: float) -> float:
    """Return the flow through a nozzle, L/min: N gpm · √(p / 4000 psi); water only.

    Source: the trade's definition of the nozzle number, as used by nozzle charts.
    """
    return nozzle_number * NOZZLE_NUMBER_LPM * math.sqrt(pressure_bar / NOZZLE_REFERENCE_BAR)


def nozzle_pressure_bar(*, nozzle_number: float, flow_lpm: float) -> float:
    """Return the pressure at which a nozzle passes ``flow_lpm``, bar: 4000 psi · (q / N)².

    A piston pump sets the flow and the nozzle sets the pressure.

    Source: inverse of nozzle_flow_lpm.
    """
    return NOZZLE_REFERENCE_BAR * (flow_lpm / (nozzle_number * NOZZLE_NUMBER_LPM)) ** 2


def nozzle_number_for(*, flow_lpm: float, pressure_bar: float) -> float:
    """Return the nozzle number (not rounded) that holds ``pressure_bar`` at ``flow_lpm``.

    Source: inverse of nozzle_flow_lpm.
    """
    return flow_lpm / NOZZLE_NUMBER_LPM * math.sqrt(NOZZLE_REFERENCE_BAR / pressure_bar)


def flow_at_speed_lpm(*, flow_lpm: float, at_rpm: float, to_rpm: float) -> float:
    """Return the flow of a piston pump at ``to_rpm`` that gives ``flow_lpm`` at ``at_rpm``, L/min.

    Positive displacement: flow follows speed, pressure does not; the affinity laws do not apply.

    Source: textbook.
    """
    return flow_lpm * to_rpm / at_rpm


def torque_nm(*, power_kw: float, speed_rpm: float) -> float:
    """Return the torque of ``power_kw`` at ``speed_rpm``, N·m: 60000 / 2π · P / n, exact.

    Source: derived from the units (NIST SP 811).
    """
    return power_kw * 60000 / (2 * math.pi * speed_rpm)


def key_shear_mpa(*, torque_nm: float, diameter_mm: float, width_mm: float, length_mm: float) -> float:
    """Return the mean shear stress in a key over its keyed length, MPa: 2T / (d · w · L).

    Source: Shigley, Mechanical Engineering Design; Mott, Machine Elements.
    """
    return 2 * torque_nm * 1000 / (diameter_mm * width_mm * length_mm)


def key_bearing_mpa(*, torque_nm: float, diameter_mm: float, height_mm: float, length_mm: float) -> float:
    """Return the mean bearing stress on half a key's height over its keyed length, MPa: 4T / (d · h · L).

    Source: Shigley, Mechanical Engineering Design; Mott, Machine Elements.
    """
    return 4 * torque_nm * 1000 / (diameter_mm * height_mm * length_mm)
