"""What fingers make of a number that was read: slips of the key, and the habits of writing that are no fault.

A number that cannot suffer the slip comes back unchanged. Marks (``?``, ``*``, sets) are left alone.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Final

from tests.bench.readable import SEPARATORS, readable_places, written_at

# The usual Latin keyboard: each row lies half a key to the right of the one above it.
_ROWS: Final = ("1234567890", "QWERTYUIOP", "ASDFGHJKL", "ZXCVBNM")
_PAD: Final = ("789", "456", "123")
_MOSTLY_A_BLANK: Final = "    -./"  # what is typed for another separator. House rule.
_CASES: Final = {"as printed": 40, "small": 50, "mixed": 10}  # House rule.
_SEPARATED: Final = {"as printed": 45, "left out": 35, "otherwise": 20}  # House rule.


def _row_neighbours() -> dict[str, str]:
    spots = {char: (2 * place + row, row) for row, chars in enumerate(_ROWS) for place, char in enumerate(chars)}
    return {
        char: "".join(
            near
            for near, (other_x, other_row) in spots.items()
            if (abs(other_x - x), abs(other_row - row)) in {(2, 0), (1, 1)}
        )
        for char, (x, row) in spots.items()
    }


def _pad_neighbours() -> dict[str, str]:
    spots = {char: (place, row) for row, chars in enumerate(_PAD) for place, char in enumerate(chars)} | {"0": (0, 3)}
    return {
        char: "".join(near for near, (ox, oy) in spots.items() if abs(ox - x) + abs(oy - y) == 1)
        for char, (x, y) in spots.items()
    }


ON_THE_ROWS: Final = _row_neighbours()
ON_THE_PAD: Final = _pad_neighbours()


def neighbours(char: str) -> str:
    """Return the keys beside ``char``, in capitals: of the rows, and of the pad too for a digit."""
    return ON_THE_ROWS[char.upper()] + ON_THE_PAD.get(char, "")


def neighbour_key(number: str, rng: random.Random) -> str:
    """Return the number with one character replaced by a key beside its own."""
    place = rng.choice(readable_places(number))
    return written_at(number, place, rng.choice(neighbours(number[place])))


def dropped(number: str, rng: random.Random) -> str:
    """Return the number without one of its characters."""
    return written_at(number, rng.choice(readable_places(number)), "")


def doubled(number: str, rng: random.Random) -> str:
    """Return the number with one character typed twice."""
    place = rng.choice(readable_places(number))
    return written_at(number, place, number[place] * 2)


def extra_key(number: str, rng: random.Random) -> str:
    """Return the number with a key beside one of its characters hit as well, before or after it."""
    place = rng.choice(readable_places(number))
    both = [number[place], rng.choice(neighbours(number[place]))]
    rng.shuffle(both)
    return written_at(number, place, "".join(both))


def swapped(number: str, rng: random.Random) -> str:
    """Return the number with two different characters side by side exchanged."""
    places = readable_places(number)
    pairs = [place for place in places if place + 1 in places and number[place].upper() != number[place + 1].upper()]
    if not pairs:
        return number
    place = rng.choice(pairs)
    return number[:place] + number[place + 1] + number[place] + number[place + 2 :]


SLIPS: Final[dict[Callable[[str, random.Random], str], int]] = {
    neighbour_key: 12, dropped: 8, doubled: 4, extra_key: 2, swapped: 4,
}  # fmt: skip


def separators_by_habit(number: str, rng: random.Random) -> str:
    """Return the number with its separators as printed, left out, or each one typed as another."""
    (habit,) = rng.choices(list(_SEPARATED), list(_SEPARATED.values()))
    if habit == "as printed":
        return number
    if habit == "left out":
        return "".join(char for char in number if char not in SEPARATORS)
    return "".join(rng.choice(_MOSTLY_A_BLANK.replace(char, "")) if char in SEPARATORS else char for char in number)


def case_by_habit(typed: str, rng: random.Random) -> str:
    """Return the text in the case as printed, in small letters, or letter by letter in either."""
    (habit,) = rng.choices(list(_CASES), list(_CASES.values()))
    if habit == "mixed":
        return "".join(rng.choice((char.lower(), char.upper())) for char in typed)
    return typed.lower() if habit == "small" else typed
