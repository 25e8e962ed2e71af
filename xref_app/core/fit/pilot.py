"""What centres the pump: a boss in a recess, or the shaft and bolts."""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.finding import Finding
from xref_app.core.fit.house_rules import PILOT_CENTRES_MM
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.show import mm, span
from xref_app.core.fit.spacing import bolts_used, lists_spacer, missing_for_reach, reach_or_none, spacing
from xref_app.core.model.machine import Face, Machine
from xref_app.core.model.pump import Flange, Pump
from xref_app.core.model.shelf import Shelf
from xref_app.core.model.words import PilotKind
from xref_app.core.quantity.range import SAME_MM, Range
from xref_app.core.sentence import Sentence, marked

PILOT = Question("pilot", "boss in recess", "centring within 0.15 mm: house rule")

NO_PILOT = marked("findings", "Neither face has a boss: shaft and bolts centre the pump.")
CENTRES = marked("findings", "The boss centres in the recess with {play} mm of play.")
LOOSE = marked(
    "findings",
    "The boss has {play} mm of play in the recess: shaft and bolts centre the pump, not the boss.",
)
TOO_BIG = marked("findings", "The boss is {over} mm larger than the recess.")
TOO_HIGH = marked("findings", "The boss is {over} mm higher than the recess is deep: the faces never meet.")
TWO_BOSSES = marked("findings", "Both faces have a boss: they hold each other apart.")
BOSS_ON_FLAT = marked(
    "findings",
    "A boss {height} mm high meets a flat face and holds it off; a spacer that thick under every bolt is "
    "a part nobody lists.",
)
BOSS_OPEN = marked(
    "findings",
    "A boss {height} mm high meets a flat face; whether a spacer may lift it clear depends on the shaft's reach.",
)
BOSS_SPACED = marked(
    "findings",
    "A boss {height} mm high meets a flat face; a {part:.2f} mm spacer under every bolt clears it. Shaft "
    "and bolts then centre the pump.",
)
PILOT_UNSURE = marked(
    "findings",
    "Boss and recess differ by {play} mm in diameter and {room} mm in depth by these readings; neither may be below 0.",
)
CHANGE_RECESS = marked("findings", "A pump with a recess that takes the engine's boss.")
CHANGE_WIDER = marked("findings", "A recess {over} mm wider.")
CHANGE_DEEPER = marked("findings", "A recess {over} mm deeper, or a spacer that thick under every bolt.")
CHANGE_LIFT = marked("findings", "A spacer at least {height} mm thick under every bolt.")
TAKEN_AWAY = marked(
    "findings",
    "The spacer lifts the boss out of its recess: shaft and bolts centre the pump, not the boss.",
)

Side = Face | Flange


def judge_pilot(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge whether boss and recess let the faces meet, and whether they centre the pump."""
    ours, theirs = machine.face.pilot_kind, pump.flange.pilot_kind
    readings: tuple[Reading, ...] = (("face_pilot_kind", ours), ("flange_pilot_kind", theirs))
    if ours is None or theirs is None:
        return PILOT.lacks(readings)
    kinds = (ours.value, theirs.value)
    shown = Answer(ours.value.value, theirs.value.value)
    if PilotKind.BOSS not in kinds:
        return PILOT.passes(Sentence(NO_PILOT), readings, shown)
    if kinds == (PilotKind.BOSS, PilotKind.BOSS):
        return PILOT.fails(Sentence(TWO_BOSSES), readings, shown, change=CHANGE_RECESS)
    if PilotKind.RECESS in kinds:
        return _boss_in_recess(machine, pump, shelf, readings)
    return _boss_on_flat(machine, pump, shelf, readings)


def _boss_in_recess(machine: Machine, pump: Pump, shelf: Shelf, kinds: tuple[Reading, ...]) -> Finding:
    face, flange = machine.face, pump.flange
    sizes: tuple[Reading, ...] = (
        ("face_pilot_mm", face.pilot_mm),
        ("flange_pilot_mm", flange.pilot_mm),
        ("face_pilot_depth_mm", face.pilot_depth_mm),
        ("flange_pilot_depth_mm", flange.pilot_depth_mm),
    )
    readings = (*kinds, *sizes)
    boss, recess = _boss_first(machine, pump)
    if boss.pilot_mm is None or recess.pilot_mm is None or boss.pilot_depth_mm is None or recess.pilot_depth_mm is None:
        return PILOT.lacks(readings)
    play = recess.pilot_mm.range - boss.pilot_mm.range
    spacer = spacing(machine, pump, shelf)
    room = recess.pilot_depth_mm.range + spacer.thickness_mm - boss.pilot_depth_mm.range
    shown = Answer(mm(boss.pilot_mm.range), mm(recess.pilot_mm.range), mm(play))
    lifted = (boss.pilot_depth_mm.range - spacer.thickness_mm).high <= SAME_MM
    return _judge(play, room, lifted=lifted, readings=readings, shown=shown)


def _judge(play: Range, room: Range, *, lifted: bool, readings: tuple[Reading, ...], shown: Answer) -> Finding:
    if lifted:
        return PILOT.passes(Sentence(TAKEN_AWAY), readings, shown)
    if play.high < -SAME_MM:
        return PILOT.fails(Sentence(TOO_BIG, {"over": span(-play)}), readings, shown, change=CHANGE_WIDER)
    if room.high < -SAME_MM:
        return PILOT.fails(Sentence(TOO_HIGH, {"over": span(-room)}), readings, shown, change=CHANGE_DEEPER)
    if play.low < -SAME_MM or room.low < -SAME_MM:
        measure = tuple(field for field, _ in readings[2:])
        return PILOT.unsure(Sentence(PILOT_UNSURE, {"play": span(play), "room": span(room)}), readings, measure, shown)
    template = CENTRES if play.high <= PILOT_CENTRES_MM + SAME_MM else LOOSE
    return PILOT.passes(Sentence(template, {"play": span(play)}), readings, shown)


def _boss_on_flat(machine: Machine, pump: Pump, shelf: Shelf, kinds: tuple[Reading, ...]) -> Finding:
    boss, _ = _boss_first(machine, pump)
    field = "face_pilot_depth_mm" if boss is machine.face else "flange_pilot_depth_mm"
    readings = (*kinds, (field, boss.pilot_depth_mm))
    if boss.pilot_depth_mm is None:
        return PILOT.lacks(readings)
    height = boss.pilot_depth_mm.range
    if height.high <= SAME_MM:
        return PILOT.passes(Sentence(NO_PILOT), readings)
    values = {"height": span(height)}
    shown = Answer("flat face", mm(height))
    spacer = spacing(machine, pump, shelf)
    if (
        spacer.part is None
        and reach_or_none(machine, pump) is None
        and lists_spacer(shelf, bolts_used(machine, pump), at_least_mm=height.high)
    ):
        return PILOT.unsure(Sentence(BOSS_OPEN, values), readings, missing_for_reach(machine, pump), shown)
    if spacer.part is None:
        return PILOT.fails(Sentence(BOSS_ON_FLAT, values), readings, shown, change=CHANGE_LIFT)
    reason = Sentence(BOSS_SPACED, {**values, "part": spacer.part.thickness_mm})
    return replace(PILOT.by_parts(reason, readings, shown), needs=spacer.needs)


def _boss_first(machine: Machine, pump: Pump) -> tuple[Side, Side]:
    face, flange = machine.face, pump.flange
    face_has_it = face.pilot_kind is not None and face.pilot_kind.value is PilotKind.BOSS
    return (face, flange) if face_has_it else (flange, face)
