"""Is there water enough, cool enough, and at a pressure the pump takes?"""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.core.fit.finding import Finding, Outcome, Quantity
from xref_app.core.fit.house_rules import SUPPLY_SHARE
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.rated import flow_lpm
from xref_app.core.fit.show import span
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked

SUPPLY = Question("supply", "water in", "1.2 times the pump's flow: common practice; limits: the pump's rating")

ENOUGH = marked(
    "findings",
    "The supply gives {supply} l/min, the pump takes {flow}; temperature and pressure are within its limits.",
)
TOO_LITTLE = marked("findings", "The supply gives {has} l/min; {limit} are needed. A starved pump cavitates.")
TOO_HOT = marked("findings", "The water is {has} °C; the pump takes {limit} °C at most.")
TOO_WEAK = marked("findings", "The supply stands at {has} bar; the pump needs {limit} bar.")
TOO_STRONG = marked("findings", "The supply stands at {has} bar; the pump takes {limit} bar at most.")
CHANGE_SUPPLY = marked(
    "findings",
    "A limit of {limit} {unit} must hold where {what} is {has} {unit}: another pump or another supply.",
)
SUPPLY_UNSURE = marked("findings", "By these readings {what} is {has} {unit} against a limit of {limit} {unit}.")


@dataclass(frozen=True, slots=True)
class _Limit:
    """One thing about the water: ``spare`` is how far it is on the right side of its limit, in ``unit``."""

    has: Range
    limit: Range
    spare: Range
    what: str
    unit: str
    breaks: str
    field: str


def judge_supply(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:  # noqa: ARG001 - one signature for all checks
    """Judge flow, temperature and pressure of the supply."""
    readings = _readings(machine, pump)
    limits = _limits_or_none(machine, pump)
    if limits is None:
        return SUPPLY.lacks(readings)
    worst = max(limits, key=_outcome)
    shown = Answer(
        Quantity(limits[0].limit, "l/min"), Quantity(limits[0].has, "l/min"), Quantity(limits[0].spare, "l/min")
    )
    values = {"has": span(worst.has, 1), "limit": span(worst.limit, 1), "what": worst.what, "unit": worst.unit}
    match _outcome(worst):
        case Outcome.FAIL:
            shown = Answer(
                Quantity(worst.limit, worst.unit), Quantity(worst.has, worst.unit), Quantity(worst.spare, worst.unit)
            )
            return SUPPLY.fails(Sentence(worst.breaks, values), readings, shown, change=CHANGE_SUPPLY)
        case Outcome.UNKNOWN:
            return SUPPLY.unsure(Sentence(SUPPLY_UNSURE, values), readings, (worst.field,), shown)
    told = {"supply": span(limits[0].has, 1), "flow": span(limits[0].limit * (1 / SUPPLY_SHARE), 1)}
    return SUPPLY.passes(Sentence(ENOUGH, told), readings, shown)


def _limits_or_none(machine: Machine, pump: Pump) -> tuple[_Limit, ...] | None:
    supply, rating, flow = machine.water.supply, pump.rating, flow_lpm(machine, pump)
    if supply.flow_lpm is None or supply.temperature_c is None or supply.pressure_bar is None or flow is None:
        return None
    if rating.max_inlet_c is None or rating.min_supply_bar is None or rating.max_supply_bar is None:
        return None
    gives, warm, stands = supply.flow_lpm.range, supply.temperature_c.range, supply.pressure_bar.range
    takes = flow * SUPPLY_SHARE
    hottest, least, most = rating.max_inlet_c.range, rating.min_supply_bar.range, rating.max_supply_bar.range
    return (
        _Limit(gives, takes, gives - takes, "the supply", "l/min", TOO_LITTLE, "supply_flow_lpm"),
        _Limit(warm, hottest, hottest - warm, "the water", "°C", TOO_HOT, "supply_temperature_c"),
        _Limit(stands, least, stands - least, "the supply pressure", "bar", TOO_WEAK, "supply_pressure_bar"),
        _Limit(stands, most, most - stands, "the supply pressure", "bar", TOO_STRONG, "supply_pressure_bar"),
    )


def _outcome(limit: _Limit) -> Outcome:
    if limit.spare.low >= -SAME_MM:
        return Outcome.PASS
    return Outcome.FAIL if limit.spare.high < -SAME_MM else Outcome.UNKNOWN


def _readings(machine: Machine, pump: Pump) -> tuple[Reading, ...]:
    supply, rating = machine.water.supply, pump.rating
    return (
        ("supply_flow_lpm", supply.flow_lpm),
        ("supply_temperature_c", supply.temperature_c),
        ("supply_pressure_bar", supply.pressure_bar),
        ("rating_flow_lpm", rating.flow_lpm),
        ("rating_speed_rpm", rating.speed_rpm),
        ("power_speed_rpm", machine.power.speed_rpm),
        ("rating_max_inlet_c", rating.max_inlet_c),
        ("rating_min_supply_bar", rating.min_supply_bar),
        ("rating_max_supply_bar", rating.max_supply_bar),
    )
