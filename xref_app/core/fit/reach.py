"""Is the shaft long enough for the bore, and short enough?"""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.apart import bare_apart_mm, faces_apart_mm
from xref_app.core.fit.coupled import not_direct_or_none
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.finding import Finding
from xref_app.core.fit.house_rules import BOTTOM_CLEARANCE_MM, MOST_STACK_MM, NARROWEST_ROOM_MM
from xref_app.core.fit.question import Answer, Question
from xref_app.core.fit.show import mm, rounded_up, span, span_inside, span_outside
from xref_app.core.fit.spacing import Reach, reach_or_none
from xref_app.core.fit.stack_needs import needs_of_stacks
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked

REACH = Question("reach", "shaft length in the bore", "1.6 mm and 1 diameter: common practice, no published source")

REACHES = marked("findings", "{engagement} mm of shaft are inside, {clearance} mm are left at the bottom.")
BOTTOMS = marked(
    "findings",
    "The shaft is up to {over} mm too long: {least:.1f} mm must be left at the bottom. "
    "A spacer of {window} mm under every bolt would make it, but with it another check fails.",
)
SPACED = marked(
    "findings",
    "The shaft is up to {over} mm too long: {least:.1f} mm must be left at the bottom. "
    "A spacer of {window} mm under every bolt makes it; {part} mm does.",
)
TOO_LONG = marked(
    "findings",
    "The shaft is up to {over} mm too long, and a spacer thick enough would leave too little shaft inside.",
)
TOO_THICK = marked(
    "findings",
    "The shaft is up to {over} mm too long; spacers make up {most:.0f} mm at most.",
)
TOO_SHORT = marked("findings", "Only {engagement} mm of shaft are inside; one shaft diameter, {needed} mm, must be.")
REACH_UNSURE = marked(
    "findings",
    "{clearance} mm are left at the bottom and {engagement} mm of shaft inside by these readings; "
    "{least:.1f} mm and {needed} mm are needed.",
)
ROOT_SUM = marked("findings", "Root-sum-square doubt on the bottom clearance: {doubt:.2f} mm.")
CHANGE_BORE = marked("findings", "A pump whose bore is {over} mm deeper.")
CHANGE_LONG = marked(
    "findings",
    "A spacer of {window} mm under every bolt, or a pump whose bore is {deeper} mm deeper.",
)
CHANGE_SHORT = marked("findings", "An engine shaft at least {longer} mm longer, or a pump with less recess.")

_FIELDS = ("shaft_projection_mm", "bore_depth_mm", "bore_recess_mm", "shaft_diameter_mm")


def judge_reach(machine: Machine, pump: Pump, parts: FaceParts) -> Finding:
    """Judge bottom clearance (at least 1.6 mm) and engagement (at least one diameter), worst case."""
    readings = (
        ("shaft_projection_mm", machine.shaft.projection_mm),
        ("bore_depth_mm", pump.bore.depth_mm),
        ("bore_recess_mm", pump.bore.recess_mm),
        ("shaft_diameter_mm", machine.shaft.diameter_mm),
    )
    elsewhere = not_direct_or_none(REACH, machine, pump)
    if elsewhere is not None:
        return elsewhere
    reach = reach_or_none(machine, pump)
    if reach is None:
        return REACH.lacks(readings)
    bare = reach.moved_out(bare_apart_mm(machine, pump, parts))
    found = _judge(bare, reach.moved_out(faces_apart_mm(machine, pump, parts)), machine, pump, parts)
    return replace(
        found,
        used=REACH.lacks(readings).used,
        notes=(*found.notes, Sentence(ROOT_SUM, {"doubt": reach.doubt_rss_mm})),
    )


def _judge(bare: Reach, fitted: Reach, machine: Machine, pump: Pump, parts: FaceParts) -> Finding:
    needed = Range(BOTTOM_CLEARANCE_MM, BOTTOM_CLEARANCE_MM)
    shown = Answer(mm(needed), mm(bare.clearance_mm), mm(bare.clearance_mm - needed))
    if fitted.holds and not bare.holds:
        window = span_inside(Range(bare.least_mm, bare.most_mm))
        told = {**_values(bare), "part": _thickness(parts), "window": window}
        found = REACH.by_parts(Sentence(SPACED, told), shown=shown)
        return replace(found, needs=needs_of_stacks(machine, pump, parts))
    if fitted.holds:
        return REACH.passes(Sentence(REACHES, _values(fitted)), shown=shown)
    return _not_passing(bare, shown)


def _thickness(parts: FaceParts) -> str:
    """Return how thick what lies under the bolts is, mm, in words."""
    nominal = [stack.nominal_mm for stack in parts.stacks]
    return span(Range(min(nominal), max(nominal)))


def _not_passing(reach: Reach, shown: Answer) -> Finding:
    """Return fail where no realisation reaches with whatever spacer, unknown where some may."""
    values = _values(reach)
    short_by = reach.engagement_needed_mm.low - reach.engagement_mm.high
    if short_by > SAME_MM:
        change = Sentence(CHANGE_SHORT, {"longer": rounded_up(short_by)})
        return replace(REACH.fails(Sentence(TOO_SHORT, values), shown=shown), change=change)
    least, most = reach.best_mm
    if least <= SAME_MM:
        return REACH.unsure(Sentence(REACH_UNSURE, values), (), _FIELDS, shown)
    if least > most:
        template = TOO_LONG if most < MOST_STACK_MM else TOO_THICK
        return REACH.fails(Sentence(template, {**values, "most": MOST_STACK_MM}), shown=shown, change=CHANGE_BORE)
    if reach.most_mm - reach.least_mm < NARROWEST_ROOM_MM:
        return REACH.unsure(Sentence(REACH_UNSURE, values), (), _FIELDS, shown)
    window = span_inside(Range(reach.least_mm, reach.most_mm))
    change = Sentence(CHANGE_LONG, {"window": window, "deeper": rounded_up(reach.least_mm)})
    return replace(REACH.fails(Sentence(BOTTOMS, {**values, "window": window}), shown=shown), change=change)


def _values(reach: Reach) -> dict[str, object]:
    return {
        "clearance": span_outside(reach.clearance_mm),
        "engagement": span_outside(reach.engagement_mm),
        "needed": span_outside(reach.engagement_needed_mm),
        "least": BOTTOM_CLEARANCE_MM,
        "over": rounded_up(reach.least_mm),
    }
