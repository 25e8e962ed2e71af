"""How much a match may be trusted: its class, its cost within the class, and the score people see.

Ranking goes by class first, then by cost, then by the number's text. Everything here is a house rule: the order of
the classes is settled by what a counter hand would check first, the costs only order hits of one class.
"""

from __future__ import annotations

from enum import IntEnum
from typing import Final


class RankClass(IntEnum):
    """How a number was matched, best first. A hit with several doubts belongs to the worst of them."""

    EXACT = 0
    """The whole number as typed; only letter case may differ."""
    SEPARATORS = 1
    """The whole number, written with other separators or in letters of another script."""
    LOOK_ALIKE = 2
    """The whole number, some characters taken for their look-alikes on a worn plate."""
    UNREADABLE = 3
    """The whole number, some characters typed as unreadable, as a run, or as one of several."""
    PREFIX = 4
    """The number begins with what was typed."""
    MIDDLE = 5
    """What was typed stands further on in the number."""
    EDIT = 6
    """The number or a part of it, if a few typed characters are wrong, missing, too many, or swapped."""


LOOK_ALIKE_COST: Final = 2
EITHER_COST: Final = 3
UNREADABLE_COST: Final = 4
RUN_COST: Final = 4  # for each character that the run stands for
LEFT_OVER_COST: Final = 1  # for each character of the number before or after what was typed

# Who types separators at all types those he reads: one that the number has not, or has and was not typed, is a doubt.
SEPARATOR_TOO_MANY_COST: Final = 3
SEPARATOR_MISSING_COST: Final = 2

# What a slip of the class EDIT costs, by how easily it happens, and what it costs that the number goes on.
DOUBLED_COST: Final = 5  # a character typed twice, or once where it stands twice
SWAPPED_COST: Final = 7
DROPPED_COST: Final = 8
WRONG_COST: Final = 9
EXTRA_COST: Final = 9
GOES_ON_BEHIND_COST: Final = 3
GOES_ON_BEFORE_COST: Final = 5

# The scores between which a class lies; a cost of _HALF_WAY lands in the middle.
_BANDS: Final = {
    RankClass.EXACT: (100.0, 100.0),
    RankClass.SEPARATORS: (99.0, 99.0),
    RankClass.LOOK_ALIKE: (90.0, 99.0),
    RankClass.UNREADABLE: (70.0, 90.0),
    RankClass.PREFIX: (50.0, 70.0),
    RankClass.MIDDLE: (30.0, 50.0),
    RankClass.EDIT: (10.0, 30.0),
}
_HALF_WAY: Final = 20


def score(rank: RankClass, cost: int) -> float:
    """Return 0 to 100 for showing: never higher for a worse class, nor for a higher cost within a class."""
    low, high = _BANDS[rank]
    return round(low + (high - low) * _HALF_WAY / (_HALF_WAY + cost), 1)
