"""The rows of a supplier's list, read cell by cell; nothing here knows what is in the catalog."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Final

from xref_app.core.errors import XrefError
from xref_app.core.fields.fields import all_fields
from xref_app.core.progress import Progress
from xref_app.core.quantity.errors import shown
from xref_app.core.sentence import Sentence, marked
from xref_app.services import supplier_words as words
from xref_app.services.duplicates import refuse_invisible
from xref_app.services.field_reading import FieldReading
from xref_app.services.supplier_cells import CellReading, CellState, ColumnOfSizes, read_cell, says_nothing
from xref_app.services.supplier_circle import circle_field, holes_of
from xref_app.services.supplier_columns import ColumnMap, quantity_of
from xref_app.services.supplier_decimals import Decimals, decided, votes

NO_NUMBER = marked("supplier", "There is no number in this row, so nobody could find it.")
TOO_LONG = marked("supplier", "{title} “{text}” is longer than {limit} characters.")
SHORTENED = marked("supplier", "Number “{text}” may have been shortened by a spreadsheet: look up how it is written.")
TWICE = marked("supplier", "“{number}” stands in row {row} already, with other values.")
ONLY_A_NUMBER = marked("supplier", "There is nothing but a number in this row.")

# As data_schema says of numbers and entries; a longer name or note is cut, a number never is.
LONGEST_NUMBER: Final = 40
_LONGEST: Final = {words.MAKER: 80, words.NAME: 120, words.NOTE: 400}
_SHORTENED: Final = re.compile(r"\d(?:[.,]\d+)?[eE]\+?\d{1,3}")
_BETWEEN_NUMBERS: Final = re.compile(r"[;,\n]|\s/\s|\s\+\s|\sand\s", re.IGNORECASE)
_ROWS_PER_TELLING: Final = 200
# House rule: a row of so many cells that all say the same is a title across the list.
_FEWEST_OF_A_TITLE: Final = 3

Answers = Mapping[tuple[int, int], str]


class RowState(StrEnum):
    """How a row stands."""

    GOOD = "good"
    KNOWN = "entered already"
    LOOK = "needs a look"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class RowReading:
    """One row: ``place`` in its sheet (from 0), what it says, how it stands and why.

    ``readings`` are the sizes it tells. ``entry_id`` is the entry it is about, empty for a new one; ``cells`` holds
    those that are not good, and ``reasons`` what is the matter with the row as a whole.
    """

    place: int
    state: RowState
    number: str
    texts: Mapping[str, str]
    replaces: tuple[str, ...]
    replaced_by: tuple[str, ...]
    readings: tuple[FieldReading, ...]
    cells: tuple[CellReading, ...]
    reasons: tuple[Sentence | str, ...]
    entry_id: str = ""

    @property
    def is_only_questioned(self) -> bool:
        """Say whether every cell is read, so that a person may take the row as it is."""
        return self.state is RowState.LOOK and not any(
            one.state in {CellState.LOOK, CellState.REFUSED} for one in self.cells
        )


@dataclass(frozen=True)
class ReadRows:
    """All rows of a list: ``rows`` in their order, and ``passed_over``, the places of titles and repeated headings.

    ``decimals`` says of each column of sizes what stands before its decimals, by place.
    """

    rows: tuple[RowReading, ...]
    passed_over: tuple[int, ...]
    decimals: Mapping[int, Decimals]


def read_rows(  # noqa: PLR0913 - all but the rows and columns are named
    rows: Sequence[Sequence[str]],
    columns: ColumnMap,
    answers: Answers,
    *,
    how: str,
    progress: Progress,
    has_number_cells: bool = False,
) -> ReadRows:
    """Return the rows of a list, each cell of which is read by what its column is.

    Args:
        rows: The whole sheet.
        columns: What is what.
        answers: What a person typed instead of a cell, by row and column, both from 0.
        how: ``claimed`` or ``sheet``.
        progress: Told the rows read so far.
        has_number_cells: Of a workbook, some cells may be numbers, which are handed on with a decimal point.

    Raises:
        WorkCancelledError: nobody waits any more.
    """
    reader = _Reader(columns, tuple(_sizes(rows, columns, how, has_number_cells=has_number_cells)), answers)
    read, passed_over, seen = [], [], dict[str, tuple[int, Sequence[str]]]()
    heading = [one.heading for one in columns.columns]
    for place in range(columns.rows_from, len(rows)):
        if place % _ROWS_PER_TELLING == 0:
            progress.step(place, len(rows))
        cells = rows[place]
        if not any(map(str.strip, cells)):
            continue
        if _is_title(cells, heading):
            passed_over.append(place)
            continue
        row = reader.row(place, cells)
        first = seen.setdefault(f"{folded_number(row.number)} {row.texts[words.MAKER].casefold()}", (place, cells))
        if row.number and first[0] != place:
            if list(first[1]) == list(cells):
                passed_over.append(place)
                continue
            row = _twice(row, first[0])
        read.append(row)
    return ReadRows(tuple(read), tuple(passed_over), {one.column.place: one.decimals for one in reader.sizes})


def folded_number(number: str) -> str:
    """Return a number as it is compared: letters and figures only, in one case. ``P-77`` is ``p 77``; 0 is not O."""
    return "".join(one for one in unicodedata.normalize("NFKC", number).casefold() if one.isalnum())


def parted_number(number: str) -> str:
    """Return a number with what parts its figures: ``RX-1.25`` is not ``RX 125``, but ``P-77`` is ``p 77``."""
    parts = re.split(r"[^\w]+|_+", unicodedata.normalize("NFKC", number).casefold())
    joined = ""
    for part in filter(None, parts):
        joined += f"/{part}" if joined[-1:].isdigit() and part[0].isdigit() else part
    return joined


def marks_told(rows: Sequence[Sequence[str]], columns: ColumnMap) -> Mapping[int, frozenset[str]]:
    """Return the marks that stand before decimals somewhere in each column of sizes, by place."""
    return {
        one.place: votes(row[one.place] for row in rows[columns.rows_from :] if one.place < len(row))
        for one in columns.columns
        if quantity_of(one.target) is not None
    }


def _sizes(
    rows: Sequence[Sequence[str]], columns: ColumnMap, how: str, *, has_number_cells: bool
) -> Iterator[ColumnOfSizes]:
    told = marks_told(rows, columns)
    everywhere = frozenset[str]().union(*told.values())
    for column in columns.columns:
        field = circle_field() if column.target == words.BOLT_CIRCLE else all_fields().get(column.target)
        if field is not None:
            seeming = decided(told.get(column.place, frozenset()), everywhere)
            decimals = columns.decimals or seeming
            # A cell that is a number comes with a point, and nobody can tell it from thousands set off by one.
            asks_thousands = has_number_cells and decimals is Decimals.COMMA
            yield ColumnOfSizes(field, column, decimals, how, asks_thousands)


def _is_title(cells: Sequence[str], heading: Sequence[str]) -> bool:
    said = [one for one in cells if one]
    if len(said) >= _FEWEST_OF_A_TITLE and len(set(said)) == 1:
        return True
    return all(one == heading[place] for place, one in enumerate(cells)) and len(said) > 1


def _twice(row: RowReading, first: int) -> RowReading:
    reason = Sentence(TWICE, {"number": row.number, "row": first + 1})
    state = RowState.REFUSED if row.state is RowState.REFUSED else RowState.LOOK
    return replace(row, state=state, reasons=(*row.reasons, reason))


@dataclass
class _Reader:
    """Reads the rows of one sheet; the same text in the same column is read once."""

    columns: ColumnMap
    sizes: Sequence[ColumnOfSizes]
    answers: Answers
    kept: dict[tuple[int, str], CellReading] = field(default_factory=dict)

    def row(self, place: int, cells: Sequence[str]) -> RowReading:
        """Return one row as read."""
        read = [self._cell(place, cells, one) for one in self.sizes]
        texts = {name: " ".join(self._said(place, cells, name).split()) for name in (words.NUMBER, *_LONGEST)}
        replaces, replaced_by = (_numbers(self._said(place, cells, one)) for one in (words.REPLACES, words.REPLACED_BY))
        others = (*replaces, *replaced_by)
        refusals = tuple(_refusals(texts, others))
        questions = tuple(_questions(texts, others, is_bare=not any(one.reading for one in read)))
        odd = tuple(one for one in read if one.state in {CellState.LOOK, CellState.REFUSED})
        state = RowState.LOOK if odd or questions else RowState.GOOD
        if refusals or any(one.state is CellState.REFUSED for one in odd):
            state = RowState.REFUSED
        return RowReading(
            place=place,
            state=state,
            number=texts[words.NUMBER],
            texts={name: texts[name][:longest] for name, longest in _LONGEST.items()},
            replaces=replaces,
            replaced_by=replaced_by,
            readings=tuple(one.reading for one in read if one.reading is not None),
            cells=odd,
            reasons=(*refusals, *questions),
        )

    def _cell(self, place: int, cells: Sequence[str], by: ColumnOfSizes) -> CellReading:
        read = self._one_cell(place, cells, by)
        if by.column.target != words.BOLT_CIRCLE:
            return read
        return holes_of(read, self._said(place, cells, words.HOLE_COUNT))

    def _one_cell(self, place: int, cells: Sequence[str], by: ColumnOfSizes) -> CellReading:
        answer = self.answers.get((place, by.column.place))
        if answer is not None:
            return read_cell(answer, by, is_answer=True)
        text = cells[by.column.place] if by.column.place < len(cells) else ""
        known = self.kept.get((by.column.place, text))
        if known is None:
            known = self.kept[by.column.place, text] = read_cell(text, by)
        return known

    def _said(self, place: int, cells: Sequence[str], target: str) -> str:
        """Return what a row says in a column that holds no size; empty where there is no such column."""
        column = self.columns.at(target)
        if column is None:
            return ""
        there = cells[column.place] if column.place < len(cells) else ""
        text = self.answers.get((place, column.place), there)
        return "" if says_nothing(text) else text


def _numbers(text: str) -> tuple[str, ...]:
    found = (" ".join(one.split()) for one in _BETWEEN_NUMBERS.split(text))
    return tuple(dict.fromkeys(one for one in found if not says_nothing(one)))


def _refusals(texts: Mapping[str, str], others: Sequence[str]) -> Iterator[Sentence | str]:
    if not texts[words.NUMBER]:
        yield Sentence(NO_NUMBER)
    for title, number in (("Number", texts[words.NUMBER]), *(("Number of another pump", one) for one in others)):
        if len(number) > LONGEST_NUMBER:
            yield Sentence(TOO_LONG, {"title": title, "text": shown(number), "limit": LONGEST_NUMBER})
    for text in (*texts.values(), *others):
        try:
            refuse_invisible(text)
        except XrefError as error:
            yield str(error)
            return


def _questions(texts: Mapping[str, str], others: Sequence[str], *, is_bare: bool) -> Iterator[Sentence]:
    for number in (texts[words.NUMBER], *others):
        if _SHORTENED.fullmatch(number):
            yield Sentence(SHORTENED, {"text": number})
    if is_bare and not others and not any(texts[one] for one in _LONGEST):
        yield Sentence(ONLY_A_NUMBER)
