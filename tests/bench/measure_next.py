"""How long one step at the bench takes by columns beside the same step entry by entry, in one run.

Run: ``python -m tests.bench.measure_next [PUMPS ...]`` (10,000 and 100,000 without). Prints medians and ratios.

A step is what the sheet asks after every field: which entries the readings leave, the best of them, and what to measure
next. Entry by entry it is done at the first size only, as the program did it before; both must give the same answer.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from statistics import median

from tests.bench.big_catalog import all_different, with_many_pumps
from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from tests.services.entry_by_entry import meeting, next_field
from xref_app.core.model.known import Known
from xref_app.services.catalog import Catalog
from xref_app.services.kept_tables import carry_over, table_of_kind
from xref_app.services.machine_side import Values
from xref_app.services.measure_order import Question, next_question
from xref_app.services.size_search import SizeHit, best_meeting

SIZES = (10_000, 100_000)
UNITS, STEPS = 5, 6
SHOWN = 12
COMPARED = 300  # entries read by themselves, to tell what reading all of them would take


@dataclass(slots=True)
class Steps:
    """What the steps took, s: by columns each, and entry by entry where it was done."""

    by_columns: list[float] = field(default_factory=list)
    one_by_one: list[float] = field(default_factory=list)


def by_columns(
    catalog: Catalog, said: Mapping[str, Known], skipped: Sequence[str]
) -> tuple[tuple[SizeHit, ...], Question | None]:
    """Return the best of the entries left and what to measure next, as the sheet shows them."""
    return best_meeting(catalog, "pump", said, most=SHOWN)[0], next_question(catalog, "pump", said, skipped)


def one_by_one(
    catalog: Catalog, known: Mapping[str, Values], said: Mapping[str, Known], skipped: Sequence[str]
) -> tuple[tuple[SizeHit, ...], str]:
    """Return the same, every entry gone through."""
    hits = meeting(catalog, known, said)
    found = next_field("pump", [known[hit.entry_id] for hit in hits], said, skipped)
    return hits[:SHOWN], "" if found is None else found[0]


def walked(catalog: Catalog, rng: random.Random, known: Mapping[str, Values] | None) -> Iterator[tuple[float, float]]:
    """Yield what each step of measuring one pump took, s, by columns and one by one (0 where ``known`` is None)."""
    truth = catalog.known(rng.choice(table_of_kind(catalog, "pump").ids))
    said: dict[str, Known] = {}
    skipped: list[str] = []
    for _ in range(STEPS):
        begin = time.perf_counter()
        hits, question = by_columns(catalog, said, skipped)
        taken = time.perf_counter() - begin
        if question is None:
            return
        if known is None:
            yield taken, 0.0
        else:
            begin = time.perf_counter()
            same = one_by_one(catalog, known, said, skipped)
            yield taken, time.perf_counter() - begin
            if same != (hits, question.field):
                sys.stdout.write(f"  NOT THE SAME: {question.field} {same[1]}\n")
        if question.field in truth:
            said[question.field] = truth[question.field][0]
        else:
            skipped.append(question.field)


def measured(catalog: Catalog, *, one_by_one_too: bool) -> None:
    """Print what making the table, the steps and one change take."""
    begin = time.perf_counter()
    table = table_of_kind(catalog, "pump")
    built_s = time.perf_counter() - begin
    some = random.Random(3).sample(table.ids, COMPARED)
    begin = time.perf_counter()
    read = [catalog.known(entry_id) for entry_id in some]
    whole_s = (time.perf_counter() - begin) / len(read) * len(table)
    columns = sum(column.numbers.nbytes for column in table.columns.values())
    most = max(len(column.distinct) for column in table.columns.values())
    sys.stdout.write(
        f"  table put together in {built_s:.1f} s ({built_s / whole_s:.2f} x reading each entry by itself); its "
        f"columns take {columns / 1e6:.1f} MB, at most {most:,} different values\n"
    )
    known = {one: catalog.known(one) for one in table.ids} if one_by_one_too else None
    rng, steps = random.Random(2), Steps()
    for _ in range(UNITS):
        for taken, long_way in walked(catalog, rng, known):
            steps.by_columns.append(taken)
            steps.one_by_one.append(long_way)
    step_s, most_s, long_s = median(steps.by_columns), max(steps.by_columns), median(steps.one_by_one)
    sys.stdout.write(f"  a step by columns: median {step_s * 1000:.1f} ms, most {most_s * 1000:.0f} ms\n")
    if one_by_one_too:
        sys.stdout.write(f"  a step one by one: median {long_s * 1000:.0f} ms, {long_s / step_s:.0f} x as long\n")
    changed = with_other_rows(catalog, table.ids[7], table.ids[8])
    begin = time.perf_counter()
    carry_over(catalog, changed, [table.ids[7]])
    carried_s = time.perf_counter() - begin
    sys.stdout.write(f"  one entry changed: {carried_s * 1000:.1f} ms, {carried_s / built_s:.5f} x a new table\n")


def main() -> int:
    """Print two blocks per size; return 0."""
    sample = catalog_of(sample_rows())
    sizes = [int(text) for text in sys.argv[1:]] or list(SIZES)
    for pumps in sizes:
        catalog = with_many_pumps(sample, pumps, seed=1)
        sys.stdout.write(f"{pumps:,} pumps that share faces and ratings\n")
        measured(catalog, one_by_one_too=pumps == sizes[0])
        sys.stdout.write(f"{pumps:,} pumps, every size of each its own\n")
        measured(all_different(catalog, seed=4), one_by_one_too=pumps == sizes[0])
    return 0


def with_other_rows(catalog: Catalog, entry_id: str, other_id: str) -> Catalog:
    """Return the catalog in which an entry says what another says."""
    return replace(catalog, observations={**catalog.observations, entry_id: catalog.observations[other_id]})


if __name__ == "__main__":
    sys.exit(main())
