"""The printed nozzle chart against the definition of the nozzle number, converted by scipy."""

from __future__ import annotations

from itertools import pairwise

import pytest
from scipy import constants

from xref_app.core.standards.hydraulics import nozzle_flow_lpm
from xref_app.core.standards.nozzle_chart import NozzleFlow, nozzle_flows

PSI_BAR = constants.psi / 1e5
GPM_LPM = constants.gallon * 1000
# Charts print hundredths of a gpm, and one of them is off by one hundredth in a cell.
PRINTED_WITHIN_GPM = 0.015


@pytest.mark.parametrize("cell", nozzle_flows(), ids=lambda cell: f"{cell.nozzle_number:g} at {cell.pressure_bar:.0f}")
def test_nozzle_passes_the_flow_of_the_printed_charts(cell: NozzleFlow) -> None:
    # Source: trade nozzle charts (two print the same flows) against q = N * sqrt(p / 4000 psi).
    psi = cell.pressure_bar / PSI_BAR
    by_definition_gpm = cell.nozzle_number * (psi / 4000) ** 0.5
    assert cell.flow_lpm / GPM_LPM == pytest.approx(by_definition_gpm, abs=PRINTED_WITHIN_GPM)
    ours_lpm = nozzle_flow_lpm(nozzle_number=cell.nozzle_number, pressure_bar=cell.pressure_bar)
    assert ours_lpm / GPM_LPM == pytest.approx(cell.flow_lpm / GPM_LPM, abs=PRINTED_WITHIN_GPM)


def test_chart_is_whole_and_ascends() -> None:
    keys = [(cell.nozzle_number, round(cell.pressure_bar / PSI_BAR)) for cell in nozzle_flows()]
    numbers, pressures = sorted({key[0] for key in keys}), sorted({key[1] for key in keys})
    assert keys == [(number, psi) for number in numbers for psi in pressures]
    assert (numbers[0], numbers[-1], len(numbers)) == (2, 8, 13)
    assert (pressures[0], pressures[-1], len(pressures)) == (500, 5000, 9)


def test_at_4000_psi_the_number_is_the_flow() -> None:
    # Source: the trade's definition of the nozzle number.
    rated = [cell for cell in nozzle_flows() if round(cell.pressure_bar / PSI_BAR) == 4000]
    assert [cell.flow_lpm / GPM_LPM for cell in rated] == pytest.approx([cell.nozzle_number for cell in rated])


def test_each_number_has_one_hole_and_holes_grow_with_it() -> None:
    holes = {cell.nozzle_number: cell.hole_mm for cell in nozzle_flows()}
    assert {(cell.nozzle_number, cell.hole_mm) for cell in nozzle_flows()} == set(holes.items())
    assert all(lower < upper for lower, upper in pairwise(holes.values()))


def test_holes_give_no_single_flow_coefficient_so_no_flow_is_computed_from_them() -> None:
    # Source: textbook orifice equation q = 29.83 Cd d² √p (gpm, in, psi) for water of 62.4 lb/ft³.
    coefficients = [
        cell.flow_lpm / GPM_LPM / (29.83 * (cell.hole_mm / 25.4) ** 2 * (cell.pressure_bar / PSI_BAR) ** 0.5)
        for cell in nozzle_flows()
    ]
    assert min(coefficients) == pytest.approx(0.75, abs=0.01)
    assert max(coefficients) == pytest.approx(0.92, abs=0.01)
