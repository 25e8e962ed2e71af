"""The spacers of a plan that have to be made, with every size a drawing must give."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from xref_app.core.fit.bolt_size import bolt_or_none
from xref_app.core.fit.face_parts import FaceParts
from xref_app.core.fit.house_rules import PICKED_DOUBT_MM, SPACER_DOUBT_MM
from xref_app.core.fit.spacing import bolts_used
from xref_app.core.fit.stack import Piece, made_hole_mm, made_outside_mm
from xref_app.core.model.machine import Machine
from xref_app.core.plan.face_plan import FacePlan
from xref_app.core.plan.plate_layout import Place


@dataclass(frozen=True, slots=True)
class MadePiece:
    """One kind of spacer to make, mm as drawn: how closely, how many, and under which bolts.

    ``under`` holds the places of the holes the bolts go into, about the shaft's axis in the view of the holes; empty
    where one lies under every bolt.
    """

    thickness_mm: float
    thickness_doubt_mm: float
    hole_mm: float
    outside_mm: float
    count: int
    under: tuple[Place, ...] = ()


def made_pieces(plan: FacePlan) -> tuple[MadePiece, ...]:
    """Return every spacer to make, thickest first; none while it is not known which bolt goes through."""
    machine, parts = plan.case.machine, plan.parts
    bolt = bolt_or_none(machine)
    if bolt is None:
        return ()
    every = max(bolts_used(machine, plan.case.pump), 1) if len(parts.stacks) == 1 else 1
    counted = Counter(piece for stack in parts.stacks for piece in stack.pieces if piece.listed is None)
    return tuple(
        _made(machine, parts, piece, counted[piece] * every, bolt.nominal_mm)
        for piece in sorted(counted, key=lambda one: -one.thickness_mm)
    )


def _made(machine: Machine, parts: FaceParts, piece: Piece, count: int, bolt_mm: float) -> MadePiece:
    """Return one kind; what does not lie under every bolt levels the legs, and so it must be made more closely."""
    hole, has = made_hole_mm(bolt_mm), [stack.pieces.count(piece) for stack in parts.stacks]
    is_under_all = len(set(has)) == 1
    doubt = SPACER_DOUBT_MM if is_under_all else PICKED_DOUBT_MM
    under = () if is_under_all else _under(machine, parts, has)
    return MadePiece(piece.thickness_mm, doubt, hole, made_outside_mm(hole), count, under)


def _under(machine: Machine, parts: FaceParts, has: Sequence[int]) -> tuple[Place, ...]:
    """Return where the bolts stand that get such a piece."""
    if parts.turn is None or machine.face.holes_xy_mm is None:
        return ()
    holes = machine.face.holes_xy_mm.holes
    met = (holes[ours] for (ours, _), many in zip(parts.turn.pairs, has, strict=True) if many)
    return tuple((hole.x_mm, hole.y_mm) for hole in met)
