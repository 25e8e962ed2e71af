"""The raw cells of a supplier's file: texts only, as the file shows them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

from xref_app.exchange.supplier_errors import SPLIT, UnreadableError
from xref_app.exchange.supplier_limits import (
    MOST_CELLS,
    MOST_CHARACTERS,
    MOST_COLUMNS,
    MOST_OF_A_CELL,
    MOST_ROWS,
)

Row = tuple[str, ...]
SHEET: Final = "sheet"


@dataclass(frozen=True, slots=True)
class HowToRead:
    """What a person says of a text file that was guessed wrong; empty: guess."""

    encoding: str = ""
    separator: str = ""


@dataclass(frozen=True, slots=True)
class RawSheet:
    """One sheet: its name (empty for a text file) and its rows, from the first line of the file on.

    Rows are ragged: empty cells at the end of a row, and empty rows at the end, are left out.
    """

    name: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class RawFile:
    """What is in a supplier's file; ``encoding`` and ``separator`` are empty for a workbook."""

    name: str
    sheets: tuple[RawSheet, ...]
    encoding: str = ""
    separator: str = ""


@dataclass
class Allowance:
    """How much of one file may be handed on yet; each row is taken off it."""

    cells: int = MOST_CELLS
    characters: int = MOST_CHARACTERS
    tell: Callable[[int], None] = field(default=lambda _rows: None)

    def rows(self, found: Iterator[Sequence[str]]) -> Iterator[Row]:
        """Yield the rows of one sheet without what is empty at their ends.

        Raises:
            UnreadableError: there is more than a list of pumps has.
        """
        blank = 0
        for place, cells in enumerate(found, 1):
            self.tell(place)
            row = _trimmed(cells)
            if not row:
                blank += 1
                continue
            if place > MOST_ROWS:
                raise UnreadableError(f"has more than {MOST_ROWS} rows", SPLIT)
            self._take(row)
            yield from ((),) * blank
            blank = 0
            yield row

    def _take(self, row: Row) -> None:
        if len(row) > MOST_COLUMNS:
            raise UnreadableError(f"has a row of more than {MOST_COLUMNS} columns", SPLIT)
        self.cells -= len(row)
        self.characters -= sum(map(len, row))
        if self.cells < 0 or self.characters < 0:
            raise UnreadableError("holds more than is read of one file", SPLIT)


def _trimmed(cells: Sequence[str]) -> Row:
    end = len(cells)
    while end and not cells[end - 1].strip():
        end -= 1
    return tuple(one[:MOST_OF_A_CELL].strip() for one in cells[:end])
