"""What can be answered about a row of a supplier's list: under each question its answers, single and for all alike."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from xref_app.core.sentence import marked
from xref_app.gui.supplier_words import examples_text, reason_text, told
from xref_app.services.supplier_beside import Beside
from xref_app.services.supplier_cells import CellReading, CellState
from xref_app.services.supplier_looked import ListedRow, Looked, Standing, choices_for_all
from xref_app.services.supplier_words import NUMBER

TYPE_IT = marked("supplier_list", "Type what is meant…")
TYPE_NUMBER = marked("supplier_list", "Type another number…")
LEAVE_OUT = marked("supplier_list", "Not known: leave it out")
ALIKE = marked("supplier_list", "The same for all {count} cells of this column asked about in this way:")
ALL_OF = marked("supplier_list", "All {count}: {examples}")
LEAVE_ALL_OUT = marked("supplier_list", "All {count}: not known, leave them out")
ACCEPT = marked("supplier_list", "Take the row as it is")
ACCEPT_ALL = marked("supplier_list", "Take all {count} rows asked about in this way as they are")
TAKE_BACK = marked("supplier_list", "Take back what was answered of this row")
SAYS = marked("supplier_list", "{title}: the list says {listed}, entered is {entered}.")
INSTEAD = marked("supplier_list", "Instead of “{text}”:")
INSTEAD_OF_NOTHING = marked("supplier_list", "What stands there:")


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked; nobody can choose it."""

    words: str


@dataclass(frozen=True, slots=True)
class AnswerCells:
    """Read these texts instead of cells, by row and column from 0."""

    words: str
    answers: Mapping[tuple[int, int], str]


@dataclass(frozen=True, slots=True)
class TypeInstead:
    """Type what is to be read instead of one cell; ``asked`` is what stands beside the line."""

    words: str
    row: int
    column: int
    asked: str


@dataclass(frozen=True, slots=True)
class AcceptRows:
    """Take these rows, from 0, as they are."""

    words: str
    rows: Collection[int]


@dataclass(frozen=True, slots=True)
class TakeBack:
    """Take back all that was said of one row."""

    words: str
    row: int


Offer = AnswerCells | TypeInstead | AcceptRows | TakeBack
OfferRow = Question | Offer


def offers(looked: Looked, listed: ListedRow, differing: Sequence[Beside] = ()) -> tuple[OfferRow, ...]:
    """Return what is asked about a row, each question with its answers; ``differing`` is what is entered otherwise."""
    return tuple(_offers(looked, listed, differing))


def _offers(looked: Looked, listed: ListedRow, differing: Sequence[Beside]) -> Iterator[OfferRow]:
    row = listed.row
    for cell in row.cells:
        if cell.state in {CellState.LOOK, CellState.REFUSED}:
            yield from _about_cell(looked, row.place, cell)
    yield from _about_row(looked, listed, differing)
    if listed.was_answered or listed.standing is Standing.ACCEPTED:
        yield TakeBack(told(TAKE_BACK), row.place)


def _about_row(looked: Looked, listed: ListedRow, differing: Sequence[Beside]) -> Iterator[OfferRow]:
    row = listed.row
    for reason in row.reasons:
        yield Question(reason_text(reason))
    for one in differing:
        yield Question(told(SAYS, title=one.title, listed=one.listed, entered=one.entered))
    if row.is_only_questioned and listed.standing is not Standing.ACCEPTED:
        yield AcceptRows(told(ACCEPT), (row.place,))
        alike = looked.alike_rows(row)
        if len(alike) > 1:
            yield AcceptRows(told(ACCEPT_ALL, count=f"{len(alike):,}"), alike)
    column = looked.preview.said.columns.at(NUMBER)
    if column is not None and row.reasons:
        yield TypeInstead(told(TYPE_NUMBER), row.place, column.place, _instead(row.number))


def _about_cell(looked: Looked, row: int, cell: CellReading) -> Iterator[OfferRow]:
    yield Question(reason_text(cell.reason))
    given = looked.preview.said.answers.get((row, cell.place))
    for choice in (one for one in cell.choices if one != given):  # what led to this question answers none
        yield AnswerCells(choice, {(row, cell.place): choice})
    yield TypeInstead(told(TYPE_IT), row, cell.place, _instead(cell.text))
    yield AnswerCells(told(LEAVE_OUT), {(row, cell.place): ""})
    alike = looked.alike(cell)
    if len(alike) < 2:
        return
    count = f"{len(alike):,}"
    yield Question(told(ALIKE, count=count))
    for place in range(len(cell.choices)) if given is None else ():
        chosen = choices_for_all(alike, place)
        yield AnswerCells(told(ALL_OF, count=count, examples=examples_text(chosen.values())), chosen)
    yield AnswerCells(told(LEAVE_ALL_OUT, count=count), {(one, asked.place): "" for one, asked in alike})


def _instead(text: str) -> str:
    return told(INSTEAD, text=text) if text else told(INSTEAD_OF_NOTHING)
