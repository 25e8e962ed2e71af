"""A person says in which rows the headings of a supplier's list stand: the columns are guessed anew from there."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from xref_app.core.quantity.errors import shown
from xref_app.services.supplier_columns import ColumnMap
from xref_app.services.supplier_decimals import Decimals
from xref_app.services.supplier_heading_row import Rows, map_at
from xref_app.services.supplier_import import SupplierInputError
from xref_app.services.supplier_preview import SaidOfFile
from xref_app.services.supplier_rows import marks_told
from xref_app.services.supplier_said import with_columns

NO_ROWS: Final = "none"
# House rule: nobody stands so many rows of headings above a list; more is a slip of typing.
_MOST_ROWS: Final = 10
_ROWS: Final = re.compile(r"(\d{1,7})(?:\s*(?:-|–|\bto\b)\s*(\d{1,7}))?", re.IGNORECASE)


def read_heading_rows(text: str, count: int) -> tuple[int, int]:
    """Return from which row the headings stand and where the list begins, both from 0; of none, twice 0.

    Args:
        text: ``4``, ``4-5``, ``4 to 5`` or ``none``, rows from 1 as they are shown.
        count: How many rows the sheet has.

    Raises:
        SupplierInputError: that names no rows of this sheet; one sentence says why.
    """
    plain = text.strip()
    if plain.casefold() == NO_ROWS:
        return 0, 0
    match = _ROWS.fullmatch(plain)
    if match is None:
        found = f"“{shown(plain)}” names no rows" if plain else "No row is named"
        raise SupplierInputError(f"{found}: say in which rows the headings stand, like 4 or 4-5, or none.")
    first, last = int(match[1]), int(match[2] or match[1])
    _refuse_odd(first, last, count)
    return first - 1, last


def _refuse_odd(first: int, last: int, count: int) -> None:
    if first > last:
        raise SupplierInputError(f"Rows {first} to {last} stand the wrong way round: say the upper one first.")
    for row in (first, last):
        if not 1 <= row <= count:
            raise SupplierInputError(f"There is no row {row}: this sheet has rows 1 to {count}; say rows among these.")
    if last - first >= _MOST_ROWS:
        too_many = f"Rows {first} to {last} are more than the {_MOST_ROWS} that are read as headings"
        raise SupplierInputError(f"{too_many}: say only those with the headings.")


def rows_text(columns: ColumnMap) -> str:
    """Return in which rows the headings stand, as ``read_heading_rows`` reads it: ``4``, ``4-5`` or ``none``."""
    first, last = columns.headings_from + 1, columns.rows_from
    if first > last:
        return NO_ROWS
    return f"{first}" if first == last else f"{first}-{last}"


def with_heading_rows(rows: Rows, said: SaidOfFile, place: tuple[int, int]) -> SaidOfFile:
    """Return ``said`` with the headings at ``place``; the columns are guessed anew from them.

    What a person had said of a column stays where the same words stand above it.
    """
    return with_columns(said, columns_at(rows, said.columns, place))


def columns_at(rows: Rows, before: ColumnMap, place: tuple[int, int]) -> ColumnMap:
    """Return the columns with their headings at ``place``, from row and up to row, from 0.

    Raises:
        SupplierInputError: the sheet has no such rows.
    """
    headings_from, rows_from = place
    if rows_from > len(rows):
        _refuse_odd(headings_from + 1, rows_from, len(rows))
    has_none = headings_from == rows_from and before.headings_from == before.rows_from
    if has_none or place == (before.headings_from, before.rows_from):
        return before
    made = map_at(rows, before.kind, headings_from=headings_from, rows_from=rows_from)
    guessed = map_at(rows, before.kind, headings_from=before.headings_from, rows_from=before.rows_from)
    for one, guess in zip(before.columns, guessed.columns, strict=True):
        if one != guess and one.heading and made.columns[one.place].heading == one.heading:
            made = made.with_column(one.place, target=one.target, unit=one.unit)
    return replace(made, is_said=True, decimals=before.decimals)


def with_mark_that_may_be(rows: Rows, remembered: ColumnMap) -> ColumnMap:
    """Return what was ``remembered`` without its decimal mark where every number here that tells one tells the other.

    What was right for the list before would make thousands of this one's decimals.
    """
    told = frozenset[str]().union(*marks_told(rows, remembered).values())
    return replace(remembered, decimals=Decimals.UNTOLD) if told and remembered.decimals not in told else remembered


def with_whole_of(rows: Rows, found: ColumnMap, before: ColumnMap) -> ColumnMap:
    """Return ``found`` with what ``before`` says of the same sheet as a whole: its headings' rows and decimal mark."""
    if before.is_said:
        found = columns_at(rows, found, (before.headings_from, before.rows_from))
        found = replace(found, is_said=True)
    return replace(found, decimals=before.decimals or found.decimals)
