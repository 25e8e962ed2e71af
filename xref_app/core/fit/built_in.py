"""What the old pump had built in, and does the new one have it too?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref_app.core.fit.finding import Finding, Need, Outcome
from xref_app.core.fit.question import Question, Reading
from xref_app.core.fit.rated import listed_unloader_or_none
from xref_app.core.model.known import Fact
from xref_app.core.model.pump import Has, Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import PartKind
from xref_app.core.sentence import Sentence, marked

CARRIED_OVER = Question("carried over", "what the old pump had built in", "common practice, no published source")
COMFORTS = Question("comforts", "chemical inlet, inlet screen", "common practice, no published source", on_arrival=True)

ALL_THERE = marked("findings", "Whatever the old pump had built in, the new one has too.")
MISSING_LISTED = marked("findings", "The old pump's {what} was built in, the new one has none; a listed one goes on.")
MISSING = marked("findings", "The old pump's {what} was built in, the new one has none, and it is a part nobody lists.")
OLD_UNKNOWN = marked("findings", "The new pump has no {what}, and whether the old one had is not known.")
NEW_UNKNOWN = marked("findings", "Whether the new pump's {what} is built in is not known.")
COMFORT_MISSING = marked(
    "findings",
    "The new pump has no {what}; that changes what the machine can do, not whether it fits.",
)
CHANGE_BUILT_IN = marked("findings", "A listed {what}, or a pump that has its {what} built in.")
PART_NEED = marked("findings", "{what} for the new pump")


@dataclass(frozen=True, slots=True)
class _Item:
    """One thing built in: its field, its words, what replaces it, and which pump has it."""

    field: str
    words: str
    replaced_by: PartKind
    old: Fact[bool] | None
    new: Fact[bool] | None

    def outcome(self, shelf: Shelf) -> Outcome:
        """Return how the new pump stands on this item."""
        if self.new is not None and self.new.value:
            return Outcome.PASS
        if self.old is not None and not self.old.value:
            return Outcome.PASS
        if self.new is None or self.old is None:
            return Outcome.UNKNOWN
        return Outcome.BY_PARTS if self.listed_or_none(shelf) else Outcome.FAIL

    def listed_or_none(self, shelf: Shelf) -> Part | None:
        """Return the cheapest listed part that replaces it, or None."""
        parts = [part for part in shelf if part.kind is self.replaced_by and part.count > 0]
        return min(parts, key=lambda part: (part.to_order, part.cost), default=None)


def built_in_need(what: str, part: Part | None) -> Need:
    """Return the need for what a pump lacks, in the same words wherever it is asked for."""
    return Need(Sentence(PART_NEED, {"what": what}), 1, part)


def judge_carried_over(old: Has, pump: Pump, shelf: Shelf) -> Finding:
    """Judge unloader and thermal relief: what the old pump had must be there, built in or as a listed part.

    A listed unloader that does not stand the pump's rated pressure counts for nothing.
    """
    new = pump.has
    strong = listed_unloader_or_none(pump, shelf)
    offered = tuple(part for part in shelf if part.kind is not PartKind.UNLOADER or part is strong)
    relief = PartKind.RELIEF_VALVE
    return _judge(
        CARRIED_OVER,
        (
            _Item("has_unloader", "unloader", PartKind.UNLOADER, old.unloader, new.unloader),
            _Item("has_thermal_relief", "thermal relief", relief, old.thermal_relief, new.thermal_relief),
        ),
        offered,
    )


def judge_comforts(old: Has, new: Has, shelf: Shelf) -> Finding:
    """Judge chemical inlet and inlet screen: missing ones come by parts or are noted; neither stops anything."""
    items = (
        _Item("has_chemical_inlet", "chemical inlet", PartKind.CHEMICAL_INLET, old.chemical_inlet, new.chemical_inlet),
        _Item("has_inlet_screen", "inlet screen", PartKind.INLET_SCREEN, old.inlet_screen, new.inlet_screen),
    )
    found = _judge(COMFORTS, items, shelf)
    if found.outcome is Outcome.FAIL:
        missing = ", ".join(item.words for item in items if item.outcome(shelf) is Outcome.FAIL)
        note = Sentence(COMFORT_MISSING, {"what": missing})
        return replace(found, outcome=Outcome.PASS, reason=note, needs=())
    return found


def _judge(question: Question, items: Sequence[_Item], shelf: Shelf) -> Finding:
    readings: tuple[Reading, ...] = tuple((item.field, item.new) for item in items)
    worst = max(items, key=lambda item: item.outcome(shelf))
    values = {"what": worst.words}
    match worst.outcome(shelf):
        case Outcome.PASS:
            return question.passes(Sentence(ALL_THERE), readings)
        case Outcome.UNKNOWN:
            template = NEW_UNKNOWN if worst.new is None else OLD_UNKNOWN
            return question.unsure(Sentence(template, values), readings, (worst.field,))
        case Outcome.FAIL:
            return question.fails(Sentence(MISSING, values), readings, change=CHANGE_BUILT_IN)
    needs = tuple(
        built_in_need(item.words, item.listed_or_none(shelf))
        for item in items
        if item.outcome(shelf) is Outcome.BY_PARTS
    )
    return replace(question.by_parts(Sentence(MISSING_LISTED, values), readings), needs=needs)
