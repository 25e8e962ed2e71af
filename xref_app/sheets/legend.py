"""Whose line is whose, in one word each, for every output."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.shapes import Drawing, Line

# Lines that only measure or fill are plain from what they do.
LEGEND: Mapping[Line, str] = {
    Line.MACHINE: marked("drawing", "engine"),
    Line.PUMP: marked("drawing", "pump"),
    Line.BETWEEN: marked("drawing", "parts"),
    Line.PART: marked("drawing", "to make"),
    Line.MISS: marked("drawing", "misses"),
}
# The parts of a legend that are told even where only one of them is in the drawing.
_ALWAYS = frozenset({Line.MACHINE, Line.PUMP})


def legend(drawing: Drawing) -> tuple[tuple[Line, Sentence], ...]:
    """Return the lines to explain, in order, each with its word; a drawing of one part names that part only."""
    shown = drawing.lines if Line.PART in drawing.lines else drawing.lines | _ALWAYS
    return tuple((line, Sentence(word)) for line, word in LEGEND.items() if line in shown)
