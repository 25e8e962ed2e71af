"""A supplier's workbook: the cells of every sheet as texts. Formulas count by their stored result."""

from __future__ import annotations

import io
import re
import zlib
from collections.abc import Iterator, Sequence
from datetime import date, time
from typing import Final, Protocol
from xml.etree.ElementTree import ParseError
from zipfile import BadZipFile

from openpyxl import load_workbook
from openpyxl.utils.cell import coordinate_to_tuple
from openpyxl.utils.exceptions import InvalidFileException

from xref_app.exchange.supplier_errors import SAVE_AS_CSV, UnreadableError
from xref_app.exchange.supplier_limits import MOST_COLUMNS, MOST_SHEETS
from xref_app.exchange.supplier_package import looked_at

# What openpyxl lets fly for a workbook that is torn or made up.
_TORN: Final = (
    ParseError,
    BadZipFile,
    InvalidFileException,
    KeyError,
    ValueError,
    TypeError,
    IndexError,
    AttributeError,
    ArithmeticError,
    OSError,
    zlib.error,
    EOFError,
    RecursionError,
    AssertionError,
    NotImplementedError,
)
# A number format of noughts only says how many figures there are: 00123.
_NOUGHTS: Final = re.compile(r"0{2,15}")


class _Cell(Protocol):
    @property
    def value(self) -> object: ...
    @property
    def number_format(self) -> str: ...


def sheets_of(data: bytes) -> Iterator[tuple[str, Iterator[Sequence[str]]]]:
    """Yield each sheet's name and its rows; the rows of one must be read before the next.

    Raises:
        UnreadableError: it is torn, not safe to read, or has too many sheets (also while the rows are read).
    """
    package = looked_at(data)
    try:
        workbook = load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        if len(workbook.sheetnames) > MOST_SHEETS:
            raise UnreadableError(f"has more than {MOST_SHEETS} sheets", SAVE_AS_CSV)
        for sheet in workbook.worksheets:
            if sheet.sheet_state == "visible":
                sheet.reset_dimensions()
                path = str(getattr(sheet, "_worksheet_path", "")).removeprefix("/")
                yield sheet.title, _rows(sheet.iter_rows(), _Merged(package.merged.get(path, ())))
    except _TORN as error:
        raise _torn() from error


def _torn() -> UnreadableError:
    return UnreadableError("is torn, or no workbook", SAVE_AS_CSV)


class _Merged:
    """Which cells show the text of another one: every cell of a merged range shows that of its first."""

    def __init__(self, ranges: Sequence[tuple[str, str]]) -> None:
        self._starting: dict[int, list[tuple[int, int, int]]] = {}
        self._open: list[tuple[int, int, int, str]] = []
        for first, last in ranges:
            (top, left), (bottom, right) = coordinate_to_tuple(first), coordinate_to_tuple(last)
            self._starting.setdefault(top, []).append((bottom, left - 1, min(right, MOST_COLUMNS)))

    @property
    def is_open(self) -> bool:
        """Say whether a merged range may reach into the next row."""
        return bool(self._open)

    def filled(self, place: int, cells: list[str]) -> list[str]:
        """Return the cells of row ``place`` (from 1) with what merged cells show."""
        self._open = [one for one in self._open if one[0] >= place]
        for bottom, left, right in self._starting.get(place, ()):
            if left < len(cells) and cells[left].strip():
                self._open.append((bottom, left, right, cells[left]))
        if sum(right - left for _bottom, left, right, _text in self._open) > MOST_COLUMNS:
            raise UnreadableError("has merged cells that lie over each other", SAVE_AS_CSV)
        for _bottom, left, right, text in self._open:
            cells.extend([""] * (right - len(cells)))
            for column in range(left, right):
                cells[column] = cells[column] or text
        return cells


def _rows(rows: Iterator[Sequence[_Cell]], merged: _Merged) -> Iterator[Sequence[str]]:
    try:
        for place, cells in enumerate(rows, 1):
            # A cell far below is reached over very many empty rows.
            yield merged.filled(place, [_shown(cell) for cell in cells]) if cells or merged.is_open else ()
    except _TORN as error:
        raise _torn() from error


def _shown(cell: _Cell) -> str:
    value = cell.value
    if value is None or isinstance(value, str):
        return value or ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        is_whole = isinstance(value, int) or value.is_integer()
        return _whole(int(value), cell.number_format) if is_whole else _decimal(value)
    return value.isoformat() if isinstance(value, (date, time)) else str(value)


def _whole(number: int, number_format: str) -> str:
    return str(number).zfill(len(number_format)) if _NOUGHTS.fullmatch(number_format or "") else str(number)


def _decimal(number: float) -> str:
    """Return a number as spreadsheet programs show it: 15 figures, for the others are dirt of the binary form."""
    if number != number or abs(number) > 1e15 or abs(number) < 1e-9:  # noqa: PLR0124 - not a number is unlike itself
        return str(number)
    return f"{float(f'{number:.15g}'):.12f}".rstrip("0").rstrip(".")
