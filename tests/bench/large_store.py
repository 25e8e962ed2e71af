"""A whole store of 10 thousand to a million invented entries, in the program's own format, written once and kept.

Run: python -m tests.bench.large_store ENTRIES FOLDER [SEED]

The rows are hashed and tallied as the program does it and stand in the history as one import; what is left out is the
safety of each step (no journal, no check of references), for a file that is cut off is thrown away. A million entries
take about 4 minutes of processor time, 3.3 GB of disk and 1.3 GB of memory (the texts of all numbers stay in it).
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final, Protocol

import pysqlite3.dbapi2 as binding

from tests.bench.large_rows import EntryRows, large_rows, random_pump
from tests.bench.ready_rows import COLUMNS, Values, refuse_other_hash, stamped
from tests.sample.make_sample_catalog import sample_rows
from xref_app.core.model.catalog_rows import ROW_CLASSES, CatalogRows
from xref_app.store.connect import writing
from xref_app.store.copies import unfinished_name
from xref_app.store.engine import create_store, open_engine
from xref_app.store.history import Change, append, read_head_or_refuse
from xref_app.store.row_hash import for_database, to_values
from xref_app.store.sqlite_file import discard
from xref_app.store.stamp import HEAD
from xref_app.store.tables import OBSERVATIONS, TABLES_BY_NAME, AnyTable, CatalogRow
from xref_app.store.tally import Tally, empty_tallies

SEED: Final = 1
ROWS_AT_ONCE: Final = 20_000
# One transaction that may reach the disk before its end, with no way back: a failed file is thrown away.
SWITCHES: Final = (
    "journal_mode=DELETE",
    "journal_mode=OFF",
    "synchronous=OFF",
    "foreign_keys=OFF",
    "cache_size=-200000",
)
_TABLE_OF: Final = {row_class: TABLES_BY_NAME[name] for name, row_class in ROW_CLASSES.items()}


class _Driver(Protocol):
    """What is used of the driver's connection."""

    def execute(self, words: str, /) -> Iterable[tuple[str, ...]]: ...

    def executemany(self, words: str, rows: Sequence[Values], /) -> object: ...

    def close(self) -> None: ...


def large_store(entries: int, folder: Path, seed: int = SEED) -> Path:
    """Return the store of this format, size and seed in ``folder``, written first where it is not there yet."""
    if entries % 5:
        raise ValueError(f"{entries} entries: give a multiple of five, three pumps to a driver and a machine")
    path = folder.absolute() / f"store-{HEAD}-{entries}-{seed}.sqlite"
    if path.exists():
        return path
    part = unfinished_name(path)
    try:
        create_store(part)
        tallies = _filled(part, entries, seed)
        _write_history(part, tallies, f"{entries} made-up entries, seed {seed}")
        return part.rename(path)
    finally:
        discard(part)


def _filled(part: Path, entries: int, seed: int) -> Mapping[str, Tally]:
    driver: _Driver = binding.connect(str(part), isolation_level=None)
    try:
        for switch in SWITCHES:
            tuple(driver.execute(f"PRAGMA {switch}"))
        indexes = tuple(driver.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'index' AND sql IS NOT NULL"))
        driver.execute("BEGIN")
        for name, _ in indexes:
            driver.execute(f"DROP INDEX {name}")
        tallies = _Writer(driver).write(sample_rows(), entries, seed)
        for _, made in indexes:
            driver.execute(made)
        driver.execute("COMMIT")
    finally:
        driver.close()
    return tallies


def _write_history(part: Path, tallies: Mapping[str, Tally], why: str) -> None:
    engine = open_engine(part, create=False)
    try:
        counts = {name: {"added": one.rows, "changed": 0, "same": 0} for name, one in tallies.items()}
        change = Change(who="the bench", action="import", why=why, before={}, after=counts)
        with writing(engine) as connection:
            append(connection, read_head_or_refuse(connection), change, tallies)
    finally:
        engine.dispose()


class _Writer:
    """Collects rows per table and hands them to the driver some thousand at a time."""

    def __init__(self, driver: _Driver) -> None:
        self._driver = driver
        self._waiting: dict[str, list[Values]] = {}
        self._columns: dict[str, tuple[str, ...]] = {OBSERVATIONS.name: COLUMNS}
        self._tallies = empty_tallies()

    def write(self, sample: CatalogRows, entries: int, seed: int) -> Mapping[str, Tally]:
        """Write everything and return what each table holds."""
        for row in _sample_shelf(sample, entries, seed):
            self._add(row)
        observation_id = 0
        for one in large_rows(sample, entries, seed):
            observation_id = self._add_entry(one, observation_id)
        for name in tuple(self._waiting):
            self._flush(name)
        return self._tallies

    def _add_entry(self, one: EntryRows, observation_id: int) -> int:
        """Add an entry; return the number of its last observation."""
        entry_id = one.entry.entry_id
        for row in (one.entry, *one.numbers, *one.others):
            self._add(row)
        numbered = enumerate(one.observations, start=observation_id + 1)
        self._queue(OBSERVATIONS, [stamped(row, number, entry_id) for number, row in numbered])
        return observation_id + len(one.observations)

    def _add(self, row: CatalogRow) -> None:
        table = _TABLE_OF[type(row)]
        values = for_database(table, to_values(table, row))
        self._columns.setdefault(table.name, tuple(values))
        self._queue(table, [tuple(values.values())])

    def _queue(self, table: AnyTable, rows: list[Values]) -> None:
        waiting = self._waiting.setdefault(table.name, [])
        waiting += rows
        if len(waiting) >= ROWS_AT_ONCE:
            self._flush(table.name)

    def _flush(self, name: str) -> None:
        rows, columns = self._waiting.pop(name), self._columns[name]
        if name == OBSERVATIONS.name:
            refuse_other_hash(rows[0])
        places = ", ".join("?" * len(columns))
        self._driver.executemany(f"INSERT INTO {name} ({', '.join(columns)}) VALUES ({places})", rows)
        at = columns.index("row_hash")
        self._tallies[name] = self._tallies[name].plus(str(row[at]) for row in rows)


def _sample_shelf(sample: CatalogRows, entries: int, seed: int) -> Iterator[CatalogRow]:
    """Yield the sample's parts and all that lies in its bins, whole pumps of the sample taken for made-up ones."""
    rng = random.Random(seed)
    yield from sample.parts
    for place in sample.shelf:
        yield replace(place, entry_id=random_pump(entries, rng)) if place.entry_id else place
    yield from sample.reservations
    for unit in sample.salvaged_units:
        yield replace(unit, entry_id=random_pump(entries, rng))
    yield from sample.unit_reservations


def main(arguments: Sequence[str]) -> int:
    """Write the store that was asked for and say where it lies; return 0."""
    entries, folder, *seed = arguments
    begin = time.perf_counter()
    path = large_store(int(entries), Path(folder), *(int(one) for one in seed))
    taken_s, size_mb = time.perf_counter() - begin, path.stat().st_size / 1e6
    sys.stdout.write(f"{path}: {size_mb:,.0f} MB, {taken_s:.0f} s\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
