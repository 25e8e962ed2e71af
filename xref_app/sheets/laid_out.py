"""What a drawing with its words in place is made of: edges, arrowheads and lines of text, put down as they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum

from xref_app.core.sentence import Sentence
from xref_app.sheets.shapes import Arc, Circle, Line, Outline, Point, Segment

Edge = Circle | Arc | Segment | Outline
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Lettering:
    """How large words, arrowheads, gaps and hatching come out, all in mm of the drawing.

    ``row_mm`` lies from row to row of lengths; ``width_of`` tells how wide a text is; ``say`` puts a sentence into
    words.
    """

    height_mm: float
    row_mm: float
    head_mm: float
    gap_mm: float
    hatch_mm: float
    width_of: Callable[[str], float]
    say: Callable[[Sentence], str] = str


@dataclass(frozen=True, slots=True)
class Head:
    """An arrowhead, filled: tip and two barbs, mm."""

    corners: tuple[Point, ...]
    line: Line


class Anchor(Enum):
    """Which part of a line of text stays in place where a viewer's font is wider or narrower than we reckon."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text about its middle, mm."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    text: str
    line: Line
    anchor: Anchor = Anchor.MIDDLE
    is_bold: bool = False

    @property
    def anchor_x_mm(self) -> float:
        """Return where the part lies that stays in place."""
        left, _, right, _ = self.box
        return {Anchor.START: left, Anchor.MIDDLE: self.x_mm, Anchor.END: right}[self.anchor]

    @property
    def box(self) -> Box:
        """Return left, bottom, right, top."""
        across, up = self.width_mm / 2, self.height_mm / 2
        return self.x_mm - across, self.y_mm - up, self.x_mm + across, self.y_mm + up


@dataclass(frozen=True, slots=True)
class LaidOut:
    """Everything in the order it is put down; x right and y up, mm."""

    edges: tuple[Edge, ...]
    heads: tuple[Head, ...]
    words: tuple[Words, ...]

    @property
    def box(self) -> Box:
        """Return left, bottom, right, top of all of it; all 0 where it is empty."""
        return _hull(box for group in (self.edges, self.heads, self.words) for box in map(box_of, group))


def box_of(one: Edge | Head | Words) -> Box:
    """Return left, bottom, right, top of one piece, mm; of an arc those of its whole circle."""
    if isinstance(one, Words):
        return one.box
    if isinstance(one, (Circle, Arc)):
        half = one.diameter_mm / 2
        return one.x_mm - half, one.y_mm - half, one.x_mm + half, one.y_mm + half
    if isinstance(one, Segment):
        points: tuple[Point, ...] = ((one.x1_mm, one.y1_mm), (one.x2_mm, one.y2_mm))
    else:
        points = one.corners
    return _hull((x, y, x, y) for x, y in points)


def _hull(boxes: Iterable[Box]) -> Box:
    sides = tuple(zip(*boxes, strict=True))
    if not sides:
        return 0.0, 0.0, 0.0, 0.0
    return min(sides[0]), min(sides[1]), max(sides[2]), max(sides[3])
