"""A folder of the same cells again and again is read as any other: each fault is told where it stands."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.exchange.damaged_folders import ROWS, append, swap
from tests.heard import Heard
from xref_app.core.progress import WorkCancelledError
from xref_app.exchange import data_package_rules, table_schema_cells, table_schema_rows
from xref_app.exchange.data_package import (
    DamagedCatalogError,
    as_rows,
    read_data_package,
    read_package_cells,
    write_data_package,
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_data_package(ROWS, tmp_path / "folder")
    return tmp_path / "folder"


def faults(folder: Path) -> list[tuple[str, int | None, str, str]]:
    with pytest.raises(DamagedCatalogError) as caught:
        read_package_cells(folder)
    return [(one.table, one.row, one.column, one.found) for one in caught.value.problems]


def test_cells_are_those_of_the_rows(folder: Path) -> None:
    assert as_rows(read_package_cells(folder)) == read_data_package(folder) == ROWS


def test_a_bad_cell_is_told_in_every_row_it_stands_in(folder: Path) -> None:
    append("numbers.csv", b"P-1A,B2,old,sheet,\nP-1A,B3,older,sheet,\nP-1A,B4,older,shet,\n")(folder)
    assert faults(folder) == [
        ("numbers", 4, "role", "older"),
        ("numbers", 5, "role", "older"),
        ("numbers", 5, "how", "shet"),
    ]


def test_a_size_out_of_its_range_is_told_of_every_entry_that_has_it(folder: Path) -> None:
    swap("observations.csv", ",22.225,", ",2222.25,")(folder)
    append("observations.csv", b"4,P-1A,bore_diameter_mm,x,2222.25,,,measured,,,,\n")(folder)
    append("observations.csv", b"5,P-1A,bore_diameter_mm,x,22.25,,,measured,,,,\n" * 2)(folder)
    append("observations.csv", b"6,D-1A,bore_diameter_mm,x,22.25,,,measured,,,,\n")(folder)
    assert faults(folder) == [
        ("observations", 7, "observation_id", "5"),
        ("observations", 2, "value", "2222.25"),
        ("observations", 5, "value", "2222.25"),
        ("observations", 8, "field", "bore_diameter_mm"),  # good for a pump, and this is an engine
    ]


@pytest.mark.parametrize("most", [0, 1, 2])
def test_what_is_not_remembered_is_read_anew(folder: Path, monkeypatch: pytest.MonkeyPatch, most: int) -> None:
    for module in (table_schema_cells, data_package_rules):
        monkeypatch.setattr(module, "MOST_REMEMBERED", most)
    assert read_data_package(folder) == ROWS


def test_reading_tells_how_far_it_is_and_can_be_stopped_anywhere(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(table_schema_rows, "_TOLD_EVERY", 1)
    heard = Heard()
    read_package_cells(folder, heard)
    assert heard.shares == sorted(heard.shares)
    assert len(heard.shares) > 20
    for patience in range(len(heard.shares)):
        with pytest.raises(WorkCancelledError):
            read_package_cells(folder, Heard(patience))
