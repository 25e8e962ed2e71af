"""A drawing at 1:1 on a sheet of paper: what it shows, what is not known, and bars to check the size with."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.laid_out import Anchor, Edge, LaidOut, Lettering, Words
from xref_app.sheets.layout import laid_out
from xref_app.sheets.legend import legend
from xref_app.sheets.moved import moved
from xref_app.sheets.shapes import Drawing, Line, Segment
from xref_app.sheets.wrapped import TextWidth, wrapped

# Heights of words on paper, mm (ISO 3098 has 2.5, 3.5 and 5; house rule).
TEXT_MM, TITLE_MM = 2.5, 3.5
_MARGIN_MM, _GAP_MM, _LINE_SHARE = 10.0, 5.0, 1.5
_HEAD_MM, _WORD_GAP_MM, _HATCH_MM = 2.2, 1.2, 2.2
_LEGEND_LINE_MM, _TICK_MM = 12.0, 2.0
# How much room both bars take, one below the other.
BARS_MM = 14.5
_COLUMN_GAP_MM = 4.0
# The bars that tell whether a printer kept the size, mm, and what stands beside them.
CHECK_BARS = ((100.0, marked("drawing", "100 mm")), (4 * 25.4, marked("drawing", "4 in")))
CHECK = marked("drawing", "Measure this bar: if it is not 100 mm, do not trace.")
_LEAST_WIDTH_MM = 130.0


class Paper(Enum):
    """The sheets of paper, width and height in mm, upright; each is followed by the larger ones of its kind."""

    A4 = (210.0, 297.0)
    A3 = (297.0, 420.0)
    A2 = (420.0, 594.0)
    LETTER = (215.9, 279.4)
    TABLOID = (279.4, 431.8)
    ANSI_C = (431.8, 558.8)

    @property
    def word(self) -> str:
        """Return the name people use."""
        return {Paper.LETTER: "Letter", Paper.TABLOID: "Tabloid", Paper.ANSI_C: "ANSI C"}.get(self, self.name)

    @property
    def with_larger(self) -> tuple[Paper, ...]:
        """Return this one and the larger ones of its kind."""
        inch, metric = (Paper.LETTER, Paper.TABLOID, Paper.ANSI_C), (Paper.A4, Paper.A3, Paper.A2)
        kind = inch if self in inch else metric
        return kind[kind.index(self) :]


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet with everything in place, mm from its lower left corner, x right and y up.

    ``origin_mm`` is where the drawing's own origin came to lie.
    """

    width_mm: float
    height_mm: float
    origin_mm: tuple[float, float]
    content: LaidOut


@dataclass(slots=True)
class _Column:
    """Puts one thing below the other, from the top; y is counted down from there and turned over at the end."""

    width_mm: float
    text_width: TextWidth
    y_mm: float = 0.0

    def lines(self, text: str, height_mm: float) -> Iterator[Words]:
        """Yield ``text`` in as many lines as it takes, left under what is there."""
        for line in wrapped(text, height_mm, self.width_mm, self.text_width):
            yield self.word_at(0.0, line, height_mm)
            self.y_mm -= _LINE_SHARE * height_mm

    def word_at(self, x_mm: float, text: str, height_mm: float) -> Words:
        """Return one line of text that begins at ``x_mm``."""
        width_mm = self.text_width(text, height_mm)
        y = self.y_mm - height_mm * _LINE_SHARE / 2
        return Words(x_mm + width_mm / 2, y, width_mm, height_mm, text, Line.SIZE, Anchor.START)


def page_for(
    drawing: Drawing,
    text_width: TextWidth,
    *,
    size_mm: tuple[float, float] | None = None,
    say: Callable[[Sentence], str] = str,
    has_bars: bool = True,
) -> Page | None:
    """Return the sheet with the drawing at 1:1, or None where it is too small for it.

    Args:
        drawing: What to show.
        text_width: Tells how wide a text comes out.
        size_mm: Width and height of the sheet; None for one as large as needed.
        say: Puts a sentence into words.
        has_bars: Whether the bars to check the size with stand below it; not where it is drawn smaller than it is.
    """
    lettering = Lettering(
        TEXT_MM, _LINE_SHARE * TEXT_MM, _HEAD_MM, _WORD_GAP_MM, _HATCH_MM, lambda text: text_width(text, TEXT_MM), say
    )
    body = laid_out(drawing, lettering)
    left, bottom, right, top = body.box
    inner_mm = max(right - left, _LEAST_WIDTH_MM) if size_mm is None else size_mm[0] - 2 * _MARGIN_MM
    if right - left > inner_mm:
        return None
    column = _Column(inner_mm, text_width)
    words: list[Words] = [*_heading(drawing, column, say)]
    column.y_mm -= _GAP_MM
    origin = ((inner_mm - (right - left)) / 2 - left, column.y_mm - top)
    column.y_mm -= top - bottom + _GAP_MM
    words.extend(_table(drawing.table, column, say))
    foot_edges, foot_words = _foot(drawing, column, say, has_bars=has_bars)
    height_mm = 2 * _MARGIN_MM - column.y_mm
    if size_mm is not None and height_mm > size_mm[1]:
        return None
    whole = LaidOut(
        (*moved(body, *origin).edges, *foot_edges),
        moved(body, *origin).heads,
        (*moved(body, *origin).words, *words, *foot_words),
    )
    width_mm, height_mm = (inner_mm + 2 * _MARGIN_MM, height_mm) if size_mm is None else size_mm
    aside, up = _MARGIN_MM, height_mm - _MARGIN_MM
    return Page(width_mm, height_mm, (origin[0] + aside, origin[1] + up), moved(whole, aside, up))


def _heading(drawing: Drawing, column: _Column, say: Callable[[Sentence], str]) -> Iterator[Words]:
    if drawing.title.template:
        yield from column.lines(say(drawing.title), TITLE_MM)
    about = (drawing.about,) if drawing.about.template else ()
    for sentence in (*about, *drawing.notes, *drawing.lacks()):
        yield from column.lines(say(sentence), TEXT_MM)


def _table(rows: Sequence[Sequence[Sentence]], column: _Column, say: Callable[[Sentence], str]) -> Iterator[Words]:
    said = [[say(cell) for cell in row] for row in rows]
    widths = [0.0] * max((len(row) for row in said), default=0)
    for row in said:
        for place, cell in enumerate(row):
            widths[place] = max(widths[place], column.text_width(cell, TEXT_MM) + _COLUMN_GAP_MM)
    for row in said:
        for place, cell in enumerate(row):
            yield column.word_at(sum(widths[:place]), cell, TEXT_MM)
        column.y_mm -= _LINE_SHARE * TEXT_MM
    if said:
        column.y_mm -= _GAP_MM


def _foot(
    drawing: Drawing, column: _Column, say: Callable[[Sentence], str], *, has_bars: bool
) -> tuple[list[Edge], list[Words]]:
    """Return the legend, the bars and what to do with them."""
    edges: list[Edge] = []
    words: list[Words] = []
    x, middle = 0.0, column.y_mm - TEXT_MM * _LINE_SHARE / 2
    for line, word in legend(drawing):
        edges.append(Segment(x, middle, x + _LEGEND_LINE_MM, middle, line))
        words.append(column.word_at(x + _LEGEND_LINE_MM + _WORD_GAP_MM, say(word), TEXT_MM))
        x += _LEGEND_LINE_MM + words[-1].width_mm + 2 * _COLUMN_GAP_MM
    column.y_mm -= _LINE_SHARE * TEXT_MM + _GAP_MM
    if has_bars:
        bars = check_bars(column.text_width, say)
        edges.extend(moved(bars, 0.0, column.y_mm).edges)
        words.extend(moved(bars, 0.0, column.y_mm).words)
        column.y_mm -= BARS_MM
        words.extend(column.lines(say(Sentence(CHECK)), TITLE_MM))
    return edges, words


def check_bars(text_width: TextWidth, say: Callable[[Sentence], str] = str) -> LaidOut:
    """Return the bars of 100 mm and of 4 in with their names, hanging ``BARS_MM`` down from an origin at 0, 0, mm."""
    edges: list[Edge] = []
    words: list[Words] = []
    for place, (length_mm, name) in enumerate(CHECK_BARS):
        y = -_TICK_MM - place * BARS_MM / len(CHECK_BARS)
        edges.extend(_bar(length_mm, y))
        text = say(Sentence(name))
        width_mm = text_width(text, TEXT_MM)
        x = length_mm + 2 * _WORD_GAP_MM + width_mm / 2
        words.append(Words(x, y, width_mm, TEXT_MM, text, Line.SIZE, Anchor.START))
    return LaidOut(tuple(edges), (), tuple(words))


def _bar(length_mm: float, y: float) -> Iterator[Segment]:
    yield Segment(0.0, y, length_mm, y, Line.CHECK)
    for x in (0.0, length_mm):
        yield Segment(x, y - _TICK_MM, x, y + _TICK_MM, Line.CHECK)
