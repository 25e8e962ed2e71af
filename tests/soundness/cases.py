"""Random cases, repeatable by seed: one that fits, changed a few times, with some values taken away."""

from __future__ import annotations

import copy
import random
from dataclasses import dataclass

from tests.soundness.bases import BASES
from tests.soundness.changes import CHANGES, HARMLESS, set_doubts
from tests.soundness.fields import FLAGS, HEIGHTS, PATTERNS, SIZES, WORDS, Json, look_up, put


@dataclass(frozen=True)
class SeededCase:
    """A case as shown to the judge, and as it was before any value was taken away."""

    seed: int
    shown: Json
    made_from: Json
    changes: tuple[str, ...]


def removable_paths(case: Json) -> list[str]:
    """Return the paths of all values a case gives that a check may read."""
    paths = [path for path, *_ in SIZES.values()] + [path for path, _ in WORDS.values()]
    paths += [*FLAGS.values(), *PATTERNS.values(), *HEIGHTS.values()]
    return [path for path in paths if look_up(case, path) is not None]


def seeded_case(seed: int) -> SeededCase:
    """Return the case of a seed."""
    rng = random.Random(seed)
    case = BASES[seed % len(BASES)]()
    done = []
    for change in rng.sample(HARMLESS, rng.choice((0, 1, 2))):
        change(case, rng)
        done.append(change.__name__)
    for change in rng.sample(CHANGES, rng.choices((0, 1, 2, 3), (38, 40, 14, 8))[0]):
        change(case, rng)
        done.append(change.__name__)
    set_doubts(case, rng)
    shown = copy.deepcopy(case)
    if rng.random() < 0.25:
        for path in rng.sample(removable_paths(shown), rng.choice((1, 1, 1, 2, 4))):
            put(shown, path, None)
            done.append(f"without {path}")
    return SeededCase(seed, shown, case, tuple(done))
