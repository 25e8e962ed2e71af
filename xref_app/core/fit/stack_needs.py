"""The pieces of the stacks in words: always the same ones, so that several findings ask for one set."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from xref_app.core.fit.bolt_size import bolt_or_none
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.finding import Need
from xref_app.core.fit.house_rules import PICKED_DOUBT_MM, SEAT_GAP_MM, SPACER_DOUBT_MM
from xref_app.core.fit.seats import gaps_mm, seat_heights_or_none
from xref_app.core.fit.show import rounded_up, span
from xref_app.core.fit.spacing import bolts_used
from xref_app.core.fit.stack import Piece, made_hole_mm, made_outside_mm
from xref_app.core.model.machine import Machine
from xref_app.core.model.pump import Pump
from xref_app.core.quantity.range import Range
from xref_app.core.sentence import Sentence, marked

EVERY_BOLT = marked("findings", "Spacer {thickness:.2f} mm, one under every bolt")
LOW_LEG = marked("findings", "Spacer {thickness:.2f} mm under the leg that stands off {gap} mm")
OTHER_LEGS = marked("findings", "Spacer {thickness:.2f} mm under each leg that sits")
HOLE_NOT_LISTED = marked(
    "findings",
    "The list does not say how wide the hole of the {thickness:.2f} mm piece is: see that a {bolt} mm bolt goes "
    "through.",
)
TO_MAKE = marked(
    "findings",
    "{what}: to make, ±{doubt:.2f} mm, hole {hole:.1f} mm, {outside:.1f} mm outside",
)
TO_MAKE_ROUGH = marked("findings", "{what}: to make, ±{doubt:.2f} mm")


def needs_of_stacks(machine: Machine, pump: Pump, parts: FaceParts) -> tuple[Need, ...]:
    """Return every spacer and shim of ``parts``, those under all bolts first."""
    counted = [Counter(stack.pieces) for stack in parts.stacks]
    if not counted:
        return ()
    heights, bolt = seat_heights_or_none(machine, pump), bolt_or_none(machine)
    gaps = gaps_mm(heights, parts.turn) if heights and parts.turn and parts.turn.only_pairing else ()
    bolt_mm = bolt.nominal_mm if bolt else None
    shared = _shared(counted)
    places = max(bolts_used(machine, pump), 1) if len(counted) == 1 else len(counted)
    found = [
        _need(Sentence(EVERY_BOLT, _sized(piece)), piece, places * many, bolt_mm) for piece, many in shared.items()
    ]
    for place, pieces in enumerate(counted):
        for piece, many in (pieces - shared).items():
            found.append(_need(_for_leg(piece, gaps, place), piece, many, bolt_mm, made_doubt_mm=PICKED_DOUBT_MM))
    return _added_up(found)


def unlisted_hole_notes(machine: Machine, parts: FaceParts) -> tuple[Sentence, ...]:
    """Return what to look at where the list does not say how wide the hole of a spacer or shim is."""
    bolt = bolt_or_none(machine)
    pieces = dict.fromkeys(piece for stack in parts.stacks for piece in stack.pieces)
    return tuple(
        Sentence(HOLE_NOT_LISTED, {"thickness": piece.thickness_mm, "bolt": rounded_up(bolt.nominal_mm)})
        for piece in pieces
        if bolt is not None and piece.listed is not None and piece.listed.inside_mm is None
    )


def _shared(counted: list[Counter[Piece]]) -> Counter[Piece]:
    shared = counted[0]
    for pieces in counted[1:]:
        shared = shared & pieces
    return shared


def _for_leg(piece: Piece, gaps: tuple[Range, ...], place: int) -> Sentence:
    if place < len(gaps) and not gaps[place].surely_at_most(SEAT_GAP_MM):
        return Sentence(LOW_LEG, {**_sized(piece), "gap": span(gaps[place])})
    return Sentence(OTHER_LEGS, _sized(piece))


def _sized(piece: Piece) -> dict[str, object]:
    return {"thickness": piece.thickness_mm}


def _need(
    what: Sentence, piece: Piece, quantity: int, bolt_mm: float | None, *, made_doubt_mm: float = SPACER_DOUBT_MM
) -> Need:
    """Return one need; a piece that lies under some legs only is made as closely as one for them would be picked."""
    if piece.listed is not None:
        return Need(what, quantity, piece.listed)
    values: dict[str, object] = {"what": what, "doubt": made_doubt_mm}
    if bolt_mm is None:
        return Need(Sentence(TO_MAKE_ROUGH, values), quantity, to_make=True)
    hole = made_hole_mm(bolt_mm)
    sizes = {**values, "hole": hole, "outside": made_outside_mm(hole)}
    return Need(Sentence(TO_MAKE, sizes), quantity, to_make=True)


def _added_up(needs: Iterable[Need]) -> tuple[Need, ...]:
    """Return the needs, those in the same words as one."""
    by_words: dict[str, Need] = {}
    for need in needs:
        words = str(need.what)
        known = by_words.get(words)
        by_words[words] = (
            need if known is None else Need(need.what, known.quantity + need.quantity, need.listed, need.to_make)
        )
    return tuple(by_words.values())
