"""What becomes of a number between a worn plate and the keyboard at a parts counter: the corruption model, seeded.

Fixed before any result of the search was seen, by somebody who did not write the search. It is not altered after a
result was seen; who wants another model adds one beside it.

Every query has one, two or three faults of different kinds. They happen in this order: the plate wears, somebody reads
it and puts the separators as is their habit, the fingers slip, the case is as is their habit. Habits (separators, case)
come on top and are not counted as faults: a query with nothing else would be found by any comparison that passes over
case and separators, and would only flatter the figure.

Weights, in percent of the faults:

- Number of faults 60 : 30 : 10 for one, two, three: independent faults, one per number on average, that is a Poisson
  distribution of mean 1 without its 0 and cut at 3 (1 : 1/2 : 1/6). The mean of 1 is a house rule.
- Wear 70, slips 30. Somebody who types misses a few keys in a hundred (from memory: 1 to 3 %), so a number of ten
  characters has at most some 0.3 slips; the other 0.7 of the one fault per number are the plate's, for it is looked at
  because it is bad. House rule.
- Slips, together 30: neighbour key 12, dropped 8, doubled 4 and a neighbour key hit as well 2 (both are insertions),
  swapped 4. F. J. Damerau, A technique for computer detection and correction of spelling errors, Comm. ACM 7 (1964):
  about 80 % of the errors are one substitution, omission, insertion or transposition, substitutions the most frequent.
  The other 20 % are met by two and three faults. The shares among the four are a house rule.
- Wear, together 70: a look-alike 20 (one or two characters), ``?`` 18 (one or two), the beginning left 10, a middle or
  the end left 7, one stroke too few 5, a doubtful one typed as a set 5, a lost stretch typed as ``*`` 5. House rule:
  rubbing takes characters one by one, so these are the most frequent; corners break off less often; ``*`` and sets are
  for those who know them.
- Habits, each query: separators as printed 45, left out 35, typed as others 20 (mostly a blank); case as printed 40,
  small 50, mixed 10. House rule.

At least five letters or digits stay readable (or all of a shorter number); a draw that leaves fewer, does not change
the number or would cut it twice is drawn anew with the same count of faults. So faults that lose characters are a
little rarer than their weights, most of all in short numbers.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from tests.bench.plate_wear import CUTS, FEWEST_LEFT, WEAR
from tests.bench.readable import SEPARATORS, readable_places
from tests.bench.typing_slips import SLIPS, case_by_habit, separators_by_habit

Fault = Callable[[str, random.Random], str]

HOW_MANY_FAULTS: Final = {1: 60, 2: 30, 3: 10}
FAULTS: Final[dict[Fault, int]] = WEAR | SLIPS


@dataclass(frozen=True, slots=True)
class Typed:
    """A query and the faults in it, in the order in which they happened."""

    text: str
    faults: tuple[Fault, ...]


def bare(typed: str) -> str:
    """Return the text without separators, in capitals."""
    return "".join(char for char in typed.upper() if char not in SEPARATORS)


def corrupted(number: str, rng: random.Random) -> str:
    """Return the number as somebody types it, never the number itself.

    Raises:
        ValueError: the number has no letter or digit.
    """
    return typed_off(number, rng).text


def typed_off(number: str, rng: random.Random) -> Typed:
    """Return the number as somebody types it, with the faults that happened.

    Raises:
        ValueError: the number has no letter or digit.
    """
    fewest = min(FEWEST_LEFT, len(readable_places(number)))
    if not fewest:
        raise ValueError(f"“{number}” has no letter or digit. Give a number that has one.")
    (count,) = rng.choices(list(HOW_MANY_FAULTS), list(HOW_MANY_FAULTS.values()))
    while True:
        faults = _drawn(count, rng)
        text = _with_faults(number, faults, rng, fewest)
        if text is not None and bare(text) != bare(number):
            return Typed(case_by_habit(text, rng), faults)


def _drawn(count: int, rng: random.Random) -> tuple[Fault, ...]:
    """Return ``count`` different faults in the order in which they happen."""
    drawn: set[Fault] = set()
    while len(drawn) < count:
        drawn.update(rng.choices(list(FAULTS), list(FAULTS.values())))
    return tuple(fault for fault in FAULTS if fault in drawn)


def _with_faults(number: str, faults: tuple[Fault, ...], rng: random.Random, fewest: int) -> str | None:
    """Return the number after all ``faults``; None when one of them cannot happen or too little is left."""
    if all(cut in faults for cut in CUTS):
        return None
    worn = _after(number, [fault for fault in faults if fault in WEAR], rng, fewest)
    if worn is None:
        return None
    written = separators_by_habit(worn, rng)
    slipped = _after(written, [fault for fault in faults if fault in SLIPS], rng, fewest)
    return slipped and slipped.strip(SEPARATORS)


def _after(typed: str, faults: Sequence[Fault], rng: random.Random, fewest: int) -> str | None:
    for fault in faults:
        before, typed = typed, fault(typed, rng)
        if typed == before or len(readable_places(typed)) < fewest:
            return None
    return typed
