"""The made-up stores are stores of this program: its own health check finds nothing, and so does its own reading."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from tests.bench import ready_rows
from tests.bench.large_store import large_store
from xref_app.core.model.catalog import Observation
from xref_app.services.load_catalog import load_catalog
from xref_app.store.connect import outside_transactions, writing
from xref_app.store.engine import Store, open_engine
from xref_app.store.health import check_store
from xref_app.store.repository import CatalogRepository

ENTRIES, FEW_ENTRIES = 10_000, 1_000


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    path = large_store(ENTRIES, tmp_path_factory.mktemp("large"))
    engine = open_engine(path, create=False)
    yield engine
    engine.dispose()


def test_every_row_hash_reference_and_tally_of_a_made_up_store_agrees(store: Store) -> None:
    report = check_store(store)
    assert report.is_whole, (report.complaints, report.damaged[:3], report.tally_breaks, report.chain_break)
    assert report.rows["entries"] == ENTRIES
    assert report.rows["numbers"] > 3 * ENTRIES
    assert report.last_serial == 1


def test_the_program_reads_a_made_up_store_without_damage_and_knows_its_pumps(tmp_path: Path) -> None:
    engine = open_engine(large_store(FEW_ENTRIES, tmp_path), create=False)
    catalog = load_catalog(CatalogRepository(engine))
    engine.dispose()
    pumps = catalog.pumps()
    faces = {
        tuple(
            (one.field, one.as_typed) for one in catalog.observations[pump.entry_id] if one.field[:3] in ("bor", "fla")
        )
        for pump in pumps
    }
    assert catalog.damaged.known().rows == 0
    assert len(pumps) == FEW_ENTRIES * 3 // 5
    assert 30 < len(pumps) / len(faces) < 150
    assert all(row.driver_id in catalog.drivers for row in catalog.machines.values())
    assert all(catalog.entries[row.new_entry_id].kind == "pump" for row in catalog.replaced_by)
    assert catalog.outcomes
    assert catalog.bins


def test_the_health_check_sees_one_value_of_a_made_up_store_that_was_altered(tmp_path: Path) -> None:
    engine = open_engine(large_store(100, tmp_path), create=False)
    try:
        with writing(engine) as connection:
            connection.execute(text("UPDATE observations SET as_typed = as_typed || '0' WHERE observation_id = 7"))
        assert [row.key for row in check_store(engine).damaged] == [("7",)]
    finally:
        engine.dispose()


def test_the_same_seed_gives_the_same_rows_and_another_seed_others(tmp_path: Path) -> None:
    def tallies(folder: str, seed: int) -> object:
        engine = open_engine(large_store(100, tmp_path / folder, seed), create=False)
        try:
            with outside_transactions(engine) as connection:
                return connection.exec_driver_sql("SELECT tallies FROM history").scalar()
        finally:
            engine.dispose()

    assert tallies("one", 5) == tallies("other", 5)
    assert tallies("one", 5) != tallies("one", 6)


def test_a_store_that_is_there_is_not_written_again(tmp_path: Path) -> None:
    path = large_store(100, tmp_path)
    written = path.stat().st_mtime_ns
    assert large_store(100, tmp_path) == path
    assert path.stat().st_mtime_ns == written


def test_a_number_of_entries_that_leaves_a_machine_without_driver_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="multiple of five"):
        large_store(101, tmp_path)


def test_a_stamped_row_with_a_hash_that_is_not_the_programs_is_refused() -> None:
    (row,) = ready_rows.ready([Observation(3, "P-1", "bore_diameter_mm", "19 mm", 19, "é", None, "measured")])
    sound = ready_rows.stamped(row, 7, "E-0000001")
    ready_rows.refuse_other_hash(sound)
    with pytest.raises(ValueError, match="another form"):
        ready_rows.refuse_other_hash((8, *sound[1:]))
