"""Messy lists of invented suppliers come out as worked out by hand, cell by cell."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.exchange.supplier_files.books import BOOKS
from tests.exchange.supplier_files.messy import FIELDS, Messy
from tests.exchange.supplier_files.texts import TEXTS
from xref_app.core.progress import NO_PROGRESS
from xref_app.exchange.supplier_lines import lines_of
from xref_app.exchange.supplier_reading import read_supplier_file
from xref_app.exchange.supplier_sheet import RawFile, RawSheet
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_desk import likeliest_sheet
from xref_app.services.supplier_heading_row import guess_map
from xref_app.services.supplier_rows import RowReading, read_rows

MESSY = (*TEXTS, *BOOKS)
THROUGH_THE_CHILD = ("semicolons", "western heading", "utf-16 without its mark", "a merged title", "several sheets")


def in_process(messy: Messy) -> RawFile:
    """Return the file as the child hands it on, without a child."""
    sheets: list[tuple[str, list[tuple[str, ...]]]] = []
    for line in lines_of(messy.data):
        if not isinstance(line, dict):
            sheets[-1][1].append(tuple(line))
        elif "sheet" in line:
            sheets.append((str(line["sheet"]), []))
    return RawFile(messy.name, tuple(RawSheet(name, tuple(rows)) for name, rows in sheets if rows))


def rows_of(file: RawFile, kind: str) -> list[str]:
    sheet = file.sheets[likeliest_sheet(file, SheetKind(kind))]
    columns = guess_map(sheet.rows, SheetKind(kind))
    return [spelled(one) for one in read_rows(sheet.rows, columns, {}, how="claimed", progress=NO_PROGRESS).rows]


def spelled(row: RowReading) -> str:
    short = {field: name for name, field in FIELDS.items()} | {"power_speed_rpm": "rpm"}
    sizes = []
    for one in row.readings:
        value = one.observed.value
        shown = one.observed.text if value is None else f"{value:.3f}".rstrip("0").rstrip(".")
        sizes.append(f"{short[one.field.field_id]}={shown}")
    replaces = [f"replaces={'+'.join(row.replaces)}"] if row.replaces else []
    return " ".join([row.state.value, row.number, *sorted([*sizes, *replaces])])


def expected(messy: Messy) -> list[str]:
    """Return the rows worked out by hand, the sizes of each in one order."""
    rows = []
    for row in messy.rows:
        at = min((place for name in (*FIELDS, "replaces") if (place := row.find(f" {name}=")) >= 0), default=len(row))
        sizes = row[at:].replace(" replaces=", "\nreplaces=")
        for name in FIELDS:
            sizes = sizes.replace(f" {name}=", f"\n{name}=")
        rows.append(" ".join([row[:at], *sorted(one for one in sizes.split("\n") if one)]))
    return rows


def test_there_are_sixty_messy_files_and_no_two_share_a_name() -> None:
    assert len({one.name for one in MESSY}) == len(MESSY) >= 60


@pytest.mark.parametrize("messy", MESSY, ids=lambda one: one.name)
def test_a_messy_file_comes_out_as_worked_out_by_hand(messy: Messy) -> None:
    assert rows_of(in_process(messy), messy.kind) == expected(messy)


@pytest.mark.parametrize(
    "messy", [one for one in MESSY if one.name.rpartition(".")[0] in THROUGH_THE_CHILD], ids=lambda one: one.name
)
def test_the_child_hands_on_the_same_cells(messy: Messy, tmp_path: Path) -> None:
    path = tmp_path / messy.name
    path.write_bytes(messy.data)
    assert read_supplier_file(path, NO_PROGRESS).sheets == in_process(messy).sheets


@pytest.mark.parametrize("messy", MESSY, ids=lambda one: one.name)
def test_whatever_is_not_good_says_why(messy: Messy) -> None:
    file = in_process(messy)
    sheet = file.sheets[likeliest_sheet(file, SheetKind(messy.kind))]
    columns = guess_map(sheet.rows, SheetKind(messy.kind))
    for row in read_rows(sheet.rows, columns, {}, how="sheet", progress=NO_PROGRESS).rows:
        reasons = [*row.reasons, *(one.reason for one in row.cells)]
        assert bool(reasons) == (row.state.value != "good"), row
        assert all(str(one).strip() for one in reasons)
