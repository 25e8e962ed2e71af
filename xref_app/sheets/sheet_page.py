"""One page of a printed sheet with everything in place: what the painter puts on paper, in a PDF or on screen."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Protocol

from xref_app.core.fit.finding import Outcome
from xref_app.sheets.laid_out import Box, LaidOut
from xref_app.sheets.moved import moved

NOTHING = LaidOut((), (), ())


class Measure(Protocol):
    """Tells how wide a text of a height is, both mm."""

    def __call__(self, text: str, height_mm: float, *, is_bold: bool = False) -> float:
        """Return the width of ``text``, mm."""
        ...


@dataclass(frozen=True, slots=True)
class PlacedMark:
    """The mark of an outcome about its middle, mm."""

    outcome: Outcome
    x_mm: float
    y_mm: float
    side_mm: float


@dataclass(frozen=True, slots=True)
class Window:
    """A part of something larger, of which only what lies in ``box`` is seen; both mm on the page."""

    box: Box
    content: LaidOut


@dataclass(frozen=True, slots=True)
class SheetPage:
    """A page, mm from its lower left corner, x right and y up."""

    width_mm: float
    height_mm: float
    content: LaidOut = NOTHING
    marks: tuple[PlacedMark, ...] = ()
    windows: tuple[Window, ...] = ()

    def with_content(self, *more: LaidOut) -> SheetPage:
        """Return the page with more put down on it."""
        return replace(self, content=joined((self.content, *more)))

    @property
    def text(self) -> str:
        """Return the words of the page, line by line from the top; for tests and screen readers."""
        ordered = sorted(self.content.words, key=lambda one: (-round(one.y_mm, 1), one.box[0]))
        lines = groupby(ordered, key=lambda one: round(one.y_mm, 1))
        return "\n".join("  ".join(one.text for one in line) for _, line in lines)


def joined(parts: Iterable[LaidOut]) -> LaidOut:
    """Return several contents as one, the later over the earlier."""
    listed = tuple(parts)
    return LaidOut(
        tuple(edge for one in listed for edge in one.edges),
        tuple(head for one in listed for head in one.heads),
        tuple(words for one in listed for words in one.words),
    )


def moved_marks(marks: Iterable[PlacedMark], right_mm: float, up_mm: float) -> tuple[PlacedMark, ...]:
    """Return marks moved right and up, mm."""
    return tuple(replace(one, x_mm=one.x_mm + right_mm, y_mm=one.y_mm + up_mm) for one in marks)


@dataclass(frozen=True, slots=True)
class Strip:
    """A piece of a page that is never broken in two: x from 0 at the left, y from 0 at its top, downward negative.

    ``keeps_next`` holds it together with what follows; ``head`` stands above it again where it begins a page.
    """

    height_mm: float
    content: LaidOut = NOTHING
    marks: tuple[PlacedMark, ...] = ()
    keeps_next: bool = False
    head: Strip | None = None
    is_gap: bool = False
    starts_page: bool = False

    def on(self, page: SheetPage, left_mm: float, top_mm: float) -> SheetPage:
        """Return ``page`` with the strip hung at a place of it."""
        return replace(
            page.with_content(moved(self.content, left_mm, top_mm)),
            marks=(*page.marks, *moved_marks(self.marks, left_mm, top_mm)),
        )
