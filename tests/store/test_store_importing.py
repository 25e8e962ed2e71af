"""A package goes in whole or not at all, and twice is once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tests.store.rows import every_byte, small_catalog
from xref_app.core.model.catalog import Entry, MachineRow, Number, Observation
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.store.connect import writing
from xref_app.store.engine import open_engine
from xref_app.store.errors import DamagedStoreError, DoubledKeyError, LostReferenceError, StoreError
from xref_app.store.health import check_store
from xref_app.store.history import read_history
from xref_app.store.importing import ImportCount, import_catalog
from xref_app.store.repository import CatalogRepository
from xref_app.store.writing import add_observation, withdraw


def rows_of(catalog: CatalogRows) -> int:
    return sum(len(getattr(catalog, name)) for name in CatalogRows.__dataclass_fields__)


def test_the_same_package_again_adds_nothing_and_writes_nothing(path: Path, engine: Engine) -> None:
    catalog = small_catalog()
    assert import_catalog(engine, catalog, who="Ana", why="first") == ImportCount(rows_of(catalog), 0, 0)
    engine.dispose()
    before = every_byte(path.parent)
    again = open_engine(path)
    assert import_catalog(again, catalog, who="Ana", why="again") == ImportCount(0, 0, rows_of(catalog))
    assert len(read_history(again)) == 1
    again.dispose()
    assert every_byte(path.parent) == before


def test_an_import_is_one_history_row_with_its_counts(filled: Engine) -> None:
    (row,) = read_history(filled)
    assert (row.serial, row.change.who, row.change.action, row.change.why) == (1, "Ana", "import", "first stock")
    assert row.change.after is not None
    assert row.change.after["observations"] == {"added": 48, "changed": 0, "same": 0}


def test_a_changed_row_is_overwritten_and_the_old_one_kept_in_the_history(filled: Engine) -> None:
    catalog = small_catalog()
    better = replace(catalog.observations[0], value=25.4, as_typed="1 in")
    count = import_catalog(filled, CatalogRows(observations=(better,)), who="Ben", why="measured again")
    assert count == ImportCount(0, 1, 0)
    assert CatalogRepository(filled).observations_of(["P000"])["P000"][0] == better
    before = read_history(filled, limit=1)[0].change.before
    assert before is not None
    observed = before["observations"]
    assert isinstance(observed, list)
    assert [one["as_typed"] for one in observed] == ["10.0 mm"]
    assert check_store(filled).is_whole


def test_what_the_package_lacks_stays(filled: Engine) -> None:
    import_catalog(filled, CatalogRows(entries=(Entry("N1", "pump", "x", "x"),)), who="Ana", why="one more")
    assert len(CatalogRepository(filled).entries("pump")) == 13


def test_a_withdrawn_row_stays_withdrawn_when_its_package_comes_again(filled: Engine) -> None:
    withdraw(filled, "observations", (1,), who="Ana", why="misread")
    count = import_catalog(filled, small_catalog(), who="Ben", why="again")
    assert (count.added, count.changed) == (0, 0)
    assert [one.observation_id for one in CatalogRepository(filled).observations_of(["P000"])["P000"]] == [2, 3, 4]


def test_what_the_shop_measured_itself_is_out_of_reach_of_a_package(filled: Engine) -> None:
    own = add_observation(
        filled, Observation(0, "P001", "length", "9", 9.0, "", 1.0, "measured"), who="Ana", why="on the bench"
    )
    more = replace(small_catalog().observations[0], observation_id=49)
    import_catalog(filled, CatalogRows(observations=(more,)), who="Ben", why="next package")
    assert own in CatalogRepository(filled).observations_of(["P001"])["P001"]


DOUBLED = small_catalog().entries[0]


@pytest.mark.parametrize(
    ("rows", "kind", "sentence"),
    [
        (
            CatalogRows(entries=(Entry("N1", "pump", "", ""),), numbers=(Number("N2", "7", "maker", "plate"),)),
            LostReferenceError,
            (
                "numbers, N2 7: entry_id names “N2”, which is not in the catalog; "
                "nothing was changed: add it or correct the name."
            ),
        ),
        (
            CatalogRows(
                entries=(Entry("N1", "machine", "", ""),), machines=(MachineRow("N1", "WX", "D001", pump_id="P9"),)
            ),
            LostReferenceError,
            (
                "machines, N1: pump_id names “P9”, which is not in the catalog; "
                "nothing was changed: add it or correct the name."
            ),
        ),
        (
            CatalogRows(entries=(DOUBLED, replace(DOUBLED, name="other"))),
            DoubledKeyError,
            "entries, P000: two rows of the package have this key; nothing was changed: give one of them another key.",
        ),
        (
            CatalogRows(
                entries=(Entry("N1", "pump", "", ""),),
                observations=(Observation(1, "N1", "oil", "sealed", None, "sealed", None, "plate"),),
            ),
            DoubledKeyError,
            (
                "observations, 1: it is bore_diameter_mm of P000 here and oil of N1 in the package; "
                "nothing was changed: give one of them another key."
            ),
        ),
    ],
    ids=["lost entry", "lost pump", "doubled", "other thing"],
)
def test_a_package_with_one_fault_changes_not_one_byte(
    path: Path, filled: Engine, rows: CatalogRows, kind: type[StoreError], sentence: str
) -> None:
    filled.dispose()
    before = every_byte(path.parent)
    engine = open_engine(path)
    with pytest.raises(kind) as caught:
        import_catalog(engine, rows, who="Ana", why="faulty")
    engine.dispose()
    assert str(caught.value) == sentence
    assert every_byte(path.parent) == before


def test_a_fault_of_the_disk_in_the_middle_changes_not_one_byte(path: Path, filled: Engine) -> None:
    """SQLite's own page limit stands for the full disk: it refuses (SQLITE_FULL) after most rows are written."""
    filled.dispose()
    before = every_byte(path.parent)
    engine = open_engine(path)
    many = tuple(Entry(f"N{n:05}", "pump", "x" * 200, "y" * 200) for n in range(3000))
    with writing(engine) as connection:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar_one()
        connection.exec_driver_sql(f"PRAGMA max_page_count={pages + 40}")
    with pytest.raises(StoreError) as caught:
        import_catalog(engine, CatalogRows(entries=many), who="Ana", why="too many")
    engine.dispose()
    assert str(caught.value) == (
        f"The disk that holds “{path}” is full; nothing was changed: free some space and save again."
    )
    assert every_byte(path.parent) == before


def test_nothing_is_built_upon_a_damaged_row(path: Path, filled: Engine) -> None:
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE parts SET thickness_mm = 3 WHERE part_id = 'S32'")
    with pytest.raises(DamagedStoreError) as caught:
        import_catalog(filled, small_catalog(), who="Ana", why="again")
    assert str(caught.value) == (
        f"“{path}” is damaged (row S32 of parts does not match its check sum); "
        "leave the file as it is and put back the last copy."
    )
