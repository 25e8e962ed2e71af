"""Spacers and shims laid on one another under a bolt."""

from __future__ import annotations

from dataclasses import dataclass, field

from xref_app.core.fit.house_rules import MADE_HOLE_OVER_MM, MADE_RIM_MM, PICKED_DOUBT_MM, SPACER_DOUBT_MM
from xref_app.core.model.shelf import Part
from xref_app.core.quantity.range import Range


@dataclass(frozen=True, slots=True)
class Piece:
    """One spacer or shim by its thickness, mm: a listed one, or one to make (``listed`` is None)."""

    thickness_mm: float
    listed: Part | None = None


@dataclass(frozen=True, slots=True)
class Stack:
    """The pieces under one bolt, none up to two."""

    pieces: tuple[Piece, ...] = ()
    nominal_mm: float = field(init=False, compare=False, repr=False)
    """How thick the stack is as listed, mm."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "nominal_mm", sum(piece.thickness_mm for piece in self.pieces))

    @property
    def thickness_mm(self) -> Range:
        """Return how thick the stack may be, mm: every piece carries its doubt."""
        return Range.around(self.nominal_mm, SPACER_DOUBT_MM * len(self.pieces))

    def over_mm(self, other: Stack) -> Range:
        """Return how much thicker this stack is than ``other``, mm.

        A piece that lies in both is picked alike, so only what they do not share carries doubt: that of the micrometer
        it is picked with.
        """
        left = list(other.pieces)
        for piece in self.pieces:
            if piece in left:
                left.remove(piece)
        shared = len(other.pieces) - len(left)
        unshared = len(self.pieces) - shared + len(left)
        return Range.around(self.nominal_mm - other.nominal_mm, PICKED_DOUBT_MM * unshared)


NO_STACK = Stack()


def made_hole_mm(bolt_mm: float) -> float:
    """Return how wide the hole of a piece to make is for a bolt of that nominal diameter, mm."""
    return bolt_mm + MADE_HOLE_OVER_MM


def made_outside_mm(hole_mm: float) -> float:
    """Return how wide a piece to make with that hole is, mm."""
    return hole_mm + MADE_RIM_MM
