"""What centres the pump: a boss in a recess, or the shaft and bolts."""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.apart import faces_apart_mm
from xref_app.core.fit.face_parts import NOTHING_BETWEEN, FaceParts
from xref_app.core.fit.finding import Finding
from xref_app.core.fit.house_rules import NARROWEST_ROOM_MM, PILOT_CENTRES_MM
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.show import mm, span
from xref_app.core.fit.spacing import missing_for_reach, reach_or_none, window_mm
from xref_app.core.fit.stack_needs import needs_of_stacks
from xref_app.core.model.machine import Face, Machine
from xref_app.core.model.pump import Flange, Pump
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
    "A boss {height} mm high meets a flat face and holds it off, and the shaft is too short for a spacer that thick.",
)
BOSS_OPEN = marked(
    "findings",
    "A boss {height} mm high meets a flat face; whether a spacer may lift it clear depends on the shaft's reach.",
)
BOSS_SPACED = marked(
    "findings",
    "A boss {height} mm high meets a flat face; {part} mm under every bolt clear it. Shaft and bolts then centre the "
    "pump.",
)
BOSS_DECLINED = marked(
    "findings",
    "A boss {height} mm high meets a flat face; a spacer that thick under every bolt would clear it, but with it "
    "another check fails.",
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


def judge_pilot(machine: Machine, pump: Pump, parts: FaceParts) -> Finding:
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
        return _boss_in_recess(machine, pump, parts, readings)
    return _boss_on_flat(machine, pump, parts, readings)


def _boss_in_recess(machine: Machine, pump: Pump, parts: FaceParts, kinds: tuple[Reading, ...]) -> Finding:
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
    apart = faces_apart_mm(machine, pump, parts)
    room = recess.pilot_depth_mm.range + apart - boss.pilot_depth_mm.range
    shown = Answer(mm(boss.pilot_mm.range), mm(recess.pilot_mm.range), mm(play))
    lifted = (boss.pilot_depth_mm.range - apart).high <= SAME_MM
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


def _boss_on_flat(machine: Machine, pump: Pump, parts: FaceParts, kinds: tuple[Reading, ...]) -> Finding:
    boss, _ = _boss_first(machine, pump)
    field = "face_pilot_depth_mm" if boss is machine.face else "flange_pilot_depth_mm"
    readings = (*kinds, (field, boss.pilot_depth_mm))
    if boss.pilot_depth_mm is None:
        return PILOT.lacks(readings)
    height, apart = boss.pilot_depth_mm.range, faces_apart_mm(machine, pump, parts)
    if height.high <= SAME_MM:
        return PILOT.passes(Sentence(NO_PILOT), readings)
    values = {"height": span(height)}
    shown = Answer("flat face", mm(height))
    if height.high <= apart.low + SAME_MM:
        reason = Sentence(BOSS_SPACED, {**values, "part": span(Range.exactly(apart.middle))})
        return replace(PILOT.by_parts(reason, readings, shown), needs=needs_of_stacks(machine, pump, parts))
    return _held_off(machine, pump, height, _Told(values, readings, shown))


@dataclass(frozen=True, slots=True)
class _Told:
    """What the reasons need."""

    values: dict[str, str]
    readings: tuple[Reading, ...]
    shown: Answer


def _held_off(machine: Machine, pump: Pump, height: Range, told: _Told) -> Finding:
    """Return unknown where a spacer may lift the boss clear, else fail."""
    reach = reach_or_none(machine, pump)
    if reach is None:
        measure = missing_for_reach(machine, pump)
        return PILOT.unsure(Sentence(BOSS_OPEN, told.values), told.readings, measure, told.shown)
    least, most = reach.best_mm
    if max(least, height.low) > most:
        reason = Sentence(BOSS_ON_FLAT, told.values)
        return PILOT.fails(reason, told.readings, told.shown, change=CHANGE_LIFT)
    window = window_mm(machine, pump)
    if window is None or window.high - window.low - _seats_doubt(machine, pump) < NARROWEST_ROOM_MM:
        measure = ("shaft_projection_mm", "bore_depth_mm")
        return PILOT.unsure(Sentence(BOSS_OPEN, told.values), told.readings, measure, told.shown)
    return PILOT.fails(Sentence(BOSS_DECLINED, told.values), told.readings, told.shown, change=CHANGE_LIFT)


def _seats_doubt(machine: Machine, pump: Pump) -> float:
    """Return by how much the seats alone leave open how far apart the faces come to rest, mm."""
    apart = faces_apart_mm(machine, pump, NOTHING_BETWEEN)
    return apart.high - apart.low


def _boss_first(machine: Machine, pump: Pump) -> tuple[Side, Side]:
    face, flange = machine.face, pump.flange
    face_has_it = face.pilot_kind is not None and face.pilot_kind.value is PilotKind.BOSS
    return (face, flange) if face_has_it else (flange, face)
