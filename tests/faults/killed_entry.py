"""The entry that is killed, and what forks and kills it: one process that imports everything once.

Run as ``python -m tests.faults.killed_entry``, it reads one job a line (JSON) and answers with the lines that the child
said before it was killed. The child does one thing after the other and says so only after the store has returned: it
keeps a draft after every field and saves after the last one.
"""

from __future__ import annotations

import json
import os
import select
import signal
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from sqlalchemy import Engine

from xref_app.core.model.catalog import Entry, Number, Observation
from xref_app.store.drafts import Draft, keep_draft
from xref_app.store.edits import Numbers, RowEdit, save_edits
from xref_app.store.engine import open_engine

FIELDS = (
    *("bore_diameter_mm", "bore_depth_mm", "flange_thickness_mm", "pump_length_mm"),
    *("pump_height_mm", "pump_width_mm", "rating_speed_rpm", "rating_pressure_bar"),
)

Say = Callable[[str], None]


def draft_id(run: int, entry: int) -> str:
    return f"run-{run}-{entry}"


def typed(name: str, field: int) -> str:
    """Return what is typed into a field: another text for each field of each entry."""
    return f"{name} {FIELDS[field]} {field + 0.5} mm"


def draft_of(name: str, fields: int) -> Draft:
    content = json.dumps({FIELDS[place]: typed(name, place) for place in range(fields)})
    return Draft(name, "pump", content, "2026-11-25T10:00:00+00:00")


def rows_of(numbers: Numbers, name: str) -> list[RowEdit]:
    """Return the whole entry: itself, its number, its eight sizes."""
    entry = numbers.entry_id()
    sizes = [
        Observation(numbers.observation_id(), entry, field, typed(name, place), place + 0.5, "", 0.05, "measured")
        for place, field in enumerate(FIELDS)
    ]
    return [
        RowEdit("entries", None, Entry(entry, "pump", "Nobody", name)),
        RowEdit("numbers", None, Number(entry, name, "plate", "plate")),
        *(RowEdit("observations", None, one) for one in sizes),
    ]


def save(engine: Engine, name: str, rows: Callable[[Numbers], Sequence[RowEdit]], save_id: str) -> None:
    save_edits(engine, rows, name=name, who="Ana", why="on the bench", save_id=save_id)


def enter(engine: Engine, name: str, say: Say) -> None:
    """Enter one unit as the program does."""
    for fields in range(1, len(FIELDS) + 1):
        keep_draft(engine, draft_of(name, fields))
        say(f"kept {name} {fields}")
    save(engine, name, lambda numbers: rows_of(numbers, name), name)
    say(f"saved {name}")


def enter_saying_before(engine: Engine, name: str, say: Say) -> None:
    """Plant the fault of a program that says it before it is true."""
    for fields in range(1, len(FIELDS) + 1):
        say(f"kept {name} {fields}")
        keep_draft(engine, draft_of(name, fields))
    say(f"saved {name}")
    save(engine, name, lambda numbers: rows_of(numbers, name), name)


def enter_by_halves(engine: Engine, name: str, say: Say) -> None:
    """Plant the fault of a program that saves the entry first and its sizes after."""
    rows: list[RowEdit] = []

    def first(numbers: Numbers) -> list[RowEdit]:
        rows.extend(rows_of(numbers, name))
        return rows[:2]

    save(engine, name, first, f"{name} first")
    save(engine, name, lambda _: rows[2:], name)
    say(f"saved {name}")


WAYS = {"as it is": enter, "says before": enter_saying_before, "by halves": enter_by_halves}


@dataclass(frozen=True)
class Job:
    """Kill the child of ``run`` so many ``seconds`` after it said so many ``lines``."""

    store: str
    run: int
    way: str
    lines: int
    seconds: float


@cache
def warm_engine(store: Path) -> Engine:
    """Return an Engine that has its statements ready and no connection open: each child opens its own."""
    engine = open_engine(store, create=False)
    enter(engine, f"warm-{store.stem}", lambda _: None)
    engine.dispose()
    return engine


def child(engine: Engine, job: Job, pipe: int) -> None:
    def say(line: str) -> None:
        os.write(pipe, f"{line}\n".encode())

    for entry in range(10_000):
        WAYS[job.way](engine, draft_id(job.run, entry), say)


def killed_after(job: Job) -> list[str]:
    """Fork the child, kill it as the job says, and return the whole lines it said."""
    engine = warm_engine(Path(job.store))
    mine, its = os.pipe()
    number = os.fork()
    if number == 0:
        try:
            child(engine, job, its)
        finally:
            os._exit(1)  # a child that fails must not go on as its parent
    os.close(its)
    said = b""
    while said.count(b"\n") < job.lines and (some := os.read(mine, 65_536)):
        said += some
    end = time.monotonic() + job.seconds
    while (left := end - time.monotonic()) > 0 and select.select([mine], [], [], left)[0]:
        if not (some := os.read(mine, 65_536)):
            break
        said += some
    os.kill(number, signal.SIGKILL)
    while some := os.read(mine, 65_536):
        said += some
    os.close(mine)
    _, status = os.waitpid(number, 0)
    if os.WIFEXITED(status):
        raise RuntimeError("the child ended by itself; nothing was tested")
    return [line for line in said.decode().split("\n")[:-1] if line]


def main() -> None:
    for line in sys.stdin:
        said = killed_after(Job(**json.loads(line)))
        sys.stdout.write(json.dumps(said) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
