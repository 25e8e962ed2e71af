"""What lies between the engine's face and the pump: at which turn, on which stacks, held by which bolts."""

from __future__ import annotations

from dataclasses import dataclass, replace

from xref_app.core.fit.finding import Need
from xref_app.core.fit.geometry import Turn
from xref_app.core.fit.stack import NO_STACK, Stack
from xref_app.core.model.known import How
from xref_app.core.model.shelf import Part
from xref_app.core.sentence import Sentence


@dataclass(frozen=True, slots=True)
class NewBolt:
    """A bolt instead of an old one: its length under the head, mm, and the listed piece (None: standard, to order)."""

    length_mm: float
    listed: Part | None = None


@dataclass(frozen=True, slots=True)
class PlateParts:
    """The adapter plate between the faces: in words, its parts, how to set it, what it rests on, how that is known."""

    reason: Sentence
    needs: tuple[Need, ...]
    notes: tuple[Sentence, ...] = ()
    used: tuple[tuple[str, How], ...] = ()


@dataclass(frozen=True, slots=True)
class NoPlate:
    """Why no adapter plate bridges two patterns, what to measure for one (nothing: none ever would), and notes."""

    reason: Sentence
    measure: tuple[str, ...] = ()
    notes: tuple[Sentence, ...] = ()


@dataclass(frozen=True, slots=True)
class FaceParts:
    """What is put between the faces.

    ``turn`` is the turn the pump is bolted on at, None while none is known to work. ``stacks`` and ``bolts`` have one
    item per pair of ``turn``, in its order (None among the bolts: the old one stays); while the turn is not known one
    stack stands for all bolts. ``plate`` is set where the machine given to the checks is the one with the plate on,
    ``no_plate`` where one was looked for in vain.
    """

    turn: Turn | None = None
    stacks: tuple[Stack, ...] = ()
    bolts: tuple[NewBolt | None, ...] = ()
    plate: PlateParts | None = None
    no_plate: NoPlate | None = None

    def stack_under(self, place: int) -> Stack:
        """Return the stack under the bolt at ``place`` of the turn's pairs."""
        if not self.stacks:
            return NO_STACK
        return self.stacks[place] if len(self.stacks) > 1 else self.stacks[0]

    @property
    def without_stacks(self) -> FaceParts:
        """Return the same with nothing under the bolts."""
        return replace(self, stacks=())

    @property
    def has_stacks(self) -> bool:
        """Say whether anything lies under any bolt."""
        return any(stack.pieces for stack in self.stacks)


NOTHING_BETWEEN = FaceParts()
