"""How long a supplier's list of 10,000 rows takes: reading, looking, taking, reading again, undoing. Prints, no gate.

``python -m tests.bench.supplier_rows [rows]``
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from openpyxl import Workbook

from tests.services.bench_store import sample_desk
from xref_app.core.progress import NO_PROGRESS

HEADINGS = ("Part No.", "Maker", "Shaft dia (mm)", "Max psi", "GPM", "rpm", "Inlet", "Outlet", "Replaces")


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Print how long it took."""
    before, worked = time.perf_counter(), time.process_time()
    yield
    took = time.perf_counter() - before
    print(f"{what:<28} {took:6.2f} s, {time.process_time() - worked:6.2f} s of this process")  # noqa: T201


def made_up(rows: int) -> Iterator[tuple[str, ...]]:
    """Yield rows of an invented list."""
    chance = random.Random(7)
    for place in range(rows):
        shaft = chance.choice(("19.05", "20", "25.4", "28.575", "24"))
        threads = ("3/4-11.5 NH", "G3/4", "M22x1.5", "3/8-18 NPT")
        pressure = f"{1500 + chance.randrange(300) * 10}"
        flow, speed = f"{2 + chance.randrange(400) / 100:.2f}", chance.choice(("3400", "1750", "2800"))
        old = f"ZX-{place // 10}" if place % 10 == 0 else ""
        yield f"ZY-{place}", "Invented", shaft, pressure, flow, speed, chance.choice(threads[:2]), threads[3], old


def main() -> None:
    """Print the seconds of each step, once as text and once as a workbook."""
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    for ending in ("csv", "xlsx"):
        with TemporaryDirectory() as folder:
            path = Path(folder) / f"list.{ending}"
            _write(path, rows)
            print(f"\n{rows} rows, {ending}, {path.stat().st_size // 1024} KB")  # noqa: T201
            _run(path)


def _write(path: Path, rows: int) -> None:
    if path.suffix == ".csv":
        path.write_text("\n".join(";".join(row) for row in (HEADINGS, *made_up(rows))))
        return
    book = Workbook(write_only=True)
    sheet = book.create_sheet("List")
    for row in (HEADINGS, *made_up(rows)):
        sheet.append([float(one) if one.replace(".", "").isdigit() else one for one in row])
    book.save(path)


def _run(path: Path) -> None:
    desk = sample_desk(path.parent)
    with timed("open the catalog"):
        desk.find("A", NO_PROGRESS)
    suppliers = desk.suppliers
    with timed("read the file (child)"):
        file = suppliers.read(path, NO_PROGRESS)
    with timed("guess"):
        said = replace(suppliers.guess(file), supplier="Invented")
    with timed("preview"):
        preview = suppliers.preview(file, said, NO_PROGRESS)
    print({state.value: count for state, count in preview.counts.items()})  # noqa: T201
    with timed("take"):
        print(suppliers.take(preview, "bench").rows, "rows taken")  # noqa: T201
    with timed("find the last number"):
        print([one.number for one in desk.find("ZY-9999", NO_PROGRESS).hits][:1])  # noqa: T201
    with timed("preview again"):
        again = suppliers.preview(file, said, NO_PROGRESS)
    print({state.value: count for state, count in again.counts.items()})  # noqa: T201
    with timed("undo"):
        desk.undo("bench")
    with timed("find after undo"):
        print(len(desk.find("ZY-9999", NO_PROGRESS).hits))  # noqa: T201
    desk.close()


if __name__ == "__main__":
    main()
