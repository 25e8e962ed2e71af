"""Every figure of every bench, one bench after the other, each as a process of its own, and the table at the end.

Run: python -m tests.bench.all_figures [FOLDER]      (a folder for the stores, 4 GB; an hour on a slow machine)

What a bench prints is passed on as it comes. Benches that say Rows (see rows.py) stand in the table with what must be
reached; the others are read as they are. Returns 1 where a figure is short or a bench failed: for people, not a gate.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from tests.bench.rows import ROWS_FILE, Row, kept_rows, say
from tests.bench.window_start import STORES

# The size of each bench that takes one; {stores} is the folder for the stores.
BENCHES: Final[tuple[tuple[str, ...], ...]] = (
    ("find_numbers",),
    ("verdicts",),
    ("window_start", "10000", "{stores}"),
    ("window_start", "100000", "{stores}"),
    ("typing_stall", "1000000", "{stores}"),
)


def gathered(benches: Sequence[Sequence[str]], stores: Path) -> tuple[Row, ...]:
    """Run the benches one after the other and return their rows; one that failed has a row that says so."""
    rows: list[Row] = []
    for name, *arguments in benches:
        say(f"\n== {name} {' '.join(arguments).format(stores=stores)}".rstrip())
        rows += _run(name, [one.format(stores=stores) for one in arguments])
    return tuple(rows)


def _run(name: str, arguments: Sequence[str]) -> tuple[Row, ...]:
    with tempfile.TemporaryDirectory() as folder:
        kept = Path(folder) / "rows"
        command = [sys.executable, "-m", f"tests.bench.{name}", *arguments]
        done = subprocess.run(command, check=False, env={**os.environ, ROWS_FILE: str(kept)})
        rows = kept_rows(kept)
    if done.returncode:
        return (*rows, Row(f"{name} {' '.join(arguments)}".strip(), f"ended with {done.returncode}", "0", is_ok=False))
    return rows


def main(arguments: Sequence[str]) -> int:
    """Print everything; return 1 where a figure is short."""
    rows = gathered(BENCHES, Path(arguments[0]) if arguments else STORES)
    say("\n== all figures")
    for row in rows:
        say(row)
    short = sum(row.is_ok is False for row in rows)
    say(f"{short} short of {sum(row.is_ok is not None for row in rows)} that are asked for")
    return int(short > 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
