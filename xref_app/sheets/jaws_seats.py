"""Where straightedge and feeler go on the seats of a face, one leg beside the other."""

from __future__ import annotations

from xref_app.core.sentence import marked
from xref_app.sheets.jaws_shapes import JawDrawing, Kind, Sheet, arc, box
from xref_app.sheets.jaws_tools import straightedge

# Invented legs, mm; the gap is drawn far wider than any real one, to be seen.
LEG_MM, STEP_MM, LEG_HIGH_MM, GAP_MM = 18.0, 30.0, 30.0, 4.0
_MOST_DRAWN = 8

STRAIGHTEDGE, FEELER = marked("drawing", "straightedge"), marked("drawing", "feeler")
WORDS = marked(
    "drawing",
    "The seats from the side: a straightedge lies on the highest, and feelers go under it at each of {holes} bolts.",
)


def seat_heights(holes: int) -> JawDrawing | None:
    """Return the straightedge on the legs and the feeler under it at the last; None for fewer than 2 or more than 8."""
    if not 2 <= holes <= _MOST_DRAWN:
        return None
    sheet, right = Sheet(), (holes - 1) * STEP_MM + LEG_MM
    sheet.fill(Kind.PART, box(-6, -LEG_HIGH_MM - 14, right + 6, -LEG_HIGH_MM))
    for number in range(holes):
        left, top = number * STEP_MM, -GAP_MM if number == holes - 1 else 0.0
        sheet.fill(Kind.PART, box(left, -LEG_HIGH_MM, left + LEG_MM, top))
        middle = left + LEG_MM / 2
        sheet.line(Kind.CENTRE, (middle, -LEG_HIGH_MM - 18), (middle, 0))
        sheet.number(number + 1, (middle, -LEG_HIGH_MM - 19), -90)
    straightedge(sheet, -8, 0, right + 8, 11)
    _feeler(sheet, right - LEG_MM + 5)
    sheet.span((right - LEG_MM + 2, -GAP_MM), (right - LEG_MM + 2, 0))
    sheet.label(STRAIGHTEDGE, (right * 0.4, 12), 90)
    sheet.label(FEELER, (right + 30, -GAP_MM - 5), -90)
    return sheet.done(WORDS, holes=holes)


def _feeler(sheet: Sheet, tip: float) -> None:
    """Draw a leaf in the gap, and the handle that it turns out of."""
    handle = tip + 28
    sheet.fill(Kind.JAW, box(tip, -GAP_MM, handle + 6, 0))
    middle, radius = -GAP_MM / 2, 5.5
    outline = [*arc((handle + 6, middle), radius, 90, 270), *arc((handle + 34, middle), radius, -90, 90)]
    sheet.fill(Kind.TOOL, outline)
    sheet.circle(Kind.EDGE, (handle + 6, middle), 1.6)
