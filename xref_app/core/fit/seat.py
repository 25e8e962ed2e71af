"""Does the pump sit flush under every bolt?"""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.apart import gaps_with_stacks_mm
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.face_turns import FaceTurns, face_turns_or_none
from xref_app.core.fit.finding import Finding
from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.house_rules import SEAT_GAP_MM
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.seats import (
    SeatHeights,
    all_flush,
    gaps_mm,
    seat_heights_or_none,
)
from xref_app.core.fit.show import mm, span
from xref_app.core.fit.stack_needs import needs_of_stacks
from xref_app.core.model.known import Known
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.words import SeatKind
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

SEAT = Question("seat", "flush on every bolt", "gap of 0.15 mm: house rule")

FLUSH = marked("findings", "Every leg sits: no gap over {gap:.2f} mm.")
STANDS_OFF = marked(
    "findings",
    "One leg stands {gap} mm off its seat; how thick the spacer under it must be hangs on the doubt of these heights.",
)
LEG_SPACED = marked("findings", "One leg stands {gap} mm off its seat; a spacer goes under it.")
SEAT_UNSURE = marked(
    "findings",
    "A leg may stand {gap} mm off its seat; more than {allowed:.2f} mm breaks its ear. Straightedge and "
    "feeler across the legs.",
)
NO_TURN = marked(
    "findings",
    "The holes are not known to meet at any turn, so the seats under them cannot be compared yet.",
)
WRONG_COUNT = marked("findings", "The list of seat heights must have one height for each hole: measure them again.")
BREAKS = marked(
    "danger",
    "Danger: tightening a bolt over a gap breaks the pump's ear. Put a spacer as thick as the gap under "
    "that leg first.",
)
FEEL_AGAIN = marked("findings", "With the spacer in place try the feeler again: no leg may stand off {allowed:.2f} mm.")

_FIELDS = ("flange_seat_heights_mm", "face_seat_heights_mm")


def judge_seat(machine: Machine, pump: Pump, parts: FaceParts) -> Finding:
    """Judge the gap under each bolt, with what lies under it, at the turns at which the holes meet."""
    readings = (
        ("face_seat_heights_mm", _seat_known(machine.face.seat_heights_mm, machine.face.seat_kind)),
        ("flange_seat_heights_mm", _seat_known(pump.flange.seat_heights_mm, pump.flange.seat_kind)),
    )
    if any(value is None for _, value in readings):
        return SEAT.lacks(readings)
    turns = face_turns_or_none(machine, pump)
    heights = seat_heights_or_none(machine, pump)
    if turns is None or not turns.possible:
        return SEAT.unsure(Sentence(NO_TURN), readings, _open_for_turns(machine, pump))
    if heights is None:
        return SEAT.unsure(Sentence(WRONG_COUNT), readings, _FIELDS)
    spaced = _spaced_or_none(machine, pump, heights, parts, readings)
    return spaced or _judge(_at_turn(turns, parts.turn), heights, readings)


def _at_turn(turns: FaceTurns, turn: Turn | None) -> FaceTurns:
    """Return the turns to judge: the chosen one alone where one is chosen, for it is where the pump is bolted on."""
    return turns if turn is None else replace(turns, sure=(turn,), possible=(turn,))


def _spaced_or_none(
    machine: Machine, pump: Pump, heights: SeatHeights, parts: FaceParts, readings: tuple[Reading, ...]
) -> Finding | None:
    """Return 'by parts' where legs that stand off surely sit on what is put under them, else None."""
    turn = parts.turn
    if turn is None or not turn.only_pairing or len(set(parts.stacks)) < 2:
        return None
    left = gaps_with_stacks_mm(heights, turn, parts)
    if not all(gap.surely_at_most(SEAT_GAP_MM) for gap in left):
        return None
    worst = max(gaps_mm(heights, turn), key=lambda gap: gap.high)
    shown = Answer(mm(Range(0, SEAT_GAP_MM)), mm(worst))
    found = SEAT.by_parts(Sentence(LEG_SPACED, {"gap": span(worst)}), readings, shown)
    return replace(
        found,
        needs=needs_of_stacks(machine, pump, parts),
        notes=(Sentence(FEEL_AGAIN, {"allowed": SEAT_GAP_MM}),),
        danger=Sentence(BREAKS),
    )


def seated_turns(turns: FaceTurns, heights: SeatHeights) -> tuple[Turn, ...]:
    """Return the turns at which every bolt surely passes and every leg surely sits."""
    return tuple(turn for turn in turns.sure if all_flush(heights, turn))


def _open_for_turns(machine: Machine, pump: Pump) -> tuple[str, ...]:
    """Return what is still missing before any turn can be looked for; the holes of both where nothing is."""
    needed = (
        ("face_holes_xy_mm", machine.face.holes_xy_mm),
        ("face_bolt", machine.face.bolt),
        ("flange_holes_xy_mm", pump.flange.holes_xy_mm),
        ("flange_hole_mm", pump.flange.hole_mm),
    )
    missing = tuple(field for field, value in needed if value is None)
    return missing or ("face_holes_xy_mm", "flange_holes_xy_mm")


def _seat_known(heights: Known | None, kind: Known | None) -> Known | None:
    """Return what is known of a side's seats: its heights, or that it is one flat face."""
    if heights is not None:
        return heights
    flat = kind is not None and getattr(kind, "value", None) is SeatKind.FLAT
    return kind if flat else None


def _judge(turns: FaceTurns, heights: SeatHeights, readings: tuple[Reading, ...]) -> Finding:
    tried = turns.sure or turns.possible
    best = min((_worst_gap(heights, turn) for turn in tried), key=lambda gap: gap.high)
    shown = Answer(mm(Range(0, SEAT_GAP_MM)), mm(best))
    values = {"gap": span(best), "allowed": SEAT_GAP_MM}
    if seated_turns(turns, heights) or (not turns.sure and all(all_flush(heights, turn) for turn in turns.possible)):
        return SEAT.passes(Sentence(FLUSH, {"gap": best.high}), readings, shown)
    found = SEAT.unsure(Sentence(SEAT_UNSURE, values), readings, _FIELDS, shown)
    if any(all_flush(heights, turn) is not False for turn in turns.possible):
        return found
    return replace(found, reason=Sentence(STANDS_OFF, values), danger=Sentence(BREAKS))


def _worst_gap(heights: SeatHeights, turn: Turn) -> Range:
    return max(gaps_mm(heights, turn), key=lambda gap: gap.high)
