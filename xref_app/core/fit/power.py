"""Can the engine drive the pump at the working pressure?"""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.finding import Finding, Quantity
from xref_app.core.fit.house_rules import POWER_CAUTION_SHARE
from xref_app.core.fit.nozzle import chosen_nozzle_or_none
from xref_app.core.fit.question import Answer, Question
from xref_app.core.fit.rated import flow_lpm, highest_pressure_bar, pressure_at_nozzle_bar, shaft_power_kw
from xref_app.core.fit.show import span
from xref_app.core.model.machine import Machine, Power
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.model.words import PowerKind
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.hydraulics import electric_rule_kw, petrol_rule_kw

POWER = Question(
    "power",
    "can the engine drive it",
    "bar·l/min/600: exact; efficiency 0.85: house rule; trade rules: common practice",
)

DRIVES = marked(
    "findings",
    "The pump takes {needed} kW at {pressure} bar and {flow} l/min; the engine gives {offered} kW.",
)
TOO_WEAK = marked(
    "findings",
    "The pump takes {needed} kW at {pressure} bar and {flow} l/min; the engine gives only {offered} kW.",
)
POWER_UNSURE = marked(
    "findings",
    "The pump takes {needed} kW at {pressure} bar and {flow} l/min by these readings; the engine gives {offered} kW.",
)
CHANGE_LESS = marked("findings", "A pump of less flow, or a larger nozzle: no more than {offered} kW at the shaft.")
RULE = marked("findings", "The trade's rule ({rule}) asks for {rule_kw} kW.")
NEAR_LIMIT = marked("findings", "Caution: that is over {share:.0%} of what the engine gives.")
ABOVE_RULE = marked("findings", "Caution: the trade's rule asks for more than the engine gives; expect it to labour.")

_RULES = {PowerKind.PETROL: ("psi·gpm/1100", petrol_rule_kw), PowerKind.ELECTRIC: ("psi·gpm/1460", electric_rule_kw)}


def judge_power(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the power the pump takes, at the pressure its nozzle sets, against the driver's rating.

    What the pump takes by pressure, flow and efficiency decides; the trade's rule, which also covers what an engine
    loses with age and height, is shown and cautions.
    """
    offered, nozzle, flow = machine.power.power_kw, chosen_nozzle_or_none(machine, pump, shelf), flow_lpm(machine, pump)
    readings = (
        ("power_kw", offered),
        ("nozzle_number", machine.water.nozzle_number),
        ("rating_flow_lpm", pump.rating.flow_lpm),
        ("rating_speed_rpm", pump.rating.speed_rpm),
        ("power_speed_rpm", machine.power.speed_rpm),
    )
    if offered is None or nozzle is None or flow is None:
        return POWER.lacks(readings)
    pressure = pressure_at_nozzle_bar(flow, nozzle.number)
    if pressure is None:
        return POWER.unsure(
            Sentence(
                POWER_UNSURE, {"needed": "?", "pressure": "?", "flow": span(flow, 1), "offered": span(offered.range, 1)}
            ),
            readings,
            ("nozzle_number",),
        )
    pressure = _capped(pressure, highest_pressure_bar(pump, shelf))
    needed = shaft_power_kw(pressure, flow)
    values = {
        "needed": span(needed),
        "pressure": span(pressure, 0),
        "flow": span(flow, 1),
        "offered": span(offered.range, 1),
    }
    shown = Answer(Quantity(needed, "kW"), Quantity(offered.range, "kW"), Quantity(offered.range - needed, "kW"))
    notes = _notes(machine.power, pressure, flow, needed)
    if needed.surely_above(offered.range.high):
        return replace(POWER.fails(Sentence(TOO_WEAK, values), readings, shown, change=CHANGE_LESS), notes=notes)
    if not needed.surely_at_most(offered.range.low):
        found = POWER.unsure(Sentence(POWER_UNSURE, values), readings, ("power_kw", "rating_flow_lpm"), shown)
        return replace(found, notes=notes)
    return replace(POWER.passes(Sentence(DRIVES, values), readings, shown), notes=notes)


def _capped(pressure: Range, highest: Range | None) -> Range:
    """Return the pressure the pump really sees: no more than its unloader lets through."""
    if highest is None:
        return pressure
    return Range(min(pressure.low, highest.low), min(pressure.high, highest.high))


def _notes(power: Power, pressure: Range, flow: Range, needed: Range) -> tuple[Sentence, ...]:
    notes: list[Sentence] = []
    offered = power.power_kw.range if power.power_kw else None
    if offered is not None and needed.high > POWER_CAUTION_SHARE * offered.low:
        notes.append(Sentence(NEAR_LIMIT, {"share": POWER_CAUTION_SHARE}))
    if power.kind is not None:
        name, rule = _RULES[power.kind.value]
        asked = Range(
            rule(pressure_bar=pressure.low, flow_lpm=flow.low), rule(pressure_bar=pressure.high, flow_lpm=flow.high)
        )
        notes.append(Sentence(RULE, {"rule": name, "rule_kw": span(asked)}))
        if offered is not None and asked.high > offered.low:
            notes.append(Sentence(ABOVE_RULE))
    return tuple(notes)
