"""How long a signed catalog file of many entries takes from the stick into the store, and what memory that takes.

Run: python -m tests.bench.catalog_file [ENTRIES]

Each step runs in a process of its own, so that the memory told is that of the step.
"""

from __future__ import annotations

import multiprocessing
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from itertools import chain, count
from pathlib import Path

from tests.bench.big_catalog import with_many_pumps
from tests.sample.in_memory import catalog_of
from tests.sample.make_sample_catalog import sample_rows
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.catalog_file import catalog_file_bytes
from xref_app.exchange.signing_keys import load_signing_key, load_supplier, new_key_files
from xref_app.services.catalog_update import look_at_catalog, take_catalog
from xref_app.services.supplier_keys import trust_supplier
from xref_app.store.engine import open_engine
from xref_app.store.undoing import undo

ENTRIES = 50_000


def many_rows(entries: int) -> CatalogRows:
    """Return a catalog of so many entries as the rows of a package."""
    sample = catalog_of(sample_rows())
    big = with_many_pumps(sample, entries - len(sample.entries) + len(sample.pumps()), 1)
    ids = count(1)
    observations = chain.from_iterable(big.observations.values())
    return CatalogRows(
        entries=tuple(big.entries.values()),
        numbers=tuple(chain.from_iterable(big.numbers.values())),
        observations=tuple(replace(one, observation_id=next(ids)) for one in observations),
        drivers=tuple(big.drivers.values()),
        machines=tuple(replace(one, pump_id="") for one in big.machines.values()),
        ports=tuple(chain.from_iterable(big.ports.values())),
        parts=big.parts,
    )


def next_edition(rows: CatalogRows, every: int) -> CatalogRows:
    """Return the rows with one entry in so many renamed."""
    entries = tuple(
        replace(one, name=f"{one.name} B") if not at % every else one for at, one in enumerate(rows.entries)
    )
    return replace(rows, entries=entries)


def otherwise(rows: CatalogRows) -> CatalogRows:
    """Return the rows with every observation from another source."""
    return replace(rows, observations=tuple(replace(one, source="sheet B") for one in rows.observations))


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Print how long the block took, and the most memory used so far."""
    begun, used = time.perf_counter(), time.process_time()
    yield
    used = time.process_time() - used
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    took = f"{time.perf_counter() - begun:7.1f} s, {used:5.1f} of the processor"
    sys.stdout.write(f"{what:<40} {took}   {megabytes:5} MB at most so far\n")
    sys.stdout.flush()


class Gaps:
    """Hears of progress and knows the longest time without a word, seconds: so long a cancelled act may go on."""

    def __init__(self) -> None:
        self.longest_s = 0.0
        self._told_at_s = time.perf_counter()

    def step(self, done: int, total: int) -> None:  # noqa: ARG002 - only the time matters
        now_s = time.perf_counter()
        self.longest_s = max(self.longest_s, now_s - self._told_at_s)
        self._told_at_s = now_s


def apart(work: Callable[..., object], *told: object) -> None:
    """Do ``work`` in a process of its own."""
    process = multiprocessing.get_context("spawn").Process(target=work, args=told)
    process.start()
    process.join()
    if process.exitcode:
        sys.exit(process.exitcode)


def make_shop(folder: Path) -> None:
    """Make keys and a store that trusts them."""
    new_key_files(folder / "keys")
    engine = open_engine(store_in(folder))
    public = folder / "keys" / "public.pem"
    trust_supplier(engine, public, name="Torbic", fingerprint=load_supplier(public, "x").fingerprint)
    engine.dispose()


def store_in(folder: Path) -> Path:
    """Return where the store lies."""
    return folder / "shop" / "shop.sqlite"


def make_editions(folder: Path, entries: int) -> None:
    """Write the files: everything, one entry in a hundred renamed, every observation from another source."""
    key = load_signing_key(folder / "keys" / "signing.key")
    rows = many_rows(entries)
    total = sum(len(getattr(rows, name)) for name in CatalogRows.__dataclass_fields__)
    sys.stdout.write(f"{len(rows.entries)} entries, {total} rows\n")
    for serial, edition in enumerate((rows, next_edition(rows, 100), otherwise(rows)), start=1):
        with timed(f"edition {serial}: make"):
            content = catalog_file_bytes(edition, title="x", serial=serial, withdrawn=(), key=key)
        (folder / f"{serial}.xrefcat").write_bytes(content)
        sys.stdout.write(f"{len(content) / 1e6:.1f} MB\n")


def look_and_take(folder: Path, serial: int) -> None:
    """Take one edition as the window does."""
    engine = open_engine(store_in(folder))
    looking = Gaps()
    with timed(f"edition {serial}: look"):
        update = look_at_catalog(engine, folder / f"{serial}.xrefcat", looking)
    taking = Gaps()
    with timed(f"edition {serial}: take"):
        applied = take_catalog(engine, update, who="Ana", progress=taking)
    engine.dispose()
    sys.stdout.write(f"longest without a word: {looking.longest_s:.2f} s and {taking.longest_s:.2f} s\n")
    plan = applied.plan
    told = f"{len(plan.added)} added, {len(plan.changed)} changed, {plan.same} the same"
    sys.stdout.write(f"{told}; store {store_in(folder).stat().st_size / 1e6:.0f} MB\n")


def undo_last(folder: Path) -> None:
    """Undo the last act."""
    engine = open_engine(store_in(folder))
    with timed("undo of edition 2"):
        undo(engine, who="Ana")
    engine.dispose()


def main(entries: int) -> None:
    """Print one line per step."""
    with tempfile.TemporaryDirectory(prefix="xref-bench-") as made:
        folder = Path(made)
        make_shop(folder)
        apart(make_editions, folder, entries)
        apart(look_and_take, folder, 1)
        apart(look_and_take, folder, 2)
        apart(undo_last, folder)
        apart(look_and_take, folder, 3)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else ENTRIES)
