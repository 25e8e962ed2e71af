"""Very many mutants of messy lists, read in children that are limited as the program's own; prints the counts.

``python -m tests.bench.fuzz_supplier_files [files] [first seed]``. A batch of files shares one child, which is what
lets 50,000 be read; a child that dies tells at which file. A few of each batch go the program's whole way, a child for
each. The store of a sample desk must be, byte for byte, what it was.
"""

from __future__ import annotations

import multiprocessing
import sys
import time
import warnings
from collections import Counter
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from tests.exchange.supplier_mutants import mutant
from tests.services.bench_store import sample_desk
from tests.services.test_supplier_mutants import outcome
from xref_app.core.progress import NO_PROGRESS
from xref_app.exchange.supplier_child import limit_this_process
from xref_app.exchange.supplier_errors import SupplierFileError
from xref_app.services.supplier_desk import SupplierDesk

_BATCH: Final = 250
_MEMORY_BYTES, _CPU_S = 1024 * 1024 * 1024, 120
_WHOLE_WAY_PER_BATCH: Final = 2


def _batch(first: int, results: multiprocessing.Queue[tuple[int, str]]) -> None:
    warnings.simplefilter("ignore")
    outcome(mutant(first))  # loads what is loaded lazily, before nothing can be opened any more
    limit_this_process(_MEMORY_BYTES, _CPU_S, most_open=256)
    for seed in range(first, first + _BATCH):
        try:
            results.put((seed, outcome(mutant(seed))))
        except MemoryError:
            results.put((seed, "out of memory"))
        except Exception as error:  # noqa: BLE001 - to count whatever flies is the purpose
            results.put((seed, f"FLEW {type(error).__name__}: {error}"[:200]))
    results.put((-1, "through"))


def main() -> None:
    """Print how many files came to what."""
    files = int(sys.argv[1]) if len(sys.argv) > 1 else 50_000
    start = int(sys.argv[2]) if len(sys.argv) > 2 else 1_000_000
    counts: Counter[str] = Counter()
    before = time.perf_counter()
    with TemporaryDirectory() as folder:
        desk = sample_desk(Path(folder))
        desk.find("A", NO_PROGRESS)
        store = _store_bytes(Path(folder))
        for first in range(start, start + files, _BATCH):
            counts.update(_counted(first))
            counts.update(_whole_way(desk.suppliers, Path(folder) / "list.csv", first))
            if _store_bytes(Path(folder)) != store:
                counts["STORE CHANGED"] += 1
        desk.close()
    print(f"{files} files in {time.perf_counter() - before:.0f} s")  # noqa: T201
    for what, count in counts.most_common():
        print(f"{count:>7} {what}")  # noqa: T201


def _counted(first: int) -> Counter[str]:
    context = multiprocessing.get_context("fork")
    results: multiprocessing.Queue[tuple[int, str]] = context.Queue()
    child = context.Process(target=_batch, args=(first, results))
    child.start()
    found: Counter[str] = Counter()
    last = first - 1
    while True:
        try:
            last, what = results.get(timeout=_CPU_S)
        except Exception:  # noqa: BLE001 - the queue of a child that died
            found[f"CHILD DIED after seed {last}"] += 1
            break
        if last < 0:
            break
        found[what] += 1
        if what.startswith("FLEW"):
            print(last, what)  # noqa: T201
    child.join(10)
    return found


def _whole_way(suppliers: SupplierDesk, path: Path, first: int) -> Counter[str]:
    found: Counter[str] = Counter()
    for seed in range(first, first + _WHOLE_WAY_PER_BATCH):
        path.write_bytes(mutant(seed))
        try:
            file = suppliers.read(path, NO_PROGRESS)
            suppliers.preview(file, suppliers.guess(file, supplier="Invented"), NO_PROGRESS)
            found["whole way: read"] += 1
        except SupplierFileError as error:
            is_dead = "within the limits" in str(error)
            found["whole way: CHILD DIED" if is_dead else "whole way: refused"] += 1
    return found


def _store_bytes(folder: Path) -> bytes:
    names = sorted(one for one in folder.iterdir() if one.name.startswith("shop.sqlite"))
    return sha256(b"".join(one.read_bytes() for one in names)).digest()


if __name__ == "__main__":
    main()
