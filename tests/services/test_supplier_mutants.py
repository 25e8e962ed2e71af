"""Whatever is in a file, it is refused with a sentence or its rows are sorted: nothing else comes out."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.exchange.supplier_mutants import mutant
from xref_app.core.progress import NO_PROGRESS
from xref_app.exchange.supplier_errors import SupplierFileError, UnreadableError
from xref_app.exchange.supplier_lines import lines_of
from xref_app.exchange.supplier_reading import read_supplier_file
from xref_app.services.supplier_cells import CellState
from xref_app.services.supplier_columns import SheetKind
from xref_app.services.supplier_heading_row import guess_map
from xref_app.services.supplier_rows import ReadRows, RowState, read_rows

pytestmark = pytest.mark.filterwarnings("ignore::UserWarning")  # openpyxl tells what it leaves out


def outcome(data: bytes) -> str:
    """Return ``refused`` or what came of the rows, held against what must hold of any file."""
    sheets: list[list[tuple[str, ...]]] = []
    try:
        for line in lines_of(data):
            if not isinstance(line, dict):
                sheets[-1].append(tuple(line))
            elif "sheet" in line:
                sheets.append([])
    except UnreadableError as error:
        return "refused" if error.found and error.advice else "refused without a word"
    for rows in sheets:
        for kind in SheetKind:
            hold(read_rows(rows, guess_map(rows, kind), {}, how="claimed", progress=NO_PROGRESS))
    return "read"


def hold(read: ReadRows) -> None:
    for row in read.rows:
        is_good = row.state is RowState.GOOD
        assert is_good == (not row.reasons and not row.cells)
        assert not is_good or row.number
        for one in row.readings:
            value, field = one.observed.value, one.field
            if value is not None and field.minimum is not None and field.maximum is not None:
                assert field.minimum <= value <= field.maximum
        assert all(one.state in {CellState.LOOK, CellState.REFUSED} and str(one.reason) for one in row.cells)
        assert all(one.reading is None for one in row.cells)


@pytest.mark.parametrize("start", range(0, 400, 40))
def test_files_grown_from_messy_lists_are_refused_or_sorted(start: int) -> None:
    came = [outcome(mutant(seed)) for seed in range(start, start + 40)]
    assert set(came) <= {"read", "refused"}
    assert came.count("read") > 5  # else they would only knock at the door


@settings(max_examples=150, deadline=None)
@given(st.lists(st.lists(st.text(max_size=12), max_size=6), min_size=1, max_size=8))
def test_any_cells_below_good_headings_are_sorted(rows: list[list[str]]) -> None:
    table = [("No.", "Bore mm", "Max psi", "Inlet", "Bolt circle in", "No. of holes"), *map(tuple, rows)]
    hold(read_rows(table, guess_map(table, SheetKind.PUMPS), {}, how="sheet", progress=NO_PROGRESS))


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=400))
def test_any_bytes_are_refused_or_sorted(data: bytes) -> None:
    assert outcome(data) in {"refused", "read"}


@pytest.mark.parametrize("seed", [3, 11, 17, 23])
def test_the_child_refuses_what_is_refused_and_nothing_else(seed: int, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(mutant(seed))
    came = outcome(mutant(seed))
    try:
        read_supplier_file(path, NO_PROGRESS)
    except SupplierFileError as error:
        assert came == "refused" or "is empty" in str(error)  # noqa: PT017 - both ends are facts
    else:
        assert came == "read"
