"""A drawing that is laid out, put somewhere else."""

from __future__ import annotations

from dataclasses import replace

from xref_app.sheets.laid_out import Edge, LaidOut
from xref_app.sheets.shapes import Arc, Circle, Segment


def moved(content: LaidOut, right_mm: float, up_mm: float) -> LaidOut:
    """Return ``content`` moved right and up, mm."""
    return LaidOut(
        tuple(_moved_edge(edge, right_mm, up_mm) for edge in content.edges),
        tuple(
            replace(head, corners=tuple((x + right_mm, y + up_mm) for x, y in head.corners)) for head in content.heads
        ),
        tuple(replace(words, x_mm=words.x_mm + right_mm, y_mm=words.y_mm + up_mm) for words in content.words),
    )


def _moved_edge(edge: Edge, right_mm: float, up_mm: float) -> Edge:
    if isinstance(edge, (Circle, Arc)):
        return replace(edge, x_mm=edge.x_mm + right_mm, y_mm=edge.y_mm + up_mm)
    if isinstance(edge, Segment):
        return replace(
            edge,
            x1_mm=edge.x1_mm + right_mm,
            y1_mm=edge.y1_mm + up_mm,
            x2_mm=edge.x2_mm + right_mm,
            y2_mm=edge.y2_mm + up_mm,
        )
    return replace(edge, corners=tuple((x + right_mm, y + up_mm) for x, y in edge.corners))
