"""How long a copy of a large store takes to be looked at and put back, and what memory that takes.

Run: python -m tests.bench.restore [ENTRIES]

Each way runs in a process of its own on a store of its own, so that the memory told is that of this way.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from tests.bench.catalog_file import apart, store_in, timed
from tests.bench.large_store import large_store
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.services.daily_copies import daily_copy
from xref_app.services.kept_copies import kept_copies
from xref_app.services.restore import Way, restore, what_would_change
from xref_app.store.connect import writing
from xref_app.store.engine import Store, open_engine
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.tables import CATALOG_TABLES
from xref_app.store.writing import withdraw

ENTRIES: Final = 50_000


def a_day(store: Store) -> None:
    """Withdraw 100 entries and rename 500."""
    entries = CatalogRepository(store).entries("pump")
    for one in entries[:100]:
        withdraw(store, "entries", (one.entry_id,), who="Ana", why="scrap")
    renamed = tuple(replace(one, name=f"{one.name} B") for one in entries[100:600])
    import_catalog(store, CatalogRows(entries=renamed), who="Ana", why="renamed")


def another_edition(store: Store) -> None:
    """Give one observation in ten another source."""
    observed = CatalogRepository(store).all_observations("pump")
    rows = tuple(replace(one, source="sheet B") for of_entry in observed.values() for one in of_entry[::10])
    import_catalog(store, CatalogRows(observations=rows), who="Ana", why="another edition")


def damage(store: Store) -> None:
    """Alter one observation in a hundred behind the program's back."""
    with writing(store) as connection:
        connection.exec_driver_sql("UPDATE observations SET as_typed = as_typed || 'x' WHERE observation_id % 100 = 0")


WAYS: Final[Mapping[str, tuple[Callable[[Store], None], Way]]] = {
    "a day since, all": (a_day, Way.ALL),
    "a day since, what is missing": (a_day, Way.MISSING),
    "one row in a hundred damaged": (damage, Way.DAMAGED),
    "another edition since, all": (another_edition, Way.ALL),
}


def happen(folder: Path, whole: Path, name: str) -> None:
    """Make a store and its copy, and have something happen to the store."""
    path = store_in(folder)
    path.parent.mkdir(parents=True)
    shutil.copyfile(whole, path)
    store = open_engine(path)
    made = daily_copy(store)
    if made.copy is None:
        sys.exit(made.warning)
    WAYS[name][0](store)
    store.dispose()


def look_and_restore(folder: Path, name: str) -> None:
    """Do what the window does: look first, then put back."""
    path = store_in(folder)
    (copy,) = kept_copies(path)
    way = WAYS[name][1]
    store = open_engine(path)
    with timed(f"{name}: look"):
        told = what_would_change(store, copy.path, way)
    store.dispose()
    with timed(f"{name}: put back"):
        restore(path, copy.path, way, who="Ana")
    counts = (told.vanish, told.altered, told.back, told.mended)
    sys.stdout.write("vanish {}, altered {}, back {}, mended {}\n".format(*map(dict, counts)))


def main(entries: int) -> None:
    """Print two lines per way."""
    with tempfile.TemporaryDirectory(prefix="xref-bench-") as made:
        folder = Path(made)
        apart(large_store, entries, folder)
        (whole,) = folder.glob("*.sqlite")
        sys.stdout.write(f"{entries} entries, {len(CATALOG_TABLES)} tables, {whole.stat().st_size / 1e6:.0f} MB\n")
        for name in WAYS:
            apart(happen, folder, whole, name)
            apart(look_and_restore, folder, name)
            shutil.rmtree(store_in(folder).parent)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else ENTRIES)
