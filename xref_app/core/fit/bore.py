"""Does the shaft go into the bore, and does the bore hold it?"""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from xref_app.core.fit.alternatives import Alternative, settled
from xref_app.core.fit.coupled import not_direct_or_none
from xref_app.core.fit.drive_sizes import Size, bore_sizes, shaft_sizes
from xref_app.core.fit.finding import Finding, Need
from xref_app.core.fit.question import Answer, Question
from xref_app.core.fit.show import mm, span
from xref_app.core.fit.sleeve import sleeve_and_key, stepped_need
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked
from xref_app.core.standards.limits import tolerance_mm

BORE = Question("bore", "shaft in bore", "ISO 286-1 limits, H9/h9 (house rule)")

RUNS = marked("findings", "The shaft runs in the bore with {play} mm of play, at most {limit:.3f} mm allowed.")
TOO_SMALL = marked("findings", "The bore is smaller than the shaft by {short} mm.")
TOO_LOOSE = marked("findings", "Too loose by {over} mm, and no listed sleeve is that thin with a key that bridges it.")
SLEEVE = marked("findings", "Too loose by {over} mm; sleeve {sleeve} with key {key} takes it up.")
PLAY_UNSURE = marked("findings", "Play is {play} mm by these readings; 0 to {limit:.3f} mm is needed.")
SLEEVE_NEED = marked("findings", "Sleeve {inside:.2f} mm inside, {outside:.2f} mm outside")
CHANGE_SHAFT = marked("findings", "A pump with a bore for a {size} shaft would go on.")


def judge_bore(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the play between bore and shaft: 0 to IT9 + IT9 at that size."""
    readings = (
        ("shaft_diameter_mm", machine.shaft.diameter_mm),
        ("bore_diameter_mm", pump.bore.diameter_mm),
    )
    elsewhere = not_direct_or_none(BORE, machine, pump)
    if elsewhere is not None:
        return elsewhere
    shafts, bores = shaft_sizes(machine.shaft), bore_sizes(pump.bore)
    if not shafts or not bores:
        return BORE.lacks(readings)
    alternatives = [
        Alternative(_label(shaft, bore), _judge(shaft, bore, shelf)) for shaft, bore in product(shafts, bores)
    ]
    found = settled(alternatives, measure=(*_untaken_widths(machine, pump), "bore_diameter_mm", "shaft_diameter_mm"))
    return replace(found, used=BORE.lacks(readings).used)


def _untaken_widths(machine: Machine, pump: Pump) -> tuple[str, ...]:
    """Return the key and keyway widths not measured yet: they settle most often what a diameter leaves open."""
    widths = (
        ("bore_keyway_width_mm", pump.bore.keyway_width_mm),
        ("shaft_key_width_mm", machine.shaft.key_width_mm),
    )
    return tuple(field for field, width in widths if width is None)


def most_play_mm(size_mm: float) -> float:
    """Return the largest play allowed at ``size_mm``, mm: IT9 of the bore and IT9 of the shaft. Source: ISO 286-1."""
    return 2 * tolerance_mm(9, size_mm)


def _judge(shaft: Size, bore: Size, shelf: Shelf) -> Finding:
    play = bore.diameter_mm - shaft.diameter_mm
    limit = most_play_mm(bore.nominal_mm)
    shown = Answer(mm(shaft.diameter_mm), mm(bore.diameter_mm), mm(play))
    values = {"play": span(play, 3), "limit": limit, "over": span(play - limit), "short": span(-play)}
    if play.within(Range(0, limit)):
        return BORE.passes(Sentence(RUNS, values), shown=shown)
    if play.high < -SAME_MM:
        change = Sentence(CHANGE_SHAFT, {"size": shaft.label or f"{shaft.nominal_mm:.2f} mm"})
        return replace(BORE.fails(Sentence(TOO_SMALL, values), shown=shown), change=change)
    if play.low > limit + SAME_MM:
        return _with_sleeve(shaft, bore, shelf, BORE.fails(Sentence(TOO_LOOSE, values), shown=shown))
    return BORE.unsure(Sentence(PLAY_UNSURE, values), (), ("bore_diameter_mm", "shaft_diameter_mm"), shown)


def _with_sleeve(shaft: Size, bore: Size, shelf: Shelf, too_loose: Finding) -> Finding:
    parts = sleeve_and_key(shaft, bore, shelf)
    if parts is None:
        change = Sentence(CHANGE_SHAFT, {"size": shaft.label or f"{shaft.nominal_mm:.2f} mm"})
        return replace(too_loose, change=change)
    sleeve, key = parts
    reason = Sentence(
        SLEEVE, {**too_loose.reason.values, "sleeve": sleeve.name or "listed", "key": key.name or "listed"}
    )
    needs = (
        Need(Sentence(SLEEVE_NEED, {"inside": sleeve.inside_mm, "outside": sleeve.outside_mm}), 1, sleeve),
        stepped_need(key),
    )
    shown = Answer(too_loose.needed, too_loose.offered, too_loose.gap)
    return replace(BORE.by_parts(reason, shown=shown), needs=needs)


def _label(shaft: Size, bore: Size) -> str:
    if not shaft.label and not bore.label:
        return ""
    if shaft.label == bore.label:
        return shaft.label
    return f"shaft {shaft.label or 'as read'}, bore {bore.label or 'as read'}"
