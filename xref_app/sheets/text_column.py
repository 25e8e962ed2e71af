"""Lines of text, one below the other."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial

from xref_app.sheets.laid_out import Anchor, Edge, LaidOut, Words
from xref_app.sheets.shapes import Line, Outline
from xref_app.sheets.sheet_page import Measure
from xref_app.sheets.wrapped import wrapped

# Heights of words on a sheet, mm, and from line to line in heights (house rule: read at arm's length on a bench).
BODY_MM, SMALL_MM, LINE_SHARE = 3.4, 2.7, 1.32


@dataclass(slots=True)
class TextColumn:
    """Fills a column from its top; ``y_mm`` is where the next line begins, downward negative."""

    left_mm: float
    width_mm: float
    measure: Measure
    y_mm: float = 0.0
    words: list[Words] = field(default_factory=list)

    def put(self, text: str, height_mm: float, *, is_bold: bool = False) -> None:
        """Put ``text`` below what is there, in as many lines as it takes."""
        for line in wrapped(text, height_mm, self.width_mm, partial(self.measure, is_bold=is_bold)):
            width = self.measure(line, height_mm, is_bold=is_bold)
            middle = self.y_mm - height_mm * LINE_SHARE / 2
            x = self.left_mm + width / 2
            self.words.append(Words(x, middle, width, height_mm, line, Line.SIZE, Anchor.START, is_bold))
            self.y_mm -= LINE_SHARE * height_mm

    @property
    def content(self) -> LaidOut:
        """Return what was put."""
        return LaidOut((), (), tuple(self.words))

    def with_edges(self, *edges: Edge) -> LaidOut:
        """Return what was put, with lines about it."""
        return LaidOut(edges, (), tuple(self.words))


def box_outline(left_mm: float, top_mm: float, width_mm: float, height_mm: float, line: Line) -> Outline:
    """Return a rectangle hung at its upper left corner, mm."""
    right, bottom = left_mm + width_mm, top_mm - height_mm
    return Outline(((left_mm, top_mm), (right, top_mm), (right, bottom), (left_mm, bottom)), line)
