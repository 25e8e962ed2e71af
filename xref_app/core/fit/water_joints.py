"""Do the hoses go on the ports, directly or through listed fittings?"""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.chain_words import (
    chain_needs,
    chain_notes,
    fittings_named,
    gap_notes,
    missing_plugs_worded,
    steps_named,
)
from xref_app.core.fit.end_words import named_fitting, port_for, worded_end
from xref_app.core.fit.finding import Finding
from xref_app.core.fit.open_ends import look_question_or_none, seal_question
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.rated import highest_pressure_bar
from xref_app.core.fit.show import rounded_down, rounded_up
from xref_app.core.fit.water_plan import (
    ANY_C,
    Demand,
    chain_but_for_plugs,
    gap_between,
    leads_there,
    may_share,
    water_c,
    water_plan,
    weakest_on_the_way,
)
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.water import End
from xref_app.core.parts.joints import (
    THREAD_UNREADABLE,
    ReadEnd,
    comes_with_two_seals,
    mates,
    read_end_or_none,
    thread_or_none,
    why_not,
)
from xref_app.core.parts.water import Bridged
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

_SOURCE = (
    "thread standards ASME B1.20.1, ISO 228-1, ISO 7-1, ASME B1.20.7, ISO 965-1; how ends seal: ISO 8434-1, "
    "ISO 8434-6, ISO 1179, ISO 9974, ISO 6149, SAE J514, from memory; M22 seals: common practice"
)
INLET = Question("inlet", "supply hose on the inlet", _SOURCE)
OUTLET = Question("outlet", "pressure hose on the outlet", _SOURCE)

GOES_ON = marked("findings", "{ours} {our_gender} goes on {theirs} {their_gender} directly.")
BY_FITTING = marked("findings", "{why} The listed fitting {fitting} joins them.")
NO_FITTING = marked("findings", "{why} The fitting that joins them is a part nobody lists.")
WEAK_FITTING = marked(
    "findings",
    "{why} The listed fitting {fitting} would join them but is rated {rating} bar, below the highest "
    "possible {highest} bar.",
)
UNRATED_FITTING = marked(
    "findings",
    "{why} The listed fitting {fitting} would join them, but no rating is listed for it and the highest possible is "
    "{highest} bar.",
)
BY_FITTINGS = marked("findings", "{why} These listed fittings join them, from the hose on: {fitting}.")
HOT_FITTING = marked("findings", "{why} The listed fittings that would join them do not stand water of {hottest} °C.")
FITTING_UNSURE = marked(
    "findings", "{why} Whether the listed fittings that join them stand it hangs on the doubt of pressure and water."
)
ONE_FOR_BOTH = marked(
    "findings", "{why} The fittings that join them are needed at the other port, and no more are listed."
)
NO_PLUG = marked(
    "findings",
    "{why} The listed {fitting} would join them, but an end stays open that must be closed, and no {plug} that is "
    "strong enough is listed.",
)
CHANGE_PLUG = marked("findings", "One {plug}, rated like the fitting it closes.")
CHANGE_COOLER = marked("findings", "Cooler water, or fittings that stand {hottest} °C.")
CHANGE_ANOTHER = marked("findings", "One more of each fitting.")
CHANGE_STRONGER = marked("findings", "The same fitting rated at least {highest} bar.")
CHANGE_FITTING = marked("findings", "A fitting between {ours} and {theirs}, or a pump whose port takes the hose.")

_PRESSURE, _TEMPERATURE = "rating_pressure_bar", "supply_temperature_c"
_BOTH_LIMITS = (_PRESSURE, _TEMPERATURE)


@dataclass(frozen=True, slots=True)
class _Joint:
    """One joint: its question, both ends with the ids of their fields, and what a fitting in it must stand.

    ``bridged`` is the chain planned for it and ``others`` the pieces of the other port's chain; ``may_share`` says that
    the shelf may hold enough for both ports if pressure and water are at their lowest.
    """

    question: Question
    ours: End
    theirs: End
    our_fields: tuple[str, str, str]
    their_fields: tuple[str, str, str]
    highest_bar: Range | None
    under_pressure: bool
    water_c: Range
    bridged: Bridged
    others: tuple[Part, ...]
    may_share: bool = False

    @property
    def demand(self) -> Demand:
        """Return what a fitting must stand in the worst case."""
        return Demand(self.highest_bar.high if self.highest_bar else None, self.water_c.high)

    @property
    def is_open(self) -> bool:
        """Say whether the pressure a fitting would see is not known."""
        return self.under_pressure and self.highest_bar is None

    def readings(self) -> tuple[Reading, ...]:
        """Return thread, gender and, where the thread needs it, seal of both ends."""
        found: list[Reading] = []
        for end, fields in ((self.ours, self.our_fields), (self.theirs, self.their_fields)):
            found += [(fields[0], end.thread), (fields[1], end.gender)]
            if end.thread is not None and comes_with_two_seals(end.thread.value):
                found.append((fields[2], end.seal_mm))
        return tuple(found)


def judge_inlet(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the joint between supply hose and inlet."""
    fields = ("supply_thread", "supply_gender", "supply_seal_mm"), ("inlet_thread", "inlet_gender", "inlet_seal_mm")
    plan = water_plan(machine, pump, shelf)
    joint = _Joint(
        INLET,
        machine.water.supply,
        pump.ports.inlet,
        *fields,
        highest_bar=None,
        under_pressure=False,
        water_c=water_c(machine),
        bridged=plan.inlet,
        others=plan.pieces_of(plan.outlet),
        may_share=may_share(machine, pump, shelf, plan),
    )
    return _judge(joint, shelf)


def judge_outlet(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the joint between pressure hose and outlet; a fitting in it must stand the highest possible pressure."""
    plan = water_plan(machine, pump, shelf)
    joint = _Joint(
        OUTLET,
        machine.water.discharge,
        pump.ports.outlet,
        ("discharge_thread", "discharge_gender", "discharge_seal_mm"),
        ("outlet_thread", "outlet_gender", "outlet_seal_mm"),
        highest_bar=highest_pressure_bar(pump, shelf),
        under_pressure=True,
        water_c=water_c(machine),
        bridged=plan.outlet,
        others=plan.pieces_of(plan.inlet),
    )
    return _judge(joint, shelf)


def _judge(joint: _Joint, shelf: Shelf) -> Finding:
    readings = joint.readings()
    if any(value is None for field, value in readings if not field.endswith("_seal_mm")):
        return joint.question.lacks(readings)
    ours, theirs = read_end_or_none(joint.ours), read_end_or_none(joint.theirs)
    if ours is None or theirs is None:
        return _unreadable(joint, readings)
    shown = Answer(port_for(ours), worded_end(theirs))
    fit = mates(ours, theirs)
    if fit is True:
        values = {
            "ours": ours.designation,
            "our_gender": ours.gender.value,
            "theirs": theirs.designation,
            "their_gender": theirs.gender.value,
        }
        return joint.question.passes(Sentence(GOES_ON, values), readings, shown)
    open_end = _to_look_at_or_none(joint, (ours, theirs), shown)
    if open_end is not None:
        return open_end
    if fit is None or ours.is_seal_open or theirs.is_seal_open:
        fields = tuple(field for field, _ in readings if field.endswith("_seal_mm"))
        return joint.question.unsure(seal_question(), readings, fields, shown)
    return _through_fitting(joint, ours, theirs, shelf)


def _to_look_at_or_none(joint: _Joint, ends: tuple[ReadEnd, ReadEnd], shown: Answer) -> Finding | None:
    """Return that profile or form of an end has to be found out first; both stand in the field of its thread."""
    found = look_question_or_none(ends)
    if found is None:
        return None
    question, open_ones = found
    fields = (joint.our_fields[0], joint.their_fields[0])
    measure = tuple(field for field, is_open in zip(fields, open_ones, strict=True) if is_open)
    return joint.question.unsure(question, joint.readings(), measure, shown)


def _unreadable(joint: _Joint, readings: tuple[Reading, ...]) -> Finding:
    ends = ((joint.ours, joint.our_fields[0]), (joint.theirs, joint.their_fields[0]))
    bad = [(end.thread.value, field) for end, field in ends if end.thread and thread_or_none(end.thread.value) is None]
    return joint.question.unsure(
        Sentence(THREAD_UNREADABLE, {"text": bad[0][0]}), readings, tuple(field for _, field in bad)
    )


def _through_fitting(joint: _Joint, ours: ReadEnd, theirs: ReadEnd, shelf: Shelf) -> Finding:
    readings, shown = joint.readings(), Answer(port_for(ours), worded_end(theirs))
    why = str(why_not(ours, theirs))
    chain = joint.bridged.chain
    if chain is not None:
        names = steps_named(chain.steps)
        template = BY_FITTING if len(chain.pieces) == 1 else BY_FITTINGS
        found = joint.question.by_parts(Sentence(template, {"why": why, "fitting": names}), readings, shown)
        needs = chain_needs(chain, joint.others, joint.question.check)
        return replace(found, needs=needs, notes=chain_notes(ours, theirs, joint.bridged))
    if joint.is_open and leads_there(ours, theirs, Demand(None, joint.water_c.high), shelf):
        return joint.question.lacks((("has_unloader", None), ("rating_pressure_bar", None)), shown)
    weak = _weak_or_none(joint, ours, theirs, shelf)
    if weak is not None:
        return weak
    if joint.others and leads_there(ours, theirs, joint.demand, shelf):
        if joint.may_share:
            return joint.question.unsure(Sentence(FITTING_UNSURE, {"why": why}), readings, _BOTH_LIMITS, shown)
        return joint.question.fails(Sentence(ONE_FOR_BOTH, {"why": why}), readings, shown, change=CHANGE_ANOTHER)
    return _not_joined(joint, ours, theirs, shelf)


def _not_joined(joint: _Joint, ours: ReadEnd, theirs: ReadEnd, shelf: Shelf) -> Finding:
    """Return what is missing where nothing listed joins the two ends: a plug only, or a fitting."""
    readings, shown = joint.readings(), Answer(port_for(ours), worded_end(theirs))
    why = str(why_not(ours, theirs))
    unplugged = chain_but_for_plugs(ours, theirs, joint.demand, shelf)
    if unplugged is not None:
        told = {"why": why, "fitting": fittings_named(unplugged), "plug": missing_plugs_worded(unplugged)}
        return joint.question.fails(Sentence(NO_PLUG, told), readings, shown, change=CHANGE_PLUG)
    missing = {"why": why, "ours": worded_end(ours), "theirs": worded_end(theirs)}
    found = joint.question.fails(Sentence(NO_FITTING, missing), readings, shown, change=CHANGE_FITTING)
    return replace(found, notes=gap_notes(gap_between(ours, theirs, joint.demand, shelf)))


def _weak_or_none(joint: _Joint, ours: ReadEnd, theirs: ReadEnd, shelf: Shelf) -> Finding | None:
    """Return what to say where listed fittings would lead there and are too weak, or may be; None where none leads."""
    readings, shown = joint.readings(), Answer(port_for(ours), worded_end(theirs))
    any_strength = Demand(None, ANY_C)
    if not leads_there(ours, theirs, any_strength, shelf) or leads_there(ours, theirs, joint.demand, shelf):
        return None
    lowest = Demand(joint.highest_bar.low if joint.highest_bar else None, joint.water_c.low)
    why = str(why_not(ours, theirs))
    if leads_there(ours, theirs, lowest, shelf):
        measure = _what_decides(ours, theirs, joint, shelf)
        return joint.question.unsure(Sentence(FITTING_UNSURE, {"why": why}), readings, measure, shown)
    if not leads_there(ours, theirs, Demand(joint.demand.bar, ANY_C), shelf) and joint.highest_bar is not None:
        return _too_weak(joint, weakest_on_the_way(ours, theirs, shelf), why, joint.highest_bar.high, shown)
    told = {"why": why, "hottest": rounded_up(joint.water_c.high, 0)}
    return joint.question.fails(Sentence(HOT_FITTING, told), readings, shown, change=CHANGE_COOLER)


def _too_weak(joint: _Joint, part: Part, why: str, highest_bar: float, shown: Answer) -> Finding:
    """Return both numbers, rounded apart, so that whoever orders by them never orders too weak a piece."""
    values: dict[str, object] = {"why": why, "fitting": named_fitting(part), "highest": rounded_up(highest_bar, 0)}
    template = UNRATED_FITTING
    if part.rating_bar is not None:
        template, values = WEAK_FITTING, {**values, "rating": rounded_down(part.rating_bar, 0)}
    return joint.question.fails(Sentence(template, values), joint.readings(), shown, change=CHANGE_STRONGER)


def _what_decides(ours: ReadEnd, theirs: ReadEnd, joint: _Joint, shelf: Shelf) -> tuple[str, ...]:
    """Return the fields whose closer reading may turn a chain that is too weak by its doubt into one that holds."""
    if joint.highest_bar is None:
        return (_TEMPERATURE,)
    if leads_there(ours, theirs, Demand(joint.highest_bar.low, joint.water_c.high), shelf):
        return (_PRESSURE,)
    if leads_there(ours, theirs, Demand(joint.highest_bar.high, joint.water_c.low), shelf):
        return (_TEMPERATURE,)
    return _BOTH_LIMITS
