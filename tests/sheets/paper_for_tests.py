"""Sheets without Qt: widths reckoned, quantities written plainly, judgements of invented pumps."""

from __future__ import annotations

from xref_app.core.fit.finding import Shown
from xref_app.sheets.blocks import Foot, Wording
from xref_app.sheets.letter_widths import estimated_width_mm
from xref_app.sheets.sheet_page import SheetPage

BOLD_SHARE = 1.1
OWN = Foot("Fit sheet", "Own catalog", "2026-11-26")
MADE_UP = Foot("Fit sheet", "SAMPLE catalog", "2026-11-26", is_sample=True)


def reckoned(text: str, height_mm: float, *, is_bold: bool = False) -> float:
    return estimated_width_mm(text, height_mm) * (BOLD_SHARE if is_bold else 1.0)


def plain_quantity(shown: Shown) -> str:
    if shown is None or isinstance(shown, str):
        return shown or ""
    return f"{shown.range.low:.2f} to {shown.range.high:.2f} {shown.unit}".strip()


PLAIN = Wording(str, plain_quantity)


def whole_text(pages: tuple[SheetPage, ...]) -> str:
    """Return all words of all pages, line by line, pages parted by a line of their own."""
    return "\n\f\n".join(page.text for page in pages) + "\n"
