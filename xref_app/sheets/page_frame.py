"""Where on a page things may stand, mm from its lower left corner."""

from __future__ import annotations

from dataclasses import dataclass

from xref_app.sheets.page import Paper
from xref_app.sheets.sheet_page import SheetPage


@dataclass(frozen=True, slots=True)
class PageFrame:
    """The margins of a page: ``head_y_mm`` and ``foot_y_mm`` are the middles of the lines above and below the room."""

    page_width_mm: float
    page_height_mm: float
    left_mm: float
    bottom_mm: float
    top_margin_mm: float
    foot_y_mm: float

    @property
    def page(self) -> SheetPage:
        """Return an empty page."""
        return SheetPage(self.page_width_mm, self.page_height_mm)

    @property
    def width_mm(self) -> float:
        """Return how wide the room is."""
        return self.page_width_mm - 2 * self.left_mm

    @property
    def room_mm(self) -> float:
        """Return how high the room is."""
        return self.page_height_mm - self.bottom_mm - self.top_margin_mm

    @property
    def head_y_mm(self) -> float:
        """Return where the line above the room stands."""
        return self.page_height_mm - self.top_margin_mm + 6.0


def frame_of(paper: Paper) -> PageFrame:
    """Return the frame of a paper. House rule: no usual printer needs more than 8 mm on any side."""
    width, height = paper.value
    return PageFrame(width, height, left_mm=12.0, bottom_mm=16.0, top_margin_mm=20.0, foot_y_mm=10.5)
