"""The label of a place on the shelf: name, bin, a number with its check character, and the same number as a QR code."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from itertools import groupby

import segno

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.blocks import Wording
from xref_app.sheets.label_code import label_code, readable
from xref_app.sheets.laid_out import Head, LaidOut
from xref_app.sheets.moved import moved
from xref_app.sheets.shapes import Line
from xref_app.sheets.sheet_page import Measure, SheetPage, joined
from xref_app.sheets.sheet_pages import SAMPLE
from xref_app.sheets.text_column import TextColumn
from xref_app.sheets.wrapped import wrapped

# Size of a label, its margin, of one module of its code and of the quiet zone about it. ISO/IEC 18004 asks for four
# modules of quiet; 0.5 mm is four dots of a 203 dpi label printer. Mm, house rule.
WIDTH_MM, HEIGHT_MM = 62.0, 29.0
_MARGIN_MM, _LARGEST_MODULE_MM, _QUIET = 2.0, 0.75, 4
# Rows of modules lie over each other by this much, so that no renderer leaves a light line between them, mm.
_OVER_MM = 0.01
_BIN_MM, _NAME_MM, _CODE_MM, _SAMPLE_MM = 5.0, 2.7, 2.9, 2.4
BIN = marked("sheet", "Bin {bin}")


@dataclass(frozen=True, slots=True)
class LabelCase:
    """One place of the shelf."""

    shelf_id: str
    name: str
    bin: str


def label_page(case: LabelCase, measure: Measure, wording: Wording, *, is_sample: bool = False) -> SheetPage:
    """Return the label: the code at the left, the words at the right."""
    code = label_code(case.shelf_id)
    side = HEIGHT_MM - 2 * _MARGIN_MM
    picture = moved(_code_shapes(code, side), _MARGIN_MM, HEIGHT_MM - _MARGIN_MM)
    left = 2 * _MARGIN_MM + side - 1.0
    column = TextColumn(0.0, WIDTH_MM - left - _MARGIN_MM, measure)
    column.put(wording.say(Sentence(BIN, {"bin": case.bin})), _BIN_MM, is_bold=True)
    _put_name(column, case.name, measure, lines=3)
    words = moved(column.content, left, HEIGHT_MM - _MARGIN_MM)
    foot = TextColumn(0.0, WIDTH_MM - left - _MARGIN_MM, measure)
    foot.put(readable(code), _fitting(readable(code), WIDTH_MM - left - _MARGIN_MM, measure), is_bold=True)
    if is_sample:
        foot.put(wording.say(Sentence(SAMPLE)), _SAMPLE_MM, is_bold=True)
    below = moved(foot.content, left, _MARGIN_MM - foot.y_mm)
    return SheetPage(WIDTH_MM, HEIGHT_MM, joined((picture, words, below)))


def _fitting(text: str, room_mm: float, measure: Measure) -> float:
    """Return how high ``text`` may be to stay on one line, mm; no lower than can be read, where it wraps."""
    return max(min(_CODE_MM, _CODE_MM * room_mm / measure(text, _CODE_MM, is_bold=True) * 0.98), 2.0)


def _put_name(column: TextColumn, name: str, measure: Measure, *, lines: int) -> None:
    """Put as much of the name as there is room for; what is left out is told by three dots."""
    said = list(wrapped(name, _NAME_MM, column.width_mm, partial(measure, is_bold=False)))
    for place, line in enumerate(said[:lines]):
        is_cut = place == lines - 1 and len(said) > lines
        column.put(f"{line[:-1].rstrip()}…" if is_cut else line, _NAME_MM)


def _code_shapes(code: str, side_mm: float) -> LaidOut:
    """Return the QR code with its quiet zone, hanging down from 0, 0; each dark run of a row is one rectangle."""
    rows = [bytes(row) for row in segno.make_qr(code, error="m", boost_error=False).matrix]
    module = min(side_mm / (len(rows) + 2 * _QUIET), _LARGEST_MODULE_MM)
    inset = (side_mm - module * len(rows)) / 2
    heads: list[Head] = []
    for number, row in enumerate(rows):
        top = -inset - number * module
        for start, length in _dark_runs(row):
            x, right = inset + start * module, inset + (start + length) * module
            bottom = top - module - _OVER_MM
            heads.append(Head(((x, top), (right, top), (right, bottom), (x, bottom)), Line.MACHINE))
    return LaidOut((), tuple(heads), ())


def _dark_runs(row: bytes) -> Iterator[tuple[int, int]]:
    place = 0
    for dark, run in groupby(row):
        length = len(list(run))
        if dark:
            yield place, length
        place += length
