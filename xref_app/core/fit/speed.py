"""Does the engine turn the pump at a speed it may run, and the way it must?"""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.finding import Finding, Quantity
from xref_app.core.fit.question import Answer, Question
from xref_app.core.fit.rated import flow_lpm
from xref_app.core.fit.show import TURN_WORDS, span
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.model.words import Turn
from xref_app.core.quantity.range import SAME_MM
from xref_app.core.sentence import Sentence, marked

SPEED = Question(
    "speed", "engine speed against the pump's", "pump's rating; flow in proportion to speed (displacement)"
)
TURN = Question("turn", "turning direction", "pump's rating")

RUNS_AT = marked("findings", "The engine turns {engine} rpm, the pump may run {limit} rpm.")
TOO_FAST = marked("findings", "The engine turns {engine} rpm; the pump may run {limit} rpm at most.")
SPEED_UNSURE = marked("findings", "The engine turns {engine} rpm by this reading; the pump may run {limit} rpm.")
NO_LIMIT = marked(
    "findings",
    "The engine turns {engine} rpm, faster than the pump's rated {rated} rpm, and its highest speed is not known.",
)
CHANGE_SPEED = marked("findings", "A pump that may run {engine} rpm.")
SPEED_DANGER = marked("danger", "Danger: the engine drives this pump faster than its limit.")
FLOW_NOTE = marked("findings", "At this speed the pump delivers {flow} l/min.")
TURNS_EITHER = marked("findings", "The pump may turn either way.")
TURNS_ALIKE = marked("findings", "Shaft and pump both turn {turn}.")
TURNS_WRONG = marked("findings", "The shaft turns {ours} and the pump must turn {theirs}.")
CHANGE_TURN = marked("findings", "A pump that may turn {ours}.")
TURN_DANGER = marked("danger", "Danger: wrong turning direction for this pump.")


def judge_speed(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:  # noqa: ARG001 - one signature for all checks
    """Judge the engine's speed against the pump's highest, or against its rated one where no highest is known."""
    engine, rated, most = machine.power.speed_rpm, pump.rating.speed_rpm, pump.rating.max_speed_rpm
    limit = most or rated
    readings = (("power_speed_rpm", engine), ("rating_max_speed_rpm", limit))
    if engine is None or limit is None:
        return SPEED.lacks(readings)
    shown = Answer(
        Quantity(engine.range, "rpm"), Quantity(limit.range, "rpm"), Quantity(limit.range - engine.range, "rpm")
    )
    values = {"engine": span(engine.range, 0), "limit": span(limit.range, 0), "rated": span(limit.range, 0)}
    flow = flow_lpm(machine, pump)
    notes = (Sentence(FLOW_NOTE, {"flow": span(flow, 1)}),) if flow else ()
    if engine.range.high <= limit.range.low + SAME_MM:
        return replace(SPEED.passes(Sentence(RUNS_AT, values), readings, shown), notes=notes)
    if most is None:
        return SPEED.unsure(Sentence(NO_LIMIT, values), readings, ("rating_max_speed_rpm",), shown)
    if engine.range.low > limit.range.high + SAME_MM:
        found = SPEED.fails(Sentence(TOO_FAST, values), readings, shown, change=CHANGE_SPEED)
        return replace(found, danger=Sentence(SPEED_DANGER), notes=notes)
    return SPEED.unsure(Sentence(SPEED_UNSURE, values), readings, ("power_speed_rpm",), shown)


def judge_turn(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:  # noqa: ARG001 - one signature for all checks
    """Judge whether the pump turns either way, or the way the shaft does."""
    ours, theirs = machine.shaft.turn, pump.bore.turn
    readings = (("shaft_turn", ours), ("bore_turn", theirs))
    if theirs is not None and theirs.value is Turn.EITHER:
        return TURN.passes(Sentence(TURNS_EITHER), readings, Answer(None, TURN_WORDS[theirs.value]))
    if ours is None or theirs is None:
        return TURN.lacks(readings)
    our_way, their_way = TURN_WORDS[ours.value], TURN_WORDS[theirs.value]
    shown = Answer(our_way, their_way)
    if ours.value is Turn.EITHER or ours.value is theirs.value:
        return TURN.passes(Sentence(TURNS_ALIKE, {"turn": their_way}), readings, shown)
    values = {"ours": our_way, "theirs": their_way}
    return replace(
        TURN.fails(Sentence(TURNS_WRONG, values), readings, shown, change=CHANGE_TURN), danger=Sentence(TURN_DANGER)
    )
