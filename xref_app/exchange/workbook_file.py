"""The catalog as a workbook for a spreadsheet: one sheet per table, every cell of its own type and none a formula."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Final

import xlsxwriter

from xref_app.core.fields.table_schemas import TABLES, TableSchema, table_schema
from xref_app.core.model.catalog_rows import CatalogRows
from xref_app.exchange.table_schema_cells import Cell, cell_text

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

# The program guesses nothing from how a text looks; it is told what each cell is.
_NOTHING_GUESSED: Final = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}
# Rows that one sheet holds beside its headings: ECMA-376 has none, the common programs end at 2 to the 20.
MOST_ROWS: Final = 1_048_575
# Spreadsheets cut longer texts off.
MOST_CHARACTERS: Final = 32_767


class WorkbookTooLargeError(ValueError):
    """A table has more rows than a sheet; the folder of CSV files has no such bound."""


def workbook_bytes(rows: CatalogRows, *, title: str) -> bytes:
    """Return the workbook of ``rows``; what is not known is an empty cell.

    Raises:
        WorkbookTooLargeError: a table has more than MOST_ROWS rows.
    """
    file = io.BytesIO()
    with xlsxwriter.Workbook(file, _NOTHING_GUESSED) as book:
        book.set_properties({"title": title})
        for name in TABLES:
            _write_sheet(book.add_worksheet(name), table_schema(name), getattr(rows, name))
    return file.getvalue()


def _write_sheet(sheet: Worksheet, schema: TableSchema, records: tuple[object, ...]) -> None:
    if len(records) > MOST_ROWS:
        raise WorkbookTooLargeError(f"{schema.name} has {len(records)} rows and a sheet holds {MOST_ROWS}")
    for at, heading in enumerate(schema.column_names):
        sheet.write_string(0, at, heading)
    sheet.freeze_panes(1, 0)
    for row_number, record in enumerate(records, start=1):
        for at, column in enumerate(schema.columns):
            _write_cell(sheet, (row_number, at), getattr(record, column.name))


def _write_cell(sheet: Worksheet, place: tuple[int, int], value: Cell) -> None:
    if value is None or value == "":
        return
    if isinstance(value, str | bool):  # LibreOffice makes a formula, =TRUE(), of what the format calls a truth value
        sheet.write_string(*place, cell_text(value)[:MOST_CHARACTERS])
    else:
        sheet.write_number(*place, value)
