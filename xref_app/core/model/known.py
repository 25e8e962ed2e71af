"""A value together with how it is known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum
from typing import Generic, TypeVar

from xref_app.core.quantity.range import Range

T_co = TypeVar("T_co", covariant=True)


class How(IntEnum):
    """How a value is known, strongest first; a larger number is weaker."""

    MEASURED = 1
    PLATE = 2
    STANDARD = 3
    SHEET = 4
    CLAIMED = 5
    TYPICAL = 6

    @property
    def word(self) -> str:
        """Return the word used in files and on screen."""
        return self.name.lower()

    @property
    def decides(self) -> bool:
        """Say whether a verdict may rest on it: habit may be shown as a hint and never decides."""
        return self is not How.TYPICAL


def weakest(hows: Iterable[How]) -> How | None:
    """Return the weakest of ``hows``, or None where there is none."""
    return max(hows, default=None)


@dataclass(frozen=True, slots=True)
class Dimension:
    """One size as read: the value, the half-width of its doubt, and how it is known, in its field's unit."""

    value: float
    doubt: float
    how: How = How.MEASURED

    @property
    def range(self) -> Range:
        """Return every value the true size may have."""
        return Range.around(self.value, self.doubt)


@dataclass(frozen=True, slots=True)
class Fact(Generic[T_co]):
    """One thing that is no size (a word, a yes or no) and how it is known."""

    value: T_co
    how: How = How.MEASURED


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole centre, or a slot centred there, in mm from the shaft's axis.

    ``slot_mm`` is the distance between the centres of the slot's two round ends (0 for a round hole) and
    ``slot_deg`` the slot's direction from x towards y.
    """

    x_mm: float
    y_mm: float
    slot_mm: float = 0.0
    slot_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Pattern:
    """Hole positions of one face: n holes, ``doubt_mm`` on x and on y of each.

    Both sides are given in one view: looking at the engine's face with the pump in front of it, x right, y up
    (on a vertical shaft: from below, y toward the engine's front). The origin is the axis of the shaft or bore.
    """

    holes: tuple[Hole, ...]
    doubt_mm: float
    how: How = How.MEASURED


@dataclass(frozen=True, slots=True)
class Seats:
    """How high the seat under each bolt stands, mm, toward the other side, in the order of the holes.

    Read with a straightedge across the highest seats: only differences count, and no seat stands above the
    straightedge, so the highest is exact and each other one carries ``doubt_mm``.
    """

    heights_mm: tuple[float, ...]
    doubt_mm: float
    how: How = How.MEASURED


Known = Dimension | Fact[object] | Pattern | Seats
