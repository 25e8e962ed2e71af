"""What a worn plate makes of its number: look-alikes, lost characters, lost stretches, a piece of a plate.

Each fault takes the number and a source of chance and returns what is typed; a number that cannot suffer the fault
comes back unchanged. All of it is common practice, no published source.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from typing import Final

from tests.bench.readable import SEPARATORS, readable_places, written_at

LOOK_ALIKES: Final = ("0OQD", "1IL", "2Z", "5S", "6G", "8B")
# One stroke worn off or a scratch too many, beyond the look-alikes above. House rule.
ONE_STROKE_APART: Final = (
    "38", "39", "08", "68", "89", "17", "7T", "CG", "CO", "EF", "FP", "PR", "UV", "MN", "4A", "KX", "VY", "BR", "3B",
    "HN", "EL", "1T",
)  # fmt: skip
FEWEST_LEFT: Final = 5  # readable characters that a broken plate leaves. House rule.
ONE_OR_TWO: Final = (1, 1, 2)  # two of them in every third number. House rule.
RUN_LENGTHS: Final = (2, 3, 4)  # characters lost in one scratch. House rule.


def taken_for(char: str, groups: Sequence[str]) -> str:
    """Return the characters that ``char`` can be taken for, without itself."""
    plain = char.upper()
    return "".join(group.replace(plain, "") for group in groups if plain in group)


def _misread(number: str, rng: random.Random, groups: Sequence[str], count: int) -> str:
    places = [place for place in readable_places(number) if taken_for(number[place], groups)]
    for place in rng.sample(places, min(len(places), count)):
        number = written_at(number, place, rng.choice(taken_for(number[place], groups)))
    return number


def look_alike(number: str, rng: random.Random) -> str:
    """Return the number with one or two characters taken for their look-alikes."""
    return _misread(number, rng, LOOK_ALIKES, rng.choice(ONE_OR_TWO))


def stroke_lost(number: str, rng: random.Random) -> str:
    """Return the number with one character taken for one that differs by a stroke."""
    return _misread(number, rng, ONE_STROKE_APART, 1)


def unreadable(number: str, rng: random.Random) -> str:
    """Return the number with one or two characters typed as ``?``."""
    places = readable_places(number)
    for place in rng.sample(places, min(len(places), rng.choice(ONE_OR_TWO))):
        number = written_at(number, place, "?")
    return number


def doubtful(number: str, rng: random.Random) -> str:
    """Return the number with one character typed as a set of two: the true one and one it can be taken for."""
    groups = (*LOOK_ALIKES, *ONE_STROKE_APART)
    places = [place for place in readable_places(number) if taken_for(number[place], groups)]
    if not places:
        return number
    place = rng.choice(places)
    both = [number[place], rng.choice(taken_for(number[place], groups))]
    rng.shuffle(both)
    return written_at(number, place, f"[{''.join(both)}]")


def stretch_lost(number: str, rng: random.Random) -> str:
    """Return the number with two to four characters on end, and what separates them, typed as one ``*``."""
    places, length = readable_places(number), rng.choice(RUN_LENGTHS)
    if len(places) < length:
        return number
    first = rng.randint(0, len(places) - length)
    return f"{number[: places[first]]}*{number[places[first + length - 1] + 1 :]}"


def beginning(number: str, rng: random.Random) -> str:
    """Return the first characters of the number, five at least: the rest of the plate is gone."""
    places = readable_places(number)
    if len(places) <= FEWEST_LEFT:
        return number
    return number[: places[rng.randint(FEWEST_LEFT, len(places) - 1)]].rstrip(SEPARATORS)


def middle(number: str, rng: random.Random) -> str:
    """Return a stretch of the number, five at least: its front is gone, and as often as not its end."""
    places = readable_places(number)
    spare = len(places) - FEWEST_LEFT
    if spare < 1:
        return number
    front = rng.randint(1, spare)
    back = rng.choice((0, rng.randint(0, spare - front)))
    return number[places[front] : places[-1 - back] + 1]


# In the order in which they happen: what is broken off or scratched out cannot be misread any more.
WEAR: Final[dict[Callable[[str, random.Random], str], int]] = {
    beginning: 10, middle: 7, stretch_lost: 5, unreadable: 18, doubtful: 5, look_alike: 20, stroke_lost: 5,
}  # fmt: skip
CUTS: Final = (beginning, middle)
