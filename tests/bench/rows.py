"""One figure of a bench beside what must be reached; each bench says its own, and one command gathers them all."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Final

# Names a file to which every row that is said is added as well, one JSON text a line (see all_figures.py).
ROWS_FILE: Final = "XREF_BENCH_ROWS"


@dataclass(frozen=True, slots=True)
class Row:
    """What was measured, how far it got and what was asked for; ``is_ok`` is None where nothing is asked."""

    figure: str
    reached: str
    must: str = ""
    is_ok: bool | None = None

    def __str__(self) -> str:
        said = {True: "ok", False: "short", None: ""}[self.is_ok]
        return f"{self.figure:<58} {self.reached:>22}   {self.must:<24} {said}".rstrip()


def at_most(figure: str, reached: float, most: float, unit: str) -> Row:
    """Return the row of a figure that must not be larger than ``most``, both in ``unit``."""
    return Row(figure, f"{reached:.2f} {unit}", f"<= {most:g} {unit}", reached <= most)


def say(line: object) -> None:
    """Print ``line`` at once."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def say_how_busy() -> None:
    """Print how many processes want the machine's cores: where it is more than there are, times say little."""
    say(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")


def say_rows(rows: Iterable[Row]) -> None:
    """Print the rows, and keep them where somebody gathers them."""
    kept = os.environ.get(ROWS_FILE)
    for row in rows:
        say(row)
        if kept:
            with Path(kept).open("a", encoding="utf-8") as file:
                file.write(json.dumps(asdict(row)) + "\n")


def kept_rows(path: Path) -> tuple[Row, ...]:
    """Return the rows in a file that ``say_rows`` added to; none where there is no file."""
    if not path.exists():
        return ()
    return tuple(Row(**json.loads(line)) for line in path.read_text(encoding="utf-8").splitlines())
