"""Messy workbooks: merged cells, several sheets, numbers and dates that a spreadsheet program made of texts."""

from __future__ import annotations

from datetime import date
from typing import Final

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from tests.exchange.supplier_files.messy import Messy, book, lines

_LIST: Final = (("No.", "Bore mm", "psi"), ("A-1", 19.05, 2700))
_GOOD: Final = "good A-1 bore=19.05 p=186.158"


def _merged_title(_book: Workbook, sheet: Worksheet) -> None:
    sheet.append(["Invented Pumps, list of 2026"])
    sheet.merge_cells("A1:C1")
    lines(sheet, _LIST)


def _merged_maker(_book: Workbook, sheet: Worksheet) -> None:
    lines(sheet, (("No.", "Series bore mm", "psi"), ("A-1", 19.05, 2700), ("A-2", None, 3000)))
    sheet["B1"] = "Bore mm"
    sheet.merge_cells("B2:B3")


def _merged_heading(_book: Workbook, sheet: Worksheet) -> None:
    lines(sheet, (("No.", "Max.", None), (None, "psi", "rpm"), ("A-1", 2700, 3400)))
    sheet.merge_cells("B1:C1")


def _section(_book: Workbook, sheet: Worksheet) -> None:
    lines(sheet, (*_LIST, ("Series with legs",), ("A-2", 25.4, 3000)))
    sheet.merge_cells("A3:C3")


def _several(made: Workbook, sheet: Worksheet) -> None:
    sheet.title = "Read me"
    lines(sheet, (("This is the list of an invented supplier",), ("Prices without tax",)))
    lines(made.create_sheet("List"), _LIST)
    lines(made.create_sheet("Terms"), (("Pay soon",),))


def _hidden(made: Workbook, sheet: Worksheet) -> None:
    lines(sheet, _LIST)
    other = made.create_sheet("Old")
    lines(other, (("No.", "Bore mm", "psi", "rpm"), ("OLD-1", 25.4, 3000, 3400)))
    other.sheet_state = "hidden"


def _away_from_the_corner(_book: Workbook, sheet: Worksheet) -> None:
    lines(sheet, _LIST)
    sheet.move_range("A1:C2", rows=3, cols=2)


def _texts(_book: Workbook, sheet: Worksheet) -> None:
    lines(sheet, (("No.", "Bore mm", "psi"), ("A-1", "19,05", "2.700")))


def _dates(_book: Workbook, sheet: Worksheet) -> None:
    lines(sheet, (("No.", "Bore in", "psi"), ("A-1", date(2026, 3, 4), 2700)))


def _noughts(_book: Workbook, sheet: Worksheet) -> None:
    lines(sheet, (("No.", "psi"), (123, 2700)))
    sheet["A2"].number_format = "00000"


def _dirt(_book: Workbook, sheet: Worksheet) -> None:
    lines(sheet, (("No.", "Bore mm", "psi"), ("A-1", 19.049999999999997, 2700.0000000000005)))


def _truth(_book: Workbook, sheet: Worksheet) -> None:
    lines(sheet, (("No.", "Unloader", "psi"), ("A-1", True, 2700), ("A-2", False, 2700)))


def _formats(_book: Workbook, sheet: Worksheet) -> None:
    """Format the sheet to its far corner, as people do, without a value there."""
    lines(sheet, _LIST)
    sheet["XFD900"].number_format = "0.00"


BOOKS: Final[tuple[Messy, ...]] = (
    book("a plain list", lambda _book, sheet: lines(sheet, _LIST), _GOOD),
    book("a merged title", _merged_title, _GOOD),
    book("a size merged over two rows", _merged_maker, _GOOD, "good A-2 bore=19.05 p=206.843"),
    book("a merged heading", _merged_heading, "good A-1 p=186.158 max_rpm=3400"),
    book("a merged title inside", _section, _GOOD, "good A-2 bore=25.4 p=206.843"),
    book("several sheets", _several, _GOOD),
    book("a hidden sheet", _hidden, _GOOD),
    book("away from the corner", _away_from_the_corner, _GOOD),
    book("texts for numbers", _texts, _GOOD),
    book("a date for three quarters", _dates, "needs a look A-1 p=186.158"),
    book("noughts by format", _noughts, "good 00123 p=186.158"),
    book("dirt of the binary form", _dirt, _GOOD),
    book("true and false", _truth, "good A-1 unloader=yes p=186.158", "good A-2 unloader=no p=186.158"),
    book("formats to the far corner", _formats, _GOOD),
)
