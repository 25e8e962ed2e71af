"""What leaves the shop: whole, without its own affairs, without the sample, and equal when it comes back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from sqlalchemy import Engine

from tests.store.rows import small_catalog
from xref_app.core.model.catalog import Entry
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.core.resources import folder
from xref_app.exchange.data_package import read_data_package
from xref_app.services.export_catalog import NotExportedError, export_folder, export_workbook
from xref_app.services.export_rows import ExportWish, rows_to_export
from xref_app.store.connect import writing
from xref_app.store.engine import open_engine
from xref_app.store.importing import import_catalog
from xref_app.store.repository import CatalogRepository

OWN_AFFAIRS = ("shelf", "reservations", "salvaged_units", "unit_reservations")
ALL = ExportWish()
WITH_SHOP = ExportWish(with_shop=True)


def packaged_rows() -> CatalogRows:
    return read_data_package(Path(str(folder("sample_catalog"))))


@pytest.fixture
def engine(tmp_path: Path) -> Iterator[Engine]:
    """The shop's own store with some entries of its own, of which one has a name that a spreadsheet would run."""
    rows = packaged_rows()
    own = tuple(replace(one, entry_id=f"X{one.entry_id}", maker="=1+1") for one in rows.entries if one.kind == "pump")
    engine = open_engine(tmp_path / "shop.sqlite")
    import_catalog(engine, CatalogRows(entries=own), who="Ana", why="own")
    yield engine
    engine.dispose()


def test_what_was_exported_reads_the_same_into_an_empty_store(tmp_path: Path, engine: Engine) -> None:
    told = export_folder(engine, tmp_path / "out", WITH_SHOP)
    rows = read_data_package(tmp_path / "out")
    assert rows == replace(CatalogRepository(engine).everything(), photos=())
    assert (told.rows, told.damaged, told.of_sample) == ({"entries": len(rows.entries)}, 0, 0)


def test_the_sample_never_goes_out_with_the_shops_own(tmp_path: Path, engine: Engine) -> None:
    own = CatalogRepository(engine).everything()
    sample = packaged_rows()
    import_catalog(engine, sample, who="Ana", why="a slip")
    told = export_folder(engine, tmp_path / "out", WITH_SHOP)
    assert told.of_sample == len(sample.entries)
    assert read_data_package(tmp_path / "out").entries == own.entries
    assert not read_data_package(tmp_path / "out").observations


def test_a_whole_catalog_leaves_without_what_lies_in_the_shop_unless_asked_for() -> None:
    rows = packaged_rows()
    left = rows_to_export(rows, ALL)
    for name in (*OWN_AFFAIRS, "photos"):
        assert not getattr(left, name)
    assert left.parts == rows.parts
    assert left.observations == rows.observations
    assert rows_to_export(rows, WITH_SHOP) == replace(rows, photos=())


def test_a_machine_brings_its_engine_its_pump_and_what_happened_between_those_that_go() -> None:
    rows = small_catalog()
    left = rows_to_export(rows, ExportWish(frozenset({"M001"})))
    assert {one.entry_id for one in left.entries} == {"M001", "D001", "P001"}
    assert [one.outcome_id for one in left.outcomes] == ["O1"]
    assert [one.blamed_id for one in left.blamed_sizes] == ["B1"]
    assert not left.parts
    assert not left.replaced_by
    alone = rows_to_export(rows, ExportWish(frozenset({"P001"})))
    assert not alone.outcomes
    assert not alone.machines
    assert {one.entry_id for one in alone.observations} == {"P001"}


def test_no_row_that_leaves_names_one_that_stays() -> None:
    rows = packaged_rows()
    machines = [one.entry_id for one in rows.machines]
    for chosen in (machines[:1], machines[3:9], [one.entry_id for one in rows.entries][::7]):
        left = rows_to_export(rows, ExportWish(frozenset(chosen), with_shop=True))
        ids = {one.entry_id for one in left.entries}
        assert set(chosen) <= ids
        assert all({one.entry_id, one.new_entry_id} <= ids for one in left.replaced_by)
        assert all({one.machine_id, one.pump_id} <= ids for one in left.outcomes)
        for table in (left.numbers, left.observations, left.ports, left.machines):
            assert {one.entry_id for one in table} <= ids
        assert {one.shelf_id for one in left.reservations} <= {one.shelf_id for one in left.shelf}


def test_no_cell_of_a_workbook_is_a_formula(tmp_path: Path, engine: Engine) -> None:
    risky = ("=1+1", "+1", "-12", "@SUM(A1)", "http://example.invalid", "＝1", "'=1", "12")
    made = tuple(Entry(f"Z-{n:02}", "pump", text, text) for n, text in enumerate(risky))
    import_catalog(engine, CatalogRows(entries=made), who="Ana", why="texts")
    told = export_workbook(engine, tmp_path / "out.xlsx", WITH_SHOP)
    book = openpyxl.load_workbook(tmp_path / "out.xlsx")
    cells = [cell for sheet in book for row in sheet for cell in row]
    assert {cell.data_type for cell in cells} == {"s", "n"}  # an empty cell counts as a number
    names = {row[0]: row[3] for row in book["entries"].values}
    assert [names[one.entry_id] for one in made] == list(risky)
    assert told.path == tmp_path / "out.xlsx"


def test_numbers_and_unknowns_of_a_workbook_are_what_they_are(tmp_path: Path, engine: Engine) -> None:
    import_catalog(engine, packaged_rows(), who="Ana", why="to look at")
    export_workbook(engine, tmp_path / "all.xlsx", WITH_SHOP, is_sample=True)
    book = openpyxl.load_workbook(tmp_path / "all.xlsx")
    seen = next(one for one in packaged_rows().observations if one.doubt is None and one.value is not None)
    row = next(row for row in book["observations"].values if row[0] == seen.observation_id)
    assert (row[4], row[6]) == (seen.value, None)
    cells = [cell for sheet in book for row in sheet for cell in row]
    assert {cell.data_type for cell in cells} == {"s", "n"}  # LibreOffice makes =TRUE() of a cell of truth values
    assert book.properties.title.startswith("SAMPLE")


def test_a_damaged_row_is_left_out_and_told(tmp_path: Path, engine: Engine) -> None:
    with writing(engine) as connection:
        connection.exec_driver_sql("UPDATE entries SET note = 'altered' WHERE entry_id = 'XP-001'")
    told = export_folder(engine, tmp_path / "out", ALL)
    assert told.damaged == 1
    assert "XP-001" not in {one.entry_id for one in read_data_package(tmp_path / "out").entries}


def test_what_cannot_be_exported_is_one_sentence(tmp_path: Path, engine: Engine) -> None:
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "letter.txt").write_text("x")
    with pytest.raises(NotExportedError, match="holds other files, so nothing was exported – give a new or empty"):
        export_folder(engine, tmp_path / "other", ALL)
    with pytest.raises(NotExportedError, match="there is no entry “NOBODY” – look it up with find"):
        export_folder(engine, tmp_path / "out", ExportWish(frozenset({"NOBODY"})))
    assert not (tmp_path / "out").exists()
    empty = open_engine(tmp_path / "empty.sqlite")
    with pytest.raises(NotExportedError, match="no entry of the shop's own is left"):
        export_folder(empty, tmp_path / "out", ALL)
    empty.dispose()
