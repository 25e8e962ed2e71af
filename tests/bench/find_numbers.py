"""How long a worn number takes to find, beside rapidfuzz on the same numbers in the same run.

Run: python -m tests.bench.find_numbers

Ratios, not times, are what the lines are for: the machine is noisy. Never a gate.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections.abc import Callable
from functools import partial

from rapidfuzz import process
from rapidfuzz.distance import OSA

from xref_app.search.filed import NumberRow
from xref_app.search.index import NumberIndex

LETTERS, DIGITS = "ABDFGHKLMNPQRSTVXZ", "0123456789"
QUERIES = 40


def made_up_number(rng: random.Random) -> str:
    """Return a number shaped like those on plates: letters, digits, a dash or a point."""
    head = "".join(rng.choices(LETTERS, k=rng.randint(0, 2)))
    return f"{head}{rng.randint(10, 9999)}{rng.choice('-. ')}{rng.randint(1, 999)}"


def worn_text(number: str, rng: random.Random) -> str:
    """Return the number as a person types it off a worn plate: one or two characters unreadable."""
    typed = list(number)
    for place in rng.sample(range(len(typed)), rng.choice((1, 1, 2))):
        typed[place] = "?"
    return "".join(typed)


def milliseconds(work: Callable[[str], object], texts: list[str]) -> tuple[float, float]:
    """Return median and 95th percentile of ``work`` over ``texts``, ms."""
    taken = []
    for text in texts:
        start = time.perf_counter()
        work(text)
        taken.append((time.perf_counter() - start) * 1000)
    return statistics.median(taken), statistics.quantiles(taken, n=20)[-1]


def main() -> int:
    """Print one line per catalog size; return 0."""
    for count in (10_000, 50_000):
        rng = random.Random(count)
        numbers = [made_up_number(rng) for _ in range(count)]
        start = time.perf_counter()
        index = NumberIndex.build(NumberRow(number, f"E{place}", "pump") for place, number in enumerate(numbers))
        built_ms = (time.perf_counter() - start) * 1000
        typed = [worn_text(number, rng) for number in rng.sample(numbers, QUERIES)]
        extract = partial(process.extract, choices=numbers, scorer=OSA.normalized_similarity, limit=20)
        ours, ours_p95 = milliseconds(partial(index.find, limit=20), typed)
        theirs, theirs_p95 = milliseconds(extract, typed)
        sys.stdout.write(
            f"{count:>7} numbers: built in {built_ms:.0f} ms; find {ours:.1f} ms (p95 {ours_p95:.1f}); "
            f"rapidfuzz extract {theirs:.1f} ms (p95 {theirs_p95:.1f}); "
            f"ratio {ours / theirs:.2f} (p95 {ours_p95 / theirs_p95:.2f})\n"
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
