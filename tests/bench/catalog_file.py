"""How long a signed catalog file of many entries takes from the stick into the store, and a copy of it back.

Run: python -m tests.bench.catalog_file [ENTRIES]
"""

from __future__ import annotations

import resource
import sys
import tempfile
import time
from collections.abc import Iterator
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
from xref_app.services.daily_copies import daily_copy
from xref_app.services.restore import Way, restore
from xref_app.services.supplier_keys import trust_supplier
from xref_app.store.engine import open_engine
from xref_app.store.undoing import undo


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


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Print how long the block took, and the most memory used so far."""
    begun, used = time.perf_counter(), time.process_time()
    yield
    used = time.process_time() - used
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    took = f"{time.perf_counter() - begun:7.1f} s, {used:.1f} of the processor"
    sys.stdout.write(f"{what:<30} {took}   {megabytes} MB at most so far\n")
    sys.stdout.flush()


def main(entries: int) -> None:
    """Print one line per step."""
    rows = many_rows(entries)
    folder = Path(tempfile.mkdtemp(prefix="xref-bench-"))
    new_key_files(folder / "keys")
    key = load_signing_key(folder / "keys" / "signing.key")
    store = folder / "shop" / "shop.sqlite"
    engine = open_engine(store)
    fingerprint = load_supplier(folder / "keys" / "public.pem", "x").fingerprint
    trust_supplier(engine, folder / "keys" / "public.pem", name="Torbic", fingerprint=fingerprint)
    total = sum(len(getattr(rows, name)) for name in CatalogRows.__dataclass_fields__)
    sys.stdout.write(f"{len(rows.entries)} entries, {total} rows\n")
    file = folder / "x.xrefcat"
    for serial, edition in enumerate((rows, next_edition(rows, 100)), start=1):
        with timed(f"edition {serial}: make"):
            file.write_bytes(catalog_file_bytes(edition, title="x", serial=serial, withdrawn=(), key=key))
        sys.stdout.write(f"{file.stat().st_size / 1e6:.1f} MB\n")
        with timed(f"edition {serial}: look"):
            update = look_at_catalog(engine, file)
        with timed(f"edition {serial}: take"):
            take_catalog(engine, update, who="Ana")
        sys.stdout.write(f"store {store.stat().st_size / 1e6:.0f} MB\n")
    with timed("daily copy"):
        copy = daily_copy(engine).copy
    with timed("undo of edition 2"):
        undo(engine, who="Ana")
    engine.dispose()
    if copy is not None:
        with timed("restore, all"):
            restore(store, copy.path, Way.ALL, who="Ana")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 50_000)
