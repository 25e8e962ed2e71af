"""How long the verdict on every pump takes beside the same comparisons as plain numpy passes over columns, in one run.

Run: ``python -m tests.bench.verdicts [PUMPS ...]`` (10,000 and 100,000 without). Prints times and ratios.

The passes are what a table without families would do: for every size of a pump that a check looks at, its lowest and
highest value against one limit each, over all pumps. They plan nothing; ours gives the judge's own verdicts.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tests.bench.big_catalog import with_many_pumps
from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from xref_app.core.fields.fields import Kind, Side, all_fields
from xref_app.core.fit.finding import Outcome
from xref_app.core.plan.judge import VERDICT_OF
from xref_app.core.plan.judge_parts import JudgeOfParts
from xref_app.services.judge_candidates import judge_one, machine_question
from xref_app.services.machine_side import job_values
from xref_app.services.pump_table import PumpTable, pump_table
from xref_app.services.verdicts import Steps, judge_table

SIZES = (10_000, 100_000)
MACHINES = ("M-001", "M-002", "M-004", "M-011")
COMPARED = 300  # pumps judged one by one to see that the verdicts agree
ROUNDS = 5


@dataclass(slots=True)
class Unheard:
    """Progress that nobody listens to."""

    def step(self, done: int, total: int) -> None:
        """Do nothing."""


def taken_s(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Return the least time of several runs, s."""
    times = []
    for _ in range(rounds):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return min(times)


def column_passes(pumps: int, survive: float, seed: int) -> Callable[[], object]:
    """Return the plain passes: every number of a pump as two columns against two limits.

    Args:
        pumps: How many rows.
        survive: How far the limits lie outside the columns: every pass is made, whatever is left.
        seed: Of the made-up columns.
    """
    rng = np.random.default_rng(seed)
    numbers = [one for one in all_fields().values() if one.side is Side.PUMP and one.kind is Kind.NUMBER]
    columns = [(rng.random(pumps), rng.random(pumps)) for _ in numbers]

    def passes() -> object:
        left = np.ones(pumps, np.bool_)
        for low, high in columns:
            left &= (low >= -survive) & (high <= 1 + survive)
        return np.flatnonzero(left)

    return passes


def main() -> int:
    """Print one block per size; return 0."""
    sample = catalog_of(sample_rows())
    for pumps in [int(text) for text in sys.argv[1:]] or SIZES:
        catalog = with_many_pumps(sample, pumps, seed=1)
        begin = time.perf_counter()
        table: PumpTable = pump_table(catalog)
        built_s = time.perf_counter() - begin
        parts = [len(some) for some in table.parts]
        passes_s = taken_s(column_passes(pumps, 0.02, 1))
        sys.stdout.write(
            f"{pumps:,} pumps: table put together in {built_s:.1f} s, distinct parts {parts}; "
            f"plain column passes {passes_s * 1000:.2f} ms\n"
        )
        for machine in MACHINES:
            job = job_values(catalog, None, machine)
            side = machine_question(catalog, job)
            judge = JudgeOfParts(side.cases, side.contradicted)

            def verdicts(judge: JudgeOfParts = judge, table: PumpTable = table) -> object:
                return judge_table(table, judge, work=Steps(Unheard(), len(table.ids)))

            begin = time.perf_counter()
            found = judge_table(table, judge, work=Steps(Unheard(), pumps))
            first_s, again_s = time.perf_counter() - begin, taken_s(verdicts)
            single = [place for place in range(pumps) if not table.apart[place]]
            sampled = random.Random(1).sample(single, COMPARED)
            begin = time.perf_counter()
            alone = [judge_one(catalog, job, table.ids[place]).judgement.verdict for place in sampled]
            one_s = (time.perf_counter() - begin) / COMPARED
            agree = sum(
                VERDICT_OF[Outcome(found.worst[place])] is one for place, one in zip(sampled, alone, strict=True)
            )
            could = found.counted()
            named = ", ".join(f"{count} {verdict.value.lower()}" for verdict, count in could.items())
            sys.stdout.write(
                f"  {machine}: {named}\n"
                f"    first {first_s:.2f} s ({first_s / (one_s * pumps):.4f} x one by one), again {again_s * 1000:.1f} "
                f"ms ({again_s / passes_s:.2f} x the passes); {agree} of {COMPARED} agree\n"
            )
    return 0


if __name__ == "__main__":
    sys.exit(main())
