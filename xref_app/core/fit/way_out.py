"""Where the outlet points once the pump is bolted on."""

from __future__ import annotations

import math
from dataclasses import dataclass

from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.face_turns import face_turns_or_none
from xref_app.core.fit.finding import Finding
from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.pattern import worded_turns
from xref_app.core.fit.question import Question
from xref_app.core.fit.seat import seated_turns
from xref_app.core.fit.seats import seat_heights_or_none
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

WAY_OUT = Question("way out", "where the outlet points", "geometry at each turn that works", on_arrival=True)

FREE = marked("findings", "Turned {turns} the outlet points where the machine leaves room.")
BLOCKED = marked("findings", "At every turn that fits, the outlet points into the machine.")
CHANGE_WAY = marked("findings", "An elbow on the outlet, or a pump whose outlet points elsewhere.")
LOOK = marked("findings", "Look when it is in your hands: does the outlet point clear of frame, tank and muffler?")

Sectors = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class _Room:
    direction: Range
    sectors: Sectors


def judge_way_out(machine: Machine, pump: Pump, parts: FaceParts) -> Finding:
    """Judge whether the outlet points where the machine leaves room, at a turn that fits with what is put in."""
    free, direction = machine.room.outlet_free_deg, pump.ports.outlet.direction_deg
    readings = (("room_outlet_free_deg", free), ("outlet_direction_deg", direction))
    turns = face_turns_or_none(machine, pump)
    heights = seat_heights_or_none(machine, pump)
    if free is None or direction is None or turns is None or heights is None:
        return WAY_OUT.unsure(Sentence(LOOK), readings, tuple(field for field, value in readings if value is None))
    room = _Room(direction.range, free.value)
    seated = seated_turns(turns, heights)
    fitting = seated if parts.turn is None or parts.turn in seated else (parts.turn,)
    open_turns = tuple(turn for turn in fitting if _surely_free(room, math.degrees(turn.middle)))
    if open_turns and (parts.turn is None or parts.turn in open_turns):
        return WAY_OUT.passes(Sentence(FREE, {"turns": worded_turns(open_turns)}), readings)
    if turns.possible and all(_surely_out(room, turn) for turn in turns.possible):
        return WAY_OUT.fails(Sentence(BLOCKED), readings, change=CHANGE_WAY)
    return WAY_OUT.unsure(Sentence(LOOK), readings, ("outlet_direction_deg",))


def points_free(machine: Machine, pump: Pump, turn_deg: float) -> bool | None:
    """Say whether the outlet surely points where there is room at this turn; None while room or outlet are unknown."""
    free, direction = machine.room.outlet_free_deg, pump.ports.outlet.direction_deg
    if free is None or direction is None:
        return None
    return _surely_free(_Room(direction.range, free.value), turn_deg)


def from_as_drawn(turn: Turn) -> float:
    """Return how far a turn is from 'as drawn', radians."""
    return min(abs(turn.middle), abs(2 * math.pi - turn.middle))


def _surely_free(room: _Room, turn_deg: float) -> bool:
    """Say whether the outlet, doubt included, lies inside one free sector at this turn, degrees."""
    points = room.direction + turn_deg
    return any(_shares(points, sector, whole=True) for sector in room.sectors)


def _surely_out(room: _Room, turn: Turn) -> bool:
    """Say whether the outlet misses every free sector at this turn."""
    points = room.direction + Range(math.degrees(turn.low), math.degrees(turn.high))
    return not any(_shares(points, sector, whole=False) for sector in room.sectors)


def _shares(points: Range, sector: tuple[float, float], *, whole: bool) -> bool:
    """Say whether ``points`` lies in (or, not ``whole``, touches) the sector, counting full turns."""
    begin, end = sector
    width = 360.0 if end - begin >= 360 else (end - begin) % 360
    if width >= 360:
        return True
    start = begin + 360 * math.floor((points.low - begin) / 360)
    reaches = [Range(start + 360 * lap, start + 360 * lap + width) for lap in (-1, 0, 1, 2)]
    return any(points.within(one) if whole else points.meets(one) for one in reaches)
