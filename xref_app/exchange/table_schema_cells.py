"""One cell of a CSV file to its value and back, by its column's Table Schema."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from datetime import date
from typing import Final

from xref_app.core.fields.table_schemas import Column, ColumnType
from xref_app.exchange.spreadsheet_text import guarded, unguarded

Cell = str | float | int | bool | None
CellReader = Callable[[str], Cell]

_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?([eE][+-]?\d+)?")
_INTEGER = re.compile(r"[+-]?\d{1,15}")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_BOOLEANS = {"true": True, "false": False}

# House rule: a column that says the same again and again says it in fewer words than these.
MOST_REMEMBERED: Final = 20_000


class CellError(ValueError):
    """A cell that breaks its column's rule; the text says why and what to do, and follows what stood there."""


def cell_reader(column: Column) -> CellReader:
    """Return the function that turns a cell's text into its value; it raises CellError.

    An empty cell means 'not known': an empty text for texts and dates, None for everything else.
    """
    read_filled = _READERS[column.type](column)
    empty: Cell = "" if column.type in {ColumnType.STRING, ColumnType.DATE} else None

    def read(text: str) -> Cell:
        if text:
            return read_filled(text)
        if column.required:
            raise CellError("stands where a value must stand: fill it in")
        return empty

    return read


class ColumnCells(dict[str, Cell]):
    """The values of one column's cells by their text: a text that stood there before is neither read nor kept anew."""

    def __init__(self, read: CellReader) -> None:
        super().__init__()
        self._read = read

    def __missing__(self, text: str) -> Cell:
        """Return the value of a text that is new here; raises CellError."""
        value = self._read(text)
        if len(self) >= MOST_REMEMBERED:
            self.clear()
        self[text] = value
        return value


def cell_text(value: Cell) -> str:
    """Return the text of ``value`` in a file; a number comes back the same to the last bit when read."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return repr(value).removesuffix(".0")
    return str(value)


def file_text(value: Cell) -> str:
    """Return the text of ``value`` in a file that a spreadsheet may open: no text of it is ever run as a formula."""
    return guarded(value) if isinstance(value, str) else cell_text(value)


def _string_reader(column: Column) -> CellReader:
    pattern = re.compile(column.pattern) if column.pattern else None
    choices = frozenset(column.choices)

    def read(stood_there: str) -> Cell:
        text = unguarded(stood_there)
        if choices and text not in choices:
            raise CellError(f"is not a word for it: take one of {', '.join(column.choices)}")
        if pattern is not None and pattern.fullmatch(text) is None:
            raise CellError(f"does not look like {column.title.lower()}: it must match {column.pattern}")
        if column.max_length is not None and len(text) > column.max_length:
            raise CellError(f"is longer than {column.max_length} characters: shorten it")
        return text

    return read


def _number_reader(column: Column) -> CellReader:
    def read(text: str) -> Cell:
        if _NUMBER.fullmatch(text) is None:
            raise CellError("is not a number: write it with a point, like 22.225")
        return _within(float(text), column)

    return read


def _integer_reader(column: Column) -> CellReader:
    def read(text: str) -> Cell:
        if _INTEGER.fullmatch(text) is None:
            raise CellError("is not a whole number: write it like 12")
        _within(float(text), column)
        return int(text)

    return read


def _within(value: float, column: Column) -> float:
    if not math.isfinite(value):
        raise CellError("is too large to be a number: look for a typing slip")
    low = -math.inf if column.minimum is None else column.minimum
    high = math.inf if column.maximum is None else column.maximum
    if not low <= value <= high:
        raise CellError(
            f"is outside {bounds_text(column.minimum, column.maximum, column.unit)}: look for a typing slip"
        )
    return value


def bounds_text(minimum: float | None, maximum: float | None, unit: str) -> str:
    """Return the plausible range in words, such as ``8 to 60 mm`` or ``0 and more``."""
    low = "any number" if minimum is None else f"{minimum:g}"
    text = f"{low} and more" if maximum is None else f"{low} to {maximum:g}"
    return f"{text} {unit}".rstrip()


def _boolean_reader(column: Column) -> CellReader:  # noqa: ARG001 - every reader is made from its column
    def read(text: str) -> Cell:
        if text not in _BOOLEANS:
            raise CellError("is neither true nor false: write one of them")
        return _BOOLEANS[text]

    return read


def _date_reader(column: Column) -> CellReader:  # noqa: ARG001 - every reader is made from its column
    def read(text: str) -> Cell:
        if _DATE.fullmatch(text) is None or not _is_day(text):
            raise CellError("is not a day of the calendar: write it like 2026-11-25")
        return text

    return read


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


_READERS: dict[ColumnType, Callable[[Column], CellReader]] = {
    ColumnType.STRING: _string_reader,
    ColumnType.NUMBER: _number_reader,
    ColumnType.INTEGER: _integer_reader,
    ColumnType.BOOLEAN: _boolean_reader,
    ColumnType.DATE: _date_reader,
}
