"""How lines look on paper: black, told apart by thickness and strokes alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from xref_app.sheets.shapes import Line


@dataclass(frozen=True, slots=True)
class PaperLine:
    """Thickness, strokes and gaps of a line, mm; no strokes: a line without gaps. ``is_round``: its ends are round."""

    width_mm: float
    strokes_mm: tuple[float, ...] = ()
    is_round: bool = False


# House rules, in the steps of ISO 128 (0.13, 0.18, 0.25, 0.35, 0.5, 0.7 mm).
PAPER_LINES: Mapping[Line, PaperLine] = {
    Line.MACHINE: PaperLine(0.35),
    Line.PUMP: PaperLine(0.6, (0.01, 1.2), is_round=True),
    Line.BETWEEN: PaperLine(0.35, (2.4, 1.0)),
    Line.PART: PaperLine(0.35),
    Line.THREAD: PaperLine(0.18),
    Line.MISS: PaperLine(0.7),
    Line.SIZE: PaperLine(0.18),
    Line.CENTRE: PaperLine(0.18, (6.0, 1.5, 1.0, 1.5)),
    Line.HATCH: PaperLine(0.13),
    Line.CHECK: PaperLine(0.35),
}
