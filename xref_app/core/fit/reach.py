"""Is the shaft long enough for the bore, and short enough?"""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.coupled import not_direct_or_none
from xref_app.core.fit.finding import Finding
from xref_app.core.fit.house_rules import BOTTOM_CLEARANCE_MM
from xref_app.core.fit.question import Answer, Question
from xref_app.core.fit.show import mm, rounded_up, span_inside, span_outside
from xref_app.core.fit.spacing import Reach, bolts_used, lists_spacer, reach_or_none, spacing
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked

REACH = Question("reach", "shaft length in the bore", "1.6 mm and 1 diameter: common practice, no published source")

REACHES = marked("findings", "{engagement} mm of shaft are inside, {clearance} mm are left at the bottom.")
BOTTOMS = marked(
    "findings",
    "The shaft is up to {over} mm too long: {least:.1f} mm must be left at the bottom. "
    "A spacer of {window} mm under every bolt would make it: a part nobody lists.",
)
SPACED = marked(
    "findings",
    "The shaft is up to {over} mm too long: {least:.1f} mm must be left at the bottom. "
    "A spacer of {window} mm under every bolt would make it; the listed one of {part:.2f} mm does.",
)
TOO_LONG = marked(
    "findings",
    "The shaft is up to {over} mm too long, and a spacer thick enough would leave too little shaft inside.",
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


def judge_reach(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
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
    found = _judge(reach, machine, pump, shelf)
    return replace(
        found,
        used=REACH.lacks(readings).used,
        notes=(*found.notes, Sentence(ROOT_SUM, {"doubt": reach.doubt_rss_mm})),
    )


def _judge(reach: Reach, machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    needed = Range(BOTTOM_CLEARANCE_MM, BOTTOM_CLEARANCE_MM)
    shown = Answer(mm(needed), mm(reach.clearance_mm), mm(reach.clearance_mm - needed))
    values = _values(reach)
    chosen = spacing(machine, pump, shelf)
    if chosen.part is not None and reach.least_mm > SAME_MM and chosen.window_mm is not None:
        told = {**values, "part": chosen.part.thickness_mm, "window": span_inside(chosen.window_mm)}
        return replace(REACH.by_parts(Sentence(SPACED, told), shown=shown), needs=chosen.needs)
    if reach.least_mm <= SAME_MM and reach.most_mm >= -SAME_MM:
        return REACH.passes(Sentence(REACHES, values), shown=shown)
    least, most = reach.best_mm
    spacer_may_do = lists_spacer(shelf, bolts_used(machine, pump), at_least_mm=least, at_most_mm=most)
    return _not_passing(reach, values, shown, is_open=least <= SAME_MM or spacer_may_do)


def _not_passing(reach: Reach, values: dict[str, object], shown: Answer, *, is_open: bool) -> Finding:
    """Return fail where no realisation reaches, unknown where some may, with a listed spacer or without."""
    short_by = reach.engagement_needed_mm.low - reach.engagement_mm.high
    if short_by > SAME_MM:
        change = Sentence(CHANGE_SHORT, {"longer": rounded_up(short_by)})
        return replace(REACH.fails(Sentence(TOO_SHORT, values), shown=shown), change=change)
    if is_open:
        return REACH.unsure(Sentence(REACH_UNSURE, values), (), _FIELDS, shown)
    if reach.most_mm < reach.least_mm:
        return REACH.fails(Sentence(TOO_LONG, values), shown=shown, change=CHANGE_BORE)
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
