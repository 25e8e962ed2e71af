"""A CSV file to rows, by its Table Schema: headings, cells and keys within the table."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from operator import getitem
from pathlib import Path
from typing import Final

from xref_app.core.fields.table_schemas import TableSchema
from xref_app.core.progress import NO_PROGRESS, Progress
from xref_app.exchange.data_package_problems import Problem, Problems
from xref_app.exchange.table_schema_cells import Cell, CellError, ColumnCells, cell_reader

# House rule: fifty times a large shop's catalog; more is not a catalog but a mistake or an attack.
MAX_FILE_BYTES = 256 * 1024 * 1024
# Packages made before these columns came have no such heading; their cells are empty.
LATER_COLUMNS = {"shelf": frozenset({"low_at"})}
# After so many characters somebody is told how far the file is (house rule).
_TOLD_EVERY: Final = 200_000


@dataclass(slots=True)
class ReadTable:
    """The good rows of one file, their cells in the schema's order, each with its row number."""

    schema: TableSchema
    rows: list[tuple[Cell, ...]] = field(default_factory=list)
    row_numbers: list[int] = field(default_factory=list)

    def column(self, name: str) -> list[Cell]:
        """Return the cells of one column in order."""
        at = self.schema.column_names.index(name)
        return [row[at] for row in self.rows]


def read_table(path: Path, schema: TableSchema, problems: Problems, progress: Progress = NO_PROGRESS) -> ReadTable:
    """Return the good rows of ``path``; what is wrong goes to ``problems``.

    Raises:
        WorkCancelledError: ``progress`` says nobody waits any more.
    """
    table = ReadTable(schema)
    size = path.stat().st_size
    if size > MAX_FILE_BYTES:
        advice = f"is larger than {MAX_FILE_BYTES // 1024**2} megabytes: take a smaller catalog"
        problems.add(Problem(schema.name, None, "", path.name, advice))
        return table
    reader = _RowReader(table, problems)
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            for cells in csv.reader(_lines_without_nul(_told(file, size, progress)), strict=True):
                reader.read(cells)
                if reader.gave_up:
                    return table
    except UnicodeDecodeError as error:
        found = error.object[error.start : error.end].hex(" ")
        row_number = _first_row_not_utf8(path)
        problems.add(Problem(schema.name, row_number, "", found, "is not UTF-8 text: save the file as CSV UTF-8"))
    except csv.Error as error:
        reader.report_next(str(error), "breaks the rules of CSV: save the file anew")
    if reader.row_number == 0 and not problems.in_table(schema.name):
        problems.add(Problem(schema.name, None, "", path.name, "holds no headings: copy the file anew"))
    return table


def _first_row_not_utf8(path: Path) -> int | None:
    """Return where the text breaks off; decoding runs ahead of the rows, so the lines are looked at one by one."""
    with path.open("rb") as file:
        for row_number, line in enumerate(file, start=1):
            if line.decode(errors="replace").encode() != line:
                return row_number
    return None


def _told(lines: Iterable[str], size: int, progress: Progress) -> Iterator[str]:
    """Pass on every line, telling now and then how much of ``size`` bytes is through (a little more than is said)."""
    through = told = 0
    for line in lines:
        through += len(line)
        if through - told >= _TOLD_EVERY:
            told = through
            progress.step(min(through, size), size)
        yield line


def _lines_without_nul(lines: Iterator[str]) -> Iterator[str]:
    """Pass on every line; a NUL is never text and would be cut off or kept by different readers."""
    for line in lines:
        if "\0" in line:
            raise csv.Error("NUL character")
        yield line


def _order_of_columns(headings: Sequence[str], schema: TableSchema, problems: Problems) -> list[int | None] | None:
    """Return for each column of the schema where it stands in the file (None: nowhere), or None for wrong headings."""
    later = LATER_COLUMNS.get(schema.name, frozenset())
    wrong = [(one, "is not a column of this table: take it out") for one in headings if one not in schema.column_names]
    wrong += [(one, "stands there twice: take one out") for one in sorted(set(headings)) if headings.count(one) > 1]
    wrong += [
        (one, "is missing from the headings: add the column")
        for one in schema.column_names
        if one not in headings and one not in later
    ]
    for heading, advice in wrong:
        problems.add(Problem(schema.name, 1, "", heading, advice))
    return None if wrong else [headings.index(one) if one in headings else None for one in schema.column_names]


class _RowReader:
    """Reads row after row of one file into its table; ``row_number`` is the last row read, 0 before the headings."""

    def __init__(self, table: ReadTable, problems: Problems) -> None:
        self._table = table
        self._problems = problems
        self._columns: list[ColumnCells] = []
        self._order: list[int | None] = []
        self._is_in_order = False
        self._width = 0
        self.row_number = 0
        self.gave_up = False

    def read(self, cells: Sequence[str]) -> None:
        """Keep the row's values, or its faults; the first row is the headings."""
        self.row_number += 1
        if self.row_number == 1:
            self._read_headings(cells)
        elif cells:
            self._read_values(cells)

    def report_next(self, found: str, advice: str) -> None:
        """Report a fault in the row after the last one read: it cannot be read at all."""
        self._problems.add(Problem(self._table.schema.name, self.row_number + 1, "", found, advice))

    def _read_headings(self, cells: Sequence[str]) -> None:
        order = _order_of_columns(cells, self._table.schema, self._problems)
        self.gave_up = order is None
        self._width = len(cells)
        self._order = order or []
        self._is_in_order = self._order == list(range(self._width))
        self._columns = [ColumnCells(cell_reader(column)) for column in self._table.schema.columns]

    def _read_values(self, cells: Sequence[str]) -> None:
        if len(cells) != self._width:
            advice = f"makes {len(cells)} cells where {self._width} belong: look for a comma too many or too few"
            self._report("", ",".join(cells), advice)
            return
        texts = cells if self._is_in_order else ["" if at is None else cells[at] for at in self._order]
        try:
            values = tuple(map(getitem, self._columns, texts))
        except CellError:
            self._report_faults(texts)
            return
        self._table.rows.append(values)
        self._table.row_numbers.append(self.row_number)

    def _report_faults(self, texts: Sequence[str]) -> None:
        for name, cells, text in zip(self._table.schema.column_names, self._columns, texts, strict=True):
            try:
                cells[text]
            except CellError as error:
                self._report(name, text, str(error))

    def _report(self, column: str, found: str, advice: str) -> None:
        self._problems.add(Problem(self._table.schema.name, self.row_number, column, found, advice))
