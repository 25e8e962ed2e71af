"""Who limits the pressure, and does everything behind the pump stand it?"""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.built_in import built_in_need
from xref_app.core.fit.finding import Finding, Outcome, Quantity
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.rated import highest_pressure_bar, listed_unloader_or_none
from xref_app.core.fit.show import span
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

PRESSURE = Question(
    "pressure", "who limits the pressure", "weakest rating against the unloader's setting; makers' ratings"
)

STANDS = marked(
    "findings",
    "The unloader limits to {highest} bar; the weakest of hose, gun and wand stands {rating} bar.",
)
WEAK_HOSE = marked(
    "findings",
    "The unloader limits to {highest} bar; the weakest of hose, gun and wand stands only {rating} bar.",
)
PRESSURE_UNSURE = marked(
    "findings",
    "The unloader limits to {highest} bar by these readings; hose, gun and wand stand {rating} bar.",
)
NOTHING_LIMITS = marked(
    "findings",
    "The pump has no unloader of its own and none is listed that stands its rated pressure; what limits "
    "the pressure when the trigger is shut is not known.",
)
WEAK_PUMP = marked("findings", "The machine works at {working} bar; this pump is rated {highest} bar.")
WORKING_UNSURE = marked(
    "findings",
    "The machine works at {working} bar by this reading; this pump is rated {highest} bar.",
)
CHANGE_HOSE = marked("findings", "Hose, gun and wand rated {highest} bar, or a pump rated no more than {rating} bar.")
CHANGE_RATING = marked("findings", "A pump rated at least {working} bar.")
HOSE_DANGER = marked("danger", "Danger: the pressure can rise above the rating of hose, gun or wand. They burst.")
LIMIT_DANGER = marked(
    "danger",
    "Danger: nothing limits the pressure when the trigger is shut. Do not run it without an unloader.",
)
PUMP_DANGER = marked("danger", "Danger: the machine's working pressure is above this pump's rating.")


def judge_pressure(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the highest possible pressure against every rating, and the working pressure against the pump's."""
    rating, working = machine.water.discharge.rating_bar, machine.water.working_pressure_bar
    readings = (
        ("discharge_rating_bar", rating),
        ("working_pressure_bar", working),
        ("rating_pressure_bar", pump.rating.pressure_bar),
        ("has_unloader", pump.has.unloader),
    )
    highest = highest_pressure_bar(pump, shelf)
    if highest is None and pump.has.unloader is not None and not pump.has.unloader.value:
        found = PRESSURE.unsure(Sentence(NOTHING_LIMITS), readings, ("has_unloader", "rating_pressure_bar"))
        return replace(found, danger=Sentence(LIMIT_DANGER))
    if rating is None or highest is None or working is None:
        return PRESSURE.lacks(readings)
    found = _against_hose(highest, rating.range, readings)
    if found.outcome is Outcome.PASS:
        found = _against_pump(highest, working.range, found, readings)
    unloader = None if pump.has.unloader is None or pump.has.unloader.value else listed_unloader_or_none(pump, shelf)
    if found.outcome is Outcome.PASS and unloader is not None:
        return replace(found, outcome=Outcome.BY_PARTS, needs=(built_in_need("unloader", unloader),))
    return found


def _against_hose(highest: Range, rating: Range, readings: tuple[Reading, ...]) -> Finding:
    values = {"highest": span(highest, 0), "rating": span(rating, 0)}
    shown = Answer(Quantity(highest, "bar"), Quantity(rating, "bar"), Quantity(rating - highest, "bar"))
    if rating.surely_below(highest.low):
        return replace(
            PRESSURE.fails(Sentence(WEAK_HOSE, values), readings, shown, change=CHANGE_HOSE),
            danger=Sentence(HOSE_DANGER),
        )
    if not rating.surely_at_least(highest.high):
        measure = ("discharge_rating_bar", "rating_pressure_bar")
        return PRESSURE.unsure(Sentence(PRESSURE_UNSURE, values), readings, measure, shown)
    return PRESSURE.passes(Sentence(STANDS, values), readings, shown)


def _against_pump(highest: Range, working: Range, hose: Finding, readings: tuple[Reading, ...]) -> Finding:
    values = {"highest": span(highest, 0), "working": span(working, 0)}
    shown = Answer(Quantity(working, "bar"), Quantity(highest, "bar"), Quantity(highest - working, "bar"))
    if highest.surely_below(working.low):
        return replace(
            PRESSURE.fails(Sentence(WEAK_PUMP, values), readings, shown, change=CHANGE_RATING),
            danger=Sentence(PUMP_DANGER),
        )
    if not highest.surely_at_least(working.high):
        measure = ("working_pressure_bar", "rating_pressure_bar")
        return PRESSURE.unsure(Sentence(WORKING_UNSURE, values), readings, measure, shown)
    return hose
