"""10,000 random edits undone one by one give back what was there, and done again give back the end.

A plain dictionary keeps what should be there: it is changed by each edit and never reads the store. The store is the
usual file with the usual switches; it lies in memory (/dev/shm) where there is such a place, because these tests ask
about content and not about disks: 30,000 acts are 30,000 times waiting for a disk. The kill tests use the disk.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from sqlalchemy import Engine

from tests.store.rows import FIELDS, small_catalog
from xref_app.core.model.catalog import Entry, Number, Observation, Photo, PortRow, SalvagedUnit, ShelfRow
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.edits import Numbers, RowEdit, next_redo, next_undo, redo, save_edits, undo
from xref_app.store.engine import open_engine
from xref_app.store.health import check_store
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.tables import TABLES_BY_NAME, CatalogRow

EDITS = 10_000
MIXED_STEPS = 1_500
Key = tuple[object, ...]
Live = dict[Key, CatalogRow]


def key_of(table: str, row: CatalogRow) -> Key:
    return (table, *(getattr(row, name) for name in TABLES_BY_NAME[table].key))


def live_rows(rows: CatalogRows) -> Live:
    """Return every row that is not withdrawn, by table and key."""
    return {
        key_of(table, row): row
        for table in CatalogRows.__dataclass_fields__
        for row in getattr(rows, table)
        if not getattr(row, "withdrawn_on", "")
    }


@pytest.fixture
def path() -> Iterator[Path]:
    memory = Path("/dev/shm")  # noqa: S108 - a folder of our own is made in it
    usable = memory.is_dir() and os.access(memory, os.W_OK)
    with TemporaryDirectory(prefix="xref-undo-", dir=memory if usable else None) as folder:
        yield Path(folder) / "store" / "shop.sqlite"


class Bench:
    """A shop at work: makes random edits of what is there and keeps in mind what should be there afterwards."""

    def __init__(self, engine: Engine, seed: int) -> None:
        self.engine = engine
        self.rng = random.Random(seed)
        self.live = live_rows(small_catalog())
        self.past: list[dict[Key, tuple[CatalogRow | None, CatalogRow | None]]] = []
        self.future: list[dict[Key, tuple[CatalogRow | None, CatalogRow | None]]] = []
        self.saves = 0
        self.meant: list[RowEdit] = []

    def edit(self) -> None:
        self.saves += 1
        saved = save_edits(
            self.engine, self.some_edits, name=f"edit {self.saves}", who="Ana", why="", save_id=f"s{self.saves}"
        )
        assert set(saved.edits) == set(self.meant)
        change = {}
        for one in self.meant:
            row = one.after or one.before
            assert row is not None
            key = key_of(one.table, row)
            change[key] = (self.live.get(key), one.after)
        self.past.append(change)
        self.future.clear()
        self.put({key: after for key, (_, after) in change.items()})

    def put(self, rows: dict[Key, CatalogRow | None]) -> None:
        for key, row in rows.items():
            if row is None:
                self.live.pop(key, None)
            else:
                self.live[key] = row

    def undo(self) -> bool:
        step = undo(self.engine, who="Ben")
        assert (step is not None) == bool(self.past)
        if step is None:
            return False
        change = self.past.pop()
        self.future.append(change)
        self.put({key: before for key, (before, _) in change.items()})
        return True

    def redo(self) -> bool:
        step = redo(self.engine, who="Cem")
        assert (step is not None) == bool(self.future)
        if step is None:
            return False
        change = self.future.pop()
        self.past.append(change)
        self.put({key: after for key, (_, after) in change.items()})
        return True

    def some_edits(self, numbers: Numbers) -> Sequence[RowEdit]:
        """Return one to three edits, each of another row."""
        made: dict[Key, RowEdit] = {}
        for _ in range(self.rng.randint(1, 3)):
            # More comes than goes, so that there is always something to be withdrawn.
            edit = self.rng.choices((self.new_row, self.change, self.withdraw), (3, 3, 2))[0](numbers)
            row = edit.after or edit.before
            assert row is not None
            made.setdefault(key_of(edit.table, row), edit)
        self.meant = list(made.values())
        return self.meant

    def new_row(self, numbers: Numbers) -> RowEdit:
        rng = self.rng
        owner, mark = f"P{rng.randrange(12):03}", rng.randrange(10**9)
        rows: dict[str, Callable[[], CatalogRow]] = {
            "entries": lambda: Entry(numbers.entry_id(), "pump", "Nobody", f"Pump {mark}"),
            "numbers": lambda: Number(owner, f"N {mark}", "seller", "sheet"),
            "observations": lambda: self.observation(numbers, owner),
            "photos": lambda: Photo(owner, f"{mark:064x}", "Plate", 800, 600),
            "shelf": lambda: ShelfRow(f"H{mark}", "S32", "", "C1", rng.randrange(9), rng.choice((None, 0.1, 12.5))),
            "salvaged_units": lambda: SalvagedUnit(f"U{mark}", owner, hours=rng.choice((None, 0.3))),
        }
        table = rng.choice(list(rows))
        return RowEdit(table, None, rows[table]())

    def observation(self, numbers: Numbers, owner: str) -> Observation:
        value = self.rng.uniform(5, 50)
        field = self.rng.choice(FIELDS)
        return Observation(numbers.observation_id(), owner, field, f"{value} mm", value, "", 0.05, "measured")

    def any_row(self, kinds: tuple[type, ...]) -> tuple[str, CatalogRow]:
        keys = list(self.live)
        while True:
            key = self.rng.choice(keys)
            if isinstance(self.live[key], kinds):
                return str(key[0]), self.live[key]

    def change(self, _numbers: Numbers) -> RowEdit:
        table, row = self.any_row((Entry, Observation, PortRow, ShelfRow, Photo))
        mark = str(self.rng.randrange(10**9))
        if isinstance(row, Entry):
            return RowEdit(table, row, replace(row, note=mark))
        if isinstance(row, Observation):
            return RowEdit(table, row, replace(row, value=self.rng.uniform(5, 50), as_typed=mark))
        if isinstance(row, PortRow):
            return RowEdit(table, row, replace(row, seen_by=mark, swivel=self.rng.choice((None, True, False))))
        if isinstance(row, ShelfRow):
            return RowEdit(table, row, replace(row, count=row.count + 1))
        assert isinstance(row, Photo)
        return RowEdit(table, row, replace(row, caption=mark))

    def withdraw(self, _numbers: Numbers) -> RowEdit:
        table, row = self.any_row((Observation, Number, Photo, ShelfRow, SalvagedUnit))
        return RowEdit(table, row, None)

    def stands(self) -> bool:
        return live_rows(CatalogRepository(self.engine).everything()) == self.live


def restarted(bench: Bench, path: Path) -> None:
    bench.engine.dispose()
    bench.engine = open_engine(path, create=False)


def filled_store(path: Path) -> Engine:
    engine = open_engine(path)
    import_catalog(engine, small_catalog(), who="Ana", why="first stock")
    return engine


def test_ten_thousand_edits_undone_and_done_again(path: Path) -> None:
    bench = Bench(filled_store(path), seed=1)
    start = dict(bench.live)
    assert bench.stands()
    for _ in range(EDITS):
        bench.edit()
    assert bench.stands()
    end = dict(bench.live)
    for place in range(EDITS):
        if place == EDITS // 2:
            restarted(bench, path)
            assert bench.stands()
        assert bench.undo()
    assert not bench.undo()
    assert next_undo(bench.engine) is None
    assert live_rows(CatalogRepository(bench.engine).everything()) == start
    for place in range(EDITS):
        if place == EDITS // 3:
            restarted(bench, path)
            assert bench.stands()
        assert bench.redo()
    assert next_redo(bench.engine) is None
    assert live_rows(CatalogRepository(bench.engine).everything()) == end
    report = check_store(bench.engine)
    assert report.is_whole
    assert report.last_serial == 1 + 3 * EDITS
    bench.engine.dispose()


def test_edits_undo_and_redo_in_any_order(path: Path) -> None:
    bench = Bench(filled_store(path), seed=2)
    start = dict(bench.live)
    for step in range(MIXED_STEPS):
        act = bench.rng.choices((bench.edit, bench.undo, bench.redo), (5, 4, 2))[0]
        act()
        if step % 50 == 0:
            assert bench.stands()
        if step % 400 == 399:
            restarted(bench, path)
    while bench.undo():
        pass
    assert live_rows(CatalogRepository(bench.engine).everything()) == start
    while bench.redo():
        pass
    assert bench.stands()
    assert check_store(bench.engine).is_whole
    bench.engine.dispose()
