"""How fast and how well worn numbers are found, beside rapidfuzz on the same numbers in the same run.

Run: python -m tests.bench.find_numbers [ENTRIES ...]      (10000 100000 1000000 unless told otherwise)

Ratios, not times, are what the lines are for: the machine is noisy. Never a gate.
"""

from __future__ import annotations

import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Final

import numpy as np
from rapidfuzz import process
from rapidfuzz.distance import OSA

from tests.bench.catalog_numbers import MadeUp, entry_id, made_up_numbers
from tests.bench.corruption import corrupted
from xref_app.search import finding
from xref_app.search.filed import NumberRow
from xref_app.search.index import NumberIndex

SIZES: Final = (10_000, 100_000, 1_000_000)
QUERIES: Final = 600
YARDSTICK_TIMED: Final = {10_000: 200, 100_000: 100, 1_000_000: 30}
AGREEING: Final = {10_000: 300, 100_000: 100, 1_000_000: 15}  # a full scan takes seconds
EVERYTHING: Final = 1 << 40
WORKERS: Final = 2  # for counting the yardstick's hits only; its times are taken with one


@dataclass(frozen=True, slots=True)
class Query:
    """What is typed and the entry that was meant."""

    typed: str
    entry: int


@dataclass(frozen=True, slots=True)
class Times:
    """Median and 95th percentile, ms."""

    median_ms: float
    p95_ms: float

    def __str__(self) -> str:
        return f"{self.median_ms:8.2f} ms, p95 {self.p95_ms:8.2f} ms"


def queries_for(made_up: MadeUp, count: int, rng: random.Random) -> list[Query]:
    """Return corrupted numbers of entries picked at random."""
    places = rng.sample(range(len(made_up.texts)), count)
    return [Query(corrupted(made_up.texts[place], rng), made_up.entries[place]) for place in places]


def timed(work: Callable[[str], object], queries: Sequence[Query]) -> Times:
    """Return how long ``work`` takes over the typed texts."""
    taken = []
    for query in queries:
        start = time.perf_counter()
        work(query.typed)
        taken.append((time.perf_counter() - start) * 1000)
    return Times(statistics.median(taken), statistics.quantiles(taken, n=20)[-1])


def yardstick_times(made_up: MadeUp, queries: Sequence[Query]) -> tuple[Times, Times]:
    """Return the times of ``process.extract`` and of ``process.cdist`` with the best 20 picked from its row."""
    extract = partial(process.extract, choices=made_up.texts, scorer=OSA.normalized_similarity, limit=20)
    return timed(extract, queries), timed(partial(_cdist_best, made_up.texts), queries)


def _cdist_best(texts: Sequence[str], typed: str) -> object:
    row = process.cdist([typed], texts, scorer=OSA.normalized_similarity)[0]
    best = np.argpartition(row, -20)[-20:]
    return best[np.argsort(-row[best])]


def yardstick_top_10(made_up: MadeUp, queries: Sequence[Query]) -> float:
    """Return how often the entry meant is among the first ten entries of a full scan by OSA similarity."""
    entries = np.array(made_up.entries)
    found = 0
    for start in range(0, len(queries), WORKERS):
        some = queries[start : start + WORKERS]
        typed = [query.typed for query in some]
        rows = process.cdist(typed, made_up.texts, scorer=OSA.normalized_similarity, workers=WORKERS)
        for query, row in zip(some, rows, strict=True):
            best = np.argpartition(row, -60)[-60:]
            ordered = entries[best[np.argsort(-row[best], kind="stable")]]
            found += query.entry in list(dict.fromkeys(ordered.tolist()))[:10]
    return found / len(queries)


def our_top_10(index: NumberIndex, queries: Sequence[Query]) -> float:
    """Return how often the entry meant is among our first ten."""
    return statistics.fmean(
        entry_id(query.entry) in {hit.entry_id for hit in index.find(query.typed, limit=10).hits} for query in queries
    )


def agreement(index: NumberIndex, queries: Sequence[Query]) -> float:
    """Return the share of the first ten that a scan of every number by the same scorer has among its ten too."""
    ours = [{hit.entry_id for hit in index.find(query.typed, limit=10).hits} for query in queries]
    kept = finding.FEW_ROWS
    finding.FEW_ROWS = EVERYTHING  # type: ignore[misc] # a bench may look deeper
    try:
        full = [{hit.entry_id for hit in index.find(query.typed, limit=10).hits} for query in queries]
    finally:
        finding.FEW_ROWS = kept  # type: ignore[misc]
    return statistics.fmean(
        len(mine & theirs) / len(theirs) if theirs else 1.0 for mine, theirs in zip(ours, full, strict=True)
    )


def open_ms(path: Path, typed: str) -> float:
    """Return how long a fresh process takes from its first line to the first answer, numpy's import included, ms."""
    code = (
        "import sys, time; start = time.perf_counter(); from pathlib import Path; "
        "from xref_app.search.index import NumberIndex; index = NumberIndex.opened(Path(sys.argv[1]), 'bench'); "
        "index.find(sys.argv[2]); print((time.perf_counter() - start) * 1000)"
    )
    return statistics.median(
        float(subprocess.run([sys.executable, "-c", code, str(path), typed], capture_output=True, check=True).stdout)
        for _ in range(5)
    )


def added_ms(index: NumberIndex) -> float:
    """Return how long adding an entry and finding it takes beyond finding it once more, ms."""
    taken = []
    for place in range(50):
        number = f"QJ{place:03}-NOT-YET"
        start = time.perf_counter()
        index.add(NumberRow(number, f"new {place}", "pump"))
        index.find(number)
        between = time.perf_counter()
        index.find(number)
        taken.append((between - start) - (time.perf_counter() - between))
    return statistics.median(taken) * 1000


def measure(entries: int) -> None:
    """Print the lines of one catalog size."""
    rng = random.Random()  # fresh queries each time; the catalog stays
    made_up = made_up_numbers(entries, seed=entries)
    start = time.perf_counter()
    index = NumberIndex.build(made_up.rows())
    index.find("K47-21")
    build_s = time.perf_counter() - start
    say(f"{entries} entries, {len(made_up.texts)} numbers: built in {build_s:.1f} s")
    queries = queries_for(made_up, QUERIES, rng)
    few = queries[: YARDSTICK_TIMED.get(entries, 30)]
    ours = timed(partial(index.find, limit=20), queries)
    extract, cdist = yardstick_times(made_up, few)
    say(f"  type to top 20   ours {ours}")
    say(f"  extract               {extract}   ours is 1/{extract.p95_ms / ours.p95_ms:.1f} of it at p95")
    say(f"  cdist                 {cdist}   ours is 1/{cdist.p95_ms / ours.p95_ms:.1f} of it at p95")
    say(f"  agreement with a full scan  {agreement(index, queries[: AGREEING.get(entries, 100)]):.3f}")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "numbers.index"
        index.save(path, "bench")
        say(
            f"  {path.stat().st_size / len(index):.1f} bytes a number; opened and answered in "
            f"{open_ms(path, queries[0].typed):.0f} ms; an added entry is found {added_ms(index):.2f} ms later"
        )
    say(f"  right in top 10  ours {our_top_10(index, queries):.3f}, OSA {yardstick_top_10(made_up, queries):.3f}")


def say(line: str) -> None:
    """Print ``line`` at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def main(sizes: Sequence[str]) -> int:
    """Print the figures of each size; return 0."""
    for entries in [int(size) for size in sizes] or SIZES:
        measure(entries)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
