"""Do the hoses go on the ports, directly or through one listed fitting?"""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.finding import Finding, Need
from xref_app.core.fit.joints import (
    THREAD_UNREADABLE,
    TWO_SEALS_THREAD,
    ReadEnd,
    mates,
    read_end_or_none,
    read_part_end_or_none,
    thread_or_none,
    why_not,
)
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.rated import highest_pressure_bar
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.water import End
from xref_app.core.model.words import Gender, PartKind
from xref_app.core.quantity.range import Range
from xref_app.core.quantity.thread_table import Family
from xref_app.core.sentence import Sentence, marked

_SOURCE = "thread standards ASME B1.20.1, ISO 228-1, ISO 7-1, ASME B1.20.7, ISO 965-1; M22 seals: common practice"
INLET = Question("inlet", "supply hose on the inlet", _SOURCE)
OUTLET = Question("outlet", "pressure hose on the outlet", _SOURCE)

GOES_ON = marked("findings", "{ours} {our_gender} goes on {theirs} {their_gender} directly.")
BY_FITTING = marked("findings", "{why} The listed fitting {fitting} joins them.")
NO_FITTING = marked("findings", "{why} The fitting that joins them is a part nobody lists.")
WEAK_FITTING = marked(
    "findings",
    "{why} The listed fitting {fitting} would join them but is rated {rating:.0f} bar, below the highest "
    "possible {highest:.0f} bar.",
)
CHANGE_STRONGER = marked("findings", "The same fitting rated at least {highest:.0f} bar.")
CHANGE_FITTING = marked("findings", "A fitting between {ours} and {theirs}, or a pump whose port takes the hose.")
SEAL_UNKNOWN = marked("findings", "{thread} comes with a 14 mm and a 15 mm seal; measure which one each end has.")
FITTING_NEED = marked("findings", "Fitting {first} to {second}")
NO_INSIDE_R = marked("findings", "none: R is an outside thread, so a female end is another one")


@dataclass(frozen=True, slots=True)
class _Joint:
    """One joint: its question, both ends with the ids of their fields, and what a fitting in it must stand."""

    question: Question
    ours: End
    theirs: End
    our_fields: tuple[str, str, str]
    their_fields: tuple[str, str, str]
    highest_bar: Range | None
    under_pressure: bool

    def readings(self) -> tuple[Reading, ...]:
        """Return thread, gender and, where the thread needs it, seal of both ends."""
        found: list[Reading] = []
        for end, fields in ((self.ours, self.our_fields), (self.theirs, self.their_fields)):
            found += [(fields[0], end.thread), (fields[1], end.gender)]
            thread = thread_or_none(end.thread.value) if end.thread else None
            if thread is not None and thread.designation == TWO_SEALS_THREAD:
                found.append((fields[2], end.seal_mm))
        return tuple(found)


def judge_inlet(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the joint between supply hose and inlet."""
    fields = ("supply_thread", "supply_gender", "supply_seal_mm"), ("inlet_thread", "inlet_gender", "inlet_seal_mm")
    joint = _Joint(INLET, machine.water.supply, pump.ports.inlet, *fields, highest_bar=None, under_pressure=False)
    return _judge(joint, shelf)


def judge_outlet(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the joint between pressure hose and outlet; a fitting in it must stand the highest possible pressure."""
    joint = _Joint(
        OUTLET,
        machine.water.discharge,
        pump.ports.outlet,
        ("discharge_thread", "discharge_gender", "discharge_seal_mm"),
        ("outlet_thread", "outlet_gender", "outlet_seal_mm"),
        highest_bar=highest_pressure_bar(pump, shelf),
        under_pressure=True,
    )
    return _judge(joint, shelf)


def _judge(joint: _Joint, shelf: Shelf) -> Finding:
    readings = joint.readings()
    if any(value is None for field, value in readings if not field.endswith("_seal_mm")):
        return joint.question.lacks(readings)
    ours, theirs = read_end_or_none(joint.ours), read_end_or_none(joint.theirs)
    if ours is None or theirs is None:
        return _unreadable(joint, readings)
    shown = Answer(_port_for(ours), _worded(theirs))
    fit = mates(ours, theirs)
    if fit is True:
        values = {
            "ours": ours.thread.designation,
            "our_gender": ours.gender.value,
            "theirs": theirs.thread.designation,
            "their_gender": theirs.gender.value,
        }
        return joint.question.passes(Sentence(GOES_ON, values), readings, shown)
    if fit is None or ours.is_seal_open or theirs.is_seal_open:
        fields = tuple(field for field, _ in readings if field.endswith("_seal_mm"))
        return joint.question.unsure(Sentence(SEAL_UNKNOWN, {"thread": TWO_SEALS_THREAD}), readings, fields, shown)
    return _through_fitting(joint, ours, theirs, shelf)


def _unreadable(joint: _Joint, readings: tuple[Reading, ...]) -> Finding:
    ends = ((joint.ours, joint.our_fields[0]), (joint.theirs, joint.their_fields[0]))
    bad = [(end.thread.value, field) for end, field in ends if end.thread and thread_or_none(end.thread.value) is None]
    return joint.question.unsure(
        Sentence(THREAD_UNREADABLE, {"text": bad[0][0]}), readings, tuple(field for _, field in bad)
    )


def _through_fitting(joint: _Joint, ours: ReadEnd, theirs: ReadEnd, shelf: Shelf) -> Finding:
    readings, shown = joint.readings(), Answer(_port_for(ours), _worded(theirs))
    why = str(why_not(ours, theirs))
    joining = [
        part for part in shelf if part.kind is PartKind.FITTING and part.count > 0 and _joins(part, ours, theirs)
    ]
    strong = [part for part in joining if _stands(part, joint)]
    if strong:
        part = min(strong, key=lambda one: (one.to_order, one.cost))
        first, second = _ends_worded(part)
        need = Need(Sentence(FITTING_NEED, {"first": first, "second": second}), 1, part)
        values = {"why": why, "fitting": _named(part)}
        return replace(joint.question.by_parts(Sentence(BY_FITTING, values), readings, shown), needs=(need,))
    if joining and joint.highest_bar is None:
        return joint.question.lacks((("has_unloader", None), ("rating_pressure_bar", None)), shown)
    if joining and joint.highest_bar is not None:
        part = max(joining, key=lambda one: one.rating_bar or 0.0)
        weak: dict[str, object] = {
            "why": why,
            "fitting": _named(part),
            "rating": part.rating_bar or 0.0,
            "highest": joint.highest_bar.high,
        }
        return joint.question.fails(Sentence(WEAK_FITTING, weak), readings, shown, change=CHANGE_STRONGER)
    return joint.question.fails(
        Sentence(NO_FITTING, {"why": why, "ours": _worded(ours), "theirs": _worded(theirs)}),
        readings,
        shown,
        change=CHANGE_FITTING,
    )


def _joins(part: Part, ours: ReadEnd, theirs: ReadEnd) -> bool:
    ends = [read_part_end_or_none(end) for end in part.ends]
    if len(ends) != 2 or ends[0] is None or ends[1] is None:
        return False
    first, second = ends[0], ends[1]
    return bool((mates(first, ours) and mates(second, theirs)) or (mates(second, ours) and mates(first, theirs)))


def _stands(part: Part, joint: _Joint) -> bool:
    """Say whether the fitting stands the highest pressure it may see; on the supply side any listed one does."""
    if not joint.under_pressure:
        return True
    return joint.highest_bar is not None and part.rating_bar is not None and part.rating_bar >= joint.highest_bar.high


def _named(part: Part) -> str:
    return part.name or " to ".join(_ends_worded(part))


def _ends_worded(part: Part) -> list[str]:
    """Return both ends of a fitting whose threads were understood, each with gender and, where it has one, seal."""
    ends = [read_part_end_or_none(end) for end in part.ends]
    return [_worded(end) for end in ends if end is not None]


def _port_for(hose: ReadEnd) -> str:
    """Return what the pump's port must be to take the hose directly: the other half of the joint."""
    family, nominal = hose.thread.family, hose.thread.nominal
    if hose.gender is Gender.MALE:
        # ISO 7-1: the taper outside thread screws into either of the two inside ones.
        inside = f"{Family.RC}{nominal} or {Family.RP}{nominal}"
        named = inside if family is Family.R else hose.thread.designation
        return f"{named} {Gender.FEMALE.value}{_seal_worded(hose)}"
    if family is Family.R:
        return NO_INSIDE_R
    named = f"{Family.R}{nominal}" if family in {Family.RP, Family.RC} else hose.thread.designation
    return f"{named} {Gender.MALE.value}{_seal_worded(hose)}"


def _worded(end: ReadEnd) -> str:
    return f"{end.thread.designation} {end.gender.value}{_seal_worded(end)}"


def _seal_worded(end: ReadEnd) -> str:
    """Return the seal in brackets where the thread comes with two; both sizes while nobody knows which."""
    if end.seals_mm:
        return f" ({' or '.join(f'{size:.0f}' for size in end.seals_mm)} mm seal)"
    return " (seal read as neither 14 nor 15 mm)" if end.is_seal_open else ""
