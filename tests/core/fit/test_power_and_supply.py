"""Flow, nozzle, power and supply: doubts that straddle a limit, and what is taken from the shelf."""

from __future__ import annotations

from typing import Any

import pytest

from tests.core.fit.cases import case_with, finding_of, found, said
from xref_app.core.fit.nozzle import chosen_nozzle_or_none
from xref_app.core.fit.rated import drive_torque_nm, flow_lpm, pressure_at_nozzle_bar
from xref_app.core.model.known import Dimension
from xref_app.core.model.machine import Machine, Power
from xref_app.core.model.pump import Pump, Rating
from xref_app.core.quantity.range import Range

# --- flow, nozzle, power


def test_a_nozzle_or_flow_that_could_be_nothing_makes_no_pressure() -> None:
    assert pressure_at_nozzle_bar(Range(9, 10), Range(0, 1)) is None
    assert pressure_at_nozzle_bar(Range(0, 10), Range(3, 4)) is None


def test_no_flow_or_torque_is_worked_out_of_a_speed_that_could_be_nothing() -> None:
    still = Machine(power=Power(power_kw=Dimension(4, 0), speed_rpm=Dimension(100, 100)))
    assert drive_torque_nm(still) is None
    rated = Rating(flow_lpm=Dimension(9, 0), speed_rpm=Dimension(100, 100))
    assert flow_lpm(Machine(power=Power(speed_rpm=Dimension(3400, 0))), Pump(rating=rated)) is None


def test_a_nozzle_whose_number_may_be_nothing_decides_neither_pressure_nor_power() -> None:
    worn: dict[str, Any] = {"machine.water.nozzle_number": {"value": 1.0, "doubt": 1.0}}
    nozzle = found("nozzle", worn)
    assert said(nozzle) == (
        "unknown",
        "Nozzle 1 makes ? bar of 9.4 to 9.6 l/min by these readings; within 10 % of 140 bar is needed.",
    )
    assert nozzle.measure == ("nozzle_number",)
    open_power = found("power", {**worn, "machine.water.working_pressure_bar": None})
    assert said(open_power) == (
        "unknown",
        "The pump takes ? kW at ? bar and 9.4 to 9.6 l/min by these readings; the engine gives 4.0 to 4.1 kW.",
    )


def test_a_listed_nozzle_within_ten_percent_is_taken_before_a_nearer_one_to_order() -> None:
    # 275.8 · (2.5096 / 3.6)² = 134 bar; 3.5 would make 142
    changes = {"machine.water.nozzle_number": 4.5, "shelf": [{"kind": "nozzle", "number": 3.6, "count": 1}]}
    assert said(found("nozzle", changes)) == (
        "by parts",
        "Nozzle 4.5 makes 85 to 87 bar of 9.4 to 9.6 l/min, 140 bar is worked at; nozzle 3.6 makes 133 to 135 bar.",
    )
    far = {"machine.water.nozzle_number": 4.5, "shelf": [{"kind": "nozzle", "number": 4.0, "count": 1}]}
    assert str(found("nozzle", far).needs[0].what) == "Spray nozzle number 3.5"


def test_no_nozzle_in_the_charts_reaches_a_pressure_far_off() -> None:
    # number 10 makes 275.8 · (2.51 / 10)² = 17 bar, number 2 makes 434 bar
    changes = {"machine.water.working_pressure_bar": 490, "machine.water.nozzle_number": 3.5}
    assert said(found("nozzle", changes)) == (
        "fail",
        (
            "Nozzle 3.5 makes 140 to 143 bar of 9.4 to 9.6 l/min, 490 bar is worked at, and no nozzle size comes "
            "within 10 %."
        ),
    )


def test_a_flow_too_doubtful_for_any_nozzle_stays_open() -> None:
    finding = found("nozzle", {"pump.rating.flow_lpm": {"value": 9.5, "doubt": 2}})
    assert said(finding) == (
        "unknown",
        "Nozzle 3.5 makes 88 to 208 bar of 7.5 to 11.5 l/min by these readings; within 10 % of 140 bar is needed.",
    )
    case = case_with({"pump.rating.flow_lpm": {"value": 9.5, "doubt": 2}})
    chosen = chosen_nozzle_or_none(case.machine, case.pump, case.shelf)
    assert chosen is not None
    assert not chosen.is_new


def test_power_is_that_of_the_new_nozzle_where_the_fitted_one_does_not_serve() -> None:
    assert said(found("power", {"machine.water.nozzle_number": 4.5})) == said(found("power", {}))


def test_power_goes_by_the_fitted_nozzle_while_no_working_pressure_is_known() -> None:
    case = case_with({"machine.water.working_pressure_bar": None, "machine.water.nozzle_number": 4.5})
    chosen = chosen_nozzle_or_none(case.machine, case.pump, case.shelf)
    assert chosen is not None
    assert (chosen.number, chosen.is_new) == (Range(4.5, 4.5), False)


def test_the_pump_takes_no_more_than_its_unloader_lets_through() -> None:
    # 130 bar · 9.45 / 600 / 0.85 = 2.41 kW, at 9.55: 2.43
    assert said(found("power", {"pump.rating.pressure_bar": 130})) == (
        "pass",
        "The pump takes 2.41 to 2.43 kW at 130 bar and 9.4 to 9.6 l/min; the engine gives 4.0 to 4.1 kW.",
    )


@pytest.mark.parametrize(
    ("changes", "notes"),
    [
        ({"machine.power.kind": None}, []),
        # 142 bar · 9.5 l/min = 2057 psi · 2.51 gpm = 5163: / 1460 = 3.54 hp = 2.64 kW
        ({"machine.power.kind": "electric"}, ["The trade's rule (psi·gpm/1460) asks for 2.59 to 2.68 kW."]),
        (
            {"machine.power.power_kw": 2.9},
            [
                "Caution: that is over 90% of what the engine gives.",
                "The trade's rule (psi·gpm/1100) asks for 3.44 to 3.55 kW.",
                "Caution: the trade's rule asks for more than the engine gives; expect it to labour.",
            ],
        ),
    ],
    ids=str,
)
def test_the_trades_rule_is_shown_and_cautions(changes: dict[str, Any], notes: list[str]) -> None:
    finding = found("power", changes)
    assert finding.outcome.word == "pass"
    assert [str(note) for note in finding.notes] == notes


# --- supply


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        (
            {"machine.water.supply.flow_lpm": 11.5},
            "By these readings the supply is 11.0 to 12.0 l/min against a limit of 11.3 to 11.5 l/min.",
        ),
        (
            {"machine.water.supply.temperature_c": 60},
            "By these readings the water is 59.0 to 61.0 °C against a limit of 60.0 °C.",
        ),
        ({"machine.water.supply.temperature_c": None}, "Not known yet: supply temperature."),
        ({"pump.rating.max_supply_bar": None}, "Not known yet: most supply pressure."),
    ],
)
def test_a_supply_whose_doubt_straddles_or_lacks_stays_open(changes: dict[str, Any], reason: str) -> None:
    assert said(found("supply", changes)) == ("unknown", reason)


def test_a_starved_pump_fails_though_something_else_is_open_too() -> None:
    changes = {"machine.water.supply.flow_lpm": 9, "machine.water.supply.temperature_c": 60}
    assert said(finding_of("supply", case_with(changes))) == (
        "fail",
        "The supply gives 8.5 to 9.5 l/min; 11.3 to 11.5 are needed. A starved pump cavitates.",
    )
