"""The arithmetic against the printed nozzle chart, the `fluids` library, pint, and the truth of simulated machines."""

from __future__ import annotations

from random import Random

import pint
import pytest
from fluids.flow_meter import flow_meter_discharge
from scipy.optimize import brentq

from tests.core.diagnose.seeded_faults import FAULTS, sound_machine, with_fault
from tests.core.diagnose.shop_notes import noted
from xref_app.core.diagnose.arithmetic import worked_out
from xref_app.core.diagnose.evidence import Bucket, Evidence
from xref_app.core.diagnose.house_rules import GUN_LOSS_SHARE, HOSE_LOSS_SHARE
from xref_app.core.diagnose.words import Cause, GaugePlace
from xref_app.core.quantity.range import Range
from xref_app.core.standards.nozzle_chart import NozzleFlow, nozzle_flows

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()


def poured(flow_lpm: float) -> Bucket:
    return Bucket(Range.exactly(flow_lpm), Range.exactly(60))


@pytest.mark.parametrize("cell", nozzle_flows(), ids=lambda cell: f"{cell.nozzle_number:g} at {cell.pressure_bar:.0f}")
def test_flow_pressure_and_number_go_together_as_the_charts_print_them(cell: NozzleFlow) -> None:
    # Source: trade nozzle charts, flows printed to 0.01 gpm and one cell off by one hundredth: 0.015 gpm.
    printed = float(UNITS.Quantity(0.015, "gallon / minute").to("liter / minute").magnitude)
    flow = Range.around(cell.flow_lpm, printed)
    evidence = Evidence(
        bucket=Bucket(flow, Range.exactly(60)),
        nozzle_number=Range.exactly(cell.nozzle_number),
        gauge_bar=Range.exactly(cell.pressure_bar),
        gauge_place=GaugePlace.GUN,
    )
    found = worked_out(evidence)
    assert found.expected_bar is not None
    assert found.effective_number is not None
    assert found.expected_bar.value.low <= cell.pressure_bar <= found.expected_bar.value.high
    assert found.effective_number.value.low <= cell.nozzle_number <= found.effective_number.value.high
    # No wider than the rounding of the chart and the loss in the gun explain.
    loose = 2.1 * printed / cell.flow_lpm
    assert found.expected_bar.value.doubt / cell.pressure_bar < loose
    assert found.effective_number.value.doubt / cell.nozzle_number < loose + GUN_LOSS_SHARE


@pytest.mark.parametrize("number", [2.0, 3.5, 6.0])
def test_expected_pressure_is_what_the_fluids_library_needs_for_that_flow(number: float) -> None:
    # Source: fluids.flow_meter.flow_meter_discharge on an orifice made to pass `number` gpm at 4000 psi (pint).
    rho = 998.2
    flow = UNITS.Quantity(number, "gallon / minute").to("meter ** 3 / second").magnitude
    at = UNITS.Quantity(4000, "psi").to("pascal").magnitude

    def passed(pascal: float, bore_m: float) -> float:
        return float(flow_meter_discharge(D=10.0, Do=bore_m, P1=pascal, P2=0.0, rho=rho, C=1.0)) / rho

    bore_m = brentq(lambda bore: passed(at, bore) - flow, 1e-4, 1e-2, xtol=1e-15)
    wanted = brentq(lambda pascal: passed(pascal, bore_m) - 0.7 * flow, 1e5, at)
    found = worked_out(Evidence(bucket=poured(0.7 * flow * 60_000), nozzle_number=Range.exactly(number))).expected_bar
    assert found is not None
    assert found.value.middle == pytest.approx(wanted / 1e5, rel=1e-6)


@pytest.mark.parametrize("cause", FAULTS)
@pytest.mark.parametrize("seed", range(8))
def test_results_hold_the_truth_of_the_machine(cause: Cause, seed: int) -> None:
    random = Random(f"truth {cause} {seed}")
    machine = with_fault(sound_machine(random), cause, random)
    found, state = worked_out(noted(machine, random, missing=0.0)), machine.state
    due = machine.rated_lpm * machine.washer.rpm / machine.rated_rpm
    truths = {
        "delivered_lpm": state.spray_lpm,
        "supplied_lpm": machine.washer.supply_lpm,
        "due_lpm": due,
        "held_share": state.spray_lpm / due,
        "slip_lpm": due - state.spray_lpm,
        "supply_share": machine.washer.supply_lpm / due,
        "speed_share": machine.washer.rpm / machine.rated_rpm,
    }
    for name, truth in truths.items():
        working = getattr(found, name)
        assert working.value.low - 1e-9 <= truth <= working.value.high + 1e-9, name


@pytest.mark.parametrize("seed", range(30))
def test_a_sound_nozzle_acts_as_its_number_wherever_the_gauge_stands(seed: int) -> None:
    random = Random(f"number {seed}")
    machine = sound_machine(random)
    found = worked_out(noted(machine, random, missing=0.0)).effective_number
    assert found is not None
    assert found.value.low <= machine.printed_number <= found.value.high


def test_a_gauge_at_a_place_not_told_counts_as_the_farther_one() -> None:
    gauge = Range.exactly(100)
    lows = {
        place: worked_out(Evidence(gauge_bar=gauge, gauge_place=place)).at_nozzle_bar
        for place in (None, GaugePlace.PUMP, GaugePlace.GUN)
    }
    shown = {place: one.value for place, one in lows.items() if one is not None}
    assert shown == {
        None: Range(100 * (1 - HOSE_LOSS_SHARE), 100),
        GaugePlace.PUMP: Range(100 * (1 - HOSE_LOSS_SHARE), 100),
        GaugePlace.GUN: Range(100 * (1 - GUN_LOSS_SHARE), 100),
    }


def test_slip_is_carried_up_to_the_rated_pressure_and_never_down() -> None:
    def slip(gauge_bar: float) -> Range:
        found = worked_out(
            Evidence(
                bucket=poured(13.5),
                gauge_bar=Range.exactly(gauge_bar),
                rated_lpm=Range.exactly(15),
                rated_bar=Range.exactly(200),
                rated_rpm=Range.exactly(3400),
                shaft_rpm=Range.exactly(3400),
            )
        ).slip_at_rated_share
        assert found is not None
        return found.value

    assert slip(100).middle == pytest.approx(0.2)
    assert slip(200).middle == pytest.approx(0.1)
    assert slip(250).middle == pytest.approx(0.1)


def test_sums_are_told_with_their_figures_and_units() -> None:
    evidence = Evidence(
        bucket=Bucket(Range(9.9, 10.1), Range(40, 41)),
        nozzle_number=Range.exactly(4),
        gauge_bar=Range(150, 155),
        gauge_place=GaugePlace.PUMP,
        rated_lpm=Range.exactly(15),
        rated_bar=Range.exactly(190),
        rated_rpm=Range.exactly(3400),
        shaft_rpm=Range(3380, 3420),
        supply_bucket=Bucket(Range(9.9, 10.1), Range(25, 26)),
    )
    told = [str(one.said) for one in worked_out(evidence).sums()]
    assert (
        told[0]
        == "Delivered: 9.90 to 10.10 L in 40.00 to 41.00 s, times 60 s/min, is 14.49 to 15.15 lpm (3.83 to 4 gpm)."
    )
    assert (
        "Supply margin: 22.85 to 24.24 lpm (6.04 to 6.4 gpm) supplied over 14.91 to 15.09 lpm (3.94 to 3.99 gpm) taken"
        " is 1.51 to 1.63 times."
    ) in told
    assert (
        "Delivered over due: 14.49 to 15.15 lpm (3.83 to 4 gpm) over 14.91 to 15.09 lpm (3.94 to 3.99 gpm) is 96.0 to"
        " 101.6 %."
    ) in told
    assert len(told) == len(set(told)) == 14


def test_every_sum_names_its_source() -> None:
    whole = noted(sound_machine(Random(3)), Random(3), missing=0.0)
    assert all(one.source for one in worked_out(whole).sums())


def test_a_shaft_that_may_stand_still_promises_no_flow() -> None:
    evidence = Evidence(rated_lpm=Range(15, 15), rated_rpm=Range(3400, 3400), shaft_rpm=Range(0, 3400))
    assert worked_out(evidence).due_lpm is None
