"""How long hostile text takes to be answered or refused, beside a clean number on the same index, in one run.

Run: ``python -m tests.bench.hostile_text [entries]``, 100,000 entries if left out. Prints the slowest first, the best
and the worst of five rounds each; asked is at most 0.2 s; nothing is asserted.
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass
from typing import Final

from tests.bench.catalog_numbers import made_up_numbers
from tests.search.hostile_texts import HOSTILE_TEXTS
from xref_app.search.index import NumberIndex
from xref_app.search.pattern import PatternError

ENTRIES, SEED, ROUNDS = 100_000, 7, 5
ASKED_MS: Final = 200.0


@dataclass(frozen=True, slots=True)
class Timed:
    """How long one text took, ms, and what came of it."""

    kind: str
    best_ms: float
    worst_ms: float
    outcome: str


def outcome_of(index: NumberIndex, text: str) -> str:
    """Return how the index took the text."""
    try:
        return f"{len(index.find(text).hits)} hits"
    except PatternError as refused:
        return f"refused: {refused.why}"


def timed(index: NumberIndex, kind: str, text: str) -> Timed:
    """Return the best and the worst time of five rounds."""
    times, outcome = [], ""
    for _ in range(ROUNDS):
        begin = time.perf_counter()
        outcome = outcome_of(index, text)
        times.append((time.perf_counter() - begin) * 1000)
    return Timed(kind, min(times), max(times), outcome)


def main() -> None:
    """Print the table."""
    entries = int(sys.argv[1]) if len(sys.argv) > 1 else ENTRIES
    made_up = made_up_numbers(entries, SEED)
    index = NumberIndex.build(made_up.rows())
    index.find(made_up.texts[0])  # the first question puts the index together
    clean = timed(index, "a clean number", made_up.texts[entries // 2])
    hostile = sorted(
        (timed(index, kind, text) for kind, text in HOSTILE_TEXTS.items()), key=lambda one: one.worst_ms, reverse=True
    )
    sys.stdout.write(f"{entries} entries, {len(made_up.texts)} numbers; asked: {ASKED_MS:.0f} ms at most\n")
    sys.stdout.write(f"{'':44}{'best ms':>9}{'worst ms':>10}{'x clean':>9}{'x asked':>9}\n")
    for one in (clean, *hostile):
        ratios = f"{one.worst_ms / clean.worst_ms:9.1f}{one.worst_ms / ASKED_MS:9.2f}"
        sys.stdout.write(f"{one.kind:44}{one.best_ms:9.2f}{one.worst_ms:10.2f}{ratios}  {one.outcome}\n")


if __name__ == "__main__":
    main()
