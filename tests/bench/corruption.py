"""What becomes of a number between the plate and the keyboard: the corruption model of the benches, seeded.

Each query takes one to three of the faults below, as often as the weights say; weights are ours, common practice, no
published source.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Final

WORN_GROUPS: Final = ("0OQD", "1IL", "2Z", "5S", "6G", "8B")
SEPARATORS: Final = " -./"
CHARACTERS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
SHORTEST_LEFT: Final = 6  # letters and digits that a cut leaves standing
HOW_MANY_FAULTS: Final = (1, 2, 2, 3)


def _readable(number: str) -> list[int]:
    return [place for place, char in enumerate(number) if char in CHARACTERS]


def worn(number: str, rng: random.Random) -> str:
    """Return the number with one or two characters taken for their look-alikes."""
    places = [place for place, char in enumerate(number) if any(char in group for group in WORN_GROUPS)]
    for place in rng.sample(places, min(len(places), rng.choice((1, 1, 2)))):
        group = next(group for group in WORN_GROUPS if number[place] in group)
        number = number[:place] + rng.choice(group.replace(number[place], "")) + number[place + 1 :]
    return number


def dropped(number: str, rng: random.Random) -> str:
    """Return the number without one of its characters."""
    place = rng.choice(_readable(number))
    return number[:place] + number[place + 1 :]


def doubled(number: str, rng: random.Random) -> str:
    """Return the number with one character typed twice."""
    place = rng.choice(_readable(number))
    return number[: place + 1] + number[place:]


def transposed(number: str, rng: random.Random) -> str:
    """Return the number with two neighbours swapped."""
    place = rng.randrange(len(number) - 1)
    return number[:place] + number[place + 1] + number[place] + number[place + 2 :]


def without_separators(number: str, rng: random.Random) -> str:  # noqa: ARG001 one signature for all faults
    """Return the number without its separators."""
    return "".join(char for char in number if char not in SEPARATORS)


def unreadable(number: str, rng: random.Random) -> str:
    """Return the number with one or two characters typed as ``?``."""
    for place in rng.sample(_readable(number), rng.choice((1, 1, 2))):
        number = number[:place] + "?" + number[place + 1 :]
    return number


def beginning(number: str, rng: random.Random) -> str:
    """Return what is typed so far: the number without its last characters."""
    places = _readable(number)
    return number[: places[-rng.randint(1, max(1, len(places) - SHORTEST_LEFT))]]


def middle(number: str, rng: random.Random) -> str:
    """Return a stretch from inside the number: something is gone at both ends or at the front."""
    places = _readable(number)
    spare = max(1, len(places) - SHORTEST_LEFT)
    front = rng.randint(1, spare)
    back = rng.randint(0, max(0, spare - front))
    return number[places[front] : places[-1 - back] + 1]


def wrong(number: str, rng: random.Random) -> str:
    """Return the number with one character replaced by any other."""
    place = rng.choice(_readable(number))
    return number[:place] + rng.choice(CHARACTERS.replace(number[place], "")) + number[place + 1 :]


_FAULTS: Final[dict[Callable[[str, random.Random], str], int]] = {
    worn: 6, unreadable: 5, without_separators: 4, beginning: 4, middle: 3, dropped: 2, doubled: 2, transposed: 2,
    wrong: 2,
}  # fmt: skip
_CUTS: Final = (beginning, middle)


def corrupted(number: str, rng: random.Random) -> str:
    """Return the number as somebody types it: one to three faults, at most one cut, at least three readable."""
    while True:
        faults = rng.choices(list(_FAULTS), list(_FAULTS.values()), k=rng.choice(HOW_MANY_FAULTS))
        typed = number
        for fault in sorted(dict.fromkeys(faults), key=lambda one: one not in _CUTS):
            if len(_readable(typed)) > SHORTEST_LEFT - 1:
                typed = fault(typed, rng)
        if len(_readable(typed)) >= 3 and typed != number and sum(fault in _CUTS for fault in set(faults)) < 2:
            return typed.strip()
