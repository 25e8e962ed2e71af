"""Every stack of spacers and shims that a shelf offers for one bolt, and what a set of stacks takes."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from itertools import combinations_with_replacement

from xref_app.core.fit.bolt_size import Bolt
from xref_app.core.fit.house_rules import LEAST_MADE_MM, LOOSEST_SPACER_MM, MADE_STEP_MM, SPACER_DOUBT_MM
from xref_app.core.fit.stack import NO_STACK, Piece, Stack
from xref_app.core.model.shelf import Part, Shelf
from xref_app.core.model.words import PartKind
from xref_app.core.parts.burden import NO_BURDEN, Burden, burden_of
from xref_app.core.quantity.range import SAME_MM, Range

MOST_PIECES = 2
"""Pieces in one stack; more shift on each other. House rule."""

FINE_STEP_MM = 0.01
"""A piece to make is given in steps of this where the coarser one misses what is wanted. House rule."""


def stacks_offered(shelf: Shelf, bolt: Bolt | None) -> tuple[Stack, ...]:
    """Return no stack, every listed piece and every two of them that go over the bolt, thinnest first."""
    pieces = [
        Piece(part.thickness_mm, part)
        for part in shelf
        if part.kind in {PartKind.SPACER, PartKind.SHIM}
        and part.thickness_mm
        and part.count > 0
        and _goes_over(part, bolt)
    ]
    many = (
        Stack(chosen) for count in range(1, MOST_PIECES + 1) for chosen in combinations_with_replacement(pieces, count)
    )
    return (NO_STACK, *sorted(many, key=lambda stack: stack.nominal_mm))


def _goes_over(part: Part, bolt: Bolt | None) -> bool:
    """Say whether the bolt goes through the piece and holds it in place; a hole nobody listed counts as right."""
    if part.inside_mm is None or bolt is None:
        return True
    return bolt.major_mm.high <= part.inside_mm + SAME_MM and part.inside_mm <= bolt.major_mm.high + LOOSEST_SPACER_MM


def made_stack_or_none(room: Range) -> Stack | None:
    """Return a piece to make, as thin as ``room`` (mm, both limits worst case) lets it be; None where none will do."""
    for step in (MADE_STEP_MM, FINE_STEP_MM):
        steps = math.ceil((room.low + SPACER_DOUBT_MM) / step - SAME_MM)
        thickness = round(max(steps * step, LEAST_MADE_MM), 4)
        if thickness + SPACER_DOUBT_MM <= room.high + SAME_MM:
            return Stack((Piece(thickness),))
    return None


def made_near(thickness_mm: float) -> tuple[Stack, ...]:
    """Return the two pieces to make next to that thickness, mm, the thicker first; none thinner than can be made."""
    steps = math.floor(thickness_mm / MADE_STEP_MM + SAME_MM)
    sizes = (round(step * MADE_STEP_MM, 4) for step in (steps + 1, steps))
    return tuple(Stack((Piece(size),)) for size in sizes if size >= LEAST_MADE_MM - SAME_MM)


def burden_or_none(stacks: Iterable[Stack]) -> Burden | None:
    """Return what all pieces of ``stacks`` take together; None where the shelf does not hold that many."""
    counted = Counter(piece for stack in stacks for piece in stack.pieces)
    total = NO_BURDEN
    for piece, many in counted.items():
        if piece.listed is None:
            total = total + Burden(made=many, pieces=many)
        elif many > piece.listed.count:
            return None
        else:
            total = total + burden_of(piece.listed, many)
    return total
