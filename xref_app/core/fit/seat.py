"""Does the pump sit flush under every bolt?"""

from __future__ import annotations

from dataclasses import replace

from xref_app.core.fit.face_turns import FaceTurns, face_turns_or_none
from xref_app.core.fit.finding import Finding, Need
from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.house_rules import SEAT_GAP_MM
from xref_app.core.fit.question import Answer, Question, Reading
from xref_app.core.fit.seats import (
    SeatHeights,
    all_flush,
    gaps_between,
    gaps_mm,
    seat_heights_or_none,
    seat_sums_mm,
)
from xref_app.core.fit.show import mm, span
from xref_app.core.model.known import Known
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import PartKind, SeatKind
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

SEAT = Question("seat", "flush on every bolt", "gap of 0.15 mm: house rule")

FLUSH = marked("findings", "Every leg sits: no gap over {gap:.2f} mm.")
STANDS_OFF = marked("findings", "One leg stands {gap} mm off its seat; a spacer that thick is a part nobody lists.")
LEG_SPACED = marked("findings", "One leg stands {gap} mm off its seat; a listed spacer goes under it.")
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
CHANGE_LEG = marked("findings", "A spacer of {gap} mm under that leg.")
BREAKS = marked(
    "danger",
    "Danger: tightening a bolt over a gap breaks the pump's ear. Put a spacer as thick as the gap under "
    "that leg first.",
)
FEEL_AGAIN = marked("findings", "With the spacer in place try the feeler again: no leg may stand off {allowed:.2f} mm.")
LEG_SPACER = marked("findings", "Spacer {thickness:.2f} mm under the leg that stands off {gap} mm")

_FIELDS = ("flange_seat_heights_mm", "face_seat_heights_mm")


def judge_seat(machine: Machine, pump: Pump, shelf: Shelf) -> Finding:
    """Judge the gap under each bolt at the turns at which the holes meet."""
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
    return _judge(turns, heights, shelf, readings)


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


def _judge(turns: FaceTurns, heights: SeatHeights, shelf: Shelf, readings: tuple[Reading, ...]) -> Finding:
    tried = turns.sure or turns.possible
    best = min((_worst_gap(heights, turn) for turn in tried), key=lambda gap: gap.high)
    shown = Answer(mm(Range(0, SEAT_GAP_MM)), mm(best))
    values = {"gap": span(best), "allowed": SEAT_GAP_MM}
    if seated_turns(turns, heights) or (not turns.sure and all(all_flush(heights, turn) for turn in turns.possible)):
        return SEAT.passes(Sentence(FLUSH, {"gap": best.high}), readings, shown)
    if any(all_flush(heights, turn) is not False for turn in turns.possible):
        return SEAT.unsure(Sentence(SEAT_UNSURE, values), readings, _FIELDS, shown)
    spaced = _legs_spaced(turns.sure, heights, shelf)
    if spaced is None:
        found = SEAT.fails(Sentence(STANDS_OFF, values), readings, shown, change=CHANGE_LEG)
    else:
        found = SEAT.by_parts(Sentence(LEG_SPACED, values), readings, shown)
        found = replace(found, needs=spaced, notes=(Sentence(FEEL_AGAIN, {"allowed": SEAT_GAP_MM}),))
    return replace(found, danger=Sentence(BREAKS))


def _worst_gap(heights: SeatHeights, turn: Turn) -> Range:
    return max(gaps_mm(heights, turn), key=lambda gap: gap.high)


def _legs_spaced(turns: tuple[Turn, ...], heights: SeatHeights, shelf: Shelf) -> tuple[Need, ...] | None:
    """Return the listed spacers, at most one per leg, that bring some turn flush; None where they bring none."""
    for turn in turns:
        sums = seat_sums_mm(heights, turn)
        pieces = [_nearest_or_none(gap, shelf) for gap in gaps_between(sums)]
        raised = [one + _thickness(piece) for one, piece in zip(sums, pieces, strict=True)]
        if turn.only_pairing and all(gap.surely_at_most(SEAT_GAP_MM) for gap in gaps_between(raised)):
            return tuple(
                Need(Sentence(LEG_SPACER, {"thickness": piece.thickness_mm, "gap": span(gap)}), 1, piece)
                for piece, gap in zip(pieces, gaps_between(sums), strict=True)
                if piece is not None
            )
    return None


def _nearest_or_none(gap: Range, shelf: Shelf) -> Part | None:
    """Return the listed spacer or shim nearest to a gap that is too wide; None where the leg sits or nothing is."""
    if gap.surely_at_most(SEAT_GAP_MM):
        return None
    pieces = [
        part
        for part in shelf
        if part.kind in {PartKind.SPACER, PartKind.SHIM} and part.count > 0 and part.thickness_mm is not None
    ]
    return min(pieces, key=lambda part: abs((part.thickness_mm or 0.0) - gap.middle), default=None)


def _thickness(piece: Part | None) -> float:
    """Return a piece's thickness as listed: it is checked with the feeler once it lies under the leg."""
    return 0.0 if piece is None or piece.thickness_mm is None else piece.thickness_mm
