"""The simulator the diagnosis is judged by, itself judged by the `fluids` library and by the balance of water."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from fluids.flow_meter import flow_meter_discharge
from scipy import constants

from tests.core.diagnose.seeded_faults import FAULTS, sound_machine, with_fault
from tests.core.diagnose.simulated_machine import (
    LPM_PER_M3S,
    WATER_KG_M3,
    in_series,
    orifice_area_m2,
    orifice_flow_lpm,
    pumped_lpm,
    running,
)
from xref_app.core.diagnose.words import Cause
from xref_app.core.standards.nozzle_chart import NozzleFlow, nozzle_flows


@pytest.mark.parametrize("number", [2.0, 3.5, 8.0, 40.0])
@pytest.mark.parametrize("bar", [5.0, 60.0, 207.0, 276.0])
def test_an_orifice_passes_what_the_fluids_library_says(number: float, bar: float) -> None:
    # Source: fluids.flow_meter.flow_meter_discharge; the pipe is made so wide that the jet counts as free.
    discharge_coefficient = 0.85
    bore_m = (orifice_area_m2(number) / discharge_coefficient * 4 / constants.pi) ** 0.5
    kg_s = flow_meter_discharge(D=10.0, Do=bore_m, P1=bar * 1e5, P2=0.0, rho=WATER_KG_M3, C=discharge_coefficient)
    assert orifice_flow_lpm(number, bar) == pytest.approx(kg_s / WATER_KG_M3 * LPM_PER_M3S, rel=1e-6)


@pytest.mark.parametrize("cell", nozzle_flows(), ids=lambda cell: f"{cell.nozzle_number:g} at {cell.pressure_bar:.0f}")
def test_a_simulated_nozzle_passes_what_the_charts_print(cell: NozzleFlow) -> None:
    # Source: trade nozzle charts (two print the same flows); they round to hundredths, one cell is off by one.
    gpm = orifice_flow_lpm(cell.nozzle_number, cell.pressure_bar) / (constants.gallon * 1000)
    assert gpm == pytest.approx(cell.flow_lpm / (constants.gallon * 1000), abs=0.015)


def test_two_like_orifices_in_series_pass_what_one_does_at_half_the_pressure() -> None:
    assert orifice_flow_lpm(in_series(4.0, 4.0), 200) == pytest.approx(orifice_flow_lpm(4.0, 100))


@pytest.mark.parametrize("cause", FAULTS)
@pytest.mark.parametrize("seed", range(6))
def test_water_pumped_is_water_sprayed_lost_or_led_back(cause: Cause, seed: int) -> None:
    random = Random(f"balance {cause} {seed}")
    washer = with_fault(sound_machine(random), cause, random).washer
    state = running(washer)
    leaves = state.spray_lpm + state.lost_lpm + state.back_lpm
    assert leaves == pytest.approx(pumped_lpm(washer, state.pump_bar), abs=1e-6)


@pytest.mark.parametrize("seed", range(40))
def test_a_healthy_machine_makes_its_pressure_and_its_flow(seed: int) -> None:
    machine = sound_machine(Random(seed))
    assert machine.state.spray_lpm / machine.rated_lpm == pytest.approx(0.98, abs=0.09)
    assert machine.state.pump_bar / machine.rated_bar == pytest.approx(1.0, abs=0.2)


def test_slower_is_less_flow_in_proportion_where_nothing_slips() -> None:
    washer = replace(sound_machine(Random(1)).washer, slip_lpm_per_bar=0.0, set_bar=1e3)
    slow = replace(washer, rpm=washer.rpm / 2)
    assert running(slow).spray_lpm == pytest.approx(running(washer).spray_lpm / 2)
    assert running(slow).pump_bar == pytest.approx(running(washer).pump_bar / 4)
