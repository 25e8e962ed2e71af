"""A shop's store with a copy and work done since; everything in it is the invented sample's."""

from __future__ import annotations

from pathlib import Path

import pysqlite3.dbapi2 as binding

from tests.services.bench_store import sample_store
from xref_app.core.model.catalog import Entry, Observation
from xref_app.services.daily_copies import copy_before, daily_copy
from xref_app.services.kept_copies import Kind
from xref_app.store.edits import RowEdit, save_edits
from xref_app.store.engine import Store
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import add_observation, withdraw

NEW_ENTRIES = 3
READ_ANEW = 4
LENGTH = Observation(0, "P-001", "pump_length_mm", "210", 210.0, "", 1.0, "measured", "Ana", "2026-01-07")


def copied_shop(place: Path) -> Path:
    """Return the path of a store in ``place`` whose copies are older: new entries, new readings, one taken away."""
    place.mkdir(parents=True, exist_ok=True)
    store = sample_store(place)
    daily_copy(store)
    _work_on(store)
    copy_before(store, Kind.IMPORT)
    store.dispose()
    return place / "shop.sqlite"


def _work_on(store: Store) -> None:
    entries = [Entry(f"OWN-{one:05}", "pump", "", "bench pump", added_by="Ana") for one in range(1, NEW_ENTRIES + 1)]
    edits = [RowEdit("entries", None, one) for one in entries]
    save_edits(store, lambda _numbers: edits, name="Three pumps", who="Ana", why="", save_id="three pumps")
    for _ in range(READ_ANEW):
        add_observation(store, LENGTH, who="Ana", why="bench")
    read = CatalogRepository(store).observations_of(("P-002",))["P-002"]
    withdraw(store, "observations", (read[0].observation_id,), who="Ana", why="read wrong")


def hurt_reading(path: Path) -> None:
    """Alter a value of the sample behind the program's back."""
    with binding.connect(path) as store:
        store.execute(
            "UPDATE observations SET value = value + 1 WHERE field = 'bore_diameter_mm' AND entry_id = 'P-001'"
        )
    store.close()
