"""How long pairing up takes: judged the first time, judged again, chosen, and stopped; in one run, with ratios.

Run: ``python -m tests.bench.pair_up [ENGINES PUMPS ...]`` (20 20 and 200 200 without). Engines are the sample's
machines over again, each with a shaft read a little otherwise; pumps those of big_catalog.py. Nothing is asserted here.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Sequence
from dataclasses import replace
from threading import Event, Thread

from tests.bench.big_catalog import with_many_pumps
from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from xref_app.core.model.catalog import SalvagedUnit
from xref_app.core.plan.pair_value import PairFigures
from xref_app.core.progress import WorkCancelledError
from xref_app.services.best_pairs import PairWishes, best_pairs
from xref_app.services.catalog import Catalog
from xref_app.services.judge_candidates import judgement_of
from xref_app.services.pair_judging import PairsJudged, Verdicts, engine_values
from xref_app.services.pair_matrix import PairMatrix, PairUnit

SIZES = (20, 20, 200, 200)
ALONE = 40  # pairs judged one by one, to compare with
STOPS = 12


class Stopped:
    """Progress that stops once it is told to, and notes how long it was between two steps."""

    def __init__(self) -> None:
        self.stop = Event()
        self.longest_s = 0.0
        self._last_s = time.perf_counter()

    def step(self, done: int, total: int) -> None:  # noqa: ARG002 - the protocol's signature
        """Note the step."""
        now_s = time.perf_counter()
        self.longest_s, self._last_s = max(self.longest_s, now_s - self._last_s), now_s
        if self.stop.is_set():
            raise WorkCancelledError


def catalog_with(engines: int, pumps: int, seed: int) -> tuple[Catalog, list[str], list[str]]:
    """Return a catalog and the entries of so many machines, no two with the same numbers, and pumps."""
    rng = random.Random(seed)
    many = with_many_pumps(catalog_of(sample_rows()), pumps, seed=seed)
    kinds = sorted(many.machines)
    machines, drivers = dict(many.machines), dict(many.drivers)
    seen, ports, entries = dict(many.observations), dict(many.ports), dict(many.entries)
    ids = []
    for number in range(engines):
        old = many.machines[kinds[number % len(kinds)]]
        machine, driver = f"N-{number:04}", f"E-{number:04}"
        ids.append(machine)
        machines[machine] = replace(old, entry_id=machine, driver_id=driver)
        drivers[driver] = replace(many.drivers[old.driver_id], entry_id=driver)
        for new, model in ((machine, old.entry_id), (driver, old.driver_id)):
            entries[new] = replace(many.entries[model], entry_id=new)
            ports[new] = many.ports.get(model, ())
            seen[new] = tuple(
                replace(one, value=one.value + rng.uniform(-0.02, 0.02))
                if one.field == "shaft_projection_mm" and one.value is not None
                else one
                for one in many.observations.get(model, ())
            )
    catalog = replace(many, machines=machines, drivers=drivers, observations=seen, ports=ports, entries=entries)
    return catalog, ids, rng.sample(sorted(many.ids_of("pump")), pumps)


def matrix_of(verdicts: Verdicts, engines: Sequence[str], pumps: Sequence[str], seed: int) -> PairMatrix:
    """Return the matrix of one unit per entry, with made-up prices."""
    rng = random.Random(seed)

    def units(entry_ids: Sequence[str], kind: str) -> list[PairUnit]:
        return [
            PairUnit(SalvagedUnit(f"U-{one}", one, price=float(rng.randrange(15, 120))), kind, one, "")
            for one in entry_ids
        ]

    return PairMatrix(units(engines, "machine"), units(pumps, "pump"), verdicts)


def stopping_s(catalog: Catalog, engines: Sequence[str], pumps: Sequence[str], seed: int) -> float:
    """Return the longest time from asking to stop until the work is over, s."""
    rng, longest_s = random.Random(seed), 0.0
    for _ in range(STOPS):
        progress = Stopped()
        worker = Thread(target=_judged_until_stopped, args=(catalog, engines, pumps, progress))
        worker.start()
        progress.stop.wait(rng.uniform(0.05, 1.5))
        begin = time.perf_counter()
        progress.stop.set()
        worker.join()
        longest_s = max(longest_s, time.perf_counter() - begin)
    return longest_s


def _judged_until_stopped(catalog: Catalog, engines: Sequence[str], pumps: Sequence[str], progress: Stopped) -> None:
    try:
        PairsJudged().verdicts(catalog, engines, pumps, progress)
    except WorkCancelledError:
        return


def timed(engines: int, pumps: int) -> str:
    """Return the block of one size."""
    catalog, engine_ids, pump_ids = catalog_with(engines, pumps, seed=1)
    judged, progress = PairsJudged(), Stopped()
    begin = time.perf_counter()
    judged.verdicts(catalog, engine_ids, pump_ids, progress)
    first_s = time.perf_counter() - begin
    begin = time.perf_counter()
    verdicts = judged.verdicts(catalog, engine_ids, pump_ids, Stopped())
    again_s = time.perf_counter() - begin
    matrix = matrix_of(verdicts, engine_ids, pump_ids, seed=1)
    best_pairs(matrix, PairFigures(300.0, 50.0), PairWishes())  # loads what it takes
    begin = time.perf_counter()
    pairing = best_pairs(matrix, PairFigures(300.0, 50.0), PairWishes())
    chosen_s = time.perf_counter() - begin
    rng = random.Random(2)
    some = [(rng.choice(engine_ids), rng.choice(pump_ids)) for _ in range(ALONE)]
    begin = time.perf_counter()
    for engine, pump in some:
        judgement_of(catalog, engine_values(catalog, engine), pump)
    alone_s = (time.perf_counter() - begin) / ALONE * engines * pumps
    counted = ", ".join(f"{count} {verdict.value.lower()}" for verdict, count in matrix.counted().items())
    return (
        f"{engines} x {pumps}: {counted}\n"
        f"  judged the first time {first_s:.1f} s (one by one {alone_s:.0f} s, {alone_s / first_s:.1f} times as long)\n"
        f"  judged again {again_s:.3f} s, chosen {chosen_s:.3f} s ({len(pairing.pairs)} pairs)\n"
        f"  longest between two steps {progress.longest_s:.3f} s; "
        f"stopped within {stopping_s(catalog, engine_ids, pump_ids, seed=3):.3f} s\n"
    )


def main() -> int:
    """Print one block per size; return 0."""
    sizes = [int(text) for text in sys.argv[1:]] or list(SIZES)
    for engines, pumps in zip(sizes[::2], sizes[1::2], strict=True):
        sys.stdout.write(timed(engines, pumps))
    return 0


if __name__ == "__main__":
    sys.exit(main())
