"""Does the nozzle keep the working pressure with the pump's flow?"""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.finding import Finding, Need, Quantity
from xref_app.core.fit.house_rules import NOZZLE_MISS_SHARE
from xref_app.core.fit.question import Answer, Question
from xref_app.core.fit.rated import flow_lpm, pressure_at_nozzle_bar
from xref_app.core.fit.show import span
from xref_app.core.model.known import Dimension
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import PartKind
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.hydraulics import nozzle_number_for

NOZZLE = Question(
    "nozzle", "spray nozzle for the new flow", "nozzle number: gpm at 4000 psi (trade charts); 10 %: house rule"
)

KEEPS = marked("findings", "Nozzle {number:g} makes {pressure} bar of {flow} l/min; {working:.0f} bar is worked at.")
NEW_NOZZLE = marked(
    "findings",
    "Nozzle {number:g} makes {pressure} bar of {flow} l/min, {working:.0f} bar is worked at; nozzle "
    "{new:g} makes {new_pressure} bar.",
)
NO_NOZZLE = marked(
    "findings",
    "Nozzle {number:g} makes {pressure} bar of {flow} l/min, {working:.0f} bar is worked at, and no "
    "nozzle size comes within 10 %.",
)
CHANGE_FLOW = marked("findings", "A pump whose flow some nozzle turns into {working:.0f} bar.")
NOZZLE_UNSURE = marked(
    "findings",
    "Nozzle {number:g} makes {pressure} bar of {flow} l/min by these readings; within 10 % of "
    "{working:.0f} bar is needed.",
)
NOZZLE_NEED = marked("findings", "Spray nozzle number {number:g}")

# Nozzle numbers that charts list (trade nozzle charts, two agree): these can be ordered though nobody stocks them.
ORDERED_NUMBERS = (2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0, 7.5, 8.0, 9.0, 10.0)


@dataclass(frozen=True, slots=True)
class Chosen:
    """The nozzle the machine will run with: its number, and the listed piece where it is a new one."""

    number: Range
    is_new: bool
    part: Part | None = None


def judge_nozzle(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the fitted nozzle: its pressure at the pump's flow must lie within 10 % of the working pressure."""
    fitted, working, flow = machine.water.nozzle_number, machine.water.working_pressure_bar, flow_lpm(machine, pump)
    readings = (
        ("nozzle_number", fitted),
        ("working_pressure_bar", working),
        ("rating_flow_lpm", pump.rating.flow_lpm),
        ("rating_speed_rpm", pump.rating.speed_rpm),
        ("power_speed_rpm", machine.power.speed_rpm),
    )
    if fitted is None or working is None or flow is None:
        return NOZZLE.lacks(readings)
    pressure = pressure_at_nozzle_bar(flow, fitted.range)
    if pressure is None:
        return NOZZLE.unsure(
            Sentence(NOZZLE_UNSURE, _values(fitted, None, flow, working)), readings, ("nozzle_number",)
        )
    values = _values(fitted, pressure, flow, working)
    shown = Answer(Quantity(working.range, "bar"), Quantity(pressure, "bar"), Quantity(pressure - working.range, "bar"))
    close = _keeps(pressure, working.range)
    if close is True:
        return NOZZLE.passes(Sentence(KEEPS, values), readings, shown)
    new = _new_or_none(flow, working.range, shelf)
    if close is None and new is None:
        measure = ("rating_flow_lpm", "power_speed_rpm")
        return NOZZLE.unsure(Sentence(NOZZLE_UNSURE, values), readings, measure, shown)
    if new is None:
        return NOZZLE.fails(Sentence(NO_NOZZLE, values), readings, shown, change=CHANGE_FLOW)
    made = pressure_at_nozzle_bar(flow, new.number)
    told = {**values, "new": new.number.middle, "new_pressure": span(made, 0) if made else ""}
    need = Need(Sentence(NOZZLE_NEED, {"number": new.number.middle}), 1, new.part)
    return replace(NOZZLE.by_parts(Sentence(NEW_NOZZLE, told), readings, shown), needs=(need,))


def chosen_nozzle_or_none(machine: Machine, pump: Pump, shelf: Shelf) -> Chosen | None:
    """Return the nozzle that will be used: the fitted one where it serves or nothing better is known, else the new."""
    fitted, working, flow = machine.water.nozzle_number, machine.water.working_pressure_bar, flow_lpm(machine, pump)
    if fitted is None:
        return None
    if working is not None and flow is not None:
        pressure = pressure_at_nozzle_bar(flow, fitted.range)
        if pressure is None or _keeps(pressure, working.range) is not True:
            new = _new_or_none(flow, working.range, shelf)
            if new is not None:
                return new
    return Chosen(fitted.range, is_new=False)


def _keeps(pressure: Range, working: Range) -> bool | None:
    """Say whether a pressure keeps the working one within the share; None where the doubt leaves it open."""
    least, most = working.high * (1 - NOZZLE_MISS_SHARE), working.low * (1 + NOZZLE_MISS_SHARE)
    if least <= most and pressure.within(Range(least, most)):
        return True
    widest = Range(working.low * (1 - NOZZLE_MISS_SHARE), working.high * (1 + NOZZLE_MISS_SHARE))
    return None if pressure.meets(widest) else False


def _new_or_none(flow: Range, working: Range, shelf: Shelf) -> Chosen | None:
    """Return the nozzle nearest to what keeps the pressure that surely does, a listed one before one to order."""
    wanted = nozzle_number_for(flow_lpm=flow.middle, pressure_bar=working.middle)
    listed = [
        Chosen(Range.exactly(part.number), is_new=True, part=part)
        for part in shelf
        if part.kind is PartKind.NOZZLE and part.count > 0 and part.number
    ]
    ordered = [Chosen(Range.exactly(number), is_new=True) for number in ORDERED_NUMBERS]
    for offered in (listed, ordered):
        for one in sorted(offered, key=lambda each: abs(each.number.middle - wanted)):
            made = pressure_at_nozzle_bar(flow, one.number)
            if made is not None and _keeps(made, working):
                return one
    return None


def _values(fitted: Dimension, pressure: Range | None, flow: Range, working: Dimension) -> dict[str, object]:
    return {
        "number": fitted.value,
        "pressure": span(pressure, 0) if pressure else "?",
        "flow": span(flow, 1),
        "working": working.value,
    }
